#include "core/faults/diagnosis.h"

#include <algorithm>
#include <cmath>

#include "core/base/sort.h"
#include "core/faults/likely_pairs.h"

namespace tapwright {
namespace {

// With one reading almost anything fits, so it takes much doubt that one fault does before two at once are looked at;
// with more readings they always are.
constexpr double pairs_from_one_reading = 0.15;
constexpr double least_chance = 1e-9;

}  // namespace

std::string_view word(FaultKind kind) {
    static constexpr std::string_view words[] = {"none",    "dead",       "broken", "shorted", "tap",
                                                 "bypass",  "joint",      "leak",   "extra",   "position",
                                                 "missing", "wrong_feed", "earth",  "crossed"};
    return words[static_cast<std::size_t>(kind)];
}

Diagnosis::Diagnosis(FaultLine line) : line_(std::make_unique<FaultLine>(std::move(line))) {}

Result<Diagnosis> Diagnosis::begin(const Job& job, const Judged& judged, const FaultQuestion& question) {
    Result<FaultLine> line = fault_line(job, judged, question);
    if (!line) return line.refusal();
    return Diagnosis(std::move(*line));
}

Result<Diagnosis> Diagnosis::of(const Job& job, const Judged& judged, const FaultQuestion& question) {
    Result<Diagnosis> diagnosis = begin(job, judged, question);
    if (!diagnosis) return diagnosis.refusal();
    while (diagnosis->step()) {
    }
    return diagnosis;
}

bool Diagnosis::step(std::size_t most) {
    if (is_settled_) return false;
    if (causes_.size() < line_->causes.size()) {
        weigh_singles(most);
        if (causes_.size() < line_->causes.size()) return true;
        weigh_unexplained();
        settle();
        is_settled_ = !wants_pairs();
        if (!is_settled_) choose_pairs();
        return !is_settled_;
    }
    weigh_pairs(most);
    if (pairing_.done < pairing_.pairs.size()) return true;
    settle();
    // Beyond this point the chances are final.
    is_settled_ = true;
    return false;
}

bool Diagnosis::wants_pairs() const {
    const auto now =
        std::count_if(line_->looks.begin(), line_->looks.end(), [](const Look& look) { return !look.is_before; });
    return now > 1 || unexplained_ >= pairs_from_one_reading;
}

double Diagnosis::log_of(const Likelihood& likelihood, const Cause& cause, const CauseEffects& effects) {
    Likelihood::ByTimes by_times;
    const double readings = likelihood.log_of_readings(effects, 0, &by_times);
    const double rest = std::log(cause.weight) + likelihood.of_the_rest(cause, effects);
    for (double& log : by_times) log += rest;
    by_times_.push_back(by_times);
    return readings + rest;
}

void Diagnosis::weigh_singles(std::size_t most) {
    const Likelihood likelihood(*line_);
    CauseEffects effects(*line_);
    const std::size_t last = std::min(line_->causes.size(), causes_.size() + most);
    while (causes_.size() < last) {
        const Cause& cause = line_->causes[causes_.size()];
        effects.set(cause);
        logs_.push_back(log_of(likelihood, cause, effects));
        sum_ += cause.weight;
        causes_.push_back(cause);
    }
}

void Diagnosis::weigh_unexplained() {
    const Likelihood likelihood(*line_);
    CauseEffects effects(*line_);
    effects.set(line_->causes.front());
    double strayed = 0;
    const auto& strays = line_->spreads.unexplained;
    double first = 0;
    for (const double stray : strays) {
        const double log = likelihood.log_of_readings(effects, stray);
        if (stray == strays.front()) first = log;
        strayed += std::exp(std::min(log - first, 600.0)) / static_cast<double>(strays.size());
    }
    unexplained_log_ =
        std::log(sum_ * line_->weights.unexplained) + first + std::log(strayed) + likelihood.of_the_rest_unexplained();
}

void Diagnosis::choose_pairs() {
    tried_pairs_ = true;
    pairing_.pairs = likely_pairs(*line_, logs_);
    pairing_.next_place = line_->places;
    pairing_.top = std::max(unexplained_log_, *std::max_element(logs_.begin(), logs_.end()));
}

void Diagnosis::weigh_pairs(std::size_t most) {
    const Likelihood likelihood(*line_);
    CauseEffects effects(*line_);
    const std::size_t last = std::min(pairing_.pairs.size(), pairing_.done + most);
    for (; pairing_.done < last; ++pairing_.done) {
        Cause& pair = pairing_.pairs[pairing_.done];
        effects.set(pair);
        const double log = log_of(likelihood, pair, effects);
        if (log < pairing_.top - 12) {
            by_times_.pop_back();
            continue;
        }
        const auto [known, is_new] =
            pairing_.places.try_emplace(std::minmax(pair.alone[0], pair.alone[1]), pairing_.next_place);
        pair.place = known->second;
        pairing_.next_place += is_new;
        causes_.push_back(std::move(pair));
        logs_.push_back(log);
    }
}

// How far the meter strays, as all causes together have it: what comes next is predicted with that.
void Diagnosis::settle_meter() {
    const double top = *std::max_element(logs_.begin(), logs_.end());
    Likelihood::ByTimes chances{};
    for (const Likelihood::ByTimes& logs : by_times_)
        for (std::size_t i = 0; i < logs.size(); ++i) chances[i] += std::exp(logs[i] - top);
    const auto likeliest = std::max_element(chances.begin(), chances.end()) - chances.begin();
    line_->meter_times = line_->spreads.meter_times[static_cast<std::size_t>(likeliest)];
}

void Diagnosis::settle() {
    settle_meter();
    const double top = std::max(unexplained_log_, *std::max_element(logs_.begin(), logs_.end()));
    double sum = std::exp(unexplained_log_ - top);
    for (const double log : logs_) sum += std::exp(log - top);
    unexplained_ = std::exp(unexplained_log_ - top) / sum;
    for (std::size_t i = 0; i < causes_.size(); ++i) causes_[i].chance = std::exp(logs_[i] - top) / sum;
    if (wants_pairs() && !tried_pairs_) return;
    sort_by(causes_, [](const Cause& a, const Cause& b) { return a.chance > b.chance; });
    while (causes_.size() > 1 && causes_.back().chance < least_chance) causes_.pop_back();
    count_pairs_with_the_likeliest();
}

// Where one fault is the likeliest, and something is wrong at its place for certain, perhaps another place beside it:
// that is a place to go to, and what else there is shows once it is put right.
void Diagnosis::count_pairs_with_the_likeliest() {
    const Cause& first = causes_.front();
    if (first.faults.size() != 1) return;
    const std::uint32_t place = first.place;
    const auto is_there = [&](const Cause& cause) {
        return cause.place == place ||
               (cause.faults.size() == 2 && (cause.alone[0] == place || cause.alone[1] == place));
    };
    double there = 0;
    for (const Cause& cause : causes_)
        if (is_there(cause)) there += cause.chance;
    if (there < sure_chance) return;
    for (Cause& cause : causes_)
        if (is_there(cause)) cause.place = place;
}

std::vector<double> Diagnosis::places() const {
    std::vector<double> places(line_->places, 0);
    for (const Cause& cause : causes_) {
        if (cause.place >= places.size()) places.resize(cause.place + 1, 0);
        places[cause.place] += cause.chance;
    }
    return places;
}

std::uint32_t Diagnosis::likeliest_place() const {
    const std::vector<double> chances = places();
    return static_cast<std::uint32_t>(std::max_element(chances.begin(), chances.end()) - chances.begin());
}

bool Diagnosis::is_sure() const {
    return unexplained_ >= sure_chance || places()[likeliest_place()] >= sure_chance;
}

std::vector<Explained> Diagnosis::explains(const Cause& cause) const {
    const Likelihood likelihood(*line_);
    CauseEffects effects(*line_);
    effects.set(cause);
    const CauseFit fit = likelihood.of_readings(effects, 0);
    std::vector<Explained> explained;
    for (std::size_t i = 0; i < fit.looks.size(); ++i)
        if (!line_->looks[fit.looks[i]].is_before)
            explained.push_back({fit.looks[i], Ohms(likelihood.predicted_ohms(fit, i))});
    return explained;
}

}  // namespace tapwright
