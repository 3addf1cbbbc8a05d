// What was read and heard of one line, as the search for faults counts it.
//
// Of each place the latest valid reading counts as it is now, and its baseline as it was before: so what all of a line
// share, and what its own loudspeakers are off by, cancels. A reading that matched the record on an earlier stay than
// the zone's latest counts as before as well, because whatever is wrong may have come since.
#include <algorithm>
#include <cmath>
#include <map>

#include "core/faults/fault_line.h"
#include "core/readings/assessment.h"
#include "core/readings/order.h"
#include "core/readings/readings.h"
#include "core/readings/with_without.h"

namespace tapwright {
namespace {

// Less moves no figure that anybody reads.
constexpr double noticeable = 0.005;
// Taps are noted in few digits: 0.63 W and 0.625 W are one.
constexpr double same_tap_within = 0.01;
// What two readings are expected to differ by is one loudspeaker's within so much of it.
constexpr double same_share = 0.02;

class Collector {
public:
    Collector(const Job& job, const Judged& judged, const FaultQuestion& question, FaultLine& line)
        : job_(job), judged_(judged), question_(question), line_(line) {}

    void collect() {
        const std::vector<std::uint32_t> order = in_order_taken(job_);
        taken_.resize(order.size());
        for (std::uint32_t k = 0; k < order.size(); ++k) taken_[order[k]] = k;
        for (const std::uint32_t place : order) take(place);
        take_drafts();
        settle_stays();
        add_looks();
        add_volts();
        for (const auto& [at, pick] : insulation_) add_insulation(pick);
        add_heard();
        add_taps();
        add_stored_loads();
        for (const LoadSeen& seen : question_.loads)
            if (is_on_line(seen.point) && seen.point != line_.zone_id)
                line_.loads.emplace_back(*job_.place<Point>(seen.point), seen);
    }

private:
    struct Pick {
        std::optional<std::uint32_t> reading;
        std::uint32_t with = 0;
        bool is_before = false;
        double rescaled = 1;  // where other ohms were expected of a baseline
    };
    struct Place {
        std::optional<Pick> now;
        std::optional<Pick> before;
    };
    using Key = std::pair<std::string, Measured>;

    const Reading& of(const Pick& pick) const {
        return pick.reading ? job_.all<Reading>()[*pick.reading] : question_.with[pick.with];
    }

    bool is_on_line(const Id& at) const {
        if (at == line_.zone_id) return true;
        const auto point = job_.place<Point>(at);
        return point && line_.wiring.points[*point].zone == line_.zone && !line_.wiring.points[*point].emergency;
    }

    void take(std::uint32_t place) {
        const Reading& reading = job_.all<Reading>()[place];
        if (!reading.at || !is_on_line(*reading.at) || !reading.quantity) return;
        if (!reading.value && !reading.over_range.value_or(false)) return;
        const Key key{reading.at->text(), *reading.quantity};
        switch (*reading.quantity) {
            case Measured::ohms:
                return take_ohms(place, reading, key);
            case Measured::dc_ohms:
                if (reading.isolated.value_or(true) && reading.value.value_or(0) > 0) places_[key].now = Pick{place};
                return;
            case Measured::volts:
                if (reading.signal.value_or(Signal::none) != Signal::none) volts_[key] = Pick{place};
                return;
            case Measured::earth_ohms:
            case Measured::cross_ohms:
                insulation_[key] = Pick{place};
                return;
            case Measured::tap_w:
                if (*reading.at != line_.zone_id && reading.value) taps_[reading.at->text()] = place;
                return;
            default:
                return;
        }
    }

    void take_ohms(std::uint32_t place, const Reading& reading, const Key& key) {
        const Judgement& judgement = judged_.readings[place];
        const bool is_believed = judgement.verdict != Verdict::not_judged ||
                                 (judgement.unjudged == Unjudged::taps_unknown && judgement.is_valid);
        if (!is_believed || judgement.isolation == Isolation::connected) return;
        if (reading.value && !(*reading.value > 0)) return;
        Pick pick{place};
        // What was expected of it has to be what is expected now; a baseline is held by how far it was off.
        if (reading.expected_ohm) {
            const std::optional<Ohms> today = expected_of(job_, reading);
            const double ratio = today ? *today / *reading.expected_ohm : 0;
            if (!std::isfinite(ratio) || !(ratio > 0)) return;
            const bool is_todays = std::abs(ratio - 1) <= noticeable;
            if (!is_todays && !reading.baseline.value_or(false)) {
                otherwise_.emplace_back(key, Otherwise{place, ratio});
                return;
            }
            if (!is_todays) pick.rescaled = ratio;
        }
        Place& at = places_[key];
        if (reading.baseline.value_or(false) && reading.value) {
            pick.is_before = true;
            at.before = pick;
            at.now.reset();
        } else {
            at.now = pick;
        }
    }

