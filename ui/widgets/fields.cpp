#include "ui/widgets/fields.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "core/words/words.h"
#include "ui/frame/text.h"
#include "ui/widgets/buttons.h"
#include "ui/widgets/layout.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

int grow_text(ImGuiInputTextCallbackData* data) {
    if (data->EventFlag != ImGuiInputTextFlags_CallbackResize) return 0;
    auto* text = static_cast<std::string*>(data->UserData);
    text->resize(static_cast<std::size_t>(data->BufTextLen));
    data->Buf = text->data();
    return 0;
}

// Several lines that wrap. Dear ImGui breaks at line ends only, so that what it edits has one in the place of the blank
// where a line is full: each text has as many letters as the other, and the cursor stands where it stood.
struct Wrapped {
    Context& context;
    float width;        // pixels
    std::string text;   // as it is kept
    std::string shown;  // as it is edited
};

void wrap(Wrapped& field) {
    field.shown = field.text;
    const float blank = text_width(field.context, TextSize::body, " ");
    float used = 0;
    std::size_t last_blank = std::string::npos;
    for (std::size_t begin = 0; begin <= field.text.size();) {
        const std::size_t end = std::min(field.text.find_first_of(" \n", begin), field.text.size());
        const float word =
            text_width(field.context, TextSize::body, std::string_view(field.text).substr(begin, end - begin));
        if (used + word > field.width && last_blank != std::string::npos) {
            field.shown[last_blank] = '\n';
            used = 0;
        }
        used += word + blank;
        last_blank = end < field.text.size() && field.text[end] == ' ' ? end : std::string::npos;
        if (last_blank == std::string::npos) used = 0;
        begin = end + 1;
    }
}

// What was edited back into what is kept: behind the cursor nothing has changed, and before it what still matches is
// as it was, its line ends blanks or line ends as before.
std::string unwrapped(const Wrapped& before, std::string_view edited, std::size_t cursor) {
    const std::size_t behind = std::min(edited.size() - std::min(cursor, edited.size()), before.text.size());
    const std::size_t most = std::min(edited.size(), before.text.size()) - behind;
    const auto matches = [](char old, char now) { return old == now || (old == ' ' && now == '\n'); };
    std::size_t same = 0;
    while (same < most && matches(before.text[same], edited[same])) ++same;
    return before.text.substr(0, same) + std::string(edited.substr(same, edited.size() - behind - same)) +
           before.text.substr(before.text.size() - behind);
}

int edit_wrapped(ImGuiInputTextCallbackData* data) {
    auto& field = *static_cast<Wrapped*>(data->UserData);
    if (data->EventFlag == ImGuiInputTextFlags_CallbackResize) {
        field.shown.resize(static_cast<std::size_t>(data->BufTextLen));
        data->Buf = field.shown.data();
    }
    if (data->EventFlag != ImGuiInputTextFlags_CallbackEdit) return 0;
    const std::string_view edited(data->Buf, static_cast<std::size_t>(data->BufTextLen));
    Wrapped now{field.context, field.width, unwrapped(field, edited, static_cast<std::size_t>(data->CursorPos)), {}};
    wrap(now);
    field.text = now.text;
    std::copy(now.shown.begin(), now.shown.end(), data->Buf);
    data->BufDirty = true;
    return 0;
}

struct Typed {
    bool changed = false, active = false, left_after_edit = false, focused = false;
    ImGuiID item = 0;
};

constexpr float side_units = 14;  // between a field's edge and its text

