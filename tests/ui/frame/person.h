// Somebody who uses the window, without a display: touches marks, types, drags, presses keys, looks at what is there.
// Every act runs as many frames as a real window would draw for it.
#pragma once

#include <imgui.h>

#include <string>
#include <string_view>

#include "ui/frame/headless_host.h"
#include "ui/frame/toolkit.h"

namespace tapwright::tests {

struct Screen {
    float width = 390, height = 844;  // units
    float scale = 1;
    bool night = false;
};

class Person {
public:
    Person(ui::Program& program, Screen screen, std::string_view regular, std::string_view semibold);

    // ---- acts ----
    void tap(std::string_view mark);
    void tap_at(float x, float y);
    void hold(std::string_view mark, double seconds);
    void drag(float x0, float y0, float x1, float y1, int steps = 12, double step_seconds = 1.0 / 60);
    void fling(float x, float y0, float y1);
    void pinch(float x, float y, float from, float to);
    void wheel(float x, float y, float notches);
    void type(std::string_view text);
    void press(ImGuiKeyChord key);
    // A press and its release before the next frame is drawn.
    void quick_tap(std::string_view mark);
    // The window gets another shape, as when a phone is turned.
    void resize(float width, float height);
    void frames(int count, double step_seconds = 1.0 / 60);
    // Frames until nothing asks for one. Returns: how many; 1000 when it never came to rest.
    int settle();

    // ---- looks ----
    bool sees(std::string_view mark);      // it is there and its middle is on the screen
    bool has(std::string_view mark);       // it is there, perhaps scrolled away
    ui::Mark mark(std::string_view name);  // fails the test when it is not there
    // The mark that has the keyboard's focus, or nothing.
    std::string focused();
    std::string text(std::string_view name) { return mark(name).text; }
    // How often the screen was touched so far; scrolling is none.
    int touches() const { return touches_; }
    // Scrolls the page under the middle of the window until the mark is in sight.
    void find(std::string_view mark);

    // Processor time of the longest frame so far, what was settled after it included. Set to 0 to begin anew.
    double longest_frame_ms = 0;

    ui::HeadlessHost host;
    std::unique_ptr<ui::Toolkit> toolkit;

private:
    void frame(double step_seconds);
    double now_ = 100;
    int touches_ = 0;
    ui::Program& program_;
    float width_, height_;
};

// Everything that a test holds against any screen. Each returns a sentence for each fault, nothing when all is well.
std::vector<std::string> small_targets(ui::Toolkit& toolkit, float least_units);
std::vector<std::string> cut_texts(ui::Toolkit& toolkit);
std::vector<std::string> overlapping_texts(ui::Toolkit& toolkit);
std::vector<std::string> repeated_marks(ui::Toolkit& toolkit);

// The bytes of the typeface the tests draw with. Fails the run with a sentence when it is not installed.
const std::string& regular_face();
const std::string& semibold_face();

}  // namespace tapwright::tests