    void take_drafts() {
        for (std::uint32_t i = 0; i < question_.with.size(); ++i) {
            const Reading& reading = question_.with[i];
            if (!reading.at || !is_on_line(*reading.at) || !reading.quantity) continue;
            const Key key{reading.at->text(), *reading.quantity};
            const bool is_ohms = *reading.quantity == Measured::ohms || *reading.quantity == Measured::dc_ohms;
            // No line reads nought or less: that is no reading of it.
            if (is_ohms && !is_over_range(reading) && !(reading.value.value_or(0) > 0)) continue;
            const Pick pick{std::nullopt, i};
            if (*reading.quantity == Measured::volts)
                volts_[key] = pick;
            else if (*reading.quantity == Measured::earth_ohms || *reading.quantity == Measured::cross_ohms)
                insulation_[key] = pick;
            else
                places_[key].now = pick;
        }
    }

    // What matched the record on an earlier stay counts as before; where nothing else is left, the baseline is what
    // was read.
    void settle_stays() {
        const auto head = places_.find({line_.zone_id.text(), Measured::ohms});
        if (head != places_.end() && head->second.now && head->second.now->reading) {
            const Reading& latest = of(*head->second.now);
            for (auto& [key, place] : places_) {
                if (key.second != Measured::ohms || !place.now || !place.now->reading) continue;
                const Reading& reading = of(*place.now);
                const bool is_earlier = reading.time && latest.time &&
                                        taken_[*place.now->reading] < taken_[*head->second.now->reading] &&
                                        !is_same_stay(reading, latest);
                if (!is_earlier || judged_.readings[*place.now->reading].verdict != Verdict::agrees) continue;
                place.now->is_before = true;
            }
        }
        const bool has_now = std::any_of(places_.begin(), places_.end(), [](const auto& one) {
            return one.second.now && !one.second.now->is_before && one.first.second == Measured::ohms;
        });
        if (has_now) return;
        for (auto& [key, place] : places_) {
            if (key.second != Measured::ohms) continue;
            if (place.now)
                place.now->is_before = false;
            else if (place.before)
                place.now = std::exchange(place.before, std::nullopt);
            if (place.now) place.now->is_before = false;
        }
    }

    void add_looks() {
        for (const auto& [key, place] : places_) {
            if (place.before) add_look(key, *place.before);
            if (place.now) add_look(key, *place.now);
        }
        std::stable_partition(line_.looks.begin(), line_.looks.end(), [](const Look& look) { return look.is_before; });
    }

    void add_look(const Key& key, const Pick& pick) {
        const Reading& reading = of(pick);
        const bool is_dc = key.second == Measured::dc_ohms;
        // Nobody knows the copper of an attenuator.
        if (is_dc && line_.wiring.has_attenuators) return;
        Look look;
        look.reading = pick.reading;
        look.taken = pick.reading ? taken_[*pick.reading] : static_cast<std::uint32_t>(taken_.size()) + pick.with;
        look.at = *reading.at;
        look.quantity = key.second;
        look.is_over_range = is_over_range(reading);
        look.ohms = reading.value.value_or(0) * pick.rescaled;
        look.range = reading.range_ohm.value_or(Ohms(line_.spreads.range_ohm)).value();
        look.meter = meter_accuracy(reading).value() / 100 * line_.spreads.meter_of_accuracy;
        look.is_before = pick.is_before;
        look.condition =
            condition_for(job_, line_, reading.knobs.value_or(KnobMap{}), reading.override.value_or(false), is_dc);
        look.row = line_.conditions[look.condition].effects->watched(row_at(look.at));
        if (line_.wiring.has_models && !is_dc) look.ohms *= without_models(reading, look);
        if (look.is_over_range && look.is_before) return;
        line_.looks.push_back(std::move(look));
    }

