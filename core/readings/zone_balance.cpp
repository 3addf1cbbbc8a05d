#include "core/readings/zone_balance.h"

#include <algorithm>

#include "core/base/ensure.h"
#include "core/readings/assessment.h"

namespace tapwright {
namespace {

Watts recorded_at(const Judged& judged, std::uint32_t reading) {
    const Judgement& judgement = judged.readings[reading];
    return watts_of(judgement.line_v, judgement.expected_known.value_or(open_line_ohms));
}

// What was recorded in this zone since the latest reading: found, as part of what it showed, and added on top. Found
// loudspeakers name the reading the account rests on; what the record gained between the two is found first.
void add_later(const Job& job, const Judged& judged, std::uint32_t zone, ZoneBalance& balance) {
    constexpr Watts noticeable{0.05};
    const ZoneState& state = judged.zones[zone];
    const Watts since = state.margin.load - *balance.recorded;
    if (!(since > noticeable)) return;
    const Id& by = job.all<Reading>()[*state.reading].id;
    const auto points = job.all<Point>();
    Watts found{0};
    for (std::uint32_t i = 0; i < points.size(); ++i)
        if (judged.points[i].zone == zone && points[i].found_w && points[i].found_by == by) found += *points[i].found_w;
    const Watts gained = std::max(Watts(0), *balance.recorded - recorded_at(judged, *state.reading));
    balance.found = std::clamp(found - gained, Watts(0), since);
    if (since - balance.found > noticeable) balance.added = since - balance.found;
}

void add_reading(const Job& job, const Judged& judged, std::uint32_t reading, ZoneBalance& balance) {
    const Judgement& judgement = judged.readings[reading];
    const Reading& record = job.all<Reading>()[reading];
    balance.reading = record.id;
    balance.recorded = recorded_at(judged, reading);
    balance.is_proven = judgement.is_valid;
    balance.is_whole = judgement.without_tap == 0;
    // Over range nothing was measured but that the line is open.
    if (!judgement.measured || is_over_range(record)) return;
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
    balance.emergency = state.emergency;
    if (state.low_impedance || state.emergency) return balance;
    balance.can_add = balance.sure_to_add = state.can_add;
    balance.read_before = !state.latest_reading;
    if (!state.latest_reading) return balance;
    add_reading(job, judged, *state.latest_reading, balance);
    add_later(job, judged, *place, balance);
    balance.read_after = balance.added > Watts(0);
    balance.unrecorded = state.margin.unrecorded;
    // Only what is not recorded is known by the reading alone; the rest is known by its taps.
    if (balance.can_add && balance.most && balance.unrecorded > Watts(0))
        balance.sure_to_add = std::max(Watts(0), *balance.can_add - (*balance.most - *balance.measured));
    return balance;
}

}  // namespace tapwright
