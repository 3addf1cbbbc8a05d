// Names as people look for them: "cafe" is meant for "Café", "L8" for "L-8" and "l 8".
//
// For finding only; nothing folded is ever shown or kept. Not a collation: the order of names is no business of this.
#pragma once

#include <string>
#include <string_view>

namespace tapwright {

// `text` in small letters without accents (Latin, Greek and Cyrillic; "ß" is "ss", "æ" is "ae"), without blanks,
// hyphens, dashes and low lines. Whatever else it has stays as it is; bytes that are not UTF-8 stay too.
// Source: the letters' decompositions and small forms as of Unicode 15, blocks U+00C0 to U+052F and U+1E9E to U+1EF9.
std::string folded(std::string_view text);

// `text` in small letters and otherwise as it is: Latin, Greek and Cyrillic letters, full-width ones too. What differs
// in nothing but capitals comes out the same ("É" and "é", "ẞ" and "ß", both small forms of "Σ"); "İ", which is no "i"
// in all languages, stays.
std::string in_small_letters(std::string_view text);

// Whether `text` has `part` in it once both are folded. Every text has a part that folds to nothing.
bool folds_into(std::string_view text, std::string_view part);

}  // namespace tapwright
