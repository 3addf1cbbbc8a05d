// Texts and bytes as HTML takes them.
#pragma once

#include <string>
#include <string_view>

namespace tapwright::html {

// For element content and quoted attributes: the five special characters escaped; bytes that are not UTF-8 and what
// does something (core/base/harmless.h) become U+FFFD; line ends, tabs and isolates stay.
std::string escaped(std::string_view text);

// The attribute for the direction of an element that holds this text: its own for somebody's words, that of the page
// for a sentence of ours that quotes them.
std::string direction(std::string_view text);

// RFC 4648, section 4.
std::string base64(std::string_view bytes);

}  // namespace tapwright::html
