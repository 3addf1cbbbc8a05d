// The sentences beside a reading. They say what was read and expected, what that proves, what it cannot, and where to
// measure next. Arithmetic of what a reading can see: with N equal taps one open loudspeaker moves the impedance by
// 1/(N - 1); a band of 20 % is blind to that from N = 6 on, a baseline of 5 % from N = 21 on.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/base/text.h"
#include "core/readings/assessment.h"
#include "core/words/figures_text.h"
#include "core/words/readings_text.h"

namespace tapwright {
namespace {

std::string percent(double ratio) {
    return rounded(std::abs(ratio) * 100, 1) + " %";
}
std::string lower_or_higher(double ratio) {
    if (ratio > 2) return rounded(1 + ratio, 1) + " times as high";
    return percent(ratio) + (ratio < 0 ? " lower" : " higher");
}

void add(std::string& text, const std::string& more) {
    if (more.empty()) return;
    if (!text.empty()) text += ' ';
    text += more;
}

class Speaker {
public:
    Speaker(const Job& job, const Wiring& wiring, const Reading& reading, const Assessment& assessment)
        : job_(job), wiring_(wiring), reading_(reading), a_(assessment), o_(*assessment.outlook), j_(a_.judgement) {}

    std::string speak() const {
        std::string text = what_was_read();
        add(text, what_it_draws());
        add(text, what_the_knobs_did());
        add(text, what_the_baseline_says());
        add(text, what_the_drift_means());
        add(text, what_the_limit_says());
        add(text, what_it_cannot_prove());
        add(text, what_marks_hide());
        add(text, where_next());
        add(text, what_was_not_isolated());
        return text;
    }

private:
    double value() const { return *reading_.value; }
    bool over_range() const { return reading_.over_range.value_or(false); }
    double tolerance() const { return job_.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct).value() / 100; }
    double baseline_tolerance() const {
        return job_.info().baseline_tol_pct.value_or(Defaults::baseline_tol_pct).value() / 100;
    }
    std::string place() const { return name_of(job_, *reading_.at); }
    bool expects_nothing() const { return j_.expected && !std::isfinite(j_.expected->value()); }

    std::string figure() const {
        return over_range() ? "The meter showed more than its range of " + in_ohms(value()) + " at " + place()
                            : in_ohms(value()) + " at " + place();
    }

    std::string against_expected() const {
        if (!j_.expected) return "";
        if (expects_nothing())
            return o_.speakers == 0 ? "the record has no loudspeaker there, so it expects an open line"
                                    : "with the knobs as they stood the record expects an open line";
        std::string text = in_ohms(j_.expected->value()) + " was expected";
        if (!over_range()) text += ", so it is " + lower_or_higher(value() / j_.expected->value() - 1);
        return text + " (the band of " + rounded(tolerance() * 100, 1) + " % is " + rounded(j_.low->value(), 2) +
               " to " + in_ohms(j_.high->value()) + ")";
    }

    std::string conclusion() const {
        switch (j_.verdict) {
            case Verdict::not_judged:
                return "not judged";
            case Verdict::open:
                return "OPEN: next to nothing is connected there; look for a lifted leg, a broken run or a loose "
                       "terminal "
                       "before the first loudspeaker";
            case Verdict::shorted:
                return "SHORT: less than a quarter of what was expected, and more than the line may carry; do not "
                       "switch "
                       "the amplifier on";
            case Verdict::more_load:
                return "MORE LOAD than the record: a higher tap, a loudspeaker that is not recorded, one on its "
                       "low-impedance setting, or a partial short";
            case Verdict::less_load:
                return "LESS LOAD than the record: loudspeakers open or on lower taps, a run not connected, or an "
                       "attenuator turned down";
            case Verdict::drifted:
                return "consistent with the record, but DRIFTED from its baseline";
            case Verdict::agrees:
                return "consistent with the record";
        }
        return "";
    }

    std::string why_not_judged() const {
        if (!a_.plain_frequency)
            return "At " + rounded(a_.options.hz->value(), 1) +
                   " Hz a transformer line no longer shows its taps; without a "
                   "transformer model for every loudspeaker only " +
                   rounded(lowest_plain_hz.value(), 0) + " to " + rounded(highest_plain_hz.value(), 0) +
                   " Hz can be compared. Measure at " + rounded(test_frequency(job_).value(), 1) + " Hz.";
        return counted(o_.without_tap, "loudspeaker") +
               " there has neither a tap nor a planned one, so nothing can be expected; record the taps first.";
    }

    std::string what_was_read() const {
        std::string text = figure();
        const std::string expected = against_expected();
        if (!expected.empty()) text += "; " + expected;
        text += ": " + conclusion() + ".";
        if (j_.verdict == Verdict::not_judged) add(text, why_not_judged());
        return text;
    }

