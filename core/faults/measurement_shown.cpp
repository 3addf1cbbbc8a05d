// What each of the likely causes would show at a measurement, so that its meaning is known before the meter settles.
#include <algorithm>
#include <cmath>

#include "core/faults/next_measurement.h"

namespace tapwright {

ExpectedShown NextMeasurement::shown_by(const Measurement& measurement, const Live& live) const {
    const Cause& cause = diagnosis_.causes()[live.cause];
    ExpectedShown shown;
    shown.causes = {live.cause};
    if (!measurement.heard.empty()) {
        for (const auto& [first, last] : silent_of(measurement, cause))
            shown.silent.insert(shown.silent.end(), measurement.heard.begin() + first,
                                measurement.heard.begin() + last);
        shown.is_silent = !shown.silent.empty();
    } else if (measurement.asked == Asked::heard) {
        const std::uint32_t position =
            line_.wiring.position[*job_.place<Point>(measurement.at)] - line_.wiring.zones[line_.zone].first;
        shown.is_silent = likelihood_.is_silent(cause, position);
    } else if (measurement.asked == Asked::tap_w) {
        const std::uint32_t place = *job_.place<Point>(measurement.at);
        const std::size_t answer = tap_answer(measurement, cause);
        shown.is_bypass = answer == 1;
        const WiredPoint& point = line_.wiring.points[place];
        if (answer >= 2)
            shown.value = (*job_.all<SpeakerType>()[point.speaker_type].taps_w)[answer - 2].value();
        else if (answer == 0)
            shown.value = job_.all<Point>()[place].tap_w.value_or(Watts(0)).value();
    } else {
        effects_.set(cause);
        const Look look = look_of(measurement);
        const NormalLog reading = likelihood_.predict(effects_, look, live.fit, live.fit.looks.size());
        shown.value = std::exp(reading.mean);
        shown.low = std::exp(reading.mean - 1.96 * reading.deviation);
        shown.high = std::exp(reading.mean + 1.96 * reading.deviation);
        shown.is_open = shown.value >= look.range;
    }
    return shown;
}

// Of the causes shown, those that would show the same together.
void NextMeasurement::add_expected(Measurement& measurement) const {
    std::vector<const Live*> shown;
    for (const Live& live : live_)
        if (diagnosis_.causes()[live.cause].chance >= least_chance_shown) shown.push_back(&live);
    std::sort(shown.begin(), shown.end(), [](const Live* a, const Live* b) { return a->cause < b->cause; });
    constexpr double alike = 0.03;
    for (const Live* live : shown) {
        const ExpectedShown mine = shown_by(measurement, *live);
        const auto same =
            std::find_if(measurement.expected.begin(), measurement.expected.end(), [&](const ExpectedShown& other) {
                if (mine.is_open || other.is_open) return mine.is_open == other.is_open;
                const bool is_near = mine.value == other.value || std::abs(std::log(mine.value / other.value)) < alike;
                return is_near && mine.is_silent == other.is_silent && mine.silent == other.silent &&
                       mine.is_bypass == other.is_bypass;
            });
        if (same == measurement.expected.end())
            measurement.expected.push_back(mine);
        else
            same->causes.push_back(live->cause);
    }
}

}  // namespace tapwright
