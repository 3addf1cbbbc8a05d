#include "ui/widgets/rows.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

// Where everything in a row goes, in pixels from its corner.
struct RowPlan {
    Lines title, detail;
    float left = 0, text_width = 0, right_width = 0, sign = 0, height = 0;
    std::string value, word;
    // On a narrow row the words at the left need the room: the word stands in the title's line where it fits, else
    // below.
    bool word_below = false, word_in_title = false;
};

ImGuiID row_id(std::string_view name) {
    return ImGui::GetCurrentWindow()->GetID(name.data(), name.data() + name.size());
}

void say_row(Context& context, bool selected) {
    context.marks.last().role = Role::row;
    context.marks.last().is_on = selected;
}

Message word_of(const Row& row) {
    return row.tone == Tone::plain || !row.word.empty() ? row.word : tone_word(row.tone);
}

RowPlan plan_row(Context& context, const Row& row, float width) {
    RowPlan plan;
    const float side = context.px(14), gap = context.px(10);
    plan.word = context.words.text(word_of(row));
    plan.value = context.words.text(row.value);
    plan.sign = row.tone == Tone::plain ? 0 : context.px(18);
    const float sign_gap = plan.sign > 0 ? context.px(6) : 0;
    float right = text_width(context, TextSize::strong, plan.value);
    const float word_width = text_width(context, TextSize::body, plan.word) + plan.sign + sign_gap;
    const bool is_narrow = !plan.word.empty() && width < context.px(context.low ? 400 : 480);
    if (!plan.word.empty() && !is_narrow) right = std::max(right, word_width);
    plan.right_width = std::min(right, std::floor(width * 0.48F));
    plan.left = side + (row.shape == Shape::none ? 0 : context.px(24) + gap);
    const float chevron = row.chevron ? context.px(14) + gap : 0;
    plan.text_width = width - plan.left - side - chevron - (right > 0 ? plan.right_width + gap : 0);
    plan.text_width = std::max(1.0F, plan.text_width);
    const std::string title = context.words.text(row.title);
    plan.word_in_title = is_narrow && !row.title.empty() &&
                         text_width(context, TextSize::strong, title) + gap + word_width <= plan.text_width;
    plan.word_below = is_narrow && !plan.word_in_title;
    // Where few rows have room, each takes fewer lines.
    const float screen = ImGui::GetIO().DisplaySize.y;
    const int most_details = context.low ? 1 : screen < context.px(measure::short_below) ? 2 : 3;
    if (!row.title.empty() || row.detail.empty())
        plan.title = broken_into_lines(context, TextSize::strong, title, plan.text_width, context.low ? 1 : 2);
    if (!row.detail.empty())
        plan.detail = broken_into_lines(context, TextSize::body, context.words.text(row.detail), plan.text_width,
                                        row.whole ? 0 : most_details);
    float right_height = plan.value.empty() ? 0 : line_height(context, TextSize::strong);
    const float word = plan.word.empty() ? 0 : line_height(context, TextSize::body);
    if (!plan.word_below && !plan.word_in_title) right_height += word;
    const float left_height = plan.title.height + plan.detail.height + (plan.word_below ? word : 0);
    plan.height = std::max({context.px(56), left_height + context.px(18), right_height + context.px(18)});
    return plan;
}

void draw_word(Context& context, ImDrawList* list, const Row& row, const RowPlan& plan, Area box, Align align,
               Colour ground) {
    const Colour colour = row.selected ? context.theme.text : context.theme.tone(row.tone).solid;
    const float gap = plan.sign > 0 ? context.px(6) : 0;
    const float room = std::max(1.0F, box.width - plan.sign - gap);
    const float words = std::min(text_width(context, TextSize::body, plan.word), room);
    const float x = align == Align::right ? box.x + box.width - words - gap - plan.sign : box.x;
    draw_shape(list, tone_shape(row.tone), ImVec2(x + plan.sign / 2, box.y + box.height / 2), plan.sign, colour,
               ground);
    write_line(context, list, TextSize::body, colour, plan.word, {x + plan.sign + gap, box.y, words, box.height});
}

void draw_right_side(Context& context, ImDrawList* list, const Row& row, const RowPlan& plan, const Area& a,
                     Colour ground) {
    const float chevron = row.chevron ? context.px(14) + context.px(10) : 0;
    const float x = a.x + a.width - context.px(14) - chevron - plan.right_width;
    const float value_height = plan.value.empty() ? 0 : line_height(context, TextSize::strong);
    const bool with_word = !plan.word.empty() && !plan.word_below && !plan.word_in_title;
    const float word_height = with_word ? line_height(context, TextSize::body) : 0;
    const float y = std::floor(a.y + (a.height - value_height - word_height) / 2);
    if (value_height > 0)
        write_line(context, list, TextSize::strong, context.theme.text, plan.value,
                   {x, y, plan.right_width, value_height}, Align::right);
    if (with_word)
        draw_word(context, list, row, plan, {x, y + value_height, plan.right_width, word_height}, Align::right, ground);
    if (row.chevron)
        draw_shape(list, Shape::chevron, ImVec2(a.x + a.width - context.px(18), a.y + a.height / 2), context.px(14),
                   context.theme.quiet_text, ground);
}

}  // namespace

bool passed_by(Context& context, std::string_view name, RowTouch& touch) {
    const float width = width_left();
    const RowsSeen::Seen* seen = context.rows.find(row_id(name), width);
    if (!seen) return false;
    const float top = ImGui::GetCursorScreenPos().y;
    const ImRect& clip = ImGui::GetCurrentWindow()->ClipRect;
    if (top <= clip.Max.y && top + seen->height >= clip.Min.y) return false;
    const Touch touched = touchable(context, name, ImVec2(width, seen->height), seen->text, seen->enabled, true);
    say_row(context, seen->is_on);
    touch = {touched.tapped, touched.long_pressed};
    return true;
}