// The bare field at the cursor. `right` pixels stay free for what stands inside it at the right, `left` at the left.
Typed input(Context& context, std::string_view name, std::string& text, Area box, float left, float right, int rows,
            std::string_view hint, bool select_all, bool focus) {
    const float pixels = Fonts::pixels(TextSize::body, context.scale);
    const float pad = rows > 1 ? context.px(12) : std::max(1.0F, std::floor((context.px(52) - pixels) / 2));
    const float side = context.px(side_units);
    ImGui::SetCursorScreenPos(ImVec2(box.x + left, box.y));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(side, pad));
    if (focus || context.hand.types_into(name)) ImGui::SetKeyboardFocusHere();
    const std::string id = "##" + std::string(name);
    context.fonts.notice(text);
    const ImVec2 size(std::max(1.0F, box.width - left - right), box.height);
    ImGuiInputTextFlags flags = ImGuiInputTextFlags_CallbackResize | ImGuiInputTextFlags_NoHorizontalScroll;
    if (rows == 1) flags = ImGuiInputTextFlags_CallbackResize;
    // A figure is written anew rather than mended, and its unit stands behind it.
    if (select_all) flags |= ImGuiInputTextFlags_AutoSelectAll;
    Typed typed;
    if (rows > 1) {
        // Undo inside the field would bring back line ends of another wrapping.
        flags |= ImGuiInputTextFlags_CallbackEdit | ImGuiInputTextFlags_NoUndoRedo;
        Wrapped field{context, size.x - 2 * side - ImGui::GetStyle().ScrollbarSize, text, {}};
        wrap(field);
        typed.changed = ImGui::InputTextMultiline(id.c_str(), field.shown.data(), field.shown.capacity() + 1, size,
                                                  flags, edit_wrapped, &field);
        if (typed.changed) text = field.text;
    } else {
        ImGui::SetNextItemWidth(size.x);
        typed.changed = ImGui::InputText(id.c_str(), text.data(), text.capacity() + 1, flags, grow_text, &text);
    }
    // The keyboard of a phone takes its part of the window when a field has been touched: the field stays in sight.
    if (context.reshaped && ImGui::IsItemActive()) ImGui::ScrollToItem(ImGuiScrollFlags_KeepVisibleEdgeY);
    context.gesture.claim_drag(true);
    take_focus(context, name);
    typed.item = ImGui::GetItemID();
    typed.active = ImGui::IsItemActive();
    typed.left_after_edit = ImGui::IsItemDeactivatedAfterEdit();
    // Dear ImGui would let Tab come back to a field that Enter has left: the focus stays, and shows, and goes on.
    const bool entered = ImGui::IsKeyPressed(ImGuiKey_Enter, false) || ImGui::IsKeyPressed(ImGuiKey_KeypadEnter, false);
    if (entered && ImGui::IsItemDeactivated()) ImGui::SetNavCursorVisible(true);
    typed.focused = !typed.active && ImGui::GetCurrentContext()->NavCursorVisible && ImGui::IsItemFocused();
    ImGui::PopStyleVar();
    if (text.empty() && !hint.empty())
        write_line(context, ImGui::GetWindowDrawList(), TextSize::body, context.theme.quiet_text, hint,
                   {box.x + left + side, box.y + pad, std::max(1.0F, size.x - 2 * side), pixels});
    return typed;
}

// What stands inside the empty field, and what is written out below it because it has no room there.
struct Hints {
    Message inside, below;
};

Hints hints_of(Context& context, const FieldOptions& options, float width) {
    const float room = width - 2 * context.px(side_units);
    const auto fits = [&](const Message& text) {
        return text_width(context, TextSize::body, context.words.text(text)) <= room;
    };
    const Message both = read_out({options.hint, options.help});
    if (fits(both)) return {both, {}};
    if (fits(options.hint)) return {options.hint, options.help};
    return {{}, both};
}

void draw_frame(Context& context, Area box, bool active, bool wrong, bool enabled) {
    const Theme& theme = context.theme;
    const Colour edge = wrong ? theme.stop.solid : active ? theme.accent : theme.edge;
    panel(context, ImGui::GetWindowDrawList(), box, enabled ? theme.field : theme.plain.fill, edge, measure::corner,
          active || wrong ? 3.0F : 1.5F);
}

void say_field(Context& context, const Typed& typed, bool number, const std::string& text) {
    Mark& mark = context.marks.last();
    mark.role = number ? Role::number_field : Role::text_field;
    mark.item = mark.enabled ? typed.item : 0;
    mark.value = text;
}

