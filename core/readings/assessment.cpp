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
    if (!(a.measured_s > 4 * *a.expected_s)) return false;
    const std::optional<Watts> limit = a.outlook->limit;
    // Where nothing is recorded and no limit either, any figure would be "four times more": that says nothing.
    if (!limit) return *a.expected_s > 0;
    return a.judgement.measured > limit;
}

Verdict over_range_verdict(const Assessment& a) {
    // The meter cannot show what is expected: its silence is what the record says.
    const bool beyond = a.expected_s && *a.expected_s <= a.measured_s;
    return beyond ? Verdict::agrees : Verdict::open;
}

Verdict verdict_of(const Job& job, const Reading& reading, const Assessment& a) {
    if (!a.plain_frequency) return Verdict::not_judged;
    if (reading.over_range.value_or(false)) return over_range_verdict(a);
    const double open_below = a.outlook->smallest_s / 4;
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

LimitState limit_of(const Reading& reading, const Assessment& a) {
    if (reading.over_range.value_or(false)) return LimitState::ok;
    const std::optional<Ohms> min_ohm = a.outlook->min_ohm;
    if (min_ohm && Ohms(*reading.value) < *min_ohm) return LimitState::stop;
    const std::optional<Watts> limit = a.outlook->limit;
    if (!limit || !a.judgement.measured) return LimitState::ok;
    // A loudspeaker may fall to 80 % of its rated impedance and draw 1.25 times its tap.
    if (*a.judgement.measured > *limit * 1.25) return LimitState::stop;
    return *a.judgement.measured > *limit ? LimitState::warn : LimitState::ok;
}

void fill_figures(const Job& job, const Reading& reading, Assessment& a) {
    Judgement& j = a.judgement;
    const double v = a.outlook->line_v.value();
    const bool in_watts = !a.outlook->low_impedance;
    if (in_watts && !reading.over_range.value_or(false)) j.measured = Watts(v * v * a.measured_s);
    if (!a.expected_s) return;
    const double expected = *a.expected_s > 0 ? 1 / *a.expected_s : infinite;
    const double tolerance = job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct).value() / 100;
    j.expected = Ohms(expected);
    j.low = std::isfinite(expected) ? Ohms(expected * (1 - tolerance)) : Ohms(infinite);
    j.high = Ohms(expected * (1 + tolerance));
    if (in_watts) j.expected_w = Watts(v * v * *a.expected_s);
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
    return reading.quantity == Measured::ohms && reading.value && reading.at;
}

Unjudged why_not_compared(const Reading& reading) {
    return reading.quantity == Measured::ohms && reading.value ? Unjudged::no_place : Unjudged::not_compared;
}

std::optional<double> expected_then(const Reading& reading) {
    if (!reading.expected_ohm) return std::nullopt;
    return 1 / reading.expected_ohm->value();
}

bool is_newer(const Reading& a, const Reading& b) {
    if (!a.time || !b.time) return true;
    return milliseconds(*a.time) >= milliseconds(*b.time);
}

bool can_be_baseline(const Reading& reading) {
    return reading.baseline.value_or(false) && is_judged(reading) && *reading.value > 0 &&
           !reading.over_range.value_or(false);
}

Assessment begin_assessment(const Job& job, const Reading& reading, Outlook outlook) {
    Assessment a;
    a.options = conditions_of(job, reading);
    a.outlook = std::move(outlook);
    a.plain_frequency = in_plain_range(a);
    a.measured_s = *reading.value > 0 ? 1 / *reading.value : infinite;
    return a;
}

void finish_assessment(const Job& job, const Reading& reading, const std::optional<BaselineGiven>& baseline,
                       Assessment& a) {
    fill_figures(job, reading, a);
    const bool comparable = a.measured_s > 0 && std::isfinite(a.measured_s) && !reading.over_range.value_or(false);
    if (baseline && comparable && !reading.baseline.value_or(false)) compare(job, reading, *baseline, a);
    a.judgement.verdict = verdict_of(job, reading, a);
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

std::optional<std::size_t> baseline_among(const Job& job, const Reading& reading, std::size_t count) {
    const auto readings = job.all<Reading>();
    std::optional<std::size_t> newest;
    for (std::size_t i = 0; i < count; ++i)
        if (readings[i].at == reading.at && can_be_baseline(readings[i]) &&
            (!newest || is_newer(readings[i], readings[*newest])))
            newest = i;
    return newest;
}

Assessment assess(const Job& job, const Wiring& wiring, const Reading& reading, std::uint32_t known,
                  const std::optional<BaselineGiven>& baseline) {
    Assessment none;
    none.judgement.unjudged = why_not_compared(reading);
    if (!is_judged(reading)) return none;
    std::optional<Outlook> outlook = outlook_from(job, wiring, *reading.at, known);
    if (!outlook) return none;
    Assessment a = begin_assessment(job, reading, std::move(*outlook));
    if (const auto then = expected_then(reading))
        a.expected_s = then;
    else if (a.outlook->without_tap == 0)
        a.expected_s = std::abs(expected_siemens(job, wiring, *a.outlook, a.options));
    finish_assessment(job, reading, baseline, a);
    return a;
}

Assessment assess_draft(const Job& job, const Wiring& wiring, const Reading& draft) {
    std::optional<BaselineGiven> baseline;
    if (const auto place = baseline_among(job, draft, job.all<Reading>().size())) {
        const std::uint32_t known = points_before(job, static_cast<std::uint32_t>(*place));
        const Reading& then = job.all<Reading>()[*place];
        baseline = BaselineGiven{*place, assess(job, wiring, then, known, std::nullopt).judgement.expected};
    }
    return assess(job, wiring, draft, nowhere, baseline);
}

}  // namespace tapwright
