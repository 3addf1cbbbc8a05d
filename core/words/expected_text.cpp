#include "core/words/expected_text.h"

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

Message with_all(Message now, Ohms all) {
    return Message("{ohms}; {all} once all is connected", {{"ohms", std::move(now)}, {"all", all}});
}

}  // namespace

Message bounded(Ohms ohms, const NotRecorded& not_recorded) {
    if (std::isinf(ohms.value())) return ohms;
    if (not_recorded.may_be_higher() && not_recorded.may_be_lower()) return Message("about {ohms}", {{"ohms", ohms}});
    if (not_recorded.may_be_higher()) return Message("at least {ohms}", {{"ohms", ohms}});
    if (not_recorded.may_be_lower()) return Message("at most {ohms}", {{"ohms", ohms}});
    return ohms;
}

Message expected_of(const ZoneState& zone) {
    if (zone.emergency) return Message("not calculated");
    Message now = bounded(zone.ohms, zone.not_recorded);
    if (is_other(zone.ohms, zone.ohms_full)) {
        NotRecorded without_positions = zone.not_recorded;
        without_positions.positions = 0;
        now = with_full(std::move(now), bounded(zone.ohms_full, without_positions));
    }
    return is_other(zone.ohms, zone.ohms_all) ? with_all(std::move(now), zone.ohms_all) : now;
}

Message expected_of(const ChannelState& channel) {
    Message now = channel.ohms;
    if (is_other(channel.ohms, channel.ohms_full)) now = with_full(std::move(now), channel.ohms_full);
    return is_other(channel.ohms, channel.ohms_all) ? with_all(std::move(now), channel.ohms_all) : now;
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
