// Fingers and mouse into meaning: tap, drag that scrolls, fling, long press, pinch, drags that a drawing keeps.
//
// The platform reports raw pointers here and never to Dear ImGui itself; this layer passes on what Dear ImGui should
// see. Whether a press is a tap or the start of a scroll is decided only after Dear ImGui has run a frame with the
// press in it, because only then is it known whether something under the finger wants the drag for itself. Nothing here
// has a clock: times come in seconds with the events.
//
// With no pointer down and no fling running, next_frame_in() is negative: no frame is needed.
#pragma once

#include <optional>

#include "ui/frame/host.h"

namespace tapwright::ui {

// How a drawing was moved since the last frame, and whether it was touched.
struct CanvasMove {
    float pan_x = 0, pan_y = 0;        // pixels
    float zoom = 1;                    // factor
    float centre_x = 0, centre_y = 0;  // window pixels that stay where they are while zooming
    bool tapped = false, long_pressed = false;
    float tap_x = 0, tap_y = 0;  // window pixels
};

class Gesture {
public:
    enum class Pointer { mouse, touch };

    // ---- from the platform, in window pixels and seconds; `id` tells fingers apart, the mouse is always 0 ----
    void pressed(int id, float x, float y, double seconds, Pointer kind);
    void moved(int id, float x, float y, double seconds, Pointer kind);
    void released(int id, double seconds);
    void left_window();  // the mouse is no longer over the window
    void cancelled();    // the system took the touch away: nothing was meant

    // Right after ImGui::NewFrame(): decides, scrolls, lets a fling run out. `scale` is pixels for each unit.
    void begin_frame(double seconds, float scale);

    // Seconds until this layer needs a frame: 0 at once, negative none.
    double next_frame_in() const;

    // ---- for widgets, right after an item was added ----
    // True once when the item has been held still for half a second; the release that follows is then no tap.
    bool long_pressed();
    // The item, when it is pressed, keeps its drags. With `only_if_already_active` it must have been active before this
    // press: a text field under the cursor selects, any other text field scrolls with its page.
    void claim_drag(bool only_if_already_active = false);
    // For an item that covers a drawing: claims the drag and reads pan, pinch, Ctrl and wheel, tap and long press.
    CanvasMove canvas(bool pressed_by_item);

    // True while the release of a press that stayed a tap is what Dear ImGui answers. Whatever was pressed then was
    // tapped, also where the page has moved from under the finger meanwhile.
    bool lifted_in_place() const;
    // How many presses there were: tells one touch from the next.
    int presses() const { return presses_; }
    // Something was touched by its name (Hand).
    void pressed_by_name() { ++presses_; }

    // Stops a fling: for a change of place.
    void stop();
    bool scrolling() const { return state_ == State::scroll; }

private:
    enum class State { idle, press, scroll, owned, pinch, spent };

    void decide();
    void start_scroll();
    void release_without_click();
    void finish_press();
    void lift_from_scroll(double seconds);
    void measure_speed(float dx, float dy, double seconds);
    void note_window_under_finger();
    void choose_scroll_target();
    void apply_scroll(double step_seconds);
    float moved_distance() const;

    State state_ = State::idle;
    Pointer kind_ = Pointer::mouse;
    int first_id_ = -1, second_id_ = -1;
    float start_x_ = 0, start_y_ = 0, last_x_ = 0, last_y_ = 0, second_x_ = 0, second_y_ = 0;
    double press_time_ = 0, last_time_ = 0, frame_time_ = 0;
    float scale_ = 1;
    float pending_x_ = 0, pending_y_ = 0;  // pixels to scroll in the next frame
    float speed_x_ = 0, speed_y_ = 0;      // pixels a second
    unsigned under_finger_ = 0;            // the innermost window where the press began
    unsigned target_ = 0;                  // the window that scrolls
    unsigned claimed_ = 0, active_before_press_ = 0;
    bool lifted_ = false;   // released before a decision was possible
    bool dragged_ = false;  // this press became a drag of a drawing: no tap
    bool stayed_a_tap_ = false;
    int presses_ = 0;
    bool long_press_due_ = false, long_press_over_ = false;
    float pinch_zoom_ = 1, pinch_pan_x_ = 0, pinch_pan_y_ = 0;
};

}  // namespace tapwright::ui
