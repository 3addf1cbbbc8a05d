#include "core/readings/assessment.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/readings/proof.h"

namespace tapwright {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// ---- conditions ----

bool same_positions(const Job& job, const Reading& a, const Reading& b, const Outlook& outlook) {
    const bool none = (!a.knobs || a.knobs->empty()) && (!b.knobs || b.knobs->empty());
    if (none) return true;
    const SolveOptions of_a{.given = a.knobs ? &*a.knobs : nullptr};
    const SolveOptions of_b{.given = b.knobs ? &*b.knobs : nullptr};
    return knobs_of(job, outlook.attenuators, of_a) == knobs_of(job, outlook.attenuators, of_b);
}

bool same_conditions(const Job& job, const Reading& a, const Reading& b, const Outlook& outlook) {
    const Hertz usual = test_frequency(job);
    return a.instrument == b.instrument && a.hz.value_or(usual) == b.hz.value_or(usual) &&
           a.override.value_or(false) == b.override.value_or(false) && same_positions(job, a, b, outlook);
}

// ---- the verdict ----

bool in_plain_range(const Assessment& a) {
    const bool plain = *a.options.hz >= lowest_plain_hz && *a.options.hz <= highest_plain_hz;
    return plain || (a.outlook->speakers > 0 && a.outlook->modelled == a.outlook->speakers);
}

void compare(const Job& job, const Reading& reading, const BaselineGiven& given, Assessment& a) {
    const Reading& then = job.all<Reading>()[given.reading];
    const bool both_expected =
        a.expected_s && *a.expected_s > 0 && given.expected && std::isfinite(given.expected->value());
    const double expected_change = both_expected ? 1 / *a.expected_s / given.expected->value() : 1;
    const double plain = 1 / a.measured_s / *then.value;
    a.drift = plain / expected_change - 1;
    AgainstBaseline baseline;
    baseline.reading = static_cast<std::uint32_t>(given.reading);
    baseline.drift = Percent(a.drift * 100);
    baseline.same_conditions = same_conditions(job, reading, then, *a.outlook);
    baseline.allowed = baseline.same_conditions ? job.info().baseline_tol_pct.value_or(Defaults::baseline_tol_pct)
                                                : other_conditions_pct;
    baseline.is_rescaled = std::abs(plain - 1 - a.drift) > 0.005;
    a.drift_allowed = baseline.allowed.value() / 100;
    a.judgement.baseline = baseline;
}

bool is_short(const Assessment& a) {
    // Where an open line is expected any figure would be "four times more": that says nothing.
    if (!(*a.expected_s > 0) || !(a.measured_s > 4 * *a.expected_s)) return false;
    const std::optional<Watts> limit = a.outlook->limit;
    return !limit || (a.judgement.measured && !keeps_most(*a.judgement.measured, *limit));
}

// Where no tap is known, the smallest that loudspeakers commonly have (common practice, no single source).
double smallest_tap_s(const Outlook& outlook) {
    constexpr double smallest_common_w = 0.25;
    if (outlook.smallest_s > 0) return outlook.smallest_s;
    return smallest_common_w / (outlook.line_v.value() * outlook.line_v.value());
}

// Over range says that a line is open only where the range could have shown what is connected. With attenuators off
// that is what would show with them on. Where an open line was expected when it was taken and loudspeakers are
// connected now, nobody can tell whether they were so then: the range must have shown what is known of them.
std::optional<Ohms> least_range(const Assessment& a) {
    if (a.known_s > 0) return Ohms(least_range_ratio / a.known_s);
    if (a.outlook->speakers == 0) return std::nullopt;
    return Ohms(least_range_ratio / std::max(a.outlook->total_s, smallest_tap_s(*a.outlook)));
}

bool is_range_too_small(const Reading& reading, const Assessment& a) {
    if (!is_over_range(reading) || a.outlook->speakers == 0) return false;
    const std::optional<Ohms> least = least_range(a);
    return !reading.range_ohm || (least && !keeps_least(*reading.range_ohm, *least));
}

// The first reason not to believe a reading, whatever it shows.
std::optional<Unjudged> reason_against(const Reading& reading, const Assessment& a) {
    if (a.outlook->emergency) return Unjudged::emergency;
    if (a.judgement.isolation == Isolation::connected) return Unjudged::amplifier_connected;
    if (reading.signal.value_or(Signal::none) != Signal::none) return Unjudged::signal_present;
    if (a.judgement.stray) return Unjudged::stray_voltage;
    if (is_range_too_small(reading, a)) return Unjudged::range_too_small;
    if (!a.plain_frequency) return Unjudged::frequency;
    return std::nullopt;
}

Verdict over_range_verdict(const Assessment& a) {
    return a.expected_s && *a.expected_s == 0 ? Verdict::agrees : Verdict::open;
}

Verdict verdict_of(const Job& job, const Reading& reading, const Assessment& a) {
    if (is_over_range(reading)) return over_range_verdict(a);
    const double open_below = smallest_tap_s(*a.outlook) / 4;
    if (a.measured_s < open_below) {
        if (!a.expected_s || *a.expected_s >= open_below) return Verdict::open;
        if (*a.expected_s == 0) return Verdict::agrees;
    }
    if (!a.expected_s) return Verdict::not_judged;
    if (is_short(a)) return Verdict::shorted;
    const double tolerance = job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct).value() / 100;
    if (a.measured_s * (1 - tolerance) > *a.expected_s) return Verdict::more_load;
    if (a.measured_s * (1 + tolerance) < *a.expected_s) return Verdict::less_load;
    if (a.judgement.baseline && std::abs(a.drift) > a.drift_allowed) return Verdict::drifted;
    return Verdict::agrees;
}

