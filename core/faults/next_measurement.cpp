#include "core/faults/next_measurement.h"

#include <algorithm>
#include <cmath>

namespace tapwright {
namespace {

// Causes less likely than this do not weigh in what to measure next.
constexpr double live_from = 1e-5;
constexpr double least_bits = 1e-3;
constexpr double shorts_from = 0.02;
// Readings are told apart in steps of so much of their logarithm, finer than any meter.
constexpr double step_of_log = 0.01;
constexpr double lowest_ohms = 0.05;

double entropy_part(double chance) {
    return chance > 0 ? -chance * std::log2(chance) : 0;
}

// How much is left to know of the place once a reading is there: chances by place, spread over what may be read.
class ReadingBins {
public:
    explicit ReadingBins(double most_ohms)
        : bins_(static_cast<std::size_t>(std::log(most_ohms / lowest_ohms) / step_of_log) + 2),
          mine_(bins_, 0),
          all_(bins_, 0),
          logs_(bins_, 0) {}

    void add(double chance, const NormalLog& reading) {
        const double middle = (reading.mean - std::log(lowest_ohms)) / step_of_log;
        const double deviation = reading.deviation / step_of_log;
        const auto last = static_cast<double>(bins_ - 1);
        const double low = std::clamp(middle - 3.5 * deviation, 0.0, last);
        const double high = std::clamp(middle + 3.5 * deviation, 0.0, last);
        const auto from = static_cast<std::size_t>(low);
        const auto to = static_cast<std::size_t>(high);
        touched_from_ = std::min(touched_from_, from);
        touched_to_ = std::max(touched_to_, to);
        if (from == to) {
            mine_[from] += chance;
            return;
        }
        // A normal curve by its own recurrence: no exponential for each step.
        const double start = (static_cast<double>(from) + 0.5 - middle) / deviation;
        const double pace = 1 / deviation;
        double value = std::exp(-0.5 * start * start);
        double ratio = std::exp(-start * pace - 0.5 * pace * pace);
        const double bend = std::exp(-pace * pace);
        double sum = 0;
        for (std::size_t i = from; i <= to; ++i, value *= ratio, ratio *= bend) sum += weights_at(i - from, value);
        for (std::size_t i = from; i <= to; ++i) mine_[i] += chance * weights_[i - from] / sum;
    }

    void close_place() {
        for (std::size_t i = touched_from_; i <= touched_to_ && i < bins_; ++i) {
            const double mass = mine_[i];
            if (mass > 0) {
                all_[i] += mass;
                logs_[i] += mass * std::log2(mass);
                mine_[i] = 0;
            }
        }
        touched_from_ = bins_;
        touched_to_ = 0;
    }

    double entropy_left() const {
        double left = 0;
        for (std::size_t i = 0; i < bins_; ++i)
            if (all_[i] > 0) left += all_[i] * std::log2(all_[i]) - logs_[i];
        return left;
    }

private:
    double weights_at(std::size_t i, double value) {
        if (weights_.size() <= i) weights_.resize(i + 1);
        return weights_[i] = value;
    }

