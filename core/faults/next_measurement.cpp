#include "core/faults/next_measurement.h"

#include <algorithm>
#include <cmath>

#include "core/base/sort.h"
#include "core/faults/reading_bins.h"
#include "core/readings/assessment.h"

namespace tapwright {
namespace {

// Causes less likely than this do not weigh in what to measure next, nor does what comes after so many.
constexpr double live_from = 1e-5;
constexpr std::size_t most_live = 1000;
constexpr double least_bits = 1e-3;
constexpr double shorts_from = 0.02;
// Causes looked at in one step.
constexpr std::size_t causes_a_step = 300;
constexpr std::size_t points_a_step = 200;
// A reading tells about so much of the place, as it turned out on simulated lines.
constexpr double bits_a_climb = 2;

}  // namespace

std::string_view word(Asked asked) {
    static constexpr std::string_view words[] = {"ohms", "dc_ohms", "heard", "tap_w"};
    return words[static_cast<std::size_t>(asked)];
}

std::optional<Asked> asked_named(std::string_view text) {
    for (const Asked asked : {Asked::ohms, Asked::dc_ohms, Asked::heard, Asked::tap_w})
        if (word(asked) == text) return asked;
    return std::nullopt;
}

NextMeasurement::NextMeasurement(const Job& job, const Diagnosis& diagnosis, const NextOptions& options)
    : job_(job),
      diagnosis_(diagnosis),
      line_(diagnosis.line()),
      options_(options),
      likelihood_(diagnosis.line()),
      effects_(diagnosis.line()),
      room_(options.room) {
    const Look* latest = nullptr;
    for (const Look& look : line_.looks)
        if (!look.is_before && (!latest || look.taken > latest->taken)) latest = &look;
    const auto place = latest ? job.place<Point>(latest->at) : std::nullopt;
    if (!place) return;
    if (!options.room) room_ = job.all<Point>()[*place].room;
    if (line_.wiring.points[*place].kind == PointKind::speaker) ladder_ = *place;
}

// The likeliest come first.
void NextMeasurement::keep_live(std::size_t most) {
    const auto& causes = diagnosis_.causes();
    for (; most > 0 && weighed_ < causes.size(); --most, ++weighed_) {
        if (causes[weighed_].chance < live_from || live_.size() == most_live) {
            weighed_ = causes.size();
            return;
        }
        effects_.set(causes[weighed_]);
        live_.push_back({static_cast<std::uint32_t>(weighed_), causes[weighed_].chance, causes[weighed_].place,
                         likelihood_.of_readings(effects_, 0)});
    }
}

void NextMeasurement::settle_live() {
    double sum = 0;
    for (const Live& live : live_) sum += live.chance;
    for (Live& live : live_) live.chance /= sum;
    sort_by(live_, [](const Live& a, const Live& b) { return a.place < b.place; });
}

// Nothing where one place is sure; else as many readings as its bits take, one at least.
double NextMeasurement::minutes_for(double entropy, double most) const {
    return most >= sure_chance ? 0 : climb_ * std::max(1.0, entropy / bits_a_climb);
}

NextMeasurement::Left NextMeasurement::left_now() const {
    double entropy = 0;
    double most = 0;
    for (std::size_t i = 0; i < live_.size();) {
        double chance = 0;
        const std::uint32_t place = live_[i].place;
        for (; i < live_.size() && live_[i].place == place; ++i) chance += live_[i].chance;
        if (chance > 0) entropy -= chance * std::log2(chance);
        most = std::max(most, chance);
    }
    return {entropy, minutes_for(entropy, most)};
}

bool NextMeasurement::is_read(LineRow row, std::uint32_t condition, Measured quantity) const {
    return std::any_of(line_.looks.begin(), line_.looks.end(), [&](const Look& look) {
        return !look.is_before && look.quantity == quantity && look.row.row == row && look.condition == condition;
    });
}

void NextMeasurement::list_at_zone() {
    if (is_wanted(Asked::ohms)) {
        if (!is_read(0, 0, Measured::ohms)) candidates_.push_back({line_.zone_id, Asked::ohms, true});
        for (const auto& [point, condition] : line_.turned) {
            if (is_read(0, condition, Measured::ohms)) continue;
            Measurement measurement{line_.zone_id, Asked::ohms, true, point};
            measurement.turned_off = line_.conditions[condition].knobs.front().second.off;
            measurement.condition = condition;
            candidates_.push_back(std::move(measurement));
        }
    }
    double shorts = 0;
    for (const Cause& cause : diagnosis_.causes())
        if (!cause.faults.empty() && cause.faults.front().kind == FaultKind::shorted) shorts += cause.chance;
    for (std::uint32_t i = 0; i < line_.conditions.size(); ++i)
        if (line_.conditions[i].is_dc && is_wanted(Asked::dc_ohms) && shorts >= shorts_from &&
            !is_read(0, i, Measured::dc_ohms)) {
            Measurement measurement{line_.zone_id, Asked::dc_ohms, true};
            measurement.condition = i;
            candidates_.push_back(std::move(measurement));
        }
}

void NextMeasurement::list_at(std::uint32_t place, LineRow row, bool is_heard) {
    const WiredPoint& point = line_.wiring.points[place];
    const Id& id = job_.all<Point>()[place].id;
    if (point.emergency) return;
    if (is_wanted(Asked::ohms) && !is_read(row, 0, Measured::ohms)) {
        Measurement measurement{id, Asked::ohms};
        measurement.row = row;
        candidates_.push_back(std::move(measurement));
    }
    if (!point.connected) return;
    if (is_wanted(Asked::heard) && !is_heard)
        candidates_.push_back({id, Asked::heard, false, std::nullopt, false, 0, row});
    const bool is_seen =
        std::any_of(line_.taps.begin(), line_.taps.end(), [&](const auto& seen) { return seen.first == place; });
    if (is_wanted(Asked::tap_w) && !is_seen)
        candidates_.push_back({id, Asked::tap_w, false, std::nullopt, false, 0, row});
}

// Some points more. Returns: whether that was all.
bool NextMeasurement::list_candidates(std::size_t most) {
    const WiredZone& zone = line_.wiring.zones[line_.zone];
    const std::size_t from = candidates_.size();
    if (listed_ == 0) {
        climb_ = options_.costs.at_loudspeaker;
        list_at_zone();
    }
    const std::uint32_t count = zone.last - zone.first;
    for (; most > 0 && listed_ < count; --most, ++listed_)
        list_at(line_.wiring.order[zone.first + listed_], line_.rows[listed_], line_.heard[listed_].has_value());
    if (listed_ == count && is_wanted(Asked::heard)) list_walks();
    for (std::size_t i = from; i < candidates_.size(); ++i) {
        Measurement& measurement = candidates_[i];
        measurement.minutes = minutes_of(measurement);
        if (measurement.asked == Asked::ohms && !measurement.at_zone) climb_ = std::min(climb_, measurement.minutes);
    }
    return listed_ == count;
}

Look NextMeasurement::look_of(const Measurement& measurement) const {
    Look look;
    look.at = measurement.at;
    look.condition = measurement.condition;
    look.range = line_.spreads.range_ohm;
    look.meter =
        line_.looks.empty() ? Percent(3).value() / 100 * line_.spreads.meter_of_accuracy : line_.looks.back().meter;
    look.row = line_.conditions[measurement.condition].effects->watched(measurement.row);
    return look;
}

NextMeasurement::Left NextMeasurement::left_after_ohms(const Measurement& measurement) {
    const Look look = look_of(measurement);
    ReadingBins bins(look.range);
    for (std::size_t i = 0; i < live_.size(); ++i) {
        const Live& live = live_[i];
        effects_.set(diagnosis_.causes()[live.cause]);
        bins.add(live.chance, likelihood_.predict(effects_, look, live.fit, live.fit.looks.size()));
        if (i + 1 == live_.size() || live_[i + 1].place != live.place) bins.close_place();
    }
    Left left;
    bins.for_each([&](double chance, double entropy, double most) {
        left.bits += chance * entropy;
        left.minutes += chance * minutes_for(entropy, most);
    });
    return left;
}

// Where there are few answers, each with a chance under each cause.
template <class ChanceOf>
NextMeasurement::Left NextMeasurement::left_after(std::size_t answers, const ChanceOf& chance_of) const {
    Left left;
    for (std::size_t answer = 0; answer < answers; ++answer) {
        double all = 0;
        double logs = 0;
        double mine = 0;
        double most = 0;
        for (std::size_t i = 0; i < live_.size(); ++i) {
            mine += live_[i].chance * chance_of(live_[i], answer);
            if (i + 1 < live_.size() && live_[i + 1].place == live_[i].place) continue;
            all += mine;
            most = std::max(most, mine);
            if (mine > 0) logs += mine * std::log2(mine);
            mine = 0;
        }
        if (!(all > 0)) continue;
        const double entropy = std::log2(all) - logs / all;
        left.bits += all * entropy;
        left.minutes += all * minutes_for(entropy, most / all);
    }
    return left;
}

NextMeasurement::Left NextMeasurement::left_after_listening(const Measurement& measurement) const {
    const std::uint32_t position =
        line_.wiring.position[*job_.place<Point>(measurement.at)] - line_.wiring.zones[line_.zone].first;
    return left_after(2, [&](const Live& live, std::size_t answer) {
        const bool is_silent = likelihood_.is_silent(diagnosis_.causes()[live.cause], position);
        const double silent = is_silent ? 1 - line_.spreads.misheard_playing : line_.spreads.misheard_silent;
        return answer == 0 ? silent : 1 - silent;
    });
}

// 0: as recorded; 1: on its low-impedance setting; 2 and up: the type's taps.
std::size_t NextMeasurement::tap_answer(std::uint32_t point, const Cause& cause) const {
    for (const Fault& fault : cause.faults) {
        if (fault.points.empty() || fault.points.front() != point) continue;
        if (fault.kind == FaultKind::bypass) return 1;
        if (fault.kind != FaultKind::tap || !fault.value) continue;
        const SpeakerType& type = job_.all<SpeakerType>()[line_.wiring.points[point].speaker_type];
        for (std::size_t i = 0; i < type.taps_w->size(); ++i)
            if ((*type.taps_w)[i].value() == *fault.value) return 2 + i;
    }
    return 0;
}

// Each cause gives one answer and no other.
NextMeasurement::Left NextMeasurement::left_after_look(const Measurement& measurement) const {
    const std::uint32_t place = *job_.place<Point>(measurement.at);
    const WiredPoint& point = line_.wiring.points[place];
    std::size_t answers = 2;
    if (point.speaker_type != nowhere)
        if (const auto& taps = job_.all<SpeakerType>()[point.speaker_type].taps_w) answers += taps->size();
    std::vector<Answered> answered(answers);
    for (const Live& live : live_)
        answered[tap_answer(place, diagnosis_.causes()[live.cause])].add(live.chance, live.place);
    return left_of(answered);
}

NextMeasurement::Left NextMeasurement::left_of(std::vector<Answered>& answered) const {
    Left left;
    for (Answered& answer : answered) {
        answer.close();
        if (!(answer.all > 0)) continue;
        const double entropy = std::log2(answer.all) - answer.logs / answer.all;
        left.bits += answer.all * entropy;
        left.minutes += answer.all * minutes_for(entropy, answer.most / answer.all);
    }
    return left;
}

bool NextMeasurement::step() {
    if (!is_listed_) {
        if (diagnosis_.is_sure()) return false;
        if (weighed_ < diagnosis_.causes().size()) {
            keep_live(causes_a_step);
            if (weighed_ == diagnosis_.causes().size()) settle_live();
            return true;
        }
        is_listed_ = list_candidates(points_a_step);
        if (is_listed_) now_ = left_now();
        return !is_listed_ || !candidates_.empty();
    }
    if (done_ >= candidates_.size()) return false;
    Measurement& measurement = candidates_[done_++];
    Left left;
    switch (measurement.asked) {
        case Asked::ohms:
        case Asked::dc_ohms:
            left = left_after_ohms(measurement);
            break;
        case Asked::heard:
            left = measurement.heard.empty() ? left_after_listening(measurement) : left_after_walk(measurement);
            break;
        case Asked::tap_w:
            left = left_after_look(measurement);
            break;
    }
    measurement.bits = std::max(0.0, now_.bits - left.bits);
    measurement.minutes_left = left.minutes;
    return done_ < candidates_.size();
}

std::vector<Measurement> NextMeasurement::best(std::size_t most) const {
    const bool listens = options_.equal_costs || listening_is_worth_it();
    std::vector<Measurement> best;
    for (const Measurement& measurement : candidates_)
        if (measurement.bits >= least_bits && (listens || measurement.asked != Asked::heard))
            best.push_back(measurement);
    const auto worth = [&](const Measurement& measurement) {
        return options_.equal_costs ? measurement.bits : measurement.bits / measurement.minutes;
    };
    sort_by(best, [&](const Measurement& a, const Measurement& b) { return worth(a) > worth(b); });
    if (best.size() > most) best.resize(most);
    for (Measurement& measurement : best) add_expected(measurement);
    return best;
}

}  // namespace tapwright
