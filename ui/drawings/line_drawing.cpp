#include "ui/drawings/line_drawing.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/shapes.h"
#include "ui/frame/text.h"
#include "ui/widgets/buttons.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float row_units = 56, column_units = 40, left_units = 28, least_zoom = 0.001F, most_zoom = 3;
constexpr float keys_units = 56, head_units = 8, readable_zoom = 0.5F;

// The paper as it lies under the window onto it. Row 0 is the source.
struct Paper {
    Area window;
    float row, column, left, top;  // pixels
    float x_of(int column_index) const { return window.x + left + column * static_cast<float>(column_index); }
    float y_of(int row_index) const { return window.y + row * (static_cast<float>(row_index) + 0.5F) - top; }
    int row_at(float y) const { return static_cast<int>(std::floor((y - window.y + top) / row)); }
};

Shape shape_of(LinePoint::Kind kind) {
    switch (kind) {
        case LinePoint::Kind::attenuator:
            return Shape::attenuator;
        case LinePoint::Kind::splice:
            return Shape::splice;
        case LinePoint::Kind::other:
            return Shape::other_point;
        case LinePoint::Kind::loudspeaker:
            break;
    }
    return Shape::loudspeaker;
}

int rows_of(const LineDrawingData& data) {
    return static_cast<int>(data.points.size()) + 1;
}

Paper paper_of(const Context& context, const LineView& view, Area window) {
    // Columns come closer more slowly than rows, so that branches stay branches.
    const float across = std::sqrt(std::min(view.zoom, 1.0F));
    return {window, row_units * context.scale * view.zoom, column_units * context.scale * across,
            left_units * context.scale - view.left, view.top - context.px(head_units)};
}

void keep_in_bounds(const Context& context, const LineDrawingData& data, LineView& view, Area window) {
    view.zoom = std::clamp(view.zoom, least_zoom, most_zoom);
    const Paper paper = paper_of(context, view, window);
    const float height = paper.row * static_cast<float>(rows_of(data)) + context.px(head_units);
    const float width = paper.column * static_cast<float>(view.layout.columns);
    view.top = std::clamp(view.top, 0.0F, std::max(0.0F, height - window.height));
    view.left = std::clamp(view.left, 0.0F, std::max(0.0F, width - window.width / 2));
}

void zoom_around(LineView& view, Area window, float factor, float y) {
    const float before = view.zoom;
    view.zoom = std::clamp(view.zoom * factor, least_zoom, most_zoom);
    const float on_paper = y - window.y + view.top;
    view.top = on_paper * view.zoom / before - (y - window.y);
}

void follow_wishes(const Context& context, const LineDrawingData& data, LineView& view, Area window) {
    if (view.fit_next || view.start_next) {
        const float usable = std::max(1.0F, window.height - context.px(head_units));
        const float whole = row_units * context.scale * static_cast<float>(rows_of(data));
        view.zoom = std::min(1.0F, usable / whole);
        if (view.start_next) view.zoom = std::max(view.zoom, readable_zoom);
        view.left = view.top = 0;
        view.fit_next = view.start_next = false;
    }
    if (view.show_next >= 0 && view.show_next < static_cast<int>(data.points.size())) {
        if (view.zoom < 0.5F) view.zoom = 1;
        const int row = view.layout.points[static_cast<std::size_t>(view.show_next)].row + 1;
        const float y = row_units * context.scale * view.zoom * (static_cast<float>(row) + 0.5F);
        const float margin = context.px(row_units);
        if (y - margin < view.top || y + margin > view.top + window.height) view.top = y - window.height / 2;
    }
    view.show_next = -1;
}

double most_watts(const LineDrawingData& data) {
    double most = 0;
    for (const LinePoint& point : data.points) most = std::max(most, point.watts);
    return most;
}

