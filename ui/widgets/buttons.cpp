#include "ui/widgets/buttons.h"

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float high_units = 54;  // of what is used most

struct Look {
    Colour fill, edge, text;
};

Look look_of(const Context& context, ButtonKind kind, bool enabled) {
    const Theme& theme = context.theme;
    if (!enabled) return {theme.plain.fill, theme.plain.fill, theme.quiet_text};
    switch (kind) {
        case ButtonKind::primary:
            return {theme.accent, theme.accent, theme.on_accent};
        case ButtonKind::danger:
            return {theme.card, theme.stop.solid, theme.stop.solid};
        case ButtonKind::quiet:
            return {theme.page, theme.page, theme.accent_text};
        case ButtonKind::plain:
            break;
    }
    return {theme.card, theme.edge, theme.accent_text};
}

Colour pressed(const Context& context, Colour fill, const Touch& touch) {
    if (touch.held) return mixed(fill, context.theme.text, 0.15);
    return touch.hovered ? mixed(fill, context.theme.text, 0.06) : fill;
}

bool is_filled(ButtonKind kind) {
    return kind == ButtonKind::primary;
}

// Where the parts of a button go, in pixels.
struct ButtonPlan {
    std::string words;
    Lines lines;
    float sign = 0, gap = 0, width = 0, height = 0;
};

ButtonPlan plan_button(Context& context, const Message& label, const ButtonOptions& options) {
    ButtonPlan plan;
    plan.words = context.words.text(label);
    if (options.shape != Shape::none) plan.sign = context.px(20), plan.gap = context.px(10);
    const float beside_words = plan.sign + plan.gap + 2 * context.px(options.tight ? 4 : 14);
    const bool is_upright = context.in_foot && context.foot_upright;
    plan.width = options.width > 0 && !is_upright ? options.width : width_left();
    if (options.width < 0 && !is_upright) {
        const float wanted = text_width(context, TextSize::strong, plan.words) + beside_words;
        plan.width = std::min(width_left(), std::max(context.px(measure::touch), wanted));
    }
    const float room = std::max(1.0F, plan.width - beside_words);
    const int in_foot = is_upright ? 4 : 2;
    const int most_lines = options.most_lines > 0 || !context.in_foot ? options.most_lines : in_foot;
    plan.lines = broken_into_lines(context, TextSize::strong, plan.words, room, most_lines);
    // Side by side in a foot all are of one height, which also holds two lines.
    const bool is_high = is_filled(options.kind) || context.in_foot;
    const float least = std::max(options.height, context.px(is_high ? high_units : measure::touch));
    plan.height = std::max(least, plan.lines.height + context.px(context.in_foot ? 8 : 20));
    return plan;
}

}  // namespace

namespace {

bool changes_the_job(const ButtonOptions& options) {
    return options.changes || options.kind == ButtonKind::primary || options.kind == ButtonKind::danger ||
           options.shape == Shape::plus;
}

}  // namespace

float button_height(Context& context, const Message& label, const ButtonOptions& options) {
    return plan_button(context, label, options).height;
}

