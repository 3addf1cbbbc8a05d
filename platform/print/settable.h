// Foreign text made fit for setting.
#pragma once

#include <string>
#include <string_view>

namespace tapwright::print {

// `text` as UTF-8 that can be set: what is not UTF-8 and what does something (core/base/harmless.h) become U+FFFD, a
// tab a space, and every kind of line end one '\n'; isolates stay. Nothing else changes.
std::string settable(std::string_view text);

}  // namespace tapwright::print
