// What findings about limits say: loads, headroom, impedance, override supplies, links to other systems.
#include "core/findings/against_limit.h"
#include "core/words/finding_parts.h"

namespace tapwright::said {
namespace {

struct Compared {
    AgainstLimit against;
    std::vector<Named> figures;
};

Compared compare(const FindingSubject& s) {
    Compared made{against_limit(s.job, s.derived, s.finding).value_or(AgainstLimit{}), {}};
    const AgainstLimit& against = made.against;
    made.figures = {{"place", s.place()},
                    {"load", against.load},
                    {"limit", against.limit},
                    {"reserve", against.reserve},
                    {"unrecorded", against.unrecorded},
                    {"over", rounded_up(against.over.value_or(Watts(0)))},
                    {"into", rounded_up(against.into_reserve.value_or(Watts(0)))}};
    return made;
}

Message reasons(const Compared& compared) {
    const Message basis = compared.against.basis == Basis::at_least
                              ? Message("Some loudspeakers have no tap recorded, so the load is a minimum.")
                          : compared.against.basis == Basis::planned
                              ? Message("Some of it is planned taps, not confirmed ones.")
                              : Message();
    return sentences(
        {Message(Pattern("{limit} is the limit; {reserve} of it is kept free as reserve."), compared.figures), basis});
}

Message over_limit(const Compared& compared) {
    if (compared.against.basis == Basis::at_least)
        return Message(Pattern("{place}: at least {load} load, limit {limit}: at least {over} over."),
                       compared.figures);
    return Message(Pattern("{place}: {load} load, limit {limit}: {over} over."), compared.figures);
}

Message over_rating(const Compared& compared) {
    if (compared.against.basis == Basis::at_least)
        return Message(Pattern("{place}: at least {load} load, rating {limit}: at least {over} over."),
                       compared.figures);
    return Message(Pattern("{place}: {load} load, rating {limit}: {over} over."), compared.figures);
}

Message into_reserve(const Compared& compared) {
    if (compared.against.basis == Basis::at_least)
        return Message(Pattern("{place}: at least {load} load, limit {limit}: {into} into the reserve."),
                       compared.figures);
    return Message(Pattern("{place}: {load} load, limit {limit}: {into} into the reserve."), compared.figures);
}

Message into_reserve_of_rating(const Compared& compared) {
    if (compared.against.basis == Basis::at_least)
        return Message(Pattern("{place}: at least {load} load, rating {limit}: {into} into the reserve."),
                       compared.figures);
    return Message(Pattern("{place}: {load} load, rating {limit}: {into} into the reserve."), compared.figures);
}

Message relieve_zone() {
    return Message("Lower taps or move loudspeakers to another zone.");
}
Message relieve_output() {
    return Message("Lower taps or move zones to another output.");
}
Message relieve_amplifier() {
    return Message("Lower taps or move zones to another amplifier.");
}

Message name_of_missing(Unrecorded missing) {
    switch (missing) {
        case Unrecorded::zone_limit:
            return Message("its limit");
        case Unrecorded::taps:
            return Message("the taps of some loudspeakers");
        case Unrecorded::output:
            return Message("the output that feeds it");
        case Unrecorded::output_rating:
            return Message("the output's rating");
        case Unrecorded::amplifier:
            return Message("the amplifier of its output");
        case Unrecorded::amplifier_rating:
            return Message("the amplifier's rating");
        case Unrecorded::taps_of_other_zones:
            return Message("the taps of other zones on the same amplifier");
    }
    return {};
}

}  // namespace

Statement zone_over_limit(const FindingSubject& s) {
    const Compared compared = compare(s);
    return {sentences({over_limit(compared), relieve_zone()}), reasons(compared)};
}
Statement zone_into_reserve(const FindingSubject& s) {
    const Compared compared = compare(s);
    return {sentences({into_reserve(compared), relieve_zone()}), reasons(compared)};
}
Statement channel_over_limit(const FindingSubject& s) {
    const Compared compared = compare(s);
    return {sentences({over_rating(compared), relieve_output()}), reasons(compared)};
}
Statement channel_into_reserve(const FindingSubject& s) {
    const Compared compared = compare(s);
    return {sentences({into_reserve_of_rating(compared), relieve_output()}), reasons(compared)};
}
Statement amplifier_over_limit(const FindingSubject& s) {
    const Compared compared = compare(s);
    return {sentences({over_rating(compared), relieve_amplifier()}), reasons(compared)};
}
Statement amplifier_into_reserve(const FindingSubject& s) {
    const Compared compared = compare(s);
    return {sentences({into_reserve_of_rating(compared), relieve_amplifier()}), reasons(compared)};
}

Statement measured_into_reserve(const FindingSubject& s) {
    const Compared compared = compare(s);
    const Message verdict =
        compared.against.over
            ? Message(Pattern("{place}: {load} recorded, {unrecorded} more measured: {over} over the limit."),
                      compared.figures)
            : Message(Pattern("{place}: {load} recorded, {unrecorded} more measured: {into} into the reserve."),
                      compared.figures);
    return {sentences({verdict, Message(Pattern("Find the {unrecorded}; add nothing until then."), compared.figures)}),
            reasons(compared)};
}

Statement can_add_unknown(const FindingSubject& s) {
    std::vector<Message> missing;
    for (const Unrecorded one : unrecorded_for_headroom(s.derived, s.at<Zone>()))
        missing.push_back(name_of_missing(one));
    return {sentences({Message("{place}: what may be added is unknown.", {{"place", s.place()}}),
                       Message("Still to record: {missing}.", {{"missing", series(missing)}})}),
            {}};
}

Statement below_min_ohm(const FindingSubject& s) {
    const Channel& output = s.record<Channel>();
    return {sentences({Message("{place}: {ohms} with every attenuator full; it may not be loaded below {least}.",
                               {{"place", s.place()},
                                {"ohms", s.derived.channels[s.at<Channel>()].ohms_all_full},
                                {"least", output.min_ohm.value_or(Ohms(0))}}),
                       relieve_output()}),
            Message("Calculated from the records, planned loudspeakers too, all zones of the output in parallel.")};
}

Statement line_disconnected(const FindingSubject& s) {
    return {sentences({Message("{place}: still disconnected from the amplifier.", {{"place", s.place()}}),
                       Message("Connect both conductors, set the attenuators back as left, then play.")}),
            {}};
}

Statement position_unknown(const FindingSubject& s) {
    return {sentences({plural("{place}: {count} attenuator has no position recorded, so full is assumed.",
                              "{place}: {count} attenuators have no position recorded, so full is assumed.",
                              static_cast<std::int64_t>(s.finding.detail), {{"place", s.place()}}),
                       Message("Record where they were left.")}),
            Message("Turned down, an attenuator raises the impedance, so what is expected is a minimum.")};
}

Statement emergency_line(const FindingSubject& s) {
    return {sentences({Message("{place}: part of a fire or emergency system, so it is not calculated.",
                               {{"place", s.place()}}),
                       Message("Leave it to qualified people.")}),
            {}};
}

Statement override_over_supply(const FindingSubject& s) {
    return {sentences({Message("{place}: its override relays need {needed}; it supplies {supplied}.",
                               {{"place", s.place()},
                                {"needed", MilliAmps(s.finding.detail)},
                                {"supplied", s.record<Interface>().supply_ma.value_or(MilliAmps(0))}}),
                       Message("Fit a larger supply or use fewer relays.")}),
            Message("With too little current some relays do not pull in.")};
}

Statement interface_not_tested(const FindingSubject& s) {
    const Message verdict = Message("{place}: no test recorded.", {{"place", s.place()}});
    if (s.record<Interface>().kind == InterfaceKind::fire_mute)
        return {
            sentences({verdict, Message("Arrange one with whoever is responsible for the fire alarm; do not operate "
                                        "or disconnect it yourself.")}),
            {}};
    return {sentences({verdict, Message("Test it and record the day.")}), {}};
}

}  // namespace tapwright::said
