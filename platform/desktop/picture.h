// The picture of one frame, drawn off the screen.
#pragma once

#include <functional>
#include <string>

#include "core/base/result.h"

namespace tapwright::desktop {

// Lets `paint` draw into a buffer of that many pixels and writes what it drew as a PNG.
// Requires: a current OpenGL context of version 3.2 or later.
Result<void> write_picture(const std::string& path, int width, int height, const std::function<void()>& paint);

}  // namespace tapwright::desktop