void say_options(Context& context, const Message& label, const Draft& draft, const FieldOptions& options) {
    Mark& mark = context.marks.last();
    mark.is_long = options.rows > 1;
    mark.label = context.words.text(label);
    if (draft.text.empty()) mark.hint = context.words.text(read_out({options.hint, options.help}));
    if (!draft.problem.empty()) mark.problem = context.words.text(draft.problem);
}

void write_below(Context& context, float width, Colour colour, Shape shape, const Message& text) {
    const float sign = context.px(18), gap = context.px(8);
    const Lines lines =
        broken_into_lines(context, TextSize::body, context.words.text(text), std::max(1.0F, width - sign - gap));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, lines.height));
    ImDrawList* list = ImGui::GetWindowDrawList();
    draw_shape(list, shape, ImVec2(at.x + sign / 2, at.y + line_height(context, TextSize::body) / 2), sign, colour,
               context.theme.card);
    write(context, list, TextSize::body, colour, lines, {at.x + sign + gap, at.y, width - sign - gap, lines.height});
}

void publish(Context& context, std::string_view name, bool number, const std::string& text, bool prose) {
    const Mark* marked = context.marks.find(name);
    if (!marked || !marked->visible()) return;
    context.native_areas.push_back({number ? NativeArea::Kind::number : NativeArea::Kind::text,
                                    marked->shown,
                                    std::string(name),
                                    text,
                                    {},
                                    prose});
}

}  // namespace

float label_height(Context& context, const Message& label, float width) {
    return broken_into_lines(context, TextSize::body, context.words.text(label), width).height;
}

FieldEvent text_field(Context& context, std::string_view name, const Message& label, std::string_view kept,
                      Draft& draft, const FieldOptions& options) {
    if (draft.unkept && draft.text == kept && !draft.editing) draft.unkept = false;
    if (!draft.editing && !draft.unkept && !options.is_new) {
        draft.text = kept;
        draft.problem = {};
    }
    const bool enabled = options.enabled && !context.read_only;
    const std::string before = draft.text;
    const float width = options.width > 0 ? options.width : width_left();
    Lines labels = broken_into_lines(context, TextSize::body, context.words.text(label), width);
    labels.height = std::max(labels.height, options.label_height);
    const ImVec2 top = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    ImGui::BeginGroup();
    ImGui::Dummy(ImVec2(width, labels.height));
    const SaidByMark said(context.marks);
    write(context, list, TextSize::body, context.theme.quiet_text, labels, {top.x, top.y, width, labels.height});
    const float line = line_height(context, TextSize::body);
    const float height = options.rows > 1 ? line * static_cast<float>(options.rows) + context.px(24) : context.px(52);
    const Area box{top.x, top.y + labels.height + context.px(4), width, height};
    draw_frame(context, box, draft.editing, !draft.problem.empty(), enabled);
    const std::string unit_words = context.words.text(options.unit);
    const float unit = unit_words.empty() ? 0 : text_width(context, TextSize::body, unit_words) + context.px(20);
    const Hints hints = hints_of(context, options, width - unit);
    ImGui::BeginDisabled(!enabled);
    const Typed typed = input(context, name, draft.text, box, 0, unit, options.rows, context.words.text(hints.inside),
                              options.number || options.renamed, options.focus);
    ImGui::EndDisabled();
    if (unit > 0)
        write_line(context, list, TextSize::body, context.theme.quiet_text, unit_words,
                   {box.x + width - unit, box.y, unit - context.px(14), height}, Align::right);
    ImGui::SetCursorScreenPos(ImVec2(box.x, box.y));
    ImGui::Dummy(ImVec2(width, height));
    mark(context, name, draft.text, enabled);
    say_field(context, typed, options.number, draft.text);
    say_options(context, options.unit.empty() ? Message(label) : read_out({label, options.unit}), draft, options);
    focus_ring(context, {.area = box, .focused = typed.focused}, measure::corner);
    if (enabled) publish(context, name, options.number, draft.text, options.rows > 1);
    if (!hints.below.empty() && kept.empty() && options.width <= 0) quiet_paragraph(context, hints.below);
    // Not while a finger is down: what moves then would move from under it.
    if (!draft.problem.empty() && !ImGui::IsMouseDown(ImGuiMouseButton_Left))
        write_below(context, width, context.theme.stop.solid, Shape::octagon, draft.problem);
    ImGui::EndGroup();
    // Escape takes a record's field back to what is kept. Here nothing is, and what was typed stays.
    const bool escaped = options.is_new && draft.editing && !typed.active && ImGui::IsKeyPressed(ImGuiKey_Escape);
    if (escaped) draft.text = before;
    draft.editing = typed.active;
    if (typed.changed || options.is_new) draft.unkept = draft.text != kept;
    if (typed.changed) draft.problem = {};
    if (options.is_new) return typed.changed ? FieldEvent::typing : FieldEvent::none;
    if (typed.left_after_edit && draft.text != kept) return FieldEvent::commit;
    if (typed.left_after_edit) draft.unkept = false;
    return typed.changed ? FieldEvent::typing : FieldEvent::none;
}

