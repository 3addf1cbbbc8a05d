#include "ui/widgets/number_pad.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/buttons.h"
#include "ui/widgets/layout.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr int most_digits = 9;

bool has_digit(const std::string& text) {
    return std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

void draw_value(Context& context, std::string_view name, const PadDraft& draft, const PadOptions& options) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float width = width_left(), height = context.px(64), side = context.px(14);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area box{at.x, at.y, width, height};
    ImGui::Dummy(ImVec2(width, height));
    panel(context, list, box, context.theme.field, context.theme.accent, measure::corner, 2);
    const std::string unit_words = context.words.text(options.unit);
    const float unit = unit_words.empty() ? 0 : text_width(context, TextSize::title, unit_words);
    const float gap = unit > 0 ? context.px(10) : 0;
    const Area number{at.x + side, at.y, std::max(1.0F, width - 2 * side - unit - gap), height};
    // U+2212, the typographic minus, is as wide as a plus sign.
    std::string shown = draft.text;
    if (!shown.empty() && shown.front() == '-') shown.replace(0, 1, "\xE2\x88\x92");
    write_line(context, list, TextSize::big, context.theme.text, shown, number, Align::right);
    if (unit > 0)
        write_line(context, list, TextSize::title, context.theme.quiet_text, unit_words,
                   {at.x + width - side - unit, at.y, unit, height});
    mark_area(context, std::string(name) + ".value", box, draft.text);
}

Message word_of(char key) {
    if (key == '.') return Message("Point");
    if (key == '-') return Message("Minus");
    return key == '<' ? Message("Erase") : Message(code(std::string_view(&key, 1)));
}

// Returns: the key that was tapped, or 0.
char draw_keys(Context& context, std::string_view name, bool sign) {
    const char* rows[] = {"789", "456", "123", sign ? "-0." : "<0."};
    const float width = share_of_width(context, 3), height = context.px(56);
    char tapped = 0;
    for (const char* row : rows) {
        for (int column = 0; column < 3; ++column) {
            const char key = row[column];
            if (column > 0) beside(context);
            const bool digit = key >= '0' && key <= '9';
            const std::string suffix = digit        ? std::string(1, key)
                                       : key == '.' ? "point"
                                       : key == '-' ? "sign"
                                                    : "erase";
            const std::string words = context.words.text(word_of(key));
            const Touch touch = touchable(context, std::string(name) + "." + suffix, ImVec2(width, height), words);
            ImDrawList* list = ImGui::GetWindowDrawList();
            const Colour base = digit || key == '.' ? context.theme.card : context.theme.plain.fill;
            const Colour fill = touch.held ? mixed(base, context.theme.text, 0.15) : base;
            panel(context, list, touch.area, fill, context.theme.edge, measure::corner, 1.5F);
            const ImVec2 middle(touch.area.x + width / 2, touch.area.y + height / 2);
            if (digit || key == '.')
                write_line(context, list, TextSize::title, context.theme.text, digit ? words : ".", touch.area,
                           Align::centre);
            else
                draw_shape(list, key == '-' ? Shape::minus : Shape::erase, middle, context.px(22), context.theme.text,
                           fill);
            focus_ring(context, touch, measure::corner);
            if (touch.tapped) tapped = key;
        }
    }
    return tapped;
}

// What was typed on a keyboard. Returns: true when Enter was pressed.
bool read_keyboard(std::string& text, bool sign) {
    if (ImGui::GetActiveID() != 0 && ImGui::GetInputTextState(ImGui::GetActiveID())) return false;
    const ImGuiIO& io = ImGui::GetIO();
    if (io.KeyCtrl || io.KeyAlt || !ImGui::IsWindowFocused(ImGuiFocusedFlags_RootAndChildWindows)) return false;
    const std::string before = text;
    for (const ImWchar character : io.InputQueueCharacters) {
        const char key = character >= 128 ? 0 : character == ',' ? '.' : static_cast<char>(character);
        if (key != '<' && (key != '-' || sign)) text = after_key(text, key);
    }
    if (ImGui::IsKeyPressed(ImGuiKey_Backspace)) text = after_key(text, '<');
    if (text != before) ImGui::SetNavCursorVisible(false);  // Enter now means the value, not the key in focus
    const bool enter = ImGui::IsKeyPressed(ImGuiKey_Enter, false) || ImGui::IsKeyPressed(ImGuiKey_KeypadEnter, false);
    return enter && !ImGui::GetCurrentContext()->NavCursorVisible;
}

}  // namespace

std::string after_key(std::string text, char key) {
    const bool negative = !text.empty() && text.front() == '-';
    if (key == '<') {
        if (!text.empty()) text.pop_back();
        return text;
    }
    if (key == '-') return negative ? text.substr(1) : "-" + text;
    if (key == '.') {
        if (text.find('.') != std::string::npos) return text;
        return has_digit(text) ? text + "." : text + "0.";
    }
    if (key < '0' || key > '9') return text;
    const auto digits = std::count_if(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
    if (digits >= most_digits) return text;
    const std::string_view plain = negative ? std::string_view(text).substr(1) : std::string_view(text);
    if (plain == "0") text.pop_back();  // 05 is 5
    return text + key;
}

PadEvent number_pad(Context& context, std::string_view name, PadDraft& draft, const PadOptions& options) {
    const std::string before = draft.text;
    if (!options.label.empty()) quiet_paragraph(context, options.label);
    draw_value(context, name, draft, options);
    if (!draft.problem.empty()) tone_box(context, std::string(name) + ".problem", Tone::stop, draft.problem);
    if (const char key = draw_keys(context, name, options.sign)) draft.text = after_key(draft.text, key);
    bool keep = false;
    if (options.sign) {
        const float wide = share_of_width(context, 3);
        if (button(context, std::string(name) + ".erase", Message("Erase"), {.width = wide, .shape = Shape::none}))
            draft.text = after_key(draft.text, '<');
        beside(context);
    }
    const bool ready = has_digit(draft.text);
    keep = button(context, std::string(name) + ".keep", options.keep_label,
                  {.kind = ButtonKind::primary, .enabled = ready});
    if (read_keyboard(draft.text, options.sign) && has_digit(draft.text)) keep = true;
    if (draft.text != before) draft.problem = {};
    if (keep) return PadEvent::keep;
    return draft.text != before ? PadEvent::typing : PadEvent::none;
}

}  // namespace tapwright::ui