void draw_run(Context& context, ImDrawList* list, const Paper& paper, const LineDrawingData& data,
              const LineLayout& layout, int index, double most) {
    const LinePoint& point = data.points[static_cast<std::size_t>(index)];
    const PlacedPoint& placed = layout.points[static_cast<std::size_t>(index)];
    if (!placed.reached) return;
    const int feed_row = placed.parent < 0 ? 0 : layout.points[static_cast<std::size_t>(placed.parent)].row + 1;
    const int feed_column = placed.parent < 0 ? 0 : layout.points[static_cast<std::size_t>(placed.parent)].column;
    const float x0 = paper.x_of(feed_column), y0 = paper.y_of(feed_row);
    const float x1 = paper.x_of(placed.column), y1 = paper.y_of(placed.row + 1);
    if (y1 < paper.window.y - paper.row || y0 > paper.window.y + paper.window.height + paper.row) return;
    const float thinner = std::clamp(paper.row / (row_units * context.scale), 0.3F, 1.0F);
    const float thick = std::max(1.0F, stroke_units(point.watts, most) * context.scale * thinner);
    const Colour colour = index == data.selected ? context.theme.accent : context.theme.block;
    const auto stroke = [&](ImVec2 from, ImVec2 to) {
        if (point.dashed)
            draw_dashed_line(list, from, to, context.theme.trial, context.px(6), thick);
        else
            list->AddLine(from, to, ink(colour), thick);
    };
    if (x0 == x1) return stroke(ImVec2(x0, y0), ImVec2(x1, y1));
    // A branch leaves its line level with the point it feeds.
    stroke(ImVec2(x0, y0), ImVec2(x0, y1 + thick / 2));
    stroke(ImVec2(x0, y1), ImVec2(x1, y1));
}

// Two bars across a run that is suspect, just before the point it feeds.
void draw_run_suspect(Context& context, ImDrawList* list, const Paper& paper, const LinePoint& point,
                      const PlacedPoint& placed) {
    if (point.suspect.empty() || !point.is_run_suspect || !placed.reached) return;
    const float half = context.px(9), apart = context.px(4);
    const ImVec2 middle(paper.x_of(placed.column), paper.y_of(placed.row + 1) - paper.row / 2);
    for (const float side : {-apart, apart}) {
        const ImVec2 from(middle.x - half, middle.y + side + apart), to(middle.x + half, middle.y + side - apart);
        list->AddLine(from, to, ink(context.theme.card), context.px(7));
        list->AddLine(from, to, ink(context.theme.warning.solid), context.px(3));
    }
}

// A diamond around the point: no other sign on the drawing has corners.
void draw_suspect(Context& context, ImDrawList* list, ImVec2 at, float size) {
    const float reach = std::max(size * 1.2F, context.px(5));
    list->AddQuad(ImVec2(at.x, at.y - reach), ImVec2(at.x + reach, at.y), ImVec2(at.x, at.y + reach),
                  ImVec2(at.x - reach, at.y), ink(context.theme.warning.solid), std::max(2.0F, context.scale * 2.5F));
}

// Of a label with what is set there.
float label_width(Context& context, const LinePoint& point) {
    const std::string setting = context.words.text(point.setting);
    const float set = setting.empty() ? 0 : text_width(context, TextSize::body, setting) + context.px(12);
    return text_width(context, TextSize::strong, context.words.text(point.label)) + set;
}

// The label makes way for what is set there: a tap cut in two is another tap.
void write_label(Context& context, ImDrawList* list, const LinePoint& point, Area box) {
    const std::string label = context.words.text(point.label), setting = context.words.text(point.setting);
    const float gap = context.px(12), least = context.px(24);
    const float set = setting.empty() ? 0 : text_width(context, TextSize::body, setting) + gap;
    const bool fits = set > 0 && box.width >= least + set;
    const float room = fits ? box.width - set : box.width;
    const float used = std::min(room, text_width(context, TextSize::strong, label));
    write_line(context, list, TextSize::strong, context.theme.text, label, {box.x, box.y, room, box.height});
    if (fits)
        write_line(context, list, TextSize::body, context.theme.text, setting,
                   {box.x + used + gap, box.y, set - gap, box.height});
}

// The label with what was read there behind it, as much as there is room for. The word for a joint makes way: its shape
// says it too.
// Returns: whether there was a reading, and room for it.
bool write_reading_behind(Context& context, ImDrawList* list, const LinePoint& point, Area box) {
    LinePoint bare = point;
    bare.setting = Message();
    const LinePoint& least = point.kind == LinePoint::Kind::splice ? bare : point;
    for (const Message& reading : {point.reading, point.reading_short}) {
        if (reading.empty()) return false;
        const std::string words = context.words.text(reading);
        const float gap = context.px(12), width = text_width(context, TextSize::body, words);
        for (const LinePoint* labelled : {&point, &least}) {
            const float label = label_width(context, *labelled);
            if (label + gap + width > box.width) continue;
            write_label(context, list, *labelled, box);
            write_line(context, list, TextSize::body, context.theme.quiet_text, words,
                       {box.x + label + gap, box.y, width, box.height});
            return true;
        }
    }
    return false;
}

