// What a room's access note names, so that the caution it calls for comes first. The note itself is always shown whole:
// a word that is not in the list costs the order of the cautions, and never one of them.
#pragma once

#include <string_view>

namespace tapwright {

struct AccessNames {
    bool asbestos = false;
    bool ladder = false;  // or a scaffold: work at height
};

// By the beginnings of words, upper and lower case alike, in the languages of the list. "No asbestos found" names it
// too: whoever reads the note decides.
AccessNames named_in(std::string_view access);

}  // namespace tapwright