    std::size_t bins_;
    std::vector<double> mine_;  // of the place at hand
    std::vector<double> all_;
    std::vector<double> logs_;
    std::vector<double> weights_;
    std::size_t touched_from_ = static_cast<std::size_t>(-1);
    std::size_t touched_to_ = 0;
};

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
    if (diagnosis.is_sure()) return;
    for (const Look& look : line_.looks)
        if (!options.room && !look.is_before)
            if (const Point* point = job.find<Point>(look.at)) room_ = point->room;
    keep_live();
    entropy_ = entropy_now();
    list_candidates();
}

void NextMeasurement::keep_live() {
    const auto& causes = diagnosis_.causes();
    double sum = 0;
    for (std::uint32_t i = 0; i < causes.size(); ++i) {
        if (causes[i].chance < live_from) continue;
        effects_.set(causes[i]);
        live_.push_back({i, causes[i].chance, causes[i].place, likelihood_.of_readings(effects_, 0)});
        sum += causes[i].chance;
    }
    for (Live& live : live_) live.chance /= sum;
    std::stable_sort(live_.begin(), live_.end(), [](const Live& a, const Live& b) { return a.place < b.place; });
}

double NextMeasurement::entropy_now() const {
    double entropy = 0;
    for (std::size_t i = 0; i < live_.size();) {
        double chance = 0;
        const std::uint32_t place = live_[i].place;
        for (; i < live_.size() && live_[i].place == place; ++i) chance += live_[i].chance;
        entropy += entropy_part(chance);
    }
    return entropy;
}

void NextMeasurement::list_candidates() {
    const auto wanted = [&](Asked asked) { return !options_.only || *options_.only == asked; };
    const auto is_read = [&](LineRow row, std::uint32_t condition, Measured quantity) {
        return std::any_of(line_.looks.begin(), line_.looks.end(), [&](const Look& look) {
            return !look.is_before && look.quantity == quantity && look.row.row == row && look.condition == condition;
        });
    };
    const auto add = [&](Measurement measurement) { candidates_.push_back(std::move(measurement)); };
    const WiredZone& zone = line_.wiring.zones[line_.zone];
    if (wanted(Asked::ohms)) {
        if (!is_read(0, 0, Measured::ohms)) add({line_.zone_id, Asked::ohms, true});
        for (const auto& [point, condition] : line_.turned) {
            if (is_read(0, condition, Measured::ohms)) continue;
            Measurement measurement{line_.zone_id, Asked::ohms, true, point};
            measurement.turned_off = line_.conditions[condition].knobs.front().second.off;
            measurement.condition = condition;
            add(measurement);
        }
    }
    double shorts = 0;
    for (const Cause& cause : diagnosis_.causes())
        if (!cause.faults.empty() && cause.faults.front().kind == FaultKind::shorted) shorts += cause.chance;
    for (std::uint32_t i = 0; i < line_.conditions.size(); ++i)
        if (line_.conditions[i].is_dc && wanted(Asked::dc_ohms) && shorts >= shorts_from &&
            !is_read(0, i, Measured::dc_ohms)) {
            Measurement measurement{line_.zone_id, Asked::dc_ohms, true};
            measurement.condition = i;
            add(measurement);
        }
    for (std::uint32_t i = zone.first; i < zone.last; ++i) {
        const std::uint32_t place = line_.wiring.order[i];
        const WiredPoint& point = line_.wiring.points[place];
        const Id& id = job_.all<Point>()[place].id;
        const LineRow row = line_.rows[i - zone.first];
        if (point.emergency) continue;
        if (wanted(Asked::ohms) && !is_read(row, 0, Measured::ohms)) {
            Measurement measurement{id, Asked::ohms};
            measurement.row = row;
            add(measurement);
        }
        if (!point.connected) continue;
        if (wanted(Asked::heard) && !line_.heard[i - zone.first])
            add({id, Asked::heard, false, std::nullopt, false, 0, row});
        const bool is_seen =
            std::any_of(line_.taps.begin(), line_.taps.end(), [&](const auto& seen) { return seen.first == place; });
        if (wanted(Asked::tap_w) && !is_seen) add({id, Asked::tap_w, false, std::nullopt, false, 0, row});
    }
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

double NextMeasurement::left_after_ohms(const Measurement& measurement) {
    const Look look = look_of(measurement);
    ReadingBins bins(look.range);
    for (std::size_t i = 0; i < live_.size(); ++i) {
        const Live& live = live_[i];
        effects_.set(diagnosis_.causes()[live.cause]);
        bins.add(live.chance, likelihood_.predict(effects_, look, live.fit, live.fit.looks.size()));
        if (i + 1 == live_.size() || live_[i + 1].place != live.place) bins.close_place();
    }
    return bins.entropy_left();
}

// Where there are few answers, each with a chance under each cause.
template <class ChanceOf>
double NextMeasurement::left_after(std::size_t answers, const ChanceOf& chance_of) const {
    double left = 0;
    for (std::size_t answer = 0; answer < answers; ++answer) {
        double all = 0;
        double logs = 0;
        double mine = 0;
        for (std::size_t i = 0; i < live_.size(); ++i) {
            mine += live_[i].chance * chance_of(live_[i], answer);
            if (i + 1 < live_.size() && live_[i + 1].place == live_[i].place) continue;
            all += mine;
            if (mine > 0) logs += mine * std::log2(mine);
            mine = 0;
        }
        if (all > 0) left += all * std::log2(all) - logs;
    }
    return left;
}

double NextMeasurement::left_after_listening(const Measurement& measurement) const {
    const std::uint32_t position =
        line_.wiring.position[*job_.place<Point>(measurement.at)] - line_.wiring.zones[line_.zone].first;
    return left_after(2, [&](const Live& live, std::size_t answer) {
        const bool is_silent = likelihood_.is_silent(diagnosis_.causes()[live.cause], position);
        const double silent = is_silent ? 1 - line_.spreads.misheard_playing : line_.spreads.misheard_silent;
        return answer == 0 ? silent : 1 - silent;
    });
}

// 0: as recorded; 1: on its low-impedance setting; 2 and up: the type's taps.
std::size_t NextMeasurement::tap_answer(const Measurement& measurement, const Cause& cause) const {
    const std::uint32_t point = *job_.place<Point>(measurement.at);
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

double NextMeasurement::left_after_look(const Measurement& measurement) const {
    const WiredPoint& point = line_.wiring.points[*job_.place<Point>(measurement.at)];
    std::size_t answers = 2;
    if (point.speaker_type != nowhere)
        if (const auto& taps = job_.all<SpeakerType>()[point.speaker_type].taps_w) answers += taps->size();
    return left_after(answers, [&](const Live& live, std::size_t answer) {
        return tap_answer(measurement, diagnosis_.causes()[live.cause]) == answer ? 1.0 : 0.0;
    });
}

bool NextMeasurement::step() {
    if (done_ >= candidates_.size()) return false;
    Measurement& measurement = candidates_[done_++];
    double left = 0;
    switch (measurement.asked) {
        case Asked::ohms:
        case Asked::dc_ohms:
            left = left_after_ohms(measurement);
            break;
        case Asked::heard:
            left = left_after_listening(measurement);
            break;
        case Asked::tap_w:
            left = left_after_look(measurement);
            break;
    }
    measurement.bits = std::max(0.0, entropy_ - left);
    measurement.minutes = minutes_of(measurement);
    return done_ < candidates_.size();
}

std::vector<Measurement> NextMeasurement::best(std::size_t most) const {
    std::vector<Measurement> best;
    for (const Measurement& measurement : candidates_)
        if (measurement.bits >= least_bits) best.push_back(measurement);
    const auto worth = [&](const Measurement& measurement) {
        return options_.equal_costs ? measurement.bits : measurement.bits / measurement.minutes;
    };
    std::stable_sort(best.begin(), best.end(),
                     [&](const Measurement& a, const Measurement& b) { return worth(a) > worth(b); });
    if (best.size() > most) best.resize(most);
    for (Measurement& measurement : best) add_expected(measurement);
    return best;
}

}  // namespace tapwright