void draw_words(Context& context, ImDrawList* list, const Paper& paper, const LinePoint& point, float y, float x) {
    const Theme& theme = context.theme;
    const float right = paper.window.x + paper.window.width - context.px(12), gap = context.px(10);
    const float strong = line_height(context, TextSize::strong), body = line_height(context, TextSize::body);
    const bool is_suspect = !point.suspect.empty();
    const Tone tone = is_suspect ? Tone::warning : point.tone;
    std::string level_words = context.words.text(is_suspect ? point.suspect : point.level);
    if (is_suspect && right - x < label_width(context, point) + gap + context.px(24) +
                                      text_width(context, TextSize::strong, level_words))
        level_words = context.words.text(point.suspect_figure);
    const float level = level_words.empty() ? 0 : text_width(context, TextSize::strong, level_words);
    const float sign = tone == Tone::plain ? 0 : context.px(18) + context.px(6);
    float edge = right;
    if (right - x > level + sign + context.px(60)) {
        if (level > 0)
            write_line(context, list, TextSize::strong, theme.text, level_words,
                       {right - level, y - strong / 2, level, strong});
        if (sign > 0)
            draw_shape(list, tone_shape(tone), ImVec2(right - level - sign / 2 - context.px(3), y), context.px(18),
                       theme.tone(tone).solid, theme.card);
        edge = right - level - sign - (level + sign > 0 ? gap : 0);
    }
    const float room = edge - x;
    if (room < context.px(24)) return;
    const Message below = read_out({point.reading, point.detail});
    const bool two_lines = !below.empty() && paper.row >= strong + body + context.px(2);
    const float top = std::floor(y - (two_lines ? strong + body : strong) / 2);
    const Area line{x, top, room, strong};
    if (two_lines || !write_reading_behind(context, list, point, line)) write_label(context, list, point, line);
    if (two_lines)
        write_line(context, list, TextSize::body, theme.quiet_text, context.words.text(below),
                   {x, top + strong, room, body});
}

// What is said of the source in one line: as much as there is room for. The figures come first where they have no line
// of their own, for the page says the name as well.
std::string source_words(Context& context, const LineDrawingData& data, bool detail_is_below, float room) {
    const Message detail = detail_is_below ? Message() : data.source_detail;
    std::string words;
    for (const Message& name : {data.source, data.source_short, detail.empty() ? data.source : Message()}) {
        words = context.words.text(read_out({detail, name}));
        if (!words.empty() && text_width(context, TextSize::strong, words) <= room) break;
    }
    return words;
}

void draw_source(Context& context, ImDrawList* list, const Paper& paper, const LineDrawingData& data, float words_x,
                 bool with_words) {
    const float y = paper.y_of(0), x = paper.x_of(0),
                size = std::clamp(paper.row * 0.55F, context.px(12), context.px(32));
    draw_shape(list, Shape::amplifier, ImVec2(x, y), size, context.theme.accent, context.theme.card);
    const float strong = line_height(context, TextSize::strong), body = line_height(context, TextSize::body);
    const float room = std::max(1.0F, paper.window.x + paper.window.width - context.px(12) - words_x);
    if (!with_words || y + strong / 2 < paper.window.y) return;
    const bool two_lines = !data.source_detail.empty() && paper.row >= strong + body;
    const float top = std::floor(y - (two_lines ? strong + body : strong) / 2);
    write_line(context, list, TextSize::strong, context.theme.text, source_words(context, data, two_lines, room),
               {words_x, top, room, strong});
    if (two_lines)
        write_line(context, list, TextSize::body, context.theme.text, context.words.text(data.source_detail),
                   {words_x, top + strong, room, body});
}

struct Sight {
    int first = 0, last = -1;  // rows of points, without the source
};

Sight rows_in_sight(const Paper& paper, int points) {
    Sight sight;
    sight.first = std::clamp(paper.row_at(paper.window.y) - 2, 0, points);
    sight.last = std::clamp(paper.row_at(paper.window.y + paper.window.height) + 1, -1, points - 1);
    return sight;
}

