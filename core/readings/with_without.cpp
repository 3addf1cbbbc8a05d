#include "core/readings/with_without.h"

#include <cmath>

#include "core/calc/drawn.h"
#include "core/readings/order.h"

namespace tapwright {

LoadBetween load_between(Volts line, Ohms with, Ohms without, Percent meter, const SpeakerType* type) {
    TAPWRIGHT_ENSURE(line > Volts(0) && with > Ohms(0) && without > Ohms(0) && meter > Percent(0));
    const double square = line.value() * line.value();
    const double share_with = 1 / with.value();
    const double share_without = 1 / without.value();
    LoadBetween made;
    made.watts = Watts(square * (share_with - share_without));
    made.error = Watts(square * meter.value() / 100 * std::hypot(share_with, share_without));
    if (!type || !type->taps_w) return made;
    std::size_t fitting = 0;
    for (const Watts tap : *type->taps_w) {
        const Watts drawn = drawn_by_tap(tap, type, line);
        const bool within = std::abs((drawn - made.watts).value()) <= 2 * made.error.value();
        if (within && ++fitting == 1) made.proposed = made.taps.size();
        made.taps.push_back({tap, drawn, within});
    }
    if (fitting != 1) made.proposed.reset();
    return made;
}

Percent meter_accuracy(const Reading& reading) {
    return reading.meter_pct.value_or(Percent(3));
}

std::optional<std::uint32_t> latest_valid_at(const Job& job, const Judged& judged, const Id& at) {
    std::optional<std::uint32_t> latest;
    for (const std::uint32_t place : in_order_taken(job)) {
        const Reading& reading = job.all<Reading>()[place];
        const bool has_figure = reading.quantity == Measured::ohms && reading.value && *reading.value > 0;
        if (has_figure && reading.at == at && judged.readings[place].is_valid) latest = place;
    }
    return latest;
}

}  // namespace tapwright