    // Transformer models (inductance, winding resistance) make a reading differ from that of plain loads, at its
    // frequency. What is searched are plain loads, so a reading counts by how far it is off what is expected with them.
    double without_models(const Reading& reading, const Look& look) const {
        if (line_.unknown_taps > 0 || !line_.assumed.empty()) return 1;
        const std::optional<Ohms> expected = expected_of(job_, reading);
        const double plain = 1 / line_.conditions[look.condition].effects->as_recorded(look.row.row).siemens;
        const double ratio = expected ? plain / expected->value() : 0;
        return std::isfinite(ratio) && ratio > 0 ? ratio : 1;
    }

    LineRow row_at(const Id& at) const {
        return at == line_.zone_id ? LineRow{0} : line_.row_of(*job_.place<Point>(at));
    }

    // Volts of an earlier stay tell nothing of what has come since.
    void add_volts() {
        const std::optional<std::uint32_t> latest = latest_now();
        for (const auto& [key, pick] : volts_) {
            const Reading& reading = of(pick);
            if (pick.reading && latest && !is_since(*pick.reading, *latest)) continue;
            if (*reading.at == line_.zone_id || !reading.value) continue;
            VoltsLook look;
            look.reading = pick.reading;
            look.at = *reading.at;
            look.volts = *reading.value;
            look.meter = meter_accuracy(reading).value() / 100 * line_.spreads.meter_of_accuracy;
            const auto source = volts_.find({line_.zone_id.text(), Measured::volts});
            if (source != volts_.end() && of(source->second).value && is_one_stay(source->second, pick))
                look.source = of(source->second).value;
            look.row = line_.conditions[0].effects->watched(row_at(look.at));
            line_.volts.push_back(std::move(look));
        }
    }

    bool is_one_stay(const Pick& a, const Pick& b) const {
        return !a.reading || !b.reading || is_same_stay(of(a), of(b));
    }

    void add_insulation(const Pick& pick) {
        const Reading& reading = of(pick);
        const bool is_high = is_over_range(reading) || reading.value.value_or(0) >= least_insulation_ohms;
        const bool is_earth = reading.quantity == Measured::earth_ohms;
        std::optional<bool>& seen = is_earth ? line_.insulated : line_.parted;
        seen = seen.value_or(true) && is_high;
        (is_earth ? line_.insulation_reading : line_.parting_reading) = pick.reading;
    }

    // Of what is in the record only a tap that somebody looked at and found as recorded says more than the record:
    // since the line was read, for a tap may have been changed before. What was seen beside the job counts instead.
    void add_taps() {
        const std::optional<std::uint32_t> latest = latest_now();
        for (const auto& [at, place] : taps_) {
            const Reading& reading = job_.all<Reading>()[place];
            const Point& point = *job_.find<Point>(Id(at));
            const bool is_as_recorded =
                point.tap_w && std::abs(point.tap_w->value() / *reading.value - 1) <= same_tap_within;
            const bool is_seen_beside = std::any_of(question_.taps.begin(), question_.taps.end(),
                                                    [&](const TapSeen& seen) { return seen.point == point.id; });
            if (!is_as_recorded || is_seen_beside || (latest && !is_since(place, *latest))) continue;
            line_.taps.emplace_back(*job_.place<Point>(point.id), *point.tap_w);
        }
        for (const TapSeen& seen : question_.taps)
            if (is_on_line(seen.point) && seen.point != line_.zone_id)
                line_.taps.emplace_back(*job_.place<Point>(seen.point), seen.tap);
    }

