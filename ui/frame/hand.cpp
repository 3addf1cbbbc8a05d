#include "ui/frame/hand.h"

#include <imgui.h>
#include <imgui_internal.h>

#include "ui/frame/gesture.h"

namespace tapwright::ui {
namespace {

constexpr int most_steps = 8;  // frames until a field has taken the keys

const Mark* in_reach(const Marks& marks, std::string_view name) {
    const Mark* mark = marks.find(name);
    return mark && mark->touchable && mark->enabled && !marks.is_behind(*mark) ? mark : nullptr;
}

bool is_field(const Mark& mark) {
    return mark.role == Role::text_field || mark.role == Role::number_field;
}

void press(ImGuiKey key) {
    ImGui::GetIO().AddKeyEvent(key, true);
    ImGui::GetIO().AddKeyEvent(key, false);
}

// What stands in the field that has the keys gives way to `text`.
void type_anew(const std::string& text) {
    ImGuiIO& io = ImGui::GetIO();
    io.AddKeyEvent(ImGuiMod_Ctrl, true);
    press(ImGuiKey_A);
    io.AddKeyEvent(ImGuiMod_Ctrl, false);
    if (text.empty())
        press(ImGuiKey_Delete);
    else
        io.AddInputCharactersUTF8(text.c_str());
}

// Whoever goes elsewhere leaves the field that is being typed into.
void leave_field(const Mark* going_to) {
    const ImGuiID active = ImGui::GetActiveID();
    const bool stays = going_to && going_to->item == active;
    if (active != 0 && !stays && ImGui::GetInputTextState(active)) ImGui::ClearActiveID();
}

}  // namespace

bool Hand::tap(const Marks& marks, std::string_view name) {
    const Mark* mark = in_reach(marks, name);
    if (!mark) return false;
    const bool only_focuses = is_field(*mark) || mark->by_place;
    acts_.push_back({only_focuses ? Kind::focus : Kind::tap, mark->name, {}});
    return true;
}

bool Hand::focus(const Marks& marks, std::string_view name) {
    const Mark* mark = in_reach(marks, name);
    if (mark) acts_.push_back({Kind::focus, mark->name, {}});
    return mark != nullptr;
}

bool Hand::write(const Marks& marks, std::string_view name, std::string_view text) {
    const Mark* mark = in_reach(marks, name);
    if (!mark || !is_field(*mark)) return false;
    // Who types fast: only the last text counts.
    if (!acts_.empty() && acts_.back().kind == Kind::write && acts_.back().name == name && acts_.back().step == 0)
        acts_.pop_back();
    acts_.push_back({Kind::write, mark->name, std::string(text)});
    return true;
}

void Hand::leave() {
    acts_.push_back({Kind::leave, {}, {}});
}

// A tap is two steps, as a press and its release are: what was being typed is left and kept before anything answers.
bool Hand::go_on(Act& act, const Marks& marks, Gesture& gesture) {
    const Mark* mark = in_reach(marks, act.name);
    if (act.kind != Kind::leave && !mark) return true;
    const int step = act.step++;
    switch (act.kind) {
        case Kind::focus:
            leave_field(mark);
            if (ImGui::GetActiveID() != mark->item) focused_ = act.name;
            return true;
        case Kind::tap:
            if (step == 0) gesture.pressed_by_name(), leave_field(mark);
            (step == 0 ? focused_ : tapped_) = act.name;
            return step == 1;
        case Kind::write:
            if (ImGui::GetActiveID() != mark->item) {
                leave_field(mark);
                typed_ = act.name;
                return step >= most_steps;
            }
            // Keys go to a field from the second frame on that it has them.
            if (act.frames_active++ == 0) return false;
            type_anew(act.text);
            return true;
        case Kind::leave:
            leave_field(nullptr);
            return true;
    }
    return true;
}

void Hand::begin_frame(const Marks& marks, Gesture& gesture) {
    focused_.clear();
    tapped_.clear();
    typed_.clear();
    // What was typed last has not all arrived yet.
    if (acts_.empty() || !ImGui::GetCurrentContext()->InputEventsQueue.empty()) return;
    if (go_on(acts_.front(), marks, gesture)) acts_.pop_front();
}

}  // namespace tapwright::ui
