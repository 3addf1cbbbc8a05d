#include "core/readings/readings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <unordered_map>

#include "core/readings/account.h"
#include "core/readings/order.h"

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

std::optional<Ohms> expected_with_planned(const Job& job, const Wiring& wiring, const Assessment& a) {
    if (a.outlook->planned == 0) return std::nullopt;
    SolveOptions all = a.options;
    all.planned = true;
    return ohms_of_admittance(expected_siemens(job, wiring, *a.outlook, all));
}

// ---- all readings of a job, in the order they were taken ----
class Judge {
public:
    Judge(const Job& job, const Wiring& wiring, const LineState& as_left, Judged& judged)
        : job_(job),
          wiring_(wiring),
          as_left_(as_left),
          judged_(judged),
          strays_(job, wiring),
          outlooks_(wiring.zones.size()),
          accounts_(wiring.zones.size()),
          order_(in_order_taken(job)),
          turns_(order_.size(), 0),
          taken_(order_.size(), false),
          found_(found_by_reading()),
          waiting_(wiring.zones.size(), 0) {
        for (std::uint32_t turn = 0; turn < order_.size(); ++turn) turns_[order_[turn]] = turn;
        for (const WiredPoint& point : wiring.points) {
            if (point.found_by == nowhere || point.zone == nowhere) continue;
            zones_found_by_[point.found_by].push_back(point.zone);
            ++waiting_[point.zone];
            ++all_waiting_;
        }
    }

    void judge_all() {
        for (const std::uint32_t place : order_) {
            judge(place);
            take(place);
        }
        for (std::size_t zone = 0; zone < accounts_.size(); ++zone) close_account(zone);
        for (const auto& [key, place] : latest_) look_again(place);
    }

private:
    // What was found by a reading came into the record after it, wherever a file has put it.
    void take(std::uint32_t place) {
        taken_[place] = true;
        const auto found = zones_found_by_.find(place);
        if (found == zones_found_by_.end()) return;
        for (const std::uint32_t zone : found->second) --waiting_[zone];
        all_waiting_ -= found->second.size();
    }

    void judge(std::uint32_t place) {
        const Reading& reading = job_.all<Reading>()[place];
        strays_.take(place);
        judged_.readings[place].unjudged = why_not_compared(reading);
        if (!is_judged(reading)) return;
        const std::optional<Outlook> outlook = outlook_of(place, points_before(job_, place));
        if (!outlook) return;
        Assessment a = begin_assessment(job_, reading, *outlook);
        a.options.taken = &taken_;
        const std::optional<double> then = expected_then(reading);
        set_expected(then ? *then : siemens_now(reading, a), a);
        a.judgement.stray = strays_.against(reading);
        finish_assessment(job_, reading, baseline_of(*outlook), a);
        judged_.readings[place] = a.judgement;
        remember(place, reading, a);
    }

    // What was found since each reading, as part of what it showed: of loudspeakers that are still in its zone.
    std::vector<double> found_by_reading() const {
        const auto readings = job_.all<Reading>();
        std::vector<double> found(readings.size(), 0);
        for (const WiredPoint& point : wiring_.points) {
            if (point.found_by == nowhere || point.zone == nowhere) continue;
            const auto& at = readings[point.found_by].at;
            if (at && job_.all<Zone>()[point.zone].id == *at) found[point.found_by] += point.found_w;
        }
        return found;
    }

    void close_account(std::size_t zone) {
        const Account& account = accounts_[zone];
        ZoneState& state = judged_.zones[zone];
        state.reading = account.reading();
        state.latest_reading = account.latest();
        state.margin.unrecorded = account.unrecorded();
        const auto rank_of = [&] { return job_.rank<Reading>(*account.latest_valid()); };
        const WiredZone& wired = wiring_.zones[zone];
        for (std::uint32_t i = wired.first; i < wired.last; ++i) {
            const std::uint32_t place = wiring_.order[i];
            const WiredPoint& point = wiring_.points[place];
            if (!point.draw.counts || point.draw.known) continue;
            const bool was_there = job_.all<Point>()[place].origin == Origin::existing;
            const bool came_after = !was_there && point.found_by != nowhere && account.latest_valid() &&
                                    turns_[point.found_by] >= turns_[*account.latest_valid()];
            const bool is_seen = point.connected && account.latest_valid() && !came_after &&
                                 (was_there || job_.rank<Point>(place) < rank_of());
            state.margin.is_open_ended |= !is_seen;
        }
    }

