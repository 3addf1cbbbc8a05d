// Which Tapwright this is. project() in CMakeLists.txt says it; the manual, the package and the program repeat it from
// there.
#pragma once

#include <string_view>

namespace tapwright {

std::string_view version();  // "0.1.0"

}  // namespace tapwright
