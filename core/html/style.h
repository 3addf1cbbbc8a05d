// The look of the page, in one piece of CSS. Private to core/exchange/html.
#pragma once

#include <string_view>

namespace tapwright::html {

extern const std::string_view style_sheet;

}  // namespace tapwright::html