// Returns: whether it was touched by its name.
bool mark_point(Context& context, const std::string& name, const Paper& paper, const LinePoint& point, float y) {
    if (paper.row < context.px(measure::touch) * 0.5F) return false;
    const Area area{paper.window.x, y - paper.row / 2, paper.window.width, paper.row};
    const bool is_touchable = paper.row >= context.px(measure::touch);
    Mark mark{name,
              area,
              intersection(area, paper.window),
              true,
              is_touchable,
              context.words.text(read_out({point.label, point.setting, point.reading, point.detail,
                                           point.suspect.empty() ? point.level : point.suspect}))};
    mark.role = is_touchable ? Role::button : Role::image;
    mark.window = ImGui::GetCurrentWindow()->ID;
    context.marks.add(std::move(mark));
    return context.hand.taps(name);
}

// Returns: which of them was touched by its name, or -1.
int draw_points(Context& context, ImDrawList* list, std::string_view name, const Paper& paper,
                const LineDrawingData& data, const LineLayout& layout) {
    const Sight sight = rows_in_sight(paper, static_cast<int>(data.points.size()));
    const float words_x = paper.x_of(layout.columns - 1) + context.px(28);
    const int stride = label_stride(paper.row, line_height(context, TextSize::strong));
    const int selected_row = data.selected >= 0 && data.selected < static_cast<int>(layout.points.size())
                                 ? layout.points[static_cast<std::size_t>(data.selected)].row
                                 : -1;
    const bool source_gives_way = selected_row >= 0 && selected_row + 1 < stride;
    draw_source(context, list, paper, data, words_x, !source_gives_way);
    int tapped = -1;
    for (int row = sight.first; row <= sight.last; ++row) {
        const int index = layout.by_row[static_cast<std::size_t>(row)];
        const LinePoint& point = data.points[static_cast<std::size_t>(index)];
        const PlacedPoint& placed = layout.points[static_cast<std::size_t>(index)];
        const ImVec2 at(paper.x_of(placed.column), paper.y_of(row + 1));
        const bool chosen = index == data.selected;
        const Colour colour = index == data.selected ? context.theme.accent : context.theme.text;
        const float size = std::clamp(paper.row * 0.42F, 2.0F, context.px(24));
        const Colour ground = context.theme.card;
        if (size >= context.px(8)) {
            // A ring on the line, so that the line is seen to run through.
            const float radius = point.kind == LinePoint::Kind::splice ? size * 0.45F : size * 0.78F;
            list->AddCircleFilled(at, radius, ink(ground), 24);
            list->AddCircle(at, radius, ink(colour), 24, std::max(1.5F, context.scale * 2));
            if (point.kind != LinePoint::Kind::splice)
                draw_shape(list, shape_of(point.kind), at, size * 0.9F, colour, ground);
        } else {
            list->AddRectFilled(ImVec2(at.x - size / 2, at.y - size / 2), ImVec2(at.x + size / 2, at.y + size / 2),
                                ink(point.tone == Tone::plain ? colour : context.theme.tone(point.tone).solid));
        }
        if (!point.suspect.empty()) draw_suspect(context, list, at, size);
        draw_run_suspect(context, list, paper, point, placed);
        // Labels thin out with the rows; those next to the chosen one make way for it.
        const bool in_step = (row + 1) % stride == 0;
        const bool gives_way = selected_row >= 0 && !chosen && std::abs(row - selected_row) < stride;
        if (chosen || (in_step && !gives_way)) draw_words(context, list, paper, point, at.y, words_x);
        if (mark_point(context, std::string(name) + ".point." + point.id, paper, point, at.y)) tapped = index;
    }
    return tapped;
}

int keyboard(const LineDrawingData& data, const LineLayout& layout, bool focused, float& zoom_factor) {
    if (!focused) return -1;
    // While the drawing has the focus the arrows walk along the line instead of leaving it.
    for (ImGuiKey key : {ImGuiKey_UpArrow, ImGuiKey_DownArrow}) ImGui::SetKeyOwner(key, ImGui::GetItemID());
    if (ImGui::IsKeyPressed(ImGuiKey_Equal) || ImGui::IsKeyPressed(ImGuiKey_KeypadAdd)) zoom_factor = 1.25F;
    if (ImGui::IsKeyPressed(ImGuiKey_Minus) || ImGui::IsKeyPressed(ImGuiKey_KeypadSubtract)) zoom_factor = 0.8F;
    const int count = static_cast<int>(layout.by_row.size());
    const int step = ImGui::IsKeyPressed(ImGuiKey_DownArrow) ? 1 : ImGui::IsKeyPressed(ImGuiKey_UpArrow) ? -1 : 0;
    if (step == 0 || count == 0) return -1;
    const bool none = data.selected < 0 || data.selected >= count;
    const int row = none ? 0 : layout.points[static_cast<std::size_t>(data.selected)].row + step;
    return row < 0 || row >= count ? -1 : layout.by_row[static_cast<std::size_t>(row)];
}

