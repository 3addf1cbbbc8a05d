#include "core/readings/readings.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <unordered_map>

#include "core/readings/assessment.h"

namespace tapwright {
namespace {

// Whether the lines as solved for all of derive() hold for this reading too.
bool is_as_left(const Job& job, const Reading& reading, const Assessment& a) {
    const Outlook& outlook = *a.outlook;
    const bool knobs =
        outlook.attenuators.empty() || (!a.options.override_active && (!reading.knobs || reading.knobs->empty()));
    const bool hz = outlook.modelled == 0 || *a.options.hz == test_frequency(job);
    return knobs && hz && outlook.newest <= outlook.known;
}

double siemens_as_left(const LineState& as_left, const Outlook& outlook) {
    if (outlook.kind == Kind::point) return 1 / as_left.points[outlook.place].ohms.value();
    std::complex<double> sum = 0;
    for (const Stretch& stretch : outlook.stretches) sum += as_left.siemens[stretch.zone];
    return std::abs(sum);
}

// ---- what a zone draws beyond its record ----

Watts found_later(const Job& job, const Wiring& wiring, const Outlook& outlook) {
    double watts = 0;
    for (const Stretch& stretch : outlook.stretches)
        for (std::uint32_t i = stretch.first; i < stretch.last; ++i) {
            const std::uint32_t place = wiring.order[i];
            if (place >= outlook.known && job.all<Point>()[place].origin == Origin::existing)
                watts += wiring.points[place].draw.watts;
        }
    return Watts(watts);
}

Watts unrecorded_of(const Job& job, const Wiring& wiring, const Assessment& a) {
    const Verdict verdict = a.judgement.verdict;
    if ((verdict != Verdict::more_load && verdict != Verdict::shorted) || !a.judgement.difference) return Watts(0);
    return std::max(Watts(0), *a.judgement.difference - found_later(job, wiring, *a.outlook));
}

// ---- all readings of a job, in the order they were entered ----
class Judge {
public:
    Judge(const Job& job, const Wiring& wiring, const LineState& as_left, Judged& judged)
        : job_(job),
          wiring_(wiring),
          as_left_(as_left),
          judged_(judged),
          outlooks_(wiring.zones.size()),
          latest_(wiring.zones.size(), nowhere) {}

    void judge(std::uint32_t place) {
        const Reading& reading = job_.all<Reading>()[place];
        judged_.readings[place].unjudged = why_not_compared(reading);
        if (!is_judged(reading)) return;
        const std::optional<Outlook> outlook = outlook_of(reading, points_before(job_, place));
        if (!outlook) return;
        Assessment a = begin_assessment(job_, reading, *outlook);
        if (const auto then = expected_then(reading))
            a.expected_s = then;
        else if (outlook->without_tap == 0)
            a.expected_s = siemens_now(reading, a);
        finish_assessment(job_, reading, baseline_of(*outlook), a);
        judged_.readings[place] = a.judgement;
        remember(place, reading, a);
    }

    // Once all are judged: the newest reading at each zone against the record as it is now.
    void look_again() {
        for (const std::uint32_t place : latest_)
            if (place != nowhere) look_again(place);
    }

private:
    void look_again(std::uint32_t place) {
        constexpr double noticeable = 0.02;  // a meter's own error; less is not worth a visit
        const Reading& reading = job_.all<Reading>()[place];
        const std::optional<double> then = expected_then(reading);
        const std::optional<Outlook> outlook =
            then ? outlook_from(job_, wiring_, *reading.at, static_cast<std::uint32_t>(job_.all<Point>().size()))
                 : std::nullopt;
        if (!outlook || outlook->without_tap > 0) return;
        const Assessment a = begin_assessment(job_, reading, *outlook);
        const double now = siemens_now(reading, a);
        if (std::abs(now - *then) <= noticeable * *then) return;
        // What was only found and written down brings the record nearer to what was read: nothing on site has changed.
        const bool is_nearer = std::abs(a.measured_s - now) < std::abs(a.measured_s - *then);
        if (judged_.readings[place].verdict == Verdict::more_load && is_nearer) return;
        judged_.readings[place].expected_now = Ohms(now > 0 ? 1 / now : std::numeric_limits<double>::infinity());
    }

    double siemens_now(const Reading& reading, const Assessment& a) const {
        return is_as_left(job_, reading, a) ? siemens_as_left(as_left_, *a.outlook)
                                            : std::abs(expected_siemens(job_, wiring_, *a.outlook, a.options));
    }

    // A zone is looked into once; again only where points came in between its readings.
    std::optional<Outlook> outlook_of(const Reading& reading, std::uint32_t known) {
        const auto zone = job_.place<Zone>(*reading.at);
        if (!zone) return outlook_from(job_, wiring_, *reading.at, known);
        std::optional<Outlook>& kept = outlooks_[*zone];
        if (!kept || kept->newest > std::min(known, kept->known))
            kept = outlook_from(job_, wiring_, *reading.at, known);
        kept->known = known;
        return kept;
    }

    static std::uint64_t key(const Outlook& outlook) {
        return (std::uint64_t{static_cast<std::uint8_t>(outlook.kind)} << 32) | outlook.place;
    }

    std::optional<BaselineGiven> baseline_of(const Outlook& outlook) const {
        const auto found = baselines_.find(key(outlook));
        if (found == baselines_.end()) return std::nullopt;
        return BaselineGiven{found->second, judged_.readings[found->second].expected};
    }

    void remember(std::uint32_t place, const Reading& reading, const Assessment& a) {
        const auto readings = job_.all<Reading>();
        if (can_be_baseline(reading)) {
            const auto [at, added] = baselines_.try_emplace(key(*a.outlook), place);
            if (!added && is_newer(reading, readings[at->second])) at->second = place;
        }
        if (a.outlook->kind != Kind::zone || a.judgement.verdict == Verdict::not_judged) return;
        std::uint32_t& latest = latest_[a.outlook->place];
        if (latest != nowhere && !is_newer(reading, readings[latest])) return;
        latest = place;
        judged_.zones[a.outlook->place].unrecorded = unrecorded_of(job_, wiring_, a);
    }

    const Job& job_;
    const Wiring& wiring_;
    const LineState& as_left_;
    Judged& judged_;
    std::vector<std::optional<Outlook>> outlooks_;  // by zone
    std::vector<std::uint32_t> latest_;             // by zone: its newest judged reading
    std::unordered_map<std::uint64_t, std::uint32_t> baselines_;
};

}  // namespace

Hertz test_frequency(const Job& job) {
    return job.info().test_hz.value_or(Defaults::test_hz);
}

Judgement judge(const Job& job, const Reading& draft) {
    return assess_draft(job, wire(job), draft).judgement;
}

void judge_readings(const Job& job, const Wiring& wiring, const LineState& as_left, Judged& judged) {
    Judge judge(job, wiring, as_left, judged);
    for (std::uint32_t place = 0; place < job.all<Reading>().size(); ++place) judge.judge(place);
    judge.look_again();
}

}  // namespace tapwright
