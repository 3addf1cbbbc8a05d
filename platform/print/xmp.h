// What readers that know only a document's metadata are told of it (ISO 16684-1): title, author and language. Like
// tagging.h, in the C++17 of this folder.
#pragma once

#include <string>

namespace tapwright::print {

// Requires: all are UTF-8. An empty author is left out.
std::string xmp(const std::string& title, const std::string& author, const std::string& language);

}  // namespace tapwright::print
