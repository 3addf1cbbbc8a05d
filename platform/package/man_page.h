// The manual page tapwright(1), made from the command table.
#pragma once

#include <string>
#include <string_view>

namespace tapwright::package {

// `date`: of the release, as "2026-11-28".
// Returns: the page in the man macros, UTF-8.
std::string man_page(std::string_view date);

}  // namespace tapwright::package