    // The newest reading at each place against the record as it is now.
    void look_again(std::uint32_t place) {
        constexpr double noticeable = 0.005;  // less moves no figure that anybody reads
        const Reading& reading = job_.all<Reading>()[place];
        const std::optional<double> then = expected_then(reading);
        const auto all_points = static_cast<std::uint32_t>(job_.all<Point>().size());
        const std::optional<Outlook> outlook = outlook_from(job_, wiring_, *reading.at, all_points);
        if (!outlook) return;
        const Assessment a = begin_assessment(job_, reading, *outlook);
        judged_.readings[place].expected_all = expected_with_planned(job_, wiring_, a);
        if (!then || outlook->without_tap > 0) return;
        const double now = siemens_now(reading, a);
        if (std::abs(now - *then) <= noticeable * *then) return;
        // What was only found and written down brings the record nearer to what was read: nothing on site has changed.
        const bool is_nearer = std::abs(a.measured_s - now) < std::abs(a.measured_s - *then);
        if (judged_.readings[place].verdict == Verdict::more_load && is_nearer) return;
        judged_.readings[place].expected_now = Ohms(now > 0 ? 1 / now : std::numeric_limits<double>::infinity());
    }

    double siemens_now(const Reading& reading, const Assessment& a) const {
        const bool all_there = !a.options.taken || all_waiting_ == 0;
        return is_as_left(job_, reading, a) && all_there
                   ? siemens_as_left(as_left_, *a.outlook)
                   : std::abs(expected_siemens(job_, wiring_, *a.outlook, a.options));
    }

    // A zone is looked into once; again only where points came in between its readings.
    std::optional<Outlook> outlook_of(std::uint32_t place, std::uint32_t known) {
        const Reading& reading = job_.all<Reading>()[place];
        const auto zone = job_.place<Zone>(*reading.at);
        if (!zone) return outlook_from(job_, wiring_, *reading.at, known, &taken_);
        LookedInto& kept = outlooks_[*zone];
        if (!kept.outlook || kept.waiting != waiting_[*zone] ||
            kept.outlook->newest > std::min(known, kept.outlook->known))
            kept = {outlook_from(job_, wiring_, *reading.at, known, &taken_), waiting_[*zone]};
        if (kept.outlook) kept.outlook->known = known;
        return kept.outlook;
    }

    struct LookedInto {
        std::optional<Outlook> outlook;
        std::uint32_t waiting = 0;  // of waiting_, when it was looked into
    };

    static std::uint64_t key(const Outlook& outlook) {
        return (std::uint64_t{static_cast<std::uint8_t>(outlook.kind)} << 32) | outlook.place;
    }

    std::optional<BaselineGiven> baseline_of(const Outlook& outlook) const {
        const auto found = baselines_.find(key(outlook));
        if (found == baselines_.end()) return std::nullopt;
        return BaselineGiven{found->second, judged_.readings[found->second].expected};
    }

    void remember(std::uint32_t place, const Reading& reading, const Assessment& a) {
        if (is_baseline(reading, a.judgement)) baselines_.insert_or_assign(key(*a.outlook), place);
        if (a.judgement.verdict != Verdict::not_judged) latest_.insert_or_assign(key(*a.outlook), place);
        if (a.outlook->kind == Kind::zone) {
            Account& account = accounts_[a.outlook->place];
            account.enter(place, a, Watts(found_[place]), found_since(account.standing(), a));
        }
    }

    FoundSince found_since(std::optional<std::uint32_t> standing, const Assessment& a) const {
        FoundSince found;
        if (!standing || !zones_found_by_.contains(*standing)) return found;
        for (const Stretch& stretch : a.outlook->stretches)
            for (std::uint32_t i = stretch.first; i < stretch.last; ++i) {
                const std::uint32_t place = wiring_.order[i];
                const WiredPoint& point = wiring_.points[place];
                if (point.found_by != *standing) continue;
                const double share = share_arriving(place, a.options);
                (share > 0 ? found.shown : found.hidden) += Watts(point.found_w);
                found.arriving += Watts(point.found_w * share);
            }
        return found;
    }

