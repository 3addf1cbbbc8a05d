// The desktop's window: GLFW and OpenGL 3, drawn only when something happened.
//
// After each event about three frames are drawn (Dear ImGui needs them to settle), then the process sleeps in the
// operating system until the next event or until somebody asked to be woken.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "ui/frame/toolkit.h"

namespace tapwright::desktop {

struct WindowOptions {
    int width = 1280, height = 800;  // units: pixels at scale 1
    float scale = 0;                 // pixels for each unit; 0 takes what the display suggests
    ui::Preferences preferences;
    std::string marks_file;          // written after each settled frame that changed it; empty: never
    std::string picture_file;        // when set: draws off the screen, writes this PNG and returns
    double close_after_seconds = 0;  // above 0: closes by itself, for measuring
    bool figures = false;            // writes frames drawn and their times to standard error when it closes
    std::function<std::unique_ptr<ui::Program>(ui::Host&)> make_program;
};

// Opens the window and stays until it is closed.
// Returns: the process's exit status; 2 with a sentence on standard error when there is no display or no OpenGL 3.2, or
// when the picture or the marks cannot be written.
int run_window(const WindowOptions& options);

}  // namespace tapwright::desktop
