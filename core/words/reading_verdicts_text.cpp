// The verdict of a reading with its figures, and the next step.
#include <cmath>

#include "core/readings/assessment.h"
#include "core/words/expected_text.h"
#include "core/words/place_name.h"
#include "core/words/reading_parts.h"

namespace tapwright {
namespace {

std::vector<Named> figures_of(const ReadingSubject& s) {
    std::vector<Named> figures{{"place", place_name(s.job, s.reading.at)},
                               {"read", figure_read(s.reading, Unit::ohm)},
                               {"band", s.job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct)}};
    if (!s.judgement.expected) return figures;
    figures.push_back({"expected", bounded(*s.judgement.expected, s.not_recorded)});
    const double ratio = s.reading.value.value_or(0) / s.judgement.expected->value();
    figures.push_back({"off", deviation(Percent((ratio - 1) * 100))});
    return figures;
}

// ---- verdicts where the record expects so many ohms ----

Message changed_sentence(const ReadingSubject& s) {
    std::vector<Named> figures = figures_of(s);
    const Percent drift = s.judgement.baseline->drift;
    figures.push_back({"drift", drift < Percent(0) ? -drift : drift});
    return drift < Percent(0)
               ? Message(Pattern("{place}: {read} read, {expected} expected ({off}): within ±{band} of the record, but "
                                 "{drift} below its baseline."),
                         std::move(figures))
               : Message(Pattern("{place}: {read} read, {expected} expected ({off}): within ±{band} of the record, but "
                                 "{drift} above its baseline."),
                         std::move(figures));
}

Message against_ohms(const ReadingSubject& s) {
    switch (s.judgement.verdict) {
        case Verdict::not_judged:
            return {};
        case Verdict::open:
            return Message(Pattern("{place}: {read} read, {expected} expected: open line."), figures_of(s));
        case Verdict::shorted:
            return Message(Pattern("{place}: {read} read, {expected} expected: short circuit."), figures_of(s));
        case Verdict::more_load:
            return Message(Pattern("{place}: {read} read, {expected} expected ({off}): more load than recorded."),
                           figures_of(s));
        case Verdict::less_load:
            return Message(Pattern("{place}: {read} read, {expected} expected ({off}): less load than recorded."),
                           figures_of(s));
        case Verdict::drifted:
            return changed_sentence(s);
        case Verdict::agrees:
            return is_over_range(s.reading)
                       ? Message(Pattern("{place}: {read} read, {expected} expected: matches the record."),
                                 figures_of(s))
                       : Message(Pattern("{place}: {read} read, {expected} expected ({off}): matches the record within "
                                         "±{band}."),
                                 figures_of(s));
    }
    return {};
}

// ---- verdicts where it expects an open line: nothing is connected there, or attenuators are off ----

Message against_nothing_yet(const ReadingSubject& s) {
    const bool matches = s.judgement.verdict == Verdict::agrees || s.judgement.verdict == Verdict::open;
    if (matches)
        return plural("{place}: {read} read, {count} loudspeaker planned and not connected: matches the record.",
                      "{place}: {read} read, {count} loudspeakers planned and none connected: matches the record.",
                      s.judgement.planned, figures_of(s));
    return plural("{place}: {read} read, {count} loudspeaker planned and not connected: more load than recorded.",
                  "{place}: {read} read, {count} loudspeakers planned and none connected: more load than recorded.",
                  s.judgement.planned, figures_of(s));
}

Message against_nothing(const ReadingSubject& s) {
    if (s.judgement.planned > 0) return against_nothing_yet(s);
    const bool matches = s.judgement.verdict == Verdict::agrees || s.judgement.verdict == Verdict::open;
    return matches
               ? Message(Pattern("{place}: {read} read, nothing recorded there: matches the record."), figures_of(s))
               : Message(Pattern("{place}: {read} read, nothing recorded there: more load than recorded."),
                         figures_of(s));
}

Message against_open(const ReadingSubject& s) {
    switch (s.judgement.verdict) {
        case Verdict::shorted:
            return Message(Pattern("{place}: {read} read, open line expected: short circuit."), figures_of(s));
        case Verdict::open:
        case Verdict::agrees:
            return Message(Pattern("{place}: {read} read, open line expected: matches the record."), figures_of(s));
        case Verdict::not_judged:
        case Verdict::more_load:
        case Verdict::less_load:
        case Verdict::drifted:
            return Message(Pattern("{place}: {read} read, open line expected: more load than recorded."),
                           figures_of(s));
    }
    return {};
}

// ---- readings that are not judged: why ----

Message range_sentence(const ReadingSubject& s, std::vector<Named> figures) {
    if (!s.reading.range_ohm)
        return Message(Pattern("{place}: over range, not judged: the range used is not recorded."), std::move(figures));
    figures.push_back({"range", *s.reading.range_ohm});
    if (!s.judgement.least_range)
        return Message(Pattern("{place}: over range on {range}, not judged: too small for what is connected."),
                       std::move(figures));
    figures.push_back({"least", rounded_up(*s.judgement.least_range)});
    return Message(Pattern("{place}: over range on {range}, not judged: that range shows too little."),
                   std::move(figures));
}

Message not_judged_sentence(const ReadingSubject& s) {
    std::vector<Named> figures = figures_of(s);
    switch (s.judgement.unjudged) {
        case Unjudged::frequency:
            figures.push_back({"hz", s.reading.hz.value_or(test_frequency(s.job))});
            return Message(Pattern("{place}: {read} read at {hz}: not judged, a line does not show its taps there."),
                           std::move(figures));
        case Unjudged::emergency:
            return Message(Pattern("{place}: part of a fire or emergency system, so no reading is judged."),
                           std::move(figures));
        case Unjudged::amplifier_connected:
            return Message(Pattern("{place}: {read} read with the amplifier connected: not judged."),
                           std::move(figures));
        case Unjudged::signal_present:
            return Message(Pattern("{place}: {read} read with a signal on the line: not judged."), std::move(figures));
        case Unjudged::stray_voltage:
            figures.push_back({"volts", Volts(s.job.all<Reading>()[s.judgement.stray.value_or(0)].value.value_or(0))});
            return Message(Pattern("{place}: {read} read, but {volts} stray on the line: not judged."),
                           std::move(figures));
        case Unjudged::range_too_small:
            return range_sentence(s, std::move(figures));
        case Unjudged::not_compared:
        case Unjudged::no_place:
        case Unjudged::taps_unknown:
            break;
    }
    return plural("{place}: {read} read, not judged: {count} loudspeaker has no tap recorded.",
                  "{place}: {read} read, not judged: {count} loudspeakers have no tap recorded.",
                  s.judgement.without_tap, std::move(figures));
}

// ---- the next step ----

// One advice for all places: where to measure is the search's to say.
Message search_step() {
    return Message("Next: find the fault.");
}

// The job's meter may itself measure where no line shows its taps.
Hertz judged_frequency(const Job& job) {
    const Hertz usual = test_frequency(job);
    return usual >= lowest_plain_hz && usual <= highest_plain_hz ? usual : Defaults::test_hz;
}

Message not_judged_step(const ReadingSubject& s) {
    switch (s.judgement.unjudged) {
        case Unjudged::frequency:
            return Message("Measure at {hz}.", {{"hz", judged_frequency(s.job)}});
        case Unjudged::emergency:
            return Message("Leave it to qualified people.");
        case Unjudged::amplifier_connected:
        case Unjudged::signal_present:
            return Message("Amplifier off, disconnect both conductors, then read again.");
        case Unjudged::stray_voltage:
            return Message("Treat the line as live; find where the voltage comes from, then read again.");
        case Unjudged::range_too_small:
            return s.judgement.least_range ? Message("Read again on a range of {least} or more.",
                                                     {{"least", rounded_up(*s.judgement.least_range)}})
                                           : Message("Read again on the meter's largest range.");
        case Unjudged::not_compared:
        case Unjudged::no_place:
        case Unjudged::taps_unknown:
            break;
    }
    return Message("Amplifier off, look, record, then read again.");
}

}  // namespace

