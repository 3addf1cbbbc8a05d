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

constexpr float usual_key_units = 56, value_units = 56;

// As the language writes it. U+2212, the typographic minus, is as wide as a plus sign.
std::string as_written(const Context& context, std::string text) {
    if (const std::size_t mark = text.find('.'); mark != std::string::npos)
        text.replace(mark, 1, context.words.language().decimal_mark);
    if (!text.empty() && text.front() == '-') text.replace(0, 1, "\xE2\x88\x92");
    return text;
}

Message word_of(char key) {
    if (key == '.') return Message("Decimal mark");
    if (key == '-') return Message("Minus");
    return key == '<' ? Message("Erase") : Message(code(std::string_view(&key, 1)));
}

std::string mark_of(std::string_view name, char key) {
    const std::string prefix = std::string(name) + ".";
    if (key == '.') return prefix + "point";
    if (key == '-') return prefix + "sign";
    return key == '<' ? prefix + "erase" : prefix + key;
}

// Returns: whether it was tapped.
bool draw_key(Context& context, std::string_view name, char key, const Area& area) {
    ImGui::SetCursorScreenPos(ImVec2(area.x, area.y));
    const bool is_digit = key >= '0' && key <= '9';
    const std::string words = context.words.text(word_of(key));
    const Touch touch =
        touchable(context, mark_of(name, key), ImVec2(area.width, area.height), words, !context.read_only);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Colour base = is_digit || key == '.' ? context.theme.card : context.theme.plain.fill;
    const Colour fill = touch.held ? mixed(base, context.theme.text, 0.15) : base;
    panel(context, list, touch.area, fill, context.theme.edge, measure::corner, 1.5F);
    const ImVec2 middle(touch.area.x + area.width / 2, touch.area.y + area.height / 2);
    if (is_digit || key == '.')
        write_line(context, list, TextSize::title, context.theme.text,
                   is_digit ? words : context.words.language().decimal_mark, touch.area, Align::centre);
    else
        draw_shape(list, key == '-' ? Shape::minus : Shape::erase, middle, context.px(22), context.theme.text, fill);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

// Where keys lie: four columns, four rows.
struct KeyGrid {
    ImVec2 at;
    float gap = 0, width = 0, height = 0;
    Area cell(int column, int row, int columns, int rows) const {
        const auto span = [this](float each, int count) {
            return each * static_cast<float>(count) + gap * static_cast<float>(count - 1);
        };
        return {at.x + static_cast<float>(column) * (width + gap), at.y + static_cast<float>(row) * (height + gap),
                span(width, columns), span(height, rows)};
    }
};

// The digits in the order of a calculator; the last row is 0 and the decimal mark.
// Returns: the key that was tapped, or 0.
char draw_keys(Context& context, std::string_view name, bool sign, const KeyGrid& grid) {
    char tapped = 0;
    const auto key = [&](char which, const Area& area) {
        if (draw_key(context, name, which, area)) tapped = which;
    };
    const char* rows[] = {"789", "456", "123"};
    for (int row = 0; row < 3; ++row)
        for (int column = 0; column < 3; ++column) key(rows[row][column], grid.cell(column, row, 1, 1));
    key('0', grid.cell(0, 3, 2, 1));
    key('.', grid.cell(2, 3, 1, 1));
    key('<', grid.cell(3, 0, 1, sign ? 1 : 2));
    if (sign) key('-', grid.cell(3, 1, 1, 1));
    return tapped;
}

// What was typed on a keyboard. Returns: true when Enter was pressed.
bool read_keyboard(std::string& text, bool sign) {
    if (ImGui::GetActiveID() != 0 && ImGui::GetInputTextState(ImGui::GetActiveID())) return false;
    const ImGuiIO& io = ImGui::GetIO();
    if (io.KeyCtrl || io.KeyAlt || !ImGui::IsWindowFocused(ImGuiFocusedFlags_RootAndChildWindows)) return false;
    const std::string before = text;
    for (const ImWchar character : io.InputQueueCharacters) {
        const char key = character >= 128 ? '\0' : character == ',' ? '.' : static_cast<char>(character);
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

float pad_value_height(const Context& context) {
    return context.px(value_units);
}

void pad_value(Context& context, std::string_view name, const PadDraft& draft, const PadOptions& options) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float width = width_left(), height = pad_value_height(context), side = context.px(14);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area box{at.x, at.y, width, height};
    ImGui::Dummy(ImVec2(width, height));
    panel(context, list, box, context.theme.field, context.theme.accent, measure::corner, 2);
    const std::string unit_words = context.words.text(options.unit);
    const float unit = unit_words.empty() ? 0 : text_width(context, TextSize::title, unit_words);
    const float gap = unit > 0 ? context.px(10) : 0;
    const Area number{at.x + side, at.y, std::max(1.0F, width - 2 * side - unit - gap), height};
    write_line(context, list, TextSize::big, context.theme.text, as_written(context, draft.text), number, Align::right);
    if (unit > 0)
        write_line(context, list, TextSize::title, context.theme.quiet_text, unit_words,
                   {at.x + width - side - unit, at.y, unit, height});
    mark_area(context, std::string(name) + ".value", box, draft.text, Role::status);
    const std::string written = as_written(context, draft.text);
    context.marks.last().label = context.words.text(in_a_row({Message(code(written)), options.unit}));
}

float pad_keys_height(const Context& context, float key_height) {
    const float height = key_height > 0 ? key_height : context.px(usual_key_units);
    return 4 * height + 3 * context.px(measure::gap);
}

PadEvent pad_keys(Context& context, std::string_view name, PadDraft& draft, const PadOptions& options) {
    const std::string before = draft.text;
    const float height = options.key_height > 0 ? options.key_height : context.px(usual_key_units);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const KeyGrid grid{at, context.px(measure::gap), share_of_width(context, 4), height};
    const float width = width_left();
    if (const char key = draw_keys(context, name, options.sign, grid)) draft.text = after_key(draft.text, key);
    const Area save = grid.cell(3, 2, 1, 2);
    ImGui::SetCursorScreenPos(ImVec2(save.x, save.y));
    bool keep = button(context, std::string(name) + ".keep", options.keep_label,
                       {.kind = ButtonKind::primary,
                        .enabled = has_digit(draft.text),
                        .width = save.width,
                        .height = save.height,
                        .tight = true});
    if (read_keyboard(draft.text, options.sign) && has_digit(draft.text)) keep = true;
    if (draft.text != before) draft.problem = {};
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy(ImVec2(width, pad_keys_height(context, height)));
    if (keep) return PadEvent::keep;
    return draft.text != before ? PadEvent::typing : PadEvent::none;
}

PadEvent number_pad(Context& context, std::string_view name, PadDraft& draft, const PadOptions& options) {
    if (!options.label.empty()) quiet_paragraph(context, options.label);
    pad_value(context, name, draft, options);
    const PadEvent event = pad_keys(context, name, draft, options);
    if (!draft.problem.empty()) tone_box(context, std::string(name) + ".problem", Tone::stop, draft.problem);
    return event;
}

}  // namespace tapwright::ui