RowTouch list_row(Context& context, std::string_view name, const Row& row) {
    RowTouch unseen;
    if (passed_by(context, name, unseen)) return unseen;
    const Theme& theme = context.theme;
    const float width = width_left();
    const RowPlan plan = plan_row(context, row, width);
    std::string words = context.words.text(read_out({row.title, row.detail, row.value, word_of(row)}));
    const Touch touch = touchable(context, name, ImVec2(width, plan.height), words, row.enabled, true);
    say_row(context, row.selected);
    context.rows.keep(row_id(name), {width, plan.height, row.enabled, row.selected, std::move(words)});
    const Area& a = touch.area;
    if (!ImGui::IsItemVisible()) return {touch.tapped, touch.long_pressed};
    ImDrawList* list = ImGui::GetWindowDrawList();
    Colour fill = row.selected ? theme.accent_fill : theme.card;
    if (touch.held) fill = mixed(fill, theme.text, 0.12);
    panel(context, list, a, fill, row.selected ? theme.accent : theme.line, measure::corner,
          row.selected ? 2.0F : 1.0F);
    const float word = plan.word_below ? line_height(context, TextSize::body) : 0;
    const float top = std::floor(a.y + (a.height - plan.title.height - plan.detail.height - word) / 2);
    const float x = a.x + plan.left;
    draw_shape(list, row.shape, ImVec2(a.x + context.px(14) + context.px(12), a.y + a.height / 2), context.px(24),
               theme.accent, fill);
    if (plan.title.height > 0)
        write(context, list, TextSize::strong, row.enabled ? theme.text : theme.quiet_text, plan.title,
              {x, top, plan.word_in_title ? plan.title.width : plan.text_width, plan.title.height});
    if (!row.detail.empty())
        write(context, list, TextSize::body, row.whole ? theme.text : theme.quiet_text, plan.detail,
              {x, top + plan.title.height, plan.text_width, plan.detail.height});
    if (plan.word_below)
        draw_word(context, list, row, plan, {x, top + plan.title.height + plan.detail.height, plan.text_width, word},
                  Align::left, fill);
    if (plan.word_in_title)
        draw_word(context, list, row, plan, {x, top, plan.text_width, plan.title.height}, Align::right, fill);
    draw_right_side(context, list, row, plan, a, fill);
    focus_ring(context, touch, measure::corner);
    return {touch.tapped, touch.long_pressed};
}

bool tick_row(Context& context, std::string_view name, const Message& step, bool ticked) {
    const Theme& theme = context.theme;
    const float width = width_left(), box = context.px(32), gap = context.px(12), margin = context.px(8);
    const float room = std::max(1.0F, width - box - gap - 2 * margin);
    const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(step), room);
    const float height = std::max(context.px(52), lines.height + context.px(16));
    const Message whole = ticked ? Message("{step}, done", {{"step", step}}) : step;
    const Touch touch = touchable(context, name, ImVec2(width, height), context.words.text(whole), !context.read_only);
    say_choice(context, Role::tick, ticked, step);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    panel(context, list, a, theme.card, touch.held || touch.hovered ? theme.accent : theme.edge, measure::corner, 1.5F);
    const Area square{a.x + margin, a.y + std::floor((height - box) / 2), box, box};
    panel(context, list, square, ticked ? theme.accent : theme.page, ticked ? theme.accent : theme.edge, 6, 2);
    if (ticked)
        draw_shape(list, Shape::check, ImVec2(square.x + box / 2, square.y + box / 2), context.px(22), theme.on_accent,
                   theme.accent);
    write(context, list, TextSize::body, theme.text, lines, {square.x + box + gap, a.y, room, height});
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

void label_value(Context& context, std::string_view name, const Message& label, const Message& value, Tone tone) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float width = width_left(), gap = context.px(12), sign = tone == Tone::plain ? 0 : context.px(24);
    const std::string label_words = context.words.text(label), value_words = context.words.text(value);
    const float value_width = text_width(context, TextSize::strong, value_words) + sign;
    const float label_width = text_width(context, TextSize::body, label_words);
    const bool one_line = label_width + gap + value_width <= width;
    const float value_room = one_line ? value_width - sign : std::max(1.0F, width - sign);
    const Lines labels = broken_into_lines(context, TextSize::body, label_words, one_line ? label_width : width);
    const Lines values = broken_into_lines(context, TextSize::strong, value_words, value_room);
    const float height = one_line ? std::max(context.px(32), labels.height) : labels.height + values.height;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, height));
    const Colour colour = tone == Tone::plain ? context.theme.text : context.theme.tone(tone).solid;
    const float value_y = one_line ? at.y : at.y + labels.height;
    const float value_height = one_line ? height : values.height;
    const float x = one_line ? at.x + width - value_width : at.x;
    write(context, list, TextSize::body, context.theme.quiet_text, labels,
          {at.x, at.y, std::max(labels.width, 1.0F), one_line ? height : labels.height});
    draw_shape(list, tone_shape(tone), ImVec2(x + context.px(9), value_y + value_height / 2), context.px(18), colour,
               context.theme.card);
    write(context, list, TextSize::strong, colour, values, {x + sign, value_y, value_room, value_height});
    mark_area(context, name, {at.x, at.y, width, height},
              context.words.text(Message("{label}: {value}", {{"label", label}, {"value", value}})));
}

}  // namespace tapwright::ui
