#include "core/readings/proof.h"

#include <algorithm>
#include <cmath>

namespace tapwright {
namespace {

bool has_equal_taps(const Outlook& outlook) {
    return outlook.largest_s / outlook.smallest_s < 1.001;
}

PositionsNoted positions_of(const Job& job, const Reading& reading, const Assessment& a) {
    PositionsNoted positions;
    positions.attenuators = static_cast<std::uint32_t>(a.outlook->attenuators.size());
    positions.override_active = a.options.override_active;
    if (!reading.knobs) return positions;
    for (const std::uint32_t place : a.outlook->attenuators) {
        const Id& id = job.all<Point>()[place].id;
        positions.noted += std::any_of(reading.knobs->begin(), reading.knobs->end(),
                                       [&](const auto& knob) { return knob.first == id; });
    }
    return positions;
}

ReadingLimit against_limit_of(const Reading& reading, const Assessment& a) {
    ReadingLimit held{.limit = a.outlook->limit, .over = {}, .min_ohm = a.outlook->min_ohm};
    if (is_over_range(reading)) return held;
    held.is_below_min_ohm = held.min_ohm && !keeps_least(Ohms(*reading.value), *held.min_ohm);
    const std::optional<Watts> measured = a.judgement.measured;
    if (held.limit && measured) held.over = above_most(*measured, *held.limit);
    return held;
}

std::optional<DriftShare> drift_share_of(const Assessment& a) {
    const Outlook& outlook = *a.outlook;
    if (a.judgement.verdict != Verdict::drifted || !(outlook.total_s > 0)) return std::nullopt;
    const double share = std::abs(a.drift) / (1 + a.drift);
    DriftShare drift{.of_load = Percent(share * 100), .is_gone = a.drift > 0, .loudspeakers = {}};
    const double count = share * outlook.speakers;
    if (has_equal_taps(outlook) && drift.is_gone && std::abs(count - std::round(count)) < 0.2 && count > 0.5)
        drift.loudspeakers = static_cast<std::uint32_t>(std::round(count));
    return drift;
}

std::optional<OpenSpeakerSight> sight_of(const Job& job, const Reading& reading, const Assessment& a) {
    const Outlook& outlook = *a.outlook;
    if (a.judgement.verdict != Verdict::agrees || is_over_range(reading)) return std::nullopt;
    if (outlook.speakers < 2 || !(outlook.smallest_s > 0) || outlook.without_tap > 0) return std::nullopt;
    const double moves = outlook.smallest_s / (outlook.total_s - outlook.smallest_s);
    // With attenuators turned down or much cable, what one loudspeaker moves is another figure.
    const bool is_plain = a.expected_s && std::abs(*a.expected_s / outlook.total_s - 1) < 0.1;
    if (!std::isfinite(moves) || !is_plain) return std::nullopt;
    OpenSpeakerSight sight;
    sight.moves = Percent(moves * 100);
    sight.is_equal = has_equal_taps(outlook);
    sight.band = job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct);
    sight.baseline = job.info().baseline_tol_pct.value_or(Defaults::baseline_tol_pct);
    sight.band_shows = moves > sight.band.value() / 100 * (1 + 1e-9);
    sight.baseline_shows = moves > sight.baseline.value() / 100 * (1 + 1e-9);
    sight.has_baseline = a.judgement.baseline && a.judgement.baseline->same_conditions;
    return sight;
}

std::optional<HiddenMarks> hidden_marks_of(const Job& job, const Outlook& outlook) {
    if (outlook.other_marks == nowhere) return std::nullopt;
    const SpeakerType& type = job.all<SpeakerType>()[outlook.other_marks];
    return HiddenMarks{outlook.other_marks, *type.taps_v, outlook.other_marks_v,
                       drawn_by_tap(Watts(1), &type, outlook.other_marks_v).value()};
}

}  // namespace

void add_proof(const Job& job, const Reading& reading, Assessment& a) {
    Judgement& j = a.judgement;
    j.line_v = a.outlook->line_v;
    j.speakers = a.outlook->speakers;
    j.planned = a.outlook->planned;
    j.without_tap = a.outlook->without_tap;
    j.positions = positions_of(job, reading, a);
    j.against_limit = against_limit_of(reading, a);
    j.drift_share = drift_share_of(a);
    j.sight = sight_of(job, reading, a);
    j.hidden_marks = hidden_marks_of(job, *a.outlook);
}

}  // namespace tapwright
