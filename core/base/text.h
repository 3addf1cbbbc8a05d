// Small helpers for UTF-8 text that several layers need.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace tapwright {

// The bytes of the well-formed UTF-8 sequence that begins `text`; 0: none. Requires: text is not empty.
std::size_t sequence_length(std::string_view text);

// The code point of one sequence. Requires: it is well-formed and whole.
char32_t code_point(std::string_view sequence);

// True when `text` is well-formed UTF-8 (RFC 3629: no overlong form, no surrogate, nothing above U+10FFFF).
bool is_utf8(std::string_view text);

// How many code points `text` has. Requires: is_utf8(text).
std::size_t code_points(std::string_view text);

// At most `most` code points of `text`, with an ellipsis when something was cut; control characters become spaces,
// and what else does something (core/base/harmless.h) U+FFFD.
// For quoting foreign input in a sentence. Any bytes may come in; what is not UTF-8 is shown as '?'.
std::string cited(std::string_view text, std::size_t most = 60);

// The shortest decimal text that reads back as the same double: "5", "0.1", "1e-07". No ".0", no "-0".
// Requires: number is finite.
std::string shortest(double number);

// `number` with at most `decimals` decimals, without trailing zeros: fixed(22.50, 2) is "22.5". For sentences.
std::string rounded(double number, int decimals);

}  // namespace tapwright