    std::string what_it_draws() const {
        if (!j_.measured || !std::isfinite(j_.measured->value())) return "";
        std::string text = "At " + in_volts(o_.line_v) + " that is " + in_watts(j_.measured->value());
        if (!j_.expected_w) return text + ".";
        text += "; the record says " + in_watts(j_.expected_w->value());
        const double difference = j_.difference->value();
        if (std::abs(difference) >= 0.05)
            text += ", so " + in_watts(std::abs(difference)) + (difference > 0 ? " more" : " less") + " is drawn";
        return text + ".";
    }

    std::string what_the_knobs_did() const {
        if (o_.attenuators.empty()) return "";
        if (a_.options.override_active)
            return "The override was active: attenuators with one count as straight through.";
        std::size_t told = 0;
        for (const std::uint32_t place : o_.attenuators) {
            const Id& id = job_.all<Point>()[place].id;
            told += reading_.knobs && std::any_of(reading_.knobs->begin(), reading_.knobs->end(),
                                                  [&](const auto& knob) { return knob.first == id; });
        }
        if (told == o_.attenuators.size()) return "Expected with the knobs as noted at the reading.";
        const std::string missing = told == 0
                                        ? "Knob positions were not noted: they are"
                                        : "Only " + std::to_string(told) + " of " +
                                              counted(o_.attenuators.size(), "knob") + " were noted: the others are";
        return missing + " taken as left, and where that is not recorded at 0 dB. Measure with the knobs full.";
    }

    std::string what_the_baseline_says() const {
        if (!a_.baseline) return "";
        const Baseline& baseline = *a_.baseline;
        const Reading& then = job_.all<Reading>()[baseline.reading];
        // Where the record has changed between the two, their plain ratio is not what is compared.
        const double plain = 1 / a_.measured_s / *then.value - 1;
        const bool rescaled = std::abs(plain - baseline.drift) > 0.005;
        return "Its baseline is " + in_ohms(*then.value) +
               (rescaled ? ", taken when other ohms were expected; each held against its own, this is " : ": ") +
               lower_or_higher(baseline.drift) + ", where " + rounded(baseline.allowed * 100, 1) + " % is allowed" +
               (baseline.same_conditions
                    ? "."
                    : " because the meter, the frequency, the knobs or the override were not the same.");
    }

    std::string what_the_limit_says() const {
        if (over_range()) return "";
        if (o_.min_ohm && Ohms(value()) < *o_.min_ohm)
            return "STOP: below the " + in_ohms(o_.min_ohm->value()) + " the channel may be loaded with.";
        if (j_.limit == LimitState::ok || !o_.limit) return "";
        const std::string limit = in_watts(o_.limit->value());
        return j_.limit == LimitState::stop
                   ? "STOP: more than 1.25 times the limit of " + limit + "; take load off first."
                   : "Above the limit of " + limit + ".";
    }

    // A drift as the load it stands for: ohms higher by d mean that the share d/(1 + d) of the load is gone.
    std::string what_the_drift_means() const {
        if (j_.verdict != Verdict::drifted || !(o_.total_s > 0)) return "";
        const double share = std::abs(a_.baseline->drift) / (1 + a_.baseline->drift);
        const double count = share * o_.speakers;
        const bool equal = o_.largest_s / o_.smallest_s < 1.001;
        std::string text = "That is as if " + rounded(share * 100, 0) + " % of the load had " +
                           (a_.baseline->drift > 0 ? "gone" : "come");
        if (equal && a_.baseline->drift > 0 && std::abs(count - std::round(count)) < 0.2 && count > 0.5)
            text += ", " + rounded(std::round(count), 0) + " of the " + counted(o_.speakers, "loudspeaker");
        return text + ".";
    }

    // ---- what it can and cannot see ----
    std::string what_it_cannot_prove() const {
        if (j_.verdict != Verdict::agrees || over_range() || o_.speakers < 2 || !(o_.smallest_s > 0) ||
            o_.without_tap > 0)
            return "";
        const bool equal = o_.largest_s / o_.smallest_s < 1.001;
        const double moves = o_.smallest_s / (o_.total_s - o_.smallest_s);
        // With attenuators turned down or much cable, what one loudspeaker moves is another figure.
        const bool is_plain = a_.expected_s && std::abs(*a_.expected_s / o_.total_s - 1) < 0.1;
        if (!std::isfinite(moves) || !is_plain) return "";
        const bool band_sees = moves > tolerance() * (1 + 1e-9);
        const bool baseline_sees = moves > baseline_tolerance() * (1 + 1e-9);
        std::string text =
            (equal ? "One open loudspeaker of " + std::to_string(o_.speakers) + " equal taps moves this by "
                   : "The smallest of " + std::to_string(o_.speakers) + " loudspeakers, if open, moves this by ") +
            percent(moves) + ": ";
        if (band_sees)
            return text + "the band would show it, so no loudspeaker is open, unless another fault hides it.";
        text += "the band of " + rounded(tolerance() * 100, 1) + " % cannot see it, ";
        if (a_.baseline && a_.baseline->same_conditions && baseline_sees)
            return text + "but the baseline (" + rounded(baseline_tolerance() * 100, 1) + " %) can.";
        if (baseline_sees)
            return text + "a baseline with the same meter (" + rounded(baseline_tolerance() * 100, 1) +
                   " %) can. This reading proves that most are connected, not that all are.";
        return text + "and a baseline (" + rounded(baseline_tolerance() * 100, 1) +
               " %) cannot either. This reading proves that most are connected, not that all are; listen to each.";
    }