bool figure_key(Context& context, std::string_view name, const Message& label, const Message& value,
                const Message& hint, float width, float label_height) {
    Lines labels = broken_into_lines(context, TextSize::body, context.words.text(label), width);
    labels.height = std::max(labels.height, label_height);
    const ImVec2 top = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    ImGui::BeginGroup();
    ImGui::Dummy(ImVec2(width, labels.height));
    const SaidByMark said(context.marks);
    write(context, list, TextSize::body, context.theme.quiet_text, labels, {top.x, top.y, width, labels.height});
    ImGui::SetCursorScreenPos(ImVec2(top.x, top.y + labels.height + context.px(4)));
    std::string words = context.words.text(value.empty() ? hint : value);
    const float side = context.px(8);
    // A hint says nothing that a part of it would say.
    if (value.empty() && text_width(context, TextSize::body, words) > width - 2 * side) words.clear();
    const Touch touch =
        touchable(context, name, ImVec2(width, context.px(52)), context.words.text(in_a_row({label, value})));
    draw_frame(context, touch.area, touch.held, false, true);
    write_line(context, list, TextSize::body, value.empty() ? context.theme.quiet_text : context.theme.text, words,
               {touch.area.x + side, touch.area.y, std::max(1.0F, width - 2 * side), touch.area.height});
    focus_ring(context, touch, measure::corner);
    ImGui::EndGroup();
    return touch.tapped;
}

void keep_field(Context& context, Draft& draft, Message what,
                std::function<Result<void>(Session&, const std::string&)> make) {
    Draft* field = &draft;
    const auto keep = [field, make = std::move(make)](Session& session) {
        Result<void> kept = make(session, field->text);
        field->unkept = !kept.ok();
        field->problem = kept.ok() ? Message() : kept.refusal().message;
        return kept;
    };
    context.requests.change({std::move(what), keep, true});
}

bool search_field(Context& context, std::string_view name, const Message& hint, std::string& text, bool focus) {
    const float height = context.px(52), sign = context.px(20), left = context.px(36);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area box{at.x, at.y, width_left(), height};
    const bool active = ImGui::GetActiveID() == ImGui::GetID(("##" + std::string(name)).c_str());
    draw_frame(context, box, active, false, true);
    ImGui::BeginGroup();
    const float right = context.px(measure::touch) + context.px(4);
    const Typed typed = input(context, name, text, box, left, right, 1, context.words.text(hint), false, focus);
    mark(context, name, text);
    say_field(context, typed, false, text);
    context.marks.last().label = context.words.text(hint);
    publish(context, name, false, text, false);
    draw_shape(ImGui::GetWindowDrawList(), Shape::search, ImVec2(at.x + context.px(26), at.y + height / 2), sign,
               context.theme.quiet_text, context.theme.field);
    bool cleared = false;
    ImGui::SetCursorScreenPos(ImVec2(at.x + box.width - right, at.y + context.px(2)));
    if (!text.empty())
        cleared = icon_button(context, std::string(name) + ".clear", Shape::cross, Message("Empty the search"));
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy(ImVec2(box.width, height));
    ImGui::EndGroup();
    if (cleared) text.clear();
    return typed.changed || cleared;
}

}  // namespace tapwright::ui
