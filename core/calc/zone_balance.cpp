#include "core/calc/zone_balance.h"

#include <algorithm>

#include "core/base/ensure.h"
#include "core/base/text.h"
#include "core/calc/assessment.h"
#include "core/units/text.h"

namespace tapwright {
namespace {

std::optional<std::uint32_t> newest_reading(const Job& job, const Derived& derived, const Id& zone) {
    std::optional<std::uint32_t> newest;
    const auto readings = job.all<Reading>();
    for (std::uint32_t i = 0; i < readings.size(); ++i) {
        if (readings[i].at != zone || !is_judged(readings[i])) continue;
        if (derived.readings[i].verdict == Verdict::not_judged) continue;
        if (!newest || is_newer(readings[i], readings[*newest])) newest = i;
    }
    return newest;
}

// What came into the record of this zone after the reading.
void add_later(const Job& job, const Derived& derived, std::uint32_t zone, std::uint32_t reading,
               ZoneBalance& balance) {
    const auto points = job.all<Point>();
    for (std::uint32_t i = points_before(job, reading); i < points.size(); ++i) {
        const PointOnLine& point = derived.points[i];
        if (!point.traced || point.zone != zone || !point.drawn) continue;
        (points[i].origin == Origin::existing ? balance.found : balance.added) += *point.drawn;
    }
}

void add_reading(const Job& job, const Derived& derived, std::uint32_t reading, ZoneBalance& balance) {
    const Judgement& judgement = derived.readings[reading];
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

std::string measured_text(const ZoneBalance& balance) {
    if (!balance.measured) return "The newest reading shows an open line.";
    return "The newest reading, " + show(*balance.ohms) + ", stands for " + show(*balance.measured) +
           ", for taps between " + show(*balance.least) + " and " + show(*balance.most) +
           " as far as a loudspeaker's impedance may be off.";
}

std::string recorded_text(const ZoneBalance& balance) {
    std::string text = !balance.recorded ? "How much of it is recorded cannot be said, because some taps are not known."
                       : balance.recorded > Watts(0) ? show(*balance.recorded) + " of it were recorded then"
                                                     : "Nothing of it was recorded then";
    if (!balance.recorded) return text;
    if (balance.found > Watts(0)) text += ", " + show(balance.found) + " were found since";
    return text + (balance.unrecorded > Watts(0) ? "; " + show(balance.unrecorded) + " are still unaccounted for."
                                                 : "; nothing is unaccounted for.");
}

std::string room_text(const ZoneBalance& balance) {
    if (!balance.can_add)
        return "What may be added is not known, because a limit or a tap on the way to the amplifier is not.";
    std::string text = show(may_add(*balance.can_add)) + " may be added";
    if (balance.sure_to_add != balance.can_add)
        text += " if the loudspeakers draw what they are rated for; " + show(may_add(*balance.sure_to_add)) +
                " for certain, with their impedance off as far as it may be";
    return text + ".";
}

}  // namespace

ZoneBalance balance_of_zone(const Job& job, const Derived& derived, const Id& zone) {
    const auto place = job.place<Zone>(zone);
    TAPWRIGHT_ENSURE(place);
    const ZoneState& state = derived.zones[*place];
    ZoneBalance balance;
    balance.zone = zone;
    balance.low_impedance = state.low_impedance;
    if (state.low_impedance) return balance;
    balance.can_add = balance.sure_to_add = state.can_add;
    const auto reading = newest_reading(job, derived, zone);
    balance.read_before = !reading;
    if (!reading) return balance;
    add_reading(job, derived, *reading, balance);
    add_later(job, derived, *place, *reading, balance);
    balance.read_after = balance.added > Watts(0);
    balance.unrecorded = state.unrecorded;
    // Only what is not recorded is known by the reading alone; the rest is known by its taps.
    if (balance.can_add && balance.most && state.unrecorded > Watts(0))
        balance.sure_to_add = std::max(Watts(0), *balance.can_add - (*balance.most - *balance.measured));
    return balance;
}

std::string balance_text(const Job& job, const ZoneBalance& balance) {
    const std::string name = name_of(job, balance.zone);
    if (balance.low_impedance)
        return name +
               " is a low-impedance zone: its ohms count, not watts, and they must not fall below what its "
               "output may be loaded with.";
    if (balance.read_before)
        return name +
               ": nobody has read the impedance yet. Read it with the amplifier disconnected before anything is "
               "added, or what hangs there unrecorded stays unknown. By the records alone " +
               room_text(balance);
    std::string text = name + ": " + measured_text(balance);
    if (balance.measured) text += " " + recorded_text(balance);
    if (balance.added > Watts(0)) text += " " + show(balance.added) + " were added since.";
    text += " " + room_text(balance);
    return text + (balance.read_after ? " Read it once more, now that something was added."
                                      : " Read it again once something was added.");
}

}  // namespace tapwright