// In their own row below the paper, so that they never lie on a value.
void draw_keys(Context& context, std::string_view name, LineView& view, Area window) {
    const float key = context.px(measure::touch), gap = context.px(4);
    float x = window.x + window.width - 3 * key - 2 * gap;
    const float y = window.y + window.height + gap;
    const std::string id(name);
    float factor = 1;
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    if (icon_button(context, id + ".fit", Shape::fit, Message("Show everything"))) view.fit_next = true;
    x += key + gap;
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    if (icon_button(context, id + ".out", Shape::minus, Message("Smaller"))) factor = 0.7F;
    x += key + gap;
    ImGui::SetCursorScreenPos(ImVec2(x, y));
    if (icon_button(context, id + ".in", Shape::plus, Message("Larger"))) factor = 1 / 0.7F;
    if (factor == 1 && !view.fit_next) return;
    if (factor != 1) zoom_around(view, window, factor, window.y + window.height / 2);
    context.requests.another_frame();
}

}  // namespace

float stroke_units(double watts, double most) {
    if (most <= 0 || watts <= 0) return 2;
    return 2 + 10 * static_cast<float>(std::min(1.0, watts / most));
}

int label_stride(float row_pixels, float label_pixels) {
    return std::max(1, static_cast<int>(std::ceil(label_pixels / std::max(row_pixels, 0.01F))));
}

LineTouch line_drawing(Context& context, std::string_view name, const LineDrawingData& data, LineView& view,
                       float height) {
    LineTouch touch;
    if (view.laid_out_revision != data.revision || view.layout.points.size() != data.points.size()) {
        std::vector<int> feeds;
        feeds.reserve(data.points.size());
        for (const LinePoint& point : data.points) feeds.push_back(point.feed);
        view.layout = lay_out_line(feeds);
        view.laid_out_revision = data.revision;
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area window{at.x, at.y, width_left(), std::max(1.0F, height - context.px(keys_units))};
    ImGui::BeginGroup();
    const Touch paper_touch =
        touchable(context, name, ImVec2(window.width, window.height), context.words.text(data.source));
    context.marks.last().role = Role::image;
    context.marks.last().by_place = true;
    const CanvasMove move = context.gesture.canvas(paper_touch.tapped);
    view.top -= move.pan_y;
    view.left -= move.pan_x;
    if (move.zoom != 1) zoom_around(view, window, move.zoom, move.centre_y);
    float factor = 1;
    const int by_key = keyboard(data, view.layout, paper_touch.focused, factor);
    if (by_key >= 0) view.show_next = touch.tapped = by_key;
    ImDrawList* list = ImGui::GetWindowDrawList();
    panel(context, list, window, context.theme.card, context.theme.line, measure::corner);
    list->PushClipRect(ImVec2(window.x, window.y), ImVec2(window.x + window.width, window.y + window.height), true);
    if (factor != 1) zoom_around(view, window, factor, window.y + window.height / 2);
    follow_wishes(context, data, view, window);
    keep_in_bounds(context, data, view, window);
    const Paper paper = paper_of(context, view, window);
    const double most = most_watts(data);
    for (int index = 0; index < static_cast<int>(data.points.size()); ++index)
        draw_run(context, list, paper, data, view.layout, index, most);
    if (const int by_name = draw_points(context, list, name, paper, data, view.layout); by_name >= 0)
        view.show_next = touch.tapped = by_name;
    list->PopClipRect();
    draw_keys(context, name, view, window);
    focus_ring(context, paper_touch, measure::corner);
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy(ImVec2(window.width, height));
    ImGui::EndGroup();
    if (move.tapped || move.long_pressed) {
        const int row = paper.row_at(move.tap_y) - 1;
        const bool on_point = row >= 0 && row < static_cast<int>(view.layout.by_row.size());
        const int point = on_point ? view.layout.by_row[static_cast<std::size_t>(row)] : -1;
        if (move.tapped) touch.tapped = point;
        if (move.long_pressed) touch.long_pressed = point;
        touch.source_tapped = move.tapped && row == -1;
    }
    return touch;
}

}  // namespace tapwright::ui
