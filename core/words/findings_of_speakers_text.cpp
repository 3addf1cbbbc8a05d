// What findings about loudspeakers say. Whoever works on one does so with the amplifier off: the step says it.
#include "core/calc/drawn.h"
#include "core/words/finding_parts.h"

namespace tapwright::said {

Statement drawn_above_max(const FindingSubject& s) {
    const SpeakerType* type = s.job.find<SpeakerType>(s.record<Point>().type);
    const std::vector<Named> figures{{"place", s.place()},
                                     {"drawn", s.on_line().drawn.value_or(Watts(0))},
                                     {"most", type ? type->max_w.value_or(Watts(0)) : Watts(0)},
                                     {"marked", type ? type->taps_v.value_or(s.line()) : s.line()},
                                     {"line", s.line()}};
    const bool is_marked_otherwise = type && type->taps_v && !is_same_line(*type->taps_v, s.line());
    return {sentences({Message(Pattern("{place}: draws {drawn}, {most} allowed."), figures),
                       Message("Amplifier off, then set a lower tap.")}),
            is_marked_otherwise ? Message(Pattern("Its taps are marked for {marked}, the line has {line}."), figures)
                                : Message()};
}

Statement low_z_on_line(const FindingSubject& s) {
    const SpeakerType* type = s.job.find<SpeakerType>(s.record<Point>().type);
    const std::optional<Ohms> ohms = type ? type->low_z_ohm : std::nullopt;
    const Message step = Message("Keep the amplifier off until it is set to a tap.");
    if (!ohms || !s.on_line().drawn)
        return {sentences({Message("{place}: on its low-impedance (bypass) setting on a {line} line.",
                                   {{"place", s.place()}, {"line", s.line()}}),
                           step}),
                {}};
    return {
        sentences({Message("{place}: on its {ohms} (bypass) setting, would draw {drawn} from a {line} line.",
                           {{"place", s.place()}, {"ohms", *ohms}, {"drawn", *s.on_line().drawn}, {"line", s.line()}}),
                   step}),
        {}};
}

Statement speaker_without_tap(const FindingSubject& s) {
    const Argument place = s.place();
    if (s.record<Point>().wired == Wired::low_z)
        return {sentences({Message("{place}: on its bypass setting, but its type has no impedance recorded for it.",
                                   {{"place", place}}),
                           Message("Record it with the type.")}),
                {}};
    return {sentences({s.on_line().traced
                           ? Message("{place}: no tap recorded; loads including it are minimums.", {{"place", place}})
                           : Message("{place}: no tap recorded.", {{"place", place}}),
                       Message("Amplifier off, look, record.")}),
            {}};
}

Statement tap_not_confirmed(const FindingSubject& s) {
    return {sentences({Message("{place}: fitted, but only its planned tap of {tap} is recorded.",
                               {{"place", s.place()}, {"tap", s.record<Point>().planned_tap_w.value_or(Watts(0))}}),
                       Message("Amplifier off, look, record.")}),
            {}};
}

Statement tap_off_plan(const FindingSubject& s) {
    const Point& point = s.record<Point>();
    return {sentences({Message("{place}: tap {tap} differs from plan, {planned}.",
                               {{"place", s.place()},
                                {"tap", point.tap_w.value_or(Watts(0))},
                                {"planned", point.planned_tap_w.value_or(Watts(0))}}),
                       Message("Correct one or the other.")}),
            {}};
}

Statement point_not_traced(const FindingSubject& s) {
    return {sentences({Message("{place}: feed unknown, so not counted in any zone.", {{"place", s.place()}}),
                       Message("Trace it.")}),
            {}};
}

Statement polarity_reversed(const FindingSubject& s) {
    return {sentences({Message("{place}: polarity reversed.", {{"place", s.place()}}),
                       Message("Amplifier off, then swap its two wires.")}),
            {}};
}

Statement walk_test_fault(const FindingSubject& s) {
    const Argument place = s.place();
    switch (s.record<Point>().heard.value_or(Heard::ok)) {
        case Heard::ok:
            break;
        case Heard::silent:
            return {sentences({Message("{place}: silent in the walk test.", {{"place", place}}),
                               Message("Check its cable, its tap and the attenuator before it.")}),
                    {}};
        case Heard::buzz:
            return {sentences({Message("{place}: buzzed in the walk test.", {{"place", place}}),
                               Message("Check what rattles, then the loudspeaker.")}),
                    {}};
        case Heard::low:
            return {sentences({Message("{place}: too quiet in the walk test.", {{"place", place}}),
                               Message("Check its tap and the attenuator before it.")}),
                    {}};
    }
    return {};
}

Statement type_unknown(const FindingSubject& s) {
    return {sentences({Message("{place}: type not recorded, so its limits are unknown.", {{"place", s.place()}}),
                       Message("Record it.")}),
            {}};
}

Statement speaker_disconnected(const FindingSubject& s) {
    return {Message("{place}: not connected; no load counted.", {{"place", s.place()}}), {}};
}

Statement model_not_possible(const FindingSubject& s) {
    return {sentences(
                {Message("{place}: its type's transformer windings have more resistance than the tap, so they are not "
                         "used.",
                         {{"place", s.place()}}),
                 Message("Correct the windings of the type.")}),
            {}};
}

Statement type_for_other_voltage(const FindingSubject& s) {
    const SpeakerType& type = s.job.all<SpeakerType>()[s.finding.detail];
    const double ratio = drawn_by_tap(Watts(1), &type, s.zone().line_v).value();
    return {
        sentences({Message("{place}: taps of {type} are marked for {marked}, the line has {line}: each draws {ratio} "
                           "times its mark.",
                           {{"place", s.place()},
                            {"type", entered(name_of(s.job, type.id))},
                            {"marked", type.taps_v.value_or(Volts(0))},
                            {"line", s.zone().line_v},
                            {"ratio", Figure{ratio, Unit::none, 2}}}),
                   Message("Choose taps by what they draw, or fit the right type.")}),
        Message("No impedance reading can show that: the impedance is the same on either line.")};
}

}  // namespace tapwright::said