bool asks_where_next(const Judgement& judgement) {
    return judgement.verdict != Verdict::not_judged && judgement.verdict != Verdict::agrees;
}

Message verdict_sentence(const ReadingSubject& s) {
    const Judgement& j = s.judgement;
    if (j.verdict == Verdict::not_judged) return not_judged_sentence(s);
    if (!j.expected) return Message(Pattern("{place}: {read} read: open line."), figures_of(s));
    if (std::isfinite(j.expected->value())) return against_ohms(s);
    return j.speakers == 0 ? against_nothing(s) : against_open(s);
}

Message verdict_step(const ReadingSubject& s) {
    switch (s.judgement.verdict) {
        case Verdict::not_judged:
            return not_judged_step(s);
        case Verdict::open:
            return Message("Amplifier off, look for a loose terminal or a broken cable before the first loudspeaker.");
        case Verdict::shorted:
            return Message("Keep the amplifier off until the short is found.");
        case Verdict::more_load:
            if (s.is_sought) return search_step();
            return Message("Look for a higher tap, an unrecorded loudspeaker, a bypass setting or a partial short.");
        case Verdict::less_load:
            if (s.is_sought) return search_step();
            return Message(
                "Look for an open loudspeaker, a lower tap, a disconnected cable or an attenuator turned "
                "down.");
        case Verdict::drifted:
            if (s.is_sought) return search_step();
            return Message("Look for what has changed since the baseline.");
        case Verdict::agrees:
            if (s.judgement.isolation == Isolation::not_stated)
                return Message("Unproven: it is not noted that both conductors were disconnected.");
            if (s.judgement.expected_now) return Message("The record has changed since: read again.");
            return {};
    }
    return {};
}