void judge(const Job& job, const Reading& reading, Assessment& a) {
    Judgement& j = a.judgement;
    j.unjudged = Unjudged::taps_unknown;
    if (const auto reason = reason_against(reading, a)) {
        j.unjudged = *reason;
        return;
    }
    j.verdict = verdict_of(job, reading, a);
    j.is_valid = j.isolation == Isolation::disconnected;
}

// Also where unknown taps leave a reading without a verdict: what was measured is drawn all the same.
LimitState limit_of(const Reading& reading, const Assessment& a) {
    const bool is_believed =
        a.judgement.verdict != Verdict::not_judged || a.judgement.unjudged == Unjudged::taps_unknown;
    if (!is_believed || is_over_range(reading)) return LimitState::ok;
    const std::optional<Ohms> min_ohm = a.outlook->min_ohm;
    if (min_ohm && !keeps_least(Ohms(*reading.value), *min_ohm)) return LimitState::stop;
    const std::optional<Watts> limit = a.outlook->limit;
    if (!limit || !a.judgement.measured) return LimitState::ok;
    // A loudspeaker may fall to 80 % of its rated impedance and draw 1.25 times its tap.
    if (!keeps_most(*a.judgement.measured, *limit * 1.25)) return LimitState::stop;
    return keeps_most(*a.judgement.measured, *limit) ? LimitState::ok : LimitState::warn;
}

Ohms ohms_from(double siemens) {
    return Ohms(siemens > 0 ? 1 / siemens : infinite);
}

void fill_figures(const Job& job, const Reading& reading, Assessment& a) {
    Judgement& j = a.judgement;
    const double v = a.outlook->line_v.value();
    const bool in_watts = !a.outlook->low_impedance;
    const Watts known_w(v * v * a.known_s);
    if (in_watts && !is_over_range(reading)) {
        j.measured = Watts(v * v * a.measured_s);
        j.beyond = std::max(Watts(0), *j.measured - known_w);
    }
    if (is_over_range(reading)) j.least_range = least_range(a);
    j.expected_known = ohms_from(a.known_s);
    if (!a.expected_s) return;
    const double tolerance = job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct).value() / 100;
    j.expected = ohms_from(*a.expected_s);
    j.low = std::isfinite(j.expected->value()) ? *j.expected * (1 - tolerance) : Ohms(infinite);
    j.high = *j.expected * (1 + tolerance);
    if (in_watts) j.expected_w = known_w;
    if (j.measured && j.expected_w) j.difference = *j.measured - *j.expected_w;
}

}  // namespace

SolveOptions conditions_of(const Job& job, const Reading& reading) {
    SolveOptions options;
    if (reading.knobs) options.given = &*reading.knobs;
    options.override_active = reading.override.value_or(false);
    options.hz = reading.hz.value_or(test_frequency(job));
    return options;
}

bool is_judged(const Reading& reading) {
    return reading.quantity == Measured::ohms && reading.at && (reading.value || is_over_range(reading));
}

bool is_over_range(const Reading& reading) {
    return reading.over_range.value_or(false);
}

Unjudged why_not_compared(const Reading& reading) {
    const bool has_figure = reading.value || is_over_range(reading);
    return reading.quantity == Measured::ohms && has_figure ? Unjudged::no_place : Unjudged::not_compared;
}

std::optional<double> expected_then(const Reading& reading) {
    if (!reading.expected_ohm) return std::nullopt;
    if (*reading.expected_ohm >= open_line_ohms) return 0;
    return 1 / reading.expected_ohm->value();
}

bool is_baseline(const Reading& reading, const Judgement& judgement) {
    return reading.baseline.value_or(false) && judgement.is_valid && reading.value && *reading.value > 0 &&
           !is_over_range(reading);
}

Assessment begin_assessment(const Job& job, const Reading& reading, Outlook outlook) {
    Assessment a;
    a.options = conditions_of(job, reading);
    a.outlook = std::move(outlook);
    a.plain_frequency = in_plain_range(a);
    if (!is_over_range(reading)) a.measured_s = *reading.value > 0 ? 1 / *reading.value : infinite;
    if (reading.isolated) a.judgement.isolation = *reading.isolated ? Isolation::disconnected : Isolation::connected;
    return a;
}

void set_expected(double known_s, Assessment& a) {
    a.known_s = known_s;
    if (a.outlook->without_tap == 0) a.expected_s = known_s;
}

void finish_assessment(const Job& job, const Reading& reading, const std::optional<BaselineGiven>& baseline,
                       Assessment& a) {
    fill_figures(job, reading, a);
    const bool comparable = a.measured_s > 0 && std::isfinite(a.measured_s);
    if (baseline && comparable && !reading.baseline.value_or(false)) compare(job, reading, *baseline, a);
    judge(job, reading, a);
    a.judgement.limit = limit_of(reading, a);
    add_proof(job, reading, a);
}

std::uint32_t points_before(const Job& job, std::uint32_t reading) {
    const MadeRank& rank = job.rank<Reading>(reading);
    auto low = std::uint32_t{0};
    auto high = static_cast<std::uint32_t>(job.all<Point>().size());
    while (low < high) {
        const std::uint32_t middle = low + (high - low) / 2;
        if (job.rank<Point>(middle) < rank)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

}  // namespace tapwright