bool button(Context& context, std::string_view name, const Message& label, const ButtonOptions& options) {
    const bool enabled = options.enabled && !(context.read_only && changes_the_job(options));
    const Look look = look_of(context, options.kind, enabled);
    const ButtonPlan plan = plan_button(context, label, options);
    const Lines& lines = plan.lines;
    const float sign = plan.sign, gap = plan.gap;
    const Touch touch = touchable(context, name, ImVec2(plan.width, plan.height), plan.words, enabled);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Colour fill = enabled ? pressed(context, look.fill, touch) : look.fill;
    const Area& a = touch.area;
    panel(context, list, a, fill, look.edge, measure::corner, options.kind == ButtonKind::quiet ? 0.0F : 1.5F);
    const float content = sign + gap + lines.width, x = std::floor(a.x + (a.width - content) / 2);
    draw_shape(list, options.shape, ImVec2(x + sign / 2, a.y + a.height / 2), sign, look.text, fill);
    write(context, list, TextSize::strong, look.text, lines,
          {x + sign + gap, a.y, std::max(lines.width, 1.0F), a.height}, Align::centre);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

bool file_button(Context& context, std::string_view name, const Message& label, FilePurpose purpose,
                 const ButtonOptions& options) {
    const bool tapped = button(context, name, label, options);
    if (const Mark* marked = context.marks.find(name); marked && marked->visible() && marked->enabled)
        context.native_areas.push_back({NativeArea::Kind::file, marked->shown, std::string(name), {}, purpose});
    if (tapped) context.host.choose_file(purpose, "");
    return tapped;
}

bool icon_button(Context& context, std::string_view name, Shape shape, const Message& what, bool enabled) {
    const float size = context.px(measure::touch);
    const Touch touch = touchable(context, name, ImVec2(size, size), context.words.text(what), enabled);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    if (enabled && (touch.held || touch.hovered))
        panel(context, list, a, pressed(context, context.theme.page, touch), context.theme.page, measure::corner, 0);
    draw_shape(list, shape, ImVec2(a.x + a.width / 2, a.y + a.height / 2), context.px(22),
               enabled ? context.theme.accent_text : context.theme.quiet_text, context.theme.page);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

bool toggle(Context& context, std::string_view name, const Message& label, bool on, bool enabled) {
    enabled = enabled && !context.read_only;
    const Theme& theme = context.theme;
    const float width = width_left(), track = context.px(52), knob = context.px(28), side = context.px(4);
    const Message states[] = {Message("Off"), Message("On")};
    const Message& state = states[on ? 1 : 0];
    float word = 0;
    for (const Message& each : states)
        word = std::max(word, text_width(context, TextSize::strong, context.words.text(each)));
    const float gap = context.px(12), room = std::max(1.0F, width - track - word - 2 * gap);
    const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(label), room);
    const float height = std::max(context.px(52), lines.height + context.px(16));
    const Message whole = Message("{label}: {state}", {{"label", label}, {"state", state}});
    const Touch touch = touchable(context, name, ImVec2(width, height), context.words.text(whole), enabled);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    const Colour ink_of_words = enabled ? theme.text : theme.quiet_text;
    write(context, list, TextSize::body, ink_of_words, lines, {a.x, a.y, room, height});
    const float x = a.x + width - track, middle = a.y + height / 2;
    write_line(context, list, TextSize::strong, ink_of_words, context.words.text(state),
               {x - gap - word, a.y, word, height}, Align::right);
    const Area slot{x, middle - knob / 2 - side / 2, track, knob + side};
    const Colour fill = on && enabled ? theme.accent : theme.plain.fill;
    panel(context, list, slot, fill, on && enabled ? theme.accent : theme.edge, 16, 1.5F);
    const float radius = knob / 2 - side / 2;
    const ImVec2 centre(on ? x + track - knob / 2 - side / 2 : x + knob / 2 + side / 2, middle);
    list->AddCircleFilled(centre, radius, ink(on && enabled ? theme.on_accent : theme.edge), 32);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

int stepper(Context& context, std::string_view name, const Message& label, const Message& value, bool can_less,
            bool can_more) {
    const float key = context.px(56), gap = context.px(measure::gap), width = width_left();
    const std::string label_words = context.words.text(label), value_words = context.words.text(value);
    const float value_width = std::max(context.px(64), text_width(context, TextSize::title, value_words));
    const bool beside_keys = width - 2 * key - value_width - 3 * gap > context.px(90);
    if (!beside_keys) {
        const Lines lines = broken_into_lines(context, TextSize::body, label_words, width);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::Dummy(ImVec2(width, lines.height));
        write(context, ImGui::GetWindowDrawList(), TextSize::body, context.theme.text, lines,
              {at.x, at.y, width, lines.height});
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const std::string id(name);
    const auto key_at = [&](float x, const char* suffix, Shape shape, const Message& what, bool enabled) {
        enabled = enabled && !context.read_only;
        ImGui::SetCursorScreenPos(ImVec2(x, at.y));
        const Touch touch = touchable(context, id + suffix, ImVec2(key, key), context.words.text(what), enabled);
        ImDrawList* list = ImGui::GetWindowDrawList();
        const Look look = look_of(context, ButtonKind::plain, enabled);
        panel(context, list, touch.area, pressed(context, look.fill, touch), look.edge, measure::corner, 1.5F);
        draw_shape(list, shape, ImVec2(x + key / 2, at.y + key / 2), context.px(22), look.text, look.fill);
        focus_ring(context, touch, measure::corner);
        return touch.tapped;
    };
    const float value_room = beside_keys ? value_width : std::max(1.0F, width - 2 * key - 2 * gap);
    const float first = at.x + width - 2 * key - value_room - 2 * gap;
    const bool less = key_at(first, ".less", Shape::minus, Message("Less"), can_less);
    const bool more = key_at(at.x + width - key, ".more", Shape::plus, Message("More"), can_more);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area middle{first + key + gap, at.y, value_room, key};
    write_line(context, list, TextSize::title, context.theme.text, value_words, middle, Align::centre);
    mark_area(context, id, middle, value_words);
    if (beside_keys) {
        const float room = first - gap - at.x;
        const Lines lines = broken_into_lines(context, TextSize::body, label_words, room, 2);
        write(context, list, TextSize::body, context.theme.text, lines, {at.x, at.y, room, key});
    }
    return more ? 1 : less ? -1 : 0;
}

namespace {

struct Grid {
    int columns = 1;
    float cell = 1;
};

// A choice as it is written.
struct ChoiceText {
    std::string label, detail;
};

// As many equal columns as the widest choice allows.
Grid grid_of(Context& context, std::span<const Choice> choices, std::span<const ChoiceText> texts) {
    float widest = context.px(64);
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const float sign = choices[i].tone == Tone::plain ? 0 : context.px(22);
        widest = std::max({widest, text_width(context, TextSize::strong, texts[i].label),
                           text_width(context, TextSize::body, texts[i].detail) + sign});
    }
    widest += context.px(20);
    const float width = width_left(), gap = context.px(measure::gap);
    const int fit = std::max(1, static_cast<int>((width + gap) / (widest + gap)));
    // Rows as even as they can be: 5 choices where 4 fit become 3 and 2.
    const int count = std::max(1, static_cast<int>(choices.size())), rows = (count + fit - 1) / fit;
    const int columns = (count + rows - 1) / rows;
    return {columns, share_of_width(context, columns)};
}

// What a choice's mark says.
std::string mark_of(const Context& context, const Choice& choice, bool chosen) {
    const Message words = read_out({choice.label, choice.detail});
    return context.words.text(chosen ? Message("{choice}, chosen", {{"choice", words}}) : words);
}

bool draw_choice(Context& context, const std::string& id, const Choice& choice, const ChoiceText& words, bool chosen,
                 ImVec2 size) {
    const Theme& theme = context.theme;
    const bool enabled = choice.enabled && !context.read_only;
    const Touch touch = touchable(context, id, size, mark_of(context, choice, chosen), enabled);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    const Colour fill = chosen ? theme.accent : enabled ? theme.card : theme.plain.fill;
    const Colour text = chosen ? theme.on_accent : enabled ? theme.text : theme.quiet_text;
    panel(context, list, a, enabled ? pressed(context, fill, touch) : fill, chosen ? theme.accent : theme.edge,
          measure::corner, 1.5F);
    const float side = context.px(6), room = std::max(1.0F, a.width - 2 * side);
    const float label_height = line_height(context, TextSize::strong);
    if (words.detail.empty()) {
        const Lines lines = broken_into_lines(context, TextSize::strong, words.label, room);
        write(context, list, TextSize::strong, text, lines, {a.x + side, a.y, room, a.height}, Align::centre);
    } else {
        const float detail_height = line_height(context, TextSize::body);
        const float top = std::floor(a.y + (a.height - label_height - detail_height) / 2);
        write_line(context, list, TextSize::strong, text, words.label, {a.x + side, top, room, label_height},
                   Align::centre);
        const Colour detail = chosen                       ? theme.on_accent
                              : choice.tone == Tone::plain ? theme.quiet_text
                                                           : theme.tone(choice.tone).solid;
        const float sign = choice.tone == Tone::plain ? 0 : context.px(16), gap = sign > 0 ? context.px(6) : 0;
        const float words_width = std::min(text_width(context, TextSize::body, words.detail), room - sign - gap);
        const float x = std::floor(a.x + (a.width - words_width - sign - gap) / 2), y = top + label_height;
        draw_shape(list, tone_shape(choice.tone), ImVec2(x + sign / 2, y + detail_height / 2), sign, detail, fill);
        write_line(context, list, TextSize::body, detail, words.detail,
                   {x + sign + gap, y, words_width, detail_height});
    }
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

}  // namespace

namespace {

// `chosen(i)`: whether choice i is.
template <class Chosen>
int draw_row(Context& context, std::string_view name, std::span<const Choice> choices, const Chosen& chosen) {
    std::vector<ChoiceText> texts;
    for (const Choice& choice : choices)
        texts.push_back({context.words.text(choice.label), context.words.text(choice.detail)});
    const Grid grid = grid_of(context, choices, texts);
    float height = context.px(52);
    for (const ChoiceText& text : texts) {
        const float room = std::max(1.0F, grid.cell - 2 * context.px(6));
        const float words = text.detail.empty()
                                ? broken_into_lines(context, TextSize::strong, text.label, room).height
                                : line_height(context, TextSize::strong) + line_height(context, TextSize::body);
        height = std::max(height, words + context.px(16));
    }
    int tapped = -1;
    for (int i = 0; i < static_cast<int>(choices.size()); ++i) {
        if (i % grid.columns != 0) beside(context);
        const auto at = static_cast<std::size_t>(i);
        const std::string& mark = choices[at].mark;
        const std::string id = std::string(name) + "." + (mark.empty() ? std::to_string(i) : mark);
        if (draw_choice(context, id, choices[at], texts[at], chosen(i), ImVec2(grid.cell, height))) tapped = i;
    }
    return tapped;
}

}  // namespace

int several_row(Context& context, std::string_view name, std::span<const Choice> choices, unsigned chosen) {
    return draw_row(context, name, choices, [&](int i) { return i < several_most && (chosen >> i & 1U) != 0; });
}

int choice_row(Context& context, std::string_view name, std::span<const Choice> choices, int chosen) {
    return draw_row(context, name, choices, [&](int i) { return i == chosen; });
}

}  // namespace tapwright::ui