Message limit_sentence(const ReadingSubject& s) {
    const ReadingLimit& limit = s.judgement.against_limit;
    const Argument place = place_name(s.job, s.reading.at);
    const Argument read = figure_read(s.reading, Unit::ohm);
    if (limit.is_below_min_ohm)
        return sentences({Message("{place}: {read} read; its output may not be loaded below {least}.",
                                  {{"place", place}, {"read", read}, {"least", *limit.min_ohm}}),
                          Message("Keep the amplifier off and take load off first.")});
    const std::vector<Named> figures{{"place", place},
                                     {"read", read},
                                     {"load", s.judgement.measured.value_or(Watts(0))},
                                     {"limit", limit.limit.value_or(Watts(0))},
                                     {"over", rounded_up(limit.over.value_or(Watts(0)))}};
    if (s.judgement.limit == LimitState::stop)
        return sentences(
            {Message(Pattern("{place}: {read} read, that is {load}: more than 1.25 × the limit of {limit}."), figures),
             Message("Keep the amplifier off and take load off first.")});
    return sentences(
        {Message(Pattern("{place}: {read} read, that is {load}: {over} over the limit of {limit}."), figures),
         Message("Lower taps or move loudspeakers to another zone.")});
}

Message limit_step(const ReadingSubject& s) {
    const ReadingLimit& limit = s.judgement.against_limit;
    if (limit.is_below_min_ohm)
        return Message("Its output may not be loaded below {least}: keep the amplifier off, take load off first.",
                       {{"least", *limit.min_ohm}});
    const std::vector<Named> figures{{"load", s.judgement.measured.value_or(Watts(0))},
                                     {"limit", limit.limit.value_or(Watts(0))},
                                     {"over", rounded_up(limit.over.value_or(Watts(0)))}};
    if (s.judgement.limit == LimitState::stop)
        return Message(Pattern("{load} is more than 1.25 × the limit of {limit}: keep the amplifier off, take load off "
                               "first."),
                       figures);
    return Message(Pattern("{load} is {over} over the limit of {limit}: take load off."), figures);
}

}  // namespace tapwright