    // Two readings of one place on one stay of which the record expects something else by one loudspeaker, that was off
    // the line for one of them: what it draws. Where several would do, nobody knows which it was.
    void add_stored_loads() {
        if (line_.wiring.has_models || !line_.assumed.empty()) return;
        for (const auto& [key, without] : otherwise_) {
            const auto place = places_.find(key);
            if (place == places_.end() || !place->second.now || !place->second.now->reading) continue;
            const Reading& one = job_.all<Reading>()[without.reading];
            const Reading& with = of(*place->second.now);
            if (!with.value || !one.value || !is_same_stay(one, with) || one.knobs != with.knobs ||
                one.override != with.override || one.hz != with.hz)
                continue;
            const std::optional<std::uint32_t> point = left_out_of(row_at(*one.at), without.ratio);
            const bool is_given =
                std::any_of(question_.loads.begin(), question_.loads.end(),
                            [&](const LoadSeen& seen) { return point && seen.point == job_.all<Point>()[*point].id; });
            if (!point || is_given) continue;
            const Percent meter = std::max(meter_accuracy(one), meter_accuracy(with));
            const LoadBetween between = load_between(line_.line_v, Ohms(*with.value), Ohms(*one.value), meter, nullptr);
            line_.loads.emplace_back(*point, LoadSeen{job_.all<Point>()[*point].id, between.watts, between.error});
        }
    }

    // The one loudspeaker without which so much less is expected there: today's ohms over those then.
    std::optional<std::uint32_t> left_out_of(LineRow row, double ratio) const {
        const LineEffects& effects = *line_.conditions.front().effects;
        const WiredZone& zone = line_.wiring.zones[line_.zone];
        const double whole = effects.as_recorded(row).siemens;
        std::optional<std::uint32_t> found;
        for (std::uint32_t i = zone.first; i < zone.last; ++i) {
            const std::uint32_t place = line_.wiring.order[i];
            const WiredPoint& point = line_.wiring.points[place];
            if (!point.connected || point.kind != PointKind::speaker || !effects.is_behind(line_.row_of(place), row))
                continue;
            const SingleEffect off(effects, {LineChange::What::load_is, line_.row_of(place), 0});
            if (std::abs(off.at(row).siemens / whole - ratio) > same_share * (1 - ratio)) continue;
            if (found) return std::nullopt;
            found = place;
        }
        return found;
    }

    bool is_since(std::uint32_t reading, std::uint32_t latest) const {
        const auto readings = job_.all<Reading>();
        return taken_[reading] >= taken_[latest] || is_same_stay(readings[reading], readings[latest]);
    }

    std::optional<std::uint32_t> latest_now() const {
        std::optional<std::uint32_t> latest;
        for (const Look& look : line_.looks) {
            if (look.is_before || !look.reading) continue;
            if (!latest || look.taken > taken_[*latest]) latest = look.reading;
        }
        return latest;
    }

    void add_heard() {
        const WiredZone& zone = line_.wiring.zones[line_.zone];
        const std::uint32_t count = zone.last - zone.first;
        line_.heard.assign(count, std::nullopt);
        for (std::uint32_t i = 0; i < count; ++i) {
            const std::uint32_t place = line_.wiring.order[zone.first + i];
            if (line_.wiring.points[place].connected) line_.heard[i] = job_.all<Point>()[place].heard;
        }
        for (const HeardNow& now : question_.heard) {
            const auto place = job_.place<Point>(now.point);
            if (!place || line_.wiring.points[*place].zone != line_.zone) continue;
            line_.heard[line_.wiring.position[*place] - zone.first] = now.heard;
        }
        line_.playing_before.assign(count + 1, 0);
        line_.silent_before.assign(count + 1, 0);
        for (std::uint32_t i = 0; i < count; ++i) {
            const bool is_silent = line_.heard[i] == Heard::silent;
            line_.silent_before[i + 1] = line_.silent_before[i] + is_silent;
            line_.playing_before[i + 1] = line_.playing_before[i] + (line_.heard[i] && !is_silent);
        }
    }

    const Job& job_;
    const Judged& judged_;
    const FaultQuestion& question_;
    FaultLine& line_;
    std::vector<std::uint32_t> taken_;  // of each reading of the job, as Look::taken
    // Read while the record expected something else.
    struct Otherwise {
        std::uint32_t reading = 0;
        double ratio = 1;  // today's ohms over those expected then
    };
    std::vector<std::pair<Key, Otherwise>> otherwise_;
    std::map<Key, Place> places_;
    std::map<Key, Pick> volts_;
    std::map<Key, Pick> insulation_;
    std::map<std::string, std::uint32_t> taps_;  // by point: the latest look at its tap
};

}  // namespace

void add_evidence(const Job& job, const Judged& judged, const FaultQuestion& question, FaultLine& line) {
    Collector(job, judged, question, line).collect();
}

}  // namespace tapwright
