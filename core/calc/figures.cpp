#include "core/calc/figures.h"

#include <array>

namespace tapwright {

// The keys of files and of --json; words for people are in core/words.
std::string_view word(Basis basis) {
    return std::array<std::string_view, 3>{"as_built", "planned", "at_least"}.at(static_cast<std::size_t>(basis));
}

}  // namespace tapwright
