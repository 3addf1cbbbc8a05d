#include "ui/frame/gesture.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cfloat>
#include <cmath>

namespace tapwright::ui {
namespace {

constexpr float slop_units = 9;  // a tap may wander this far
constexpr double long_press_seconds = 0.5;
constexpr double still_seconds = 0.08;  // held this long before lifting: no fling
constexpr float fling_decay = 3.2F;     // share of speed lost a second, as an exponent
constexpr float slowest_fling = 24;     // units a second; below it a fling ends
constexpr float wheel_step = 1.2F;      // zoom for each notch

ImGuiMouseSource source(Gesture::Pointer kind) {
    return kind == Gesture::Pointer::touch ? ImGuiMouseSource_TouchScreen : ImGuiMouseSource_Mouse;
}

bool inside(const ImRect& rect, float x, float y) {
    return rect.Contains(ImVec2(x, y));
}

}  // namespace

float Gesture::moved_distance() const {
    return std::hypot(last_x_ - start_x_, last_y_ - start_y_);
}

void Gesture::release_without_click() {
    // An item counts a release as a click only while the pointer is over it.
    ImGuiIO& io = ImGui::GetIO();
    io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
    io.AddMouseButtonEvent(0, false);
}

void Gesture::pressed(int id, float x, float y, double seconds, Pointer kind) {
    if (first_id_ >= 0 && id != first_id_) {
        if (second_id_ >= 0) return;  // a third finger means nothing
        if (state_ == State::press || state_ == State::owned) release_without_click();
        second_id_ = id;
        second_x_ = x;
        second_y_ = y;
        state_ = State::pinch;
        pinch_zoom_ = 1;
        pinch_pan_x_ = pinch_pan_y_ = 0;
        speed_x_ = speed_y_ = 0;
        dragged_ = true;
        return;
    }
    if (lifted_) start_scroll();  // the press before was never decided
    lifted_ = false;
    const bool flying = std::hypot(speed_x_, speed_y_) > slowest_fling * scale_;
    first_id_ = id;
    kind_ = kind;
    start_x_ = last_x_ = x;
    start_y_ = last_y_ = y;
    press_time_ = last_time_ = seconds;
    speed_x_ = speed_y_ = 0;
    dragged_ = long_press_due_ = long_press_over_ = false;
    stayed_a_tap_ = false;
    ++presses_;
    claimed_ = 0;
    if (flying) {  // the finger stops what was rolling
        state_ = State::scroll;
        return;
    }
    note_window_under_finger();
    active_before_press_ = ImGui::GetCurrentContext()->ActiveId;
    ImGuiIO& io = ImGui::GetIO();
    io.AddMouseSourceEvent(source(kind));
    io.AddMousePosEvent(x, y);
    io.AddMouseButtonEvent(0, true);
    state_ = State::press;
}

void Gesture::note_window_under_finger() {
    ImGuiWindow *window = nullptr, *beneath = nullptr;
    ImGui::FindHoveredWindowEx(ImVec2(start_x_, start_y_), true, &window, &beneath);
    const ImGuiWindow* modal = ImGui::GetTopMostPopupModal();
    const bool behind_modal = modal && window && window->RootWindow != modal->RootWindow;
    under_finger_ = window && !behind_modal ? window->ID : 0;
}

// The innermost window around the finger that can still move the way the finger goes; where none can, nothing scrolls.
void Gesture::choose_scroll_target() {
    target_ = 0;
    const float dx = last_x_ - start_x_, dy = last_y_ - start_y_;
    ImGuiWindow* window = under_finger_ ? ImGui::FindWindowByID(under_finger_) : nullptr;
    while (window) {
        const bool upright = std::abs(dy) >= std::abs(dx);
        const float way = upright ? dy : dx, at = upright ? window->Scroll.y : window->Scroll.x;
        const float most = upright ? window->ScrollMax.y : window->ScrollMax.x;
        if (way > 0 ? at > 0 : at < most) {
            target_ = window->ID;
            return;
        }
        window = window->Flags & ImGuiWindowFlags_ChildWindow ? window->ParentWindow : nullptr;
    }
}

void Gesture::measure_speed(float dx, float dy, double seconds) {
    const auto step = static_cast<float>(seconds - last_time_);
    if (step < 0.0005F) return;
    speed_x_ = speed_x_ * 0.5F + dx / step * 0.5F;
    speed_y_ = speed_y_ * 0.5F + dy / step * 0.5F;
    last_time_ = seconds;
}

void Gesture::moved(int id, float x, float y, double seconds, Pointer kind) {
    ImGuiIO& io = ImGui::GetIO();
    if (state_ == State::pinch) {
        const float before = std::hypot(second_x_ - last_x_, second_y_ - last_y_);
        const float middle_x = (last_x_ + second_x_) / 2, middle_y = (last_y_ + second_y_) / 2;
        if (id == first_id_) last_x_ = x, last_y_ = y;
        if (id == second_id_) second_x_ = x, second_y_ = y;
        const float after = std::hypot(second_x_ - last_x_, second_y_ - last_y_);
        if (before > 1 && after > 1) pinch_zoom_ *= after / before;
        pinch_pan_x_ += (last_x_ + second_x_) / 2 - middle_x;
        pinch_pan_y_ += (last_y_ + second_y_) / 2 - middle_y;
        return;
    }
    if (first_id_ < 0 || lifted_) {
        if (kind == Pointer::mouse) {
            io.AddMouseSourceEvent(ImGuiMouseSource_Mouse);
            io.AddMousePosEvent(x, y);
        }
        return;
    }
    if (id != first_id_) return;
    const float dx = x - last_x_, dy = y - last_y_;
    measure_speed(dx, dy, seconds);
    last_x_ = x;
    last_y_ = y;
    if (state_ == State::scroll) {
        pending_x_ += dx;
        pending_y_ += dy;
    } else if (state_ == State::owned) {
        io.AddMousePosEvent(x, y);
    }
}

void Gesture::lift_from_scroll(double seconds) {
    if (seconds - last_time_ > still_seconds) speed_x_ = speed_y_ = 0;
    state_ = State::idle;
    if (kind_ == Pointer::mouse) ImGui::GetIO().AddMousePosEvent(last_x_, last_y_);
}

void Gesture::finish_press() {
    ImGuiIO& io = ImGui::GetIO();
    io.AddMouseButtonEvent(0, false);
    if (kind_ == Pointer::touch) io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
    speed_x_ = speed_y_ = 0;
    state_ = State::idle;
}

void Gesture::released(int id, double seconds) {
    if (state_ == State::pinch) {
        if (id != first_id_ && id != second_id_) return;
        state_ = State::spent;  // the finger that stays is not a tap
        if (id == first_id_) first_id_ = second_id_;
        second_id_ = -1;
        return;
    }
    if (id != first_id_) return;
    first_id_ = -1;
    if (state_ == State::press && moved_distance() > slop_units * scale_) {
        if (seconds - last_time_ > still_seconds) speed_x_ = speed_y_ = 0;
        lifted_ = true;  // a whole swipe between two frames: decided in the next one
        return;
    }
    if (state_ == State::scroll) return lift_from_scroll(seconds);
    stayed_a_tap_ = state_ == State::press;
    if (state_ == State::press || state_ == State::owned) return finish_press();
    state_ = State::idle;
    if (kind_ == Pointer::mouse) ImGui::GetIO().AddMousePosEvent(last_x_, last_y_);
}

void Gesture::left_window() {
    if (first_id_ < 0) ImGui::GetIO().AddMousePosEvent(-FLT_MAX, -FLT_MAX);
}

void Gesture::cancelled() {
    if (state_ == State::press || state_ == State::owned) release_without_click();
    state_ = State::idle;
    first_id_ = second_id_ = -1;
    lifted_ = false;
    speed_x_ = speed_y_ = 0;
}

void Gesture::stop() {
    speed_x_ = speed_y_ = pending_x_ = pending_y_ = 0;
}

void Gesture::start_scroll() {
    ImGuiContext& imgui = *ImGui::GetCurrentContext();
    // A text field takes the keyboard at the press; a scroll that began on one did not mean it.
    if (imgui.ActiveId != 0 && imgui.ActiveId != active_before_press_) ImGui::ClearActiveID();
    choose_scroll_target();
    release_without_click();
    state_ = State::scroll;
    pending_x_ += last_x_ - start_x_;
    pending_y_ += last_y_ - start_y_;
}

void Gesture::decide() {
    if (state_ != State::press || moved_distance() <= slop_units * scale_) return;
    const ImGuiContext& imgui = *ImGui::GetCurrentContext();
    // Dear ImGui sees the press for the first time in this very frame: widgets have not answered yet.
    if (!imgui.IO.MouseDown[0] || imgui.IO.MouseDownDuration[0] <= 0) return;
    const ImGuiWindow* window = imgui.ActiveIdWindow;
    const bool scrollbar = imgui.ActiveId != 0 && window != nullptr &&
                           imgui.ActiveId == ImGui::GetWindowScrollbarID(imgui.ActiveIdWindow, ImGuiAxis_Y);
    if (scrollbar || (imgui.ActiveId != 0 && imgui.ActiveId == claimed_)) {
        state_ = State::owned;
        dragged_ = true;
        speed_x_ = speed_y_ = 0;
        ImGui::GetIO().AddMousePosEvent(last_x_, last_y_);
        if (lifted_) finish_press();
    } else {
        start_scroll();
        if (lifted_) state_ = State::idle;
    }
    lifted_ = false;
}

void Gesture::apply_scroll(double step_seconds) {
    float x = pending_x_, y = pending_y_;
    if (state_ == State::idle) {
        const auto step = static_cast<float>(std::min(step_seconds, 0.05));
        x += speed_x_ * step;
        y += speed_y_ * step;
        const float left = std::exp(-fling_decay * step);
        speed_x_ *= left;
        speed_y_ *= left;
        if (std::hypot(speed_x_, speed_y_) < slowest_fling * scale_) speed_x_ = speed_y_ = 0;
    }
    // Scrolling goes by whole pixels; what is left over counts for the next frame, so that the page stays under the
    // finger.
    pending_x_ = x - std::trunc(x);
    pending_y_ = y - std::trunc(y);
    x = std::trunc(x);
    y = std::trunc(y);
    ImGuiWindow* window = target_ ? ImGui::FindWindowByID(target_) : nullptr;
    if (!window || !window->WasActive) {
        speed_x_ = speed_y_ = 0;
        return;
    }
    const float wanted_x = window->Scroll.x - x, wanted_y = window->Scroll.y - y;
    const float new_x = std::clamp(wanted_x, 0.0F, window->ScrollMax.x);
    const float new_y = std::clamp(wanted_y, 0.0F, window->ScrollMax.y);
    if (new_x != wanted_x) speed_x_ = 0;  // at the end: nothing more to roll
    if (new_y != wanted_y) speed_y_ = 0;
    if (x != 0 && window->ScrollMax.x > 0) ImGui::SetScrollX(window, new_x);
    if (y != 0 && window->ScrollMax.y > 0) ImGui::SetScrollY(window, new_y);
}

void Gesture::begin_frame(double seconds, float scale) {
    scale_ = scale;
    decide();
    const bool still = state_ == State::press && moved_distance() <= slop_units * scale_;
    if (still && !long_press_over_ && seconds - press_time_ >= long_press_seconds) long_press_due_ = true;
    apply_scroll(seconds - frame_time_);
    frame_time_ = seconds;
}

double Gesture::next_frame_in() const {
    if (lifted_ || std::abs(pending_x_) >= 1 || std::abs(pending_y_) >= 1) return 0;
    if (state_ == State::idle && (speed_x_ != 0 || speed_y_ != 0)) return 0;
    if (state_ == State::press && moved_distance() > slop_units * scale_) return 0;
    if (state_ == State::press && !long_press_due_ && !long_press_over_)
        return std::max(0.0, press_time_ + long_press_seconds - frame_time_);
    return -1;
}

bool Gesture::lifted_in_place() const {
    return stayed_a_tap_ && ImGui::IsMouseReleased(ImGuiMouseButton_Left);
}

bool Gesture::long_pressed() {
    if (!long_press_due_ || state_ != State::press || !ImGui::IsItemActive()) return false;
    long_press_due_ = false;
    long_press_over_ = true;
    release_without_click();
    state_ = State::spent;
    return true;
}

void Gesture::claim_drag(bool only_if_already_active) {
    if (!ImGui::IsItemActive()) return;
    const ImGuiID item = ImGui::GetItemID();
    if (!only_if_already_active || active_before_press_ == item) claimed_ = item;
}

CanvasMove Gesture::canvas(bool pressed_by_item) {
    CanvasMove move;
    const ImGuiIO& io = ImGui::GetIO();
    const ImRect area(ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
    claim_drag();
    move.long_pressed = long_pressed();
    move.tapped = pressed_by_item && !dragged_;
    move.tap_x = start_x_;
    move.tap_y = start_y_;
    if (ImGui::IsItemActive() && state_ == State::owned) {
        move.pan_x = io.MouseDelta.x;
        move.pan_y = io.MouseDelta.y;
    }
    if (inside(area, start_x_, start_y_) && (pinch_zoom_ != 1 || pinch_pan_x_ != 0 || pinch_pan_y_ != 0)) {
        move.zoom = pinch_zoom_;
        move.pan_x += pinch_pan_x_;
        move.pan_y += pinch_pan_y_;
        move.centre_x = (last_x_ + second_x_) / 2;
        move.centre_y = (last_y_ + second_y_) / 2;
        pinch_zoom_ = 1;
        pinch_pan_x_ = pinch_pan_y_ = 0;
    }
    // The wheel alone scrolls the page that the drawing lies on.
    if (ImGui::IsItemHovered() && io.KeyCtrl) {
        ImGui::SetItemKeyOwner(ImGuiKey_MouseWheelY);
        if (io.MouseWheel != 0) {
            move.zoom *= std::pow(wheel_step, io.MouseWheel);
            move.centre_x = io.MousePos.x;
            move.centre_y = io.MousePos.y;
        }
    }
    return move;
}

}  // namespace tapwright::ui
