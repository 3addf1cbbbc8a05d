// The taps among which a loudspeaker's may be chosen.
#include <algorithm>
#include <cmath>

#include "core/base/sort.h"
#include "core/calc/drawn.h"
#include "core/plan/fit_problem.h"

namespace tapwright {
namespace {

bool is_allowed(const FitChoice& choice, const SpeakerType& type) {
    return !type.max_w || choice.draws <= nanowatts_of(type.max_w->value() * (1 + 1e-9));
}

}  // namespace

bool is_same_tap(Watts a, Watts b) {
    return std::abs(a / b - 1) <= 0.01;
}

Nanowatts nanowatts_of(double watts) {
    return static_cast<Nanowatts>(std::llround(std::clamp(watts, -1e9, 1e9) * 1e9));
}

std::vector<FitChoice> fit_choices(const SpeakerType& type, Volts line, std::optional<Watts> current, bool hangs) {
    std::vector<Watts> taps;
    if (current) taps.push_back(*current);
    for (const Watts tap : *type.taps_w)
        if (std::none_of(taps.begin(), taps.end(), [&](Watts known) { return is_same_tap(known, tap); }))
            taps.push_back(tap);
    std::vector<FitChoice> choices;
    for (const Watts tap : taps) {
        FitChoice made;
        made.marked = tap;
        made.draws = nanowatts_of(drawn_by_tap(tap, &type, line).value());
        made.touches = hangs && current && tap != *current;
        if (is_allowed(made, type)) choices.push_back(made);
    }
    sort_by(choices, [](const FitChoice& a, const FitChoice& b) { return a.draws < b.draws; });
    return choices;
}

}  // namespace tapwright
