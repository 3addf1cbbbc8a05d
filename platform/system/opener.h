// Handing a file to the program that the person's desktop opens it with: xdg-open (freedesktop.org's xdg-utils),
// started by name with the file as its one argument. No shell reads anything, and nothing waits for it here.
#pragma once

#include <string>
#include <vector>

#include "core/base/result.h"

namespace tapwright {

// Opens a file, or a folder, with the desktop's own program. Returns at once. Errors, in a sentence with the path: what
// is not there, and a machine without xdg-open. What goes wrong after it has started: opener_troubles().
Result<void> open_with_desktop(const std::string& path);

// The folder of a file, opened the same way.
Result<void> open_folder_of(const std::string& path);

// The files that could not be opened after all, each told once: no program for them, or one that failed.
std::vector<Message> opener_troubles();

}  // namespace tapwright
