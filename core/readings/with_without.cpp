#include "core/readings/with_without.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/calc/drawn.h"
#include "core/readings/order.h"
#include "core/readings/readings.h"

namespace tapwright {
namespace {

// As the reading says, else as left, else full.
Knob position_at(const Job& job, const Reading& reading, const Id& attenuator) {
    if (reading.knobs)
        for (const auto& [id, knob] : *reading.knobs)
            if (id == attenuator) return knob;
    const Point* point = job.find<Point>(attenuator);
    return point ? point->knob_db.value_or(Knob{}) : Knob{};
}

bool same_positions(const Job& job, const Reading& one, const Reading& other) {
    for (const Reading* reading : {&one, &other}) {
        if (!reading->knobs) continue;
        for (const auto& [id, knob] : *reading->knobs)
            if (!(position_at(job, one, id) == position_at(job, other, id))) return false;
    }
    return true;
}

bool same_conditions(const Job& job, const Reading& one, const Reading& other) {
    const Hertz usual = test_frequency(job);
    return one.hz.value_or(usual) == other.hz.value_or(usual) &&
           one.override.value_or(false) == other.override.value_or(false) && same_positions(job, one, other);
}

// Whether the reading without it shows anything.
PairFault fault_of(const Reading& now, const Judgement& judgement) {
    const bool is_believed = judgement.verdict != Verdict::not_judged || judgement.unjudged == Unjudged::taps_unknown;
    const bool has_figure = (now.value && *now.value > 0) || now.over_range.value_or(false);
    if (now.quantity != Measured::ohms || !is_believed || !has_figure) return PairFault::without_unusable;
    return PairFault::none;
}

}  // namespace

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

bool is_same_stay(const Reading& one, const Reading& other) {
    if (one.visit || other.visit) return one.visit == other.visit;
    return one.time && other.time && one.time->text.substr(0, 10) == other.time->text.substr(0, 10);
}

ReadingPair pair_without(const Job& job, const Judged& judged, const Id& speaker, const Reading& now,
                         const Judgement& judgement) {
    ReadingPair pair;
    pair.fault = fault_of(now, judgement);
    if (pair.fault != PairFault::none) return pair;
    if (now.at) pair.with = latest_valid_at(job, judged, *now.at);
    if (!pair.with) {
        pair.fault = PairFault::no_reading_with;
        return pair;
    }
    const Reading& then = job.all<Reading>()[*pair.with];
    if (!judgement.is_valid)
        pair.fault = PairFault::without_unproven;
    else if (judged.readings[*pair.with].expected_now)
        pair.fault = PairFault::record_changed;
    else if (!same_conditions(job, then, now))
        pair.fault = PairFault::other_conditions;
    if (pair.fault != PairFault::none) return pair;
    pair.with_ohms = Ohms(*then.value);
    const bool is_open = now.over_range.value_or(false);
    pair.without_ohms = Ohms(is_open ? std::numeric_limits<double>::infinity() : *now.value);
    pair.between = load_between(judgement.line_v, pair.with_ohms, pair.without_ohms,
                                std::max(meter_accuracy(then), meter_accuracy(now)),
                                job.find<SpeakerType>(job.find<Point>(speaker)->type));
    return pair;
}

}  // namespace tapwright
