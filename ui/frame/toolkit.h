// Everything one window needs to draw with: the Dear ImGui context, typefaces, theme, gestures, marks, requests.
//
// A frame is: the platform's own preparations, begin(), the program draws with context(), end(), the platform paints
// ImGui::GetDrawData(), and then the program settles the requests.
#pragma once

#include <memory>

#include "ui/frame/context.h"

struct ImGuiContext;

namespace tapwright::ui {

// What a window shows. The app is one; tests have others.
class Program {
public:
    virtual ~Program() = default;
    virtual void draw(Context& context) = 0;
    // After the frame: carries out what was asked for. Empties `requests`.
    virtual void settle(Requests& requests) = 0;
    virtual void file_chosen(FilePurpose purpose, const std::string& path) = 0;
    virtual void files_dropped(const std::vector<std::string>& paths) = 0;
    virtual std::string window_title() = 0;
};

class Toolkit {
public:
    // Creates the Dear ImGui context and makes it current. `host` must outlive the toolkit.
    explicit Toolkit(Host& host);
    ~Toolkit();
    Toolkit(const Toolkit&) = delete;
    Toolkit& operator=(const Toolkit&) = delete;

    // Starts a frame at `seconds` (any steady clock) in a window of that many pixels.
    void begin(double seconds, float width, float height);
    // Ends it: closes the Dear ImGui frame and tells the host what it must know.
    void end();

    // Between two frames: lets the program carry out what was asked for, and takes up new preferences.
    void settle(Program& program);

    Context& context() { return *context_; }
    Gesture& gesture() { return gesture_; }
    Marks& marks() { return marks_; }
    Hand& hand() { return hand_; }
    Requests& requests() { return requests_; }
    const Theme& theme() const { return theme_; }

    Preferences preferences;  // taken up by the next begin()

    // Seconds until a frame is needed without any input: 0 at once, negative none.
    double next_frame_in() const;

private:
    void take_up_preferences();
    void set_style();

    Host& host_;
    ImGuiContext* imgui_;
    Fonts fonts_;
    Theme theme_;
    Gesture gesture_;
    Marks marks_;
    Hand hand_;
    RowsSeen rows_;
    Requests requests_;
    std::vector<NativeArea> native_areas_, published_areas_;
    std::unique_ptr<Context> context_;
    double last_seconds_ = -1;
    float scale_ = 0, width_ = 0, height_ = 0;
    int frames_since_reshaped_ = 0;
    bool another_frame_ = false;
};

}  // namespace tapwright::ui
