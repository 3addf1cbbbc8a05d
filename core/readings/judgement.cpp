#include "core/readings/judgement.h"

#include <array>

namespace tapwright {

// The keys of files and of --json; words for people are in core/words.
std::string_view word(Verdict verdict) {
    return std::array<std::string_view, 7>{"not_judged", "open", "short", "more_load", "less_load", "drifted", "agrees"}
        .at(static_cast<std::size_t>(verdict));
}

std::string_view word(LimitState state) {
    return std::array<std::string_view, 3>{"ok", "warn", "stop"}.at(static_cast<std::size_t>(state));
}

}  // namespace tapwright
