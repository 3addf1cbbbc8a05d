// What is said beside readings that are kept and never compared with the record, and figures as readings write them.
#include <cmath>

#include "core/readings/assessment.h"
#include "core/words/place_name.h"
#include "core/words/reading_parts.h"

namespace tapwright {
namespace {

Statement insulation_statement(const Job& job, const Reading& reading) {
    const bool low = !is_over_range(reading) && *reading.value < least_insulation_ohms;
    const bool to_earth = reading.quantity == Measured::earth_ohms;
    const std::vector<Named> figures{{"place", place_name(job, reading.at)},
                                     {"read", figure_read(reading, Unit::ohm)},
                                     {"least", Ohms(least_insulation_ohms)}};
    const Message practice = Message(Pattern("{least} is common practice."), figures);
    if (!low)
        return {to_earth
                    ? Message(Pattern("{place}: {read} to earth, {least} or more as it should be."), figures)
                    : Message(Pattern("{place}: {read} to another line, {least} or more as it should be."), figures),
                practice};
    return {sentences({to_earth ? Message(Pattern("{place}: {read} to earth, low: below {least}."), figures)
                                : Message(Pattern("{place}: {read} to another line, low: below {least}."), figures),
                       Message("Find the cause before switching the amplifier on.")}),
            sentences({Message("Likely causes: damp, a nail, a bare strand, or equipment left connected."), practice})};
}

Statement stray_statement(const Job& job, const Reading& reading) {
    const std::vector<Named> figures{{"place", place_name(job, reading.at)},
                                     {"volts", Volts(reading.value.value_or(0))},
                                     {"least", least_stray_volts}};
    if (is_over_range(reading) || Volts(*reading.value) >= least_stray_volts)
        return {
            sentences({Message(Pattern("{place}: {volts} stray, {least} or more: treat the line as live."), figures),
                       Message("Find where it comes from before measuring impedance.")}),
            {}};
    return {sentences({Message(Pattern("{place}: {volts} stray, low enough for the meter."), figures),
                       Message("This does not show the line is safe to touch.")}),
            {}};
}

Statement not_on_a_line(const Job& job, const Reading& reading) {
    return {sentences({Message("{place}: {read} read, not judged: no zone, output or traced point.",
                               {{"place", place_name(job, reading.at)}, {"read", figure_read(reading, Unit::ohm)}}),
                       Message("Trace the place to a zone, or record where it was read.")}),
            {}};
}

Statement dc_statement(const Job& job, const Reading& reading) {
    return {Message("{place}: {read} by DC ohmmeter, not compared with the record.",
                    {{"place", place_name(job, reading.at)}, {"read", figure_read(reading, Unit::ohm)}}),
            Message("DC sees only winding copper and cable: it shows an open or shorted cable, but neither load nor "
                    "taps.")};
}

Statement over_range_statement(const Argument& place) {
    return {sentences({Message("{place}: over range, so there is no figure.", {{"place", place}}),
                       Message("Read it again on a larger range.")}),
            {}};
}

Statement tap_statement(const Job& job, const Reading& reading) {
    return {sentences({Message("{place}: {tap} tap found.",
                               {{"place", place_name(job, reading.at)}, {"tap", Watts(*reading.value)}}),
                       Message("Correct the recorded tap if it differs.")}),
            {}};
}

}  // namespace

Argument figure_read(const Reading& reading, Unit unit) {
    if (!is_over_range(reading)) return Figure{reading.value.value_or(0), unit};
    if (reading.range_ohm && unit == Unit::ohm) return Message("over {range}", {{"range", *reading.range_ohm}});
    return Message("over range");
}

Message deviation(Percent off) {
    constexpr Percent as_factor_from{200};
    if (off > as_factor_from)
        return Message("{ratio} times", {{"ratio", Figure{1 + off.value() / 100, Unit::none, 1}}});
    constexpr double shown_from = 0.05;
    if (std::abs(off.value()) < shown_from) return Message(Argument(Percent(0)));
    if (off > Percent(0)) return Message("+{percent}", {{"percent", off}});
    return Message(Argument(off));
}

Statement plain_statement(const Job& job, const Reading& reading) {
    const Argument place = place_name(job, reading.at);
    if (!reading.quantity || !(reading.value || is_over_range(reading)))
        return {sentences({Message("{place}: reading without quantity or figure.", {{"place", place}}),
                           Message("Enter both, or remove it.")}),
                {}};
    switch (*reading.quantity) {
        case Measured::ohms:
            return not_on_a_line(job, reading);
        case Measured::dc_ohms:
            return dc_statement(job, reading);
        case Measured::earth_ohms:
        case Measured::cross_ohms:
            return insulation_statement(job, reading);
        case Measured::stray_v:
            return stray_statement(job, reading);
        case Measured::volts:
            if (is_over_range(reading)) return over_range_statement(place);
            return {Message("{place}: {volts} on the line.", {{"place", place}, {"volts", Volts(*reading.value)}}), {}};
        case Measured::level_dba:
            if (is_over_range(reading)) return over_range_statement(place);
            return {Message("{place}: {level} sound level.", {{"place", place}, {"level", SoundLevel(*reading.value)}}),
                    {}};
        case Measured::noise_dba:
            if (is_over_range(reading)) return over_range_statement(place);
            return {Message("{place}: {level} noise.", {{"place", place}, {"level", SoundLevel(*reading.value)}}), {}};
        case Measured::tap_w:
            if (!reading.value) return over_range_statement(place);
            return tap_statement(job, reading);
    }
    return {};
}

}  // namespace tapwright
