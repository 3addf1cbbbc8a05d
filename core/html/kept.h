// What of a text stays on one line of a page.
#pragma once

#include <string>
#include <string_view>

namespace tapwright::html {

// escaped(), for element content only: what must not be torn apart (core/sheet/wholes.h) stands in an element of its
// own that no line ends within, and where that is needed is read from left to right. Nothing so long that a narrow
// screen has no room for it.
std::string kept(std::string_view text);

}  // namespace tapwright::html
