#include "core/words/expected_text.h"

#include <algorithm>
#include <cmath>

#include "core/units/unit.h"

namespace tapwright {
namespace {

// What three significant digits show as the same is not worth a second figure.
bool is_other(Ohms now, Ohms all) {
    if (std::isinf(now.value()) || std::isinf(all.value())) return now != all;
    return std::abs(all / now - 1) > 0.001;
}

Message with_full(Message now, Message full) {
    return Message("{ohms}; {full} with attenuators full", {{"ohms", std::move(now)}, {"full", std::move(full)}});
}

Message with_all(Message now, Message all) {
    return Message("{ohms}; {all} once all is connected", {{"ohms", std::move(now)}, {"all", std::move(all)}});
}

// Of the zones of an output: the sum of what missing(zone) says.
template <class Missing>
NotRecorded sum_of_zones(const Derived& derived, std::uint32_t channel, Missing missing) {
    NotRecorded sum;
    for (const ZoneState& zone : derived.zones)
        if (zone.channel == channel) sum.add(missing(zone));
    return sum;
}

}  // namespace

// The load is a minimum where the tap of any loudspeaker is not known, of a planned one too.
NotRecorded missing_of_all(const ZoneState& zone) {
    NotRecorded missing = zone.not_recorded;
    if (!zone.low_impedance && zone.margin.basis == Basis::at_least) missing.taps = std::max(missing.taps, 1U);
    return missing;
}

NotRecorded missing_of(const Derived& derived, std::uint32_t channel) {
    return sum_of_zones(derived, channel, [](const ZoneState& zone) { return zone.not_recorded; });
}

NotRecorded missing_of_all(const Derived& derived, std::uint32_t channel) {
    return sum_of_zones(derived, channel, [](const ZoneState& zone) { return missing_of_all(zone); });
}

NotRecorded missing_of_all(const PointOnLine& point) {
    NotRecorded missing = point.not_recorded;
    missing.taps += point.planned_without_tap;
    return missing;
}

Message bounded(Ohms ohms, const NotRecorded& not_recorded) {
    if (std::isinf(ohms.value())) return ohms;
    if (not_recorded.may_be_higher() && not_recorded.may_be_lower()) return Message("about {ohms}", {{"ohms", ohms}});
    if (not_recorded.may_be_higher()) return Message("at least {ohms}", {{"ohms", ohms}});
    if (not_recorded.may_be_lower()) return Message("at most {ohms}", {{"ohms", ohms}});
    return ohms;
}

namespace {

// Of a zone or an output; what makes its figures bounds, and those with all that is planned.
template <class State>
Message ohms_expected(const State& state, const NotRecorded& missing, const NotRecorded& of_all) {
    Message now = bounded(state.ohms, missing);
    if (is_other(state.ohms, state.ohms_full)) {
        NotRecorded without_positions = missing;
        without_positions.positions = 0;
        now = with_full(std::move(now), bounded(state.ohms_full, without_positions));
    }
    return is_other(state.ohms, state.ohms_all) ? with_all(std::move(now), bounded(state.ohms_all, of_all)) : now;
}

}  // namespace

Message expected_of(const ZoneState& zone) {
    if (zone.emergency) return Message("not calculated");
    return ohms_expected(zone, zone.not_recorded, missing_of_all(zone));
}

Message expected_of(const Derived& derived, std::uint32_t channel) {
    return ohms_expected(derived.channels[channel], missing_of(derived, channel), missing_of_all(derived, channel));
}

Message bound_reason(const NotRecorded& missing) {
    return sentences(
        {missing.runs > 0 ? plural("{count} run has no cable or length.", "{count} runs have no cable or length.",
                                   static_cast<std::int64_t>(missing.runs))
                          : Message(),
         missing.positions > 0 ? plural("{count} attenuator has no position.", "{count} attenuators have no position.",
                                        static_cast<std::int64_t>(missing.positions))
                               : Message(),
         missing.taps > 0 ? plural("{count} loudspeaker has no tap.", "{count} loudspeakers have no tap.",
                                   static_cast<std::int64_t>(missing.taps))
                          : Message(),
         missing.untraced > 0 ? plural("{count} loudspeaker nearby is not traced and may be on this line.",
                                       "{count} loudspeakers nearby are not traced and may be on this line.",
                                       static_cast<std::int64_t>(missing.untraced))
                              : Message()});
}

Message known_along(const PointOnLine& point, Decibels figure) {
    return point.is_past_unknown_run ? Message("unknown") : Message(figure);
}

}  // namespace tapwright
