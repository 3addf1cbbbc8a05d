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

std::string_view word(Unjudged why) {
    return std::array<std::string_view, 9>{"not_compared",        "no_place",       "emergency",
                                           "amplifier_connected", "signal_present", "stray_voltage",
                                           "range_too_small",     "frequency",      "taps_unknown"}
        .at(static_cast<std::size_t>(why));
}

std::string_view word(Isolation isolation) {
    return std::array<std::string_view, 3>{"disconnected", "not_stated", "connected"}.at(
        static_cast<std::size_t>(isolation));
}

}  // namespace tapwright
