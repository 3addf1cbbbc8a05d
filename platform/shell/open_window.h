// The program's window on a desktop: a job file, its screens, and the ports between them and this machine.
#pragma once

#include <string>
#include <vector>

#include "core/base/result.h"

namespace tapwright::desktop {

// What `tapwright [FILE] [--marks OUT.json] [--picture OUT.png] [--place NAME] [--size WxH] [--scale N]
// [--theme day|night] [--figures SECONDS]` was called with.
struct WindowCall {
    std::string file;  // empty: the opening screen
    std::string marks, picture, place, theme;
    int width = 1280, height = 800;
    float scale = 0;
    double figures = 0;  // above 0: closes by itself after so many seconds and writes its frames and times
};

// Opens the window on the file and stays until it is closed.
// Returns: the process's exit status; 2 with a sentence on standard error when the display is no good.
// Errors: a place there is not; what opening the file refuses.
Result<int> open_window(const WindowCall& call);

}  // namespace tapwright::desktop
