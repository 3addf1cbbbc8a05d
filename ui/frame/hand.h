// A hand that acts by name instead of by place: for a screen reader, which knows what is on the screen from the marks.
// What it does goes the way of a tap or of keys: the widget of that name answers as if it were touched, a field that is
// left is kept, and a text arrives as typed characters. What is behind a dialog or switched off it cannot touch.
#pragma once

#include <deque>
#include <string>
#include <string_view>

#include "ui/frame/mark.h"

namespace tapwright::ui {

class Gesture;

class Hand {
public:
    // ---- from outside, between two frames; done one after the other, one step a frame ----
    // Returns: false where there is no such thing that could be acted on now; then nothing is done.
    bool tap(const Marks& marks, std::string_view name);
    // Gives it the keyboard's focus and brings it into sight.
    bool focus(const Marks& marks, std::string_view name);
    // Types `text` into a field in place of what stands there.
    bool write(const Marks& marks, std::string_view name, std::string_view text);
    // Leaves the field that is being typed into, which keeps what stands there as leaving it always does.
    void leave();

    // ---- for widgets ----
    bool focuses(std::string_view name) const { return !focused_.empty() && focused_ == name; }
    bool taps(std::string_view name) const { return !tapped_.empty() && tapped_ == name; }
    // The field of that name is to take the keys.
    bool types_into(std::string_view name) const { return !typed_.empty() && typed_ == name; }

    // ---- for the toolkit ----
    void begin_frame(const Marks& marks, Gesture& gesture);
    bool wants_frame() const { return !acts_.empty() || !focused_.empty() || !tapped_.empty() || !typed_.empty(); }

private:
    enum class Kind { tap, focus, write, leave };
    struct Act {
        Kind kind;
        std::string name, text;
        int step = 0, frames_active = 0;
    };
    bool go_on(Act& act, const Marks& marks, Gesture& gesture);  // returns whether it is done

    std::deque<Act> acts_;
    std::string focused_, tapped_, typed_;  // in this frame
};

}  // namespace tapwright::ui
