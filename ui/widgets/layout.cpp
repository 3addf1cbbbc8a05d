#include "ui/widgets/layout.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/buttons.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float card_padding = 16;

// Reserves the lines' place in the flow and writes them.
void flow(Context& context, TextSize size, Colour colour, const Message& text) {
    const float width = width_left();
    const Lines lines = broken_into_lines(context, size, context.words.text(text), width);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(std::min(width, lines.width), lines.height));
    write(context, ImGui::GetWindowDrawList(), size, colour, lines, {at.x, at.y, width, lines.height});
}

}  // namespace

Page::Page(Context& context, std::string_view name, float height, std::optional<float> scroll_to) : context_(context) {
    const float margin = context.px(measure::margin);
    // The title stands right above it.
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(margin, context.px(4)));
    const std::string id(name);
    if (scroll_to) {
        context.gesture.stop();
        ImGui::SetNextWindowScroll(ImVec2(0, *scroll_to));
    }
    ImGui::BeginChild(id.c_str(), ImVec2(0, height),
                      ImGuiChildFlags_AlwaysUseWindowPadding | ImGuiChildFlags_NavFlattened,
                      ImGuiWindowFlags_NoSavedSettings);
    ImGui::PopStyleVar();
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(context.px(measure::gap), context.px(measure::gap)));
    // The scrollbar lies in the margin, so that the page is as wide with it as without.
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    const float bar = window->ScrollbarY ? window->ScrollbarSizes.x : 0;
    window->ContentRegionRect.Max.x += bar;
    window->WorkRect.Max.x += bar;
}

Page::~Page() {
    space(context_, measure::gap);  // the last row does not stick to the edge
    ImGui::PopStyleVar();
    ImGui::EndChild();
}

Card::Card(Context& context, Tone tone) : context_(context), tone_(tone) {
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    start_ = ImGui::GetCursorScreenPos();
    width_ = width_left();
    splitter_.Split(window->DrawList, 2);
    splitter_.SetCurrentChannel(window->DrawList, 1);
    old_region_max_ = window->ContentRegionRect.Max.x;
    old_work_max_ = window->WorkRect.Max.x;
    const float padding = context.px(card_padding);
    window->ContentRegionRect.Max.x -= padding;
    window->WorkRect.Max.x -= padding;
    ImGui::BeginGroup();
    ImGui::SetCursorScreenPos(ImVec2(start_.x + padding, start_.y + padding));
    ImGui::BeginGroup();
}

Card::~Card() {
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    const float padding = context_.px(card_padding);
    ImGui::EndGroup();
    const float bottom = ImGui::GetItemRectMax().y + padding;
    ImGui::SetCursorScreenPos(start_);
    ImGui::Dummy(ImVec2(width_, bottom - start_.y));
    ImGui::EndGroup();
    window->ContentRegionRect.Max.x = old_region_max_;
    window->WorkRect.Max.x = old_work_max_;
    splitter_.SetCurrentChannel(window->DrawList, 0);
    const Area area{start_.x, start_.y, width_, bottom - start_.y};
    panel(context_, window->DrawList, area, context_.theme.card, context_.theme.line, 12);
    if (tone_ != Tone::plain) {
        const float thick = context_.px(6);
        window->DrawList->AddRectFilled(start_, ImVec2(start_.x + thick, bottom), ink(context_.theme.tone(tone_).solid),
                                        context_.px(12), ImDrawFlags_RoundCornersLeft);
    }
    splitter_.Merge(window->DrawList);
}

void paragraph(Context& context, const Message& text, TextSize size) {
    flow(context, size, context.theme.text, text);
}

void quiet_paragraph(Context& context, const Message& text) {
    flow(context, TextSize::body, context.theme.quiet_text, text);
}

void section_title(Context& context, const Message& text) {
    const ImGuiWindow* window = ImGui::GetCurrentWindow();
    const bool is_first = window->DC.CursorPos.y <= window->DC.CursorStartPos.y + 1;
    if (!is_first) space(context, measure::gap);
    flow(context, TextSize::title, context.theme.text, text);
    if (TextPiece* piece = context.marks.last_text()) piece->is_heading = true;
}

void big_number(Context& context, std::string_view name, const Message& value, const Message& unit, const Message& what,
                Tone tone, const Message& word) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float width = width_left(), gap = context.px(measure::gap);
    const std::string value_text = context.words.text(value), unit_text = context.words.text(unit);
    const float value_width = text_width(context, TextSize::huge, value_text);
    const float unit_width = text_width(context, TextSize::title, unit_text);
    const bool fits = value_width + gap + unit_width <= width;
    const TextSize size = fits ? TextSize::huge : TextSize::big;
    const float shown_width = std::min(text_width(context, size, value_text), std::max(1.0F, width - gap - unit_width));
    const float number_height = line_height(context, size), unit_height = line_height(context, TextSize::title);
    const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(what), width);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, number_height + lines.height));
    const Colour colour =
        tone == Tone::plain || tone == Tone::good ? context.theme.text : context.theme.tone(tone).solid;
    write_line(context, list, size, colour, value_text, {at.x, at.y, shown_width, number_height});
    // The unit stands on the number's baseline: Inter's descent is a fifth of the line.
    const float unit_y = at.y + std::floor((number_height - unit_height) * 0.8F);
    write_line(context, list, TextSize::title, context.theme.quiet_text, unit_text,
               {at.x + shown_width + gap, unit_y, unit_width, unit_height});
    write(context, list, TextSize::body, context.theme.quiet_text, lines,
          {at.x, at.y + number_height, width, lines.height});
    mark_area(context, name, {at.x, at.y, width, number_height + lines.height},
              context.words.text(in_a_row({value, unit, word})), Role::status);
    context.marks.last().label =
        context.words.text(Message("{label}: {value}", {{"label", what}, {"value", in_a_row({value, unit})}}));
    if (tone != Tone::plain) tone_badge(context, tone, word.empty() ? tone_word(tone) : word);
}

