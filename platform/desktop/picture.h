// The picture of one frame, drawn off the screen.
#pragma once

#include <functional>
#include <string>

#include "core/base/result.h"

namespace tapwright::desktop {

// Lets `paint` draw into a buffer of that many pixels and writes what it drew as a PNG. Errors: those of write_file(),
// which replaces no job file; a driver that cannot draw off the screen.
// Requires: a current OpenGL context of version 3.2 or later.
Result<void> write_picture(const std::string& path, int width, int height, const std::function<void()>& paint);

}  // namespace tapwright::desktop
