// Foreign text at the edge where somebody or something reads it: a terminal, a page, a sheet, a label, the window.
//
// A job file comes by mail from somebody else, and its names and notes may hold anything: an escape sequence that moves
// the cursor or sets the clipboard, a carriage return that writes over what stood before, a sign that turns the
// direction of writing so that "W 08" reads as "80 W". In the file they stay as they are, and JSON carries them
// escaped; where they are shown, signs that do nothing stand in their place. What does so: the controls C0 and C1 and
// U+007F (ISO 6429), the line and paragraph separators U+2028 and U+2029, the signs of UAX #9 that change the direction
// of writing (U+061C, U+200E, U+200F, U+202A to U+202E, U+2066 to U+2069), what is no character (U+FFFE, U+FFFF), and
// bytes that are no UTF-8, lone surrogates among them.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace tapwright {

// What becomes of a line end ('\n') and a tab.
enum class Breaks : std::uint8_t {
    kept,   // as they are: where lines may follow each other, as in notes
    shown,  // as the sign ␊ and a space: where a second line would pass for one of ours
};

// `text` with U+FFFD in place of each sign that does something. Harmless text comes back as it is.
std::string harmless(std::string_view text, Breaks breaks);

// The same for text between isolates of ours (core/base/direction.h), which stay where they enclose all of it.
std::string harmless_within_isolates(std::string_view text, Breaks breaks);

// Whether a code point is one of those above; a line end and a tab are.
bool does_something(char32_t sign);

}  // namespace tapwright