    // Impedance does not depend on the line voltage: a tap marked for another one looks right to any meter.
    std::string what_marks_hide() const {
        for (const Stretch& stretch : o_.stretches)
            for (std::uint32_t i = stretch.first; i < stretch.last; ++i) {
                const WiredPoint& point = wiring_.points[wiring_.order[i]];
                if (point.speaker_type == nowhere || point.draw.on_low_z || !point.draw.counts) continue;
                const auto& type = job_.all<SpeakerType>()[point.speaker_type];
                if (!type.taps_v || is_same_line(*type.taps_v, wiring_.zones[point.zone].line_v)) continue;
                const double factor = drawn_by_tap(Watts(1), &type, wiring_.zones[point.zone].line_v).value();
                return "Taps of " + name_of(job_, type.id) + " are marked for " + in_volts(*type.taps_v) +
                       " but hang on " + in_volts(wiring_.zones[point.zone].line_v) + ": each draws " +
                       rounded(factor, 3) +
                       " times its mark, and ohms cannot reveal that, for the impedance is the same on either line.";
            }
        return "";
    }

    std::string where_next() const {
        const bool fault = j_.verdict == Verdict::more_load || j_.verdict == Verdict::less_load ||
                           j_.verdict == Verdict::drifted || j_.verdict == Verdict::shorted;
        if (!fault && j_.verdict != Verdict::agrees) return "";
        if (o_.speakers < 3) return "";
        const std::uint32_t split = splitting_point(wiring_, o_);
        if (split == nowhere) return "";
        const Point& point = job_.all<Point>()[split];
        const std::uint32_t position = wiring_.position[split];
        const Stretch branch{wiring_.points[split].zone, position, wiring_.branch_end[position]};
        const double siemens = std::abs(siemens_of(job_, wiring_, branch, false, a_.options, o_.known));
        if (!(siemens > 0)) return "";
        return std::string(fault ? "To find it, measure next" : "To see more, measure") + " at " +
               name_of(job_, point.id) +
               ", its run lifted and looking away from the amplifier: " + in_ohms(1 / siemens) +
               " is expected there, about half of the load.";
    }

    std::string what_was_not_isolated() const {
        if (reading_.isolated.value_or(false) || j_.verdict == Verdict::agrees) return "";
        if (reading_.isolated)
            return "Both legs were not lifted off the amplifier: its output may have been measured too.";
        return "It is not noted that both legs were lifted; an amplifier left connected is measured too.";
    }

    const Job& job_;
    const Wiring& wiring_;
    const Reading& reading_;
    const Assessment& a_;
    const Outlook& o_;
    const Judgement& j_;
};

}  // namespace

std::span<const std::string_view> measuring_cautions() {
    static constexpr std::array<std::string_view, 4> cautions = {
        "Amplifier off.", "Check for stray volts first.", "Lift both legs off the amplifier.",
        "Turn every attenuator to full, or note how each one stands."};
    return cautions;
}

std::string sentence(const Job& job, const Reading& draft, const Judgement&) {
    const Wiring wiring = wire(job);
    const Assessment assessment = assess_draft(job, wiring, draft);
    if (!assessment.outlook) return plain_sentence(job, draft);
    return Speaker(job, wiring, draft, assessment).speak();
}

std::string sentence(const Job& job, const Derived& derived, std::size_t reading) {
    const Reading& record = job.all<Reading>()[reading];
    const Wiring wiring = wire(job);
    std::optional<BaselineGiven> baseline;
    if (const auto place = baseline_among(job, record, reading))
        baseline = BaselineGiven{*place, derived.readings[*place].expected};
    const std::uint32_t known = points_before(job, static_cast<std::uint32_t>(reading));
    const Assessment assessment = assess(job, wiring, record, known, baseline);
    if (!assessment.outlook) return plain_sentence(job, record);
    return Speaker(job, wiring, record, assessment).speak();
}

}  // namespace tapwright
