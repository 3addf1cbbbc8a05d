// A pattern in the pseudo-language: see pseudo() of core/words/language.h.
#pragma once

#include <string_view>

namespace tapwright {

// "{zone}: open" as "«{zone}: óopéen»": places stay, vowels double, letters get accents. Kept for the program's life,
// once for each pattern.
std::string_view pseudo_pattern(std::string_view pattern);

}  // namespace tapwright