void tone_badge(Context& context, Tone tone, const Message& word) {
    const std::string words = context.words.text(word);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ToneColours& colours = context.theme.tone(tone);
    const float sign = tone == Tone::plain ? 0 : context.px(18);
    const float gap = tone == Tone::plain ? 0 : context.px(7), side = context.px(10), height = context.px(32);
    const float room = std::max(1.0F, width_left() - 2 * side - sign - gap);
    const float text = std::min(room, text_width(context, TextSize::strong, words));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area area{at.x, at.y, 2 * side + sign + gap + text, height};
    ImGui::Dummy(ImVec2(area.width, height));
    panel(context, list, area, colours.fill, colours.fill, 16, 0);
    draw_shape(list, tone_shape(tone), ImVec2(at.x + side + sign / 2, at.y + height / 2), sign, colours.text,
               colours.fill);
    write_line(context, list, TextSize::strong, colours.text, words, {at.x + side + sign + gap, at.y, text, height});
}

void tone_box(Context& context, std::string_view name, Tone tone, const Message& sentence) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ToneColours& colours = context.theme.tone(tone);
    const float sign = tone == Tone::plain ? 0 : context.px(22), side = context.px(14);
    const float gap = tone == Tone::plain ? 0 : context.px(12), width = width_left();
    const float room = std::max(1.0F, width - 2 * side - sign - gap);
    const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(sentence), room);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area area{at.x, at.y, width, std::max(context.px(measure::touch), lines.height + 2 * context.px(12))};
    ImGui::Dummy(ImVec2(width, area.height));
    panel(context, list, area, colours.fill, colours.fill, measure::corner, 0);
    const float first_line = at.y + (area.height - lines.height + line_height(context, TextSize::body)) / 2;
    draw_shape(list, tone_shape(tone), ImVec2(at.x + side + sign / 2, first_line), sign, colours.text, colours.fill);
    write(context, list, TextSize::body, colours.text, lines, {at.x + side + sign + gap, at.y, room, area.height});
    const Message word = tone_word(tone);
    const Message whole =
        word.empty() ? sentence : Message("{word}: {sentence}", {{"word", word}, {"sentence", sentence}});
    mark_area(context, name, area, context.words.text(whole), Role::status);
}

void statement_box(Context& context, std::string_view name, Tone tone, const Statement& statement) {
    tone_box(context, name, tone, statement.text);
    if (statement.why.empty()) return;
    const std::string key = std::string(name) + ".why";
    // Whether they are open is nothing the screen needs to know: it stays with the page's window.
    bool* open = ImGui::GetStateStorage()->GetBoolRef(ImGui::GetID((key + "##open").c_str()), false);
    const Message label = *open ? Message("Hide the reasons") : Message("Why");
    if (button(context, key, label, {.kind = ButtonKind::quiet, .width = -1})) {
        *open = !*open;
        context.requests.another_frame();
    }
    context.marks.last().label =
        context.words.text(Message("{label}: {value}", {{"label", label}, {"value", statement.text}}));
    context.marks.last().opens = true;
    context.marks.last().is_open = *open;
    if (*open) quiet_paragraph(context, statement.why);
}

void empty_state(Context& context, Shape shape, const Message& title, const Message& what_to_do) {
    space(context, 24);
    const float sign = context.px(56), width = width_left();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, sign + context.px(8)));
    draw_shape(ImGui::GetWindowDrawList(), shape, ImVec2(at.x + sign / 2, at.y + sign / 2), sign, context.theme.accent,
               context.theme.page);
    flow(context, TextSize::title, context.theme.text, title);
    if (TextPiece* piece = context.marks.last_text()) piece->is_heading = true;
    flow(context, TextSize::body, context.theme.quiet_text, what_to_do);
    space(context, 8);
}

bool progress(Context& context, std::string_view name, const Message& what, float share) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    flow(context, TextSize::body, context.theme.text, what);
    const float width = width_left(), height = context.px(14);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, height));
    panel(context, list, {at.x, at.y, width, height}, context.theme.field, context.theme.edge, 7);
    const float done = std::floor(std::clamp(share, 0.0F, 1.0F) * width);
    if (done >= 1) panel(context, list, {at.x, at.y, done, height}, context.theme.accent, context.theme.accent, 7, 0);
    const Message percent = Figure{std::floor(static_cast<double>(share) * 100), Unit::percent, 0};
    mark_area(context, name, {at.x, at.y, width, height}, context.words.text(percent), Role::status);
    return button(context, std::string(name) + ".cancel", Message("Cancel"));
}

}  // namespace tapwright::ui
