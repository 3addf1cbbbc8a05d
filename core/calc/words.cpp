// The words files and the command line use for what derive() concludes.
#include <array>

#include "core/calc/derived.h"

namespace tapwright {
namespace {

template <class Choice, std::size_t count>
std::string_view word_of(Choice choice, const std::array<std::string_view, count>& words) {
    return words.at(static_cast<std::size_t>(choice));
}

}  // namespace

std::string_view word(Basis basis) {
    return word_of(basis, std::array<std::string_view, 3>{"as_built", "planned", "at_least"});
}

std::string_view word(Verdict verdict) {
    return word_of(verdict, std::array<std::string_view, 7>{"not_judged", "open", "short", "more_load", "less_load",
                                                            "drifted", "agrees"});
}

std::string_view word(LimitState state) {
    return word_of(state, std::array<std::string_view, 3>{"ok", "warn", "stop"});
}

std::string_view word(Severity severity) {
    return word_of(severity, std::array<std::string_view, 3>{"note", "warn", "stop"});
}

}  // namespace tapwright