    // What the line draws for each watt of a loudspeaker behind attenuators; an override lets all of it through.
    double share_arriving(std::uint32_t place, const SolveOptions& options) const {
        double share = 1;
        if (options.override_active) return share;
        for (std::uint32_t at = place; wiring_.points[at].feed != nowhere; at = wiring_.points[at].feed) {
            const std::uint32_t feed = wiring_.points[at].feed;
            if (wiring_.points[feed].kind != PointKind::attenuator || wiring_.points[at].feed_in) continue;
            const Knob knob = knobs_of(job_, std::array{feed}, options).front();
            share *= knob.off ? 0 : power_ratio(std::min(knob.step, Decibels(0)));
        }
        return share;
    }

    const Job& job_;
    const Wiring& wiring_;
    const LineState& as_left_;
    Judged& judged_;
    StrayVolts strays_;
    std::vector<LookedInto> outlooks_;    // by zone
    std::vector<Account> accounts_;       // by zone
    std::vector<std::uint32_t> order_;    // readings as they were taken
    std::vector<std::uint32_t> turns_;    // by reading: when, in that order
    std::vector<bool> taken_;             // by reading: whether its turn is over
    std::vector<double> found_;           // by reading
    std::vector<std::uint32_t> waiting_;  // by zone: points found by readings that are not taken yet
    std::size_t all_waiting_ = 0;         // of all zones
    std::unordered_map<std::uint32_t, std::vector<std::uint32_t>> zones_found_by_;  // of each point found by a reading
    std::map<std::uint64_t, std::uint32_t> latest_;  // by place: its newest judged reading
    std::unordered_map<std::uint64_t, std::uint32_t> baselines_;
};

}  // namespace

Hertz test_frequency(const Job& job) {
    return job.info().test_hz.value_or(Defaults::test_hz);
}

namespace {

// The reading of stray volts that speaks against a draft: of those taken up to then, or of all where nobody says when.
std::optional<std::uint32_t> stray_against(const Job& job, const Wiring& wiring, const Reading& draft) {
    StrayVolts strays(job, wiring);
    for (const std::uint32_t place : in_order_taken(job)) {
        const auto& time = job.all<Reading>()[place].time;
        const bool is_after = draft.time && time && milliseconds(*time) > milliseconds(*draft.time);
        if (!is_after) strays.take(place);
    }
    return strays.against(draft);
}

std::optional<BaselineGiven> baseline_for(const Job& job, const Judged& judged, const Reading& draft) {
    std::optional<BaselineGiven> newest;
    for (const std::uint32_t place : in_order_taken(job)) {
        const Reading& reading = job.all<Reading>()[place];
        if (reading.at == draft.at && is_baseline(reading, judged.readings[place]))
            newest = BaselineGiven{place, judged.readings[place].expected};
    }
    return newest;
}

}  // namespace

Judgement judge(const Job& job, const Judged& judged, const Reading& draft) {
    Judgement none;
    none.unjudged = why_not_compared(draft);
    if (!is_judged(draft)) return none;
    const Wiring wiring = wire(job);
    std::optional<Outlook> outlook = outlook_from(job, wiring, *draft.at, nowhere);
    if (!outlook) return none;
    Assessment a = begin_assessment(job, draft, std::move(*outlook));
    const auto then = expected_then(draft);
    set_expected(then ? *then : std::abs(expected_siemens(job, wiring, *a.outlook, a.options)), a);
    a.judgement.stray = stray_against(job, wiring, draft);
    finish_assessment(job, draft, baseline_for(job, judged, draft), a);
    a.judgement.expected_all = expected_with_planned(job, wiring, a);
    return a.judgement;
}

std::optional<Ohms> expected_of(const Job& job, const Reading& draft) {
    if (draft.quantity != Measured::ohms || !draft.at) return std::nullopt;
    const Wiring wiring = wire(job);
    const std::optional<Outlook> outlook = outlook_from(job, wiring, *draft.at, nowhere);
    if (!outlook) return std::nullopt;
    return ohms_of_admittance(expected_siemens(job, wiring, *outlook, conditions_of(job, draft)));
}

void judge_readings(const Job& job, const Wiring& wiring, const LineState& as_left, Judged& judged) {
    Judge(job, wiring, as_left, judged).judge_all();
}

}  // namespace tapwright
