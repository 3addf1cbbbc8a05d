#include "core/readings/zone_balance.h"

#include <algorithm>

#include "core/base/ensure.h"
#include "core/readings/assessment.h"

namespace tapwright {
namespace {

std::optional<std::uint32_t> newest_reading(const Job& job, const Judged& judged, const Id& zone) {
    std::optional<std::uint32_t> newest;
    const auto readings = job.all<Reading>();
    for (std::uint32_t i = 0; i < readings.size(); ++i) {
        if (readings[i].at != zone || !is_judged(readings[i])) continue;
        if (judged.readings[i].verdict == Verdict::not_judged) continue;
        if (!newest || is_newer(readings[i], readings[*newest])) newest = i;
    }
    return newest;
}

// What came into the record of this zone after the reading.
void add_later(const Job& job, const Judged& judged, std::uint32_t zone, std::uint32_t reading, ZoneBalance& balance) {
    const auto points = job.all<Point>();
    for (std::uint32_t i = points_before(job, reading); i < points.size(); ++i) {
        const PointOnLine& point = judged.points[i];
        if (!point.traced || point.zone != zone || !point.drawn) continue;
        (points[i].origin == Origin::existing ? balance.found : balance.added) += *point.drawn;
    }
}

void add_reading(const Job& job, const Judged& judged, std::uint32_t reading, ZoneBalance& balance) {
    const Judgement& judgement = judged.readings[reading];
    const Reading& record = job.all<Reading>()[reading];
    balance.reading = record.id;
    balance.recorded = judgement.expected_w;
    // Over range nothing was measured but that the line is open.
    if (!judgement.measured || record.over_range.value_or(false)) return;
    const double tolerance = job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct).value() / 100;
    balance.ohms = Ohms(record.value.value_or(0));
    balance.measured = judgement.measured;
    balance.least = *judgement.measured * (1 - tolerance);
    balance.most = *judgement.measured * (1 + tolerance);
}

}  // namespace

ZoneBalance balance_of_zone(const Job& job, const Judged& judged, const Id& zone) {
    const auto place = job.place<Zone>(zone);
    TAPWRIGHT_ENSURE(place);
    const ZoneState& state = judged.zones[*place];
    ZoneBalance balance;
    balance.zone = zone;
    balance.low_impedance = state.low_impedance;
    if (state.low_impedance) return balance;
    balance.can_add = balance.sure_to_add = state.can_add;
    const auto reading = newest_reading(job, judged, zone);
    balance.read_before = !reading;
    if (!reading) return balance;
    add_reading(job, judged, *reading, balance);
    add_later(job, judged, *place, *reading, balance);
    balance.read_after = balance.added > Watts(0);
    balance.unrecorded = state.unrecorded;
    // Only what is not recorded is known by the reading alone; the rest is known by its taps.
    if (balance.can_add && balance.most && state.unrecorded > Watts(0))
        balance.sure_to_add = std::max(Watts(0), *balance.can_add - (*balance.most - *balance.measured));
    return balance;
}

}  // namespace tapwright
