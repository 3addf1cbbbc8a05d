// What stands behind "Why" beside a reading: the band, what it draws, the conditions, the baseline, and what it proves
// and cannot prove.
#include <cmath>

#include "core/words/place_name.h"
#include "core/words/reading_parts.h"

namespace tapwright {
namespace {

constexpr Watts noticeable{0.05};  // less is the meter's own error

Percent size_of(Percent percent) {
    return percent < Percent(0) ? -percent : percent;
}

Message band_reason(const ReadingSubject& s) {
    const Judgement& j = s.judgement;
    if (j.verdict == Verdict::not_judged || !j.expected || !std::isfinite(j.expected->value())) return {};
    return Message("Accepted: {low} to {high} (±{band}).",
                   {{"low", rounded_up(*j.low)},
                    {"high", rounded_down(*j.high)},
                    {"band", s.job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct)}});
}

Message load_reason(const ReadingSubject& s) {
    const Judgement& j = s.judgement;
    if (!j.measured || !std::isfinite(j.measured->value())) return {};
    std::vector<Named> figures{{"measured", *j.measured}, {"line", j.line_v}};
    if (!j.expected_w) return Message(Pattern("{measured} measured at {line}."), std::move(figures));
    figures.push_back({"recorded", *j.expected_w});
    const Watts difference = j.difference.value_or(Watts(0));
    figures.push_back({"difference", difference < Watts(0) ? -difference : difference});
    if (difference >= noticeable)
        return Message(Pattern("{measured} measured at {line}, {recorded} recorded: {difference} more."),
                       std::move(figures));
    if (difference <= -noticeable)
        return Message(Pattern("{measured} measured at {line}, {recorded} recorded: {difference} is missing."),
                       std::move(figures));
    return Message(Pattern("{measured} measured at {line}, as recorded."), std::move(figures));
}

Message positions_reason(const PositionsNoted& positions) {
    if (positions.attenuators == 0) return {};
    if (positions.override_active)
        return Message("The override was active: attenuators that have one count as straight through.");
    if (positions.noted == positions.attenuators) return Message("Attenuators as noted with the reading.");
    if (positions.noted == 0)
        return Message(
            "Attenuator positions not noted: taken as left, else as full. To be sure, set them full and read "
            "again.");
    return plural("{noted} of {count} attenuator position noted; the other is taken as left, else as full.",
                  "{noted} of {count} attenuator positions noted; the others are taken as left, else as full.",
                  positions.attenuators, {{"noted", positions.noted}});
}

Message drift_sentence(const AgainstBaseline& baseline) {
    const Percent drift = size_of(baseline.drift);
    if (baseline.is_rescaled)
        return baseline.drift < Percent(0)
                   ? Message("Allowing for changes since, this is {drift} lower.", {{"drift", drift}})
                   : Message("Allowing for changes since, this is {drift} higher.", {{"drift", drift}});
    return baseline.drift < Percent(0) ? Message("This is {drift} lower.", {{"drift", drift}})
                                       : Message("This is {drift} higher.", {{"drift", drift}});
}

Message baseline_reason(const ReadingSubject& s) {
    if (!s.judgement.baseline) return {};
    const AgainstBaseline& baseline = *s.judgement.baseline;
    const Ohms then(s.job.all<Reading>()[baseline.reading].value.value_or(0));
    return sentences({Message("Baseline {ohms}.", {{"ohms", then}}), drift_sentence(baseline),
                      baseline.same_conditions
                          ? Message("Limit {allowed}.", {{"allowed", baseline.allowed}})
                          : Message("Limit {allowed} (different conditions).", {{"allowed", baseline.allowed}})});
}

Message drift_reason(const Judgement& j) {
    if (!j.drift_share) return {};
    const DriftShare& share = *j.drift_share;
    std::vector<Named> figures{{"share", Figure{share.of_load.value(), Unit::percent, 0}}};
    if (!share.is_gone)
        return Message(Pattern("About {share} more load is connected than at the baseline."), std::move(figures));
    if (!share.loudspeakers) return Message(Pattern("About {share} of the load is missing."), std::move(figures));
    figures.push_back({"gone", *share.loudspeakers});
    return plural("About {share} of the load is missing: {gone} of {count} loudspeaker.",
                  "About {share} of the load is missing: {gone} of {count} loudspeakers.", j.speakers,
                  std::move(figures));
}

Message sight_reason(const Judgement& j) {
    if (!j.sight) return {};
    const OpenSpeakerSight& sight = *j.sight;
    const std::vector<Named> figures{
        {"all", j.speakers}, {"moves", sight.moves}, {"band", sight.band}, {"baseline", sight.baseline}};
    const Message moves =
        sight.is_equal
            ? Message(Pattern("One open loudspeaker of {all} equal taps moves this by {moves}."), figures)
            : Message(Pattern("The smallest of {all} loudspeakers, if open, moves this by {moves}."), figures);
    if (sight.band_shows)
        return sentences(
            {moves, Message(Pattern("±{band} would show it: none is open, unless another fault hides it."), figures)});
    if (sight.baseline_shows && sight.has_baseline)
        return sentences(
            {moves, Message(Pattern("±{band} cannot show it, but the baseline (±{baseline}) can."), figures)});
    const Message most = Message("This reading proves that most are connected, not that all are.");
    if (sight.baseline_shows)
        return sentences(
            {moves,
             Message(Pattern("±{band} cannot show it; a baseline with the same meter (±{baseline}) can."), figures),
             most});
    return sentences({moves, Message(Pattern("Neither ±{band} nor a baseline (±{baseline}) can show it."), figures),
                      most, Message("Listen to each loudspeaker.")});
}

Message marks_reason(const ReadingSubject& s) {
    if (!s.judgement.hidden_marks) return {};
    const HiddenMarks& marks = *s.judgement.hidden_marks;
    return sentences(
        {Message("Taps of {type} are marked for {marked}, the line has {line}: each draws {ratio} times its mark.",
                 {{"type", entered(name_of(s.job, s.job.all<SpeakerType>()[marks.type].id))},
                  {"marked", marks.marked},
                  {"line", marks.line},
                  {"ratio", Figure{marks.drawn_ratio, Unit::none, 2}}}),
         Message("No impedance reading can show that: the impedance is the same on either line.")});
}

// What to look for where the fault is sought.
Message causes_reason(const ReadingSubject& s) {
    if (!s.is_sought) return {};
    if (s.judgement.verdict == Verdict::more_load)
        return Message("Likely causes: a higher tap, an unrecorded loudspeaker, a bypass setting or a partial short.");
    if (s.judgement.verdict == Verdict::less_load)
        return Message(
            "Likely causes: an open loudspeaker, a lower tap, a disconnected cable or an attenuator turned "
            "down.");
    return {};
}

Message isolation_reason(const ReadingSubject& s) {
    if (s.judgement.isolation == Isolation::connected)
        return Message("The amplifier was connected: its output was measured too.");
    if (s.judgement.isolation == Isolation::disconnected || s.judgement.verdict == Verdict::agrees) return {};
    return sentences({Message("Not noted: line disconnected from the amplifier."),
                      Message("If it was connected, this reading is not valid.")});
}

}  // namespace

Message reading_reasons(const ReadingSubject& s) {
    const Judgement& j = s.judgement;
    return sentences({band_reason(s), load_reason(s), positions_reason(j.positions), baseline_reason(s),
                      drift_reason(j), sight_reason(j), marks_reason(s), causes_reason(s), isolation_reason(s)});
}

}  // namespace tapwright
