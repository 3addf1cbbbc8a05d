// What findings about readings say: each its own part of what the reading says (core/words/readings_text.h).
#include <cmath>

#include "core/words/expected_text.h"
#include "core/words/finding_parts.h"

namespace tapwright::said {
namespace {

Statement verdict(const FindingSubject& s) {
    return s.words.readings().verdict_of(s.finding.detail);
}
Statement limit(const FindingSubject& s) {
    return s.words.readings().limit_of(s.finding.detail);
}
Statement whole(const FindingSubject& s) {
    return s.words.readings().statement_of(s.finding.detail);
}

}  // namespace

Statement reading_open(const FindingSubject& s) {
    return verdict(s);
}
Statement reading_short(const FindingSubject& s) {
    return verdict(s);
}
Statement reading_more_load(const FindingSubject& s) {
    return verdict(s);
}
Statement reading_less_load(const FindingSubject& s) {
    return verdict(s);
}
Statement reading_drifted(const FindingSubject& s) {
    return verdict(s);
}
Statement reading_over_limit(const FindingSubject& s) {
    return limit(s);
}
Statement reading_far_over_limit(const FindingSubject& s) {
    return limit(s);
}
Statement reading_below_min_ohm(const FindingSubject& s) {
    return limit(s);
}
Statement reading_not_valid(const FindingSubject& s) {
    return whole(s);
}

Statement reading_unproven(const FindingSubject& s) {
    return {sentences({Message("{place}: not noted that the line was disconnected for the newest reading.",
                               {{"place", s.place()}}),
                       Message("Read it again with both conductors disconnected.")}),
            Message("With the amplifier connected its output is measured too, so the reading proves nothing.")};
}

Statement stray_voltage(const FindingSubject& s) {
    return whole(s);
}
Statement insulation_low(const FindingSubject& s) {
    return whole(s);
}

Statement zone_without_reading(const FindingSubject& s) {
    const Argument place = s.place();
    const Ohms expected = s.zone().ohms;
    return {sentences({std::isfinite(expected.value())
                           ? Message("{place}: no impedance reading yet, {ohms} expected.",
                                     {{"place", place}, {"ohms", bounded(expected, s.zone().not_recorded)}})
                           : Message("{place}: no impedance reading yet.", {{"place", place}}),
                       Message("Make sure this is not a fire or emergency line, then disconnect the amplifier and read "
                               "it.")}),
            {}};
}

Statement changed_since_reading(const FindingSubject& s) {
    const Reading& reading = s.job.all<Reading>()[s.finding.detail];
    return {
        sentences({Message("{place}: recorded load changed since the last reading: {then} expected then, {now} now.",
                           {{"place", s.place()},
                            {"then", reading.expected_ohm.value_or(Ohms(0))},
                            {"now", s.derived.readings[s.finding.detail].expected_now.value_or(Ohms(0))}}),
                   Message("Read it again.")}),
        Message("{read} was read then.", {{"read", Ohms(reading.value.value_or(0))}})};
}

Statement tap_found_differs(const FindingSubject& s) {
    const Watts found(s.job.all<Reading>()[s.finding.detail].value.value_or(0));
    const std::optional<Watts> recorded = s.record<Point>().tap_w;
    const Argument place = s.place();
    return {sentences(
                {recorded ? Message("{place}: {found} tap found, {recorded} recorded.",
                                    {{"place", place}, {"found", found}, {"recorded", *recorded}})
                          : Message("{place}: {found} tap found, none recorded.", {{"place", place}, {"found", found}}),
                 Message("Correct the record.")}),
            {}};
}

}  // namespace tapwright::said
