#include "core/faults/diagnosis.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tapwright {
namespace {

// Once something else is as likely as this, two faults at once are looked at: with one reading almost anything fits, so
// it takes more to doubt that one fault does.
constexpr double pairs_from = 1e-4;
constexpr double pairs_from_one_reading = 0.05;
constexpr std::size_t most_in_pairs = 200;
// Rows to go over for all pairs together; on deep lines fewer causes are paired.
constexpr double most_pair_rows = 3e6;
constexpr double least_chance = 1e-9;

// Two faults at one place would be one other fault there.
bool can_be_both(const Cause& a, const Cause& b) {
    if (a.place == b.place) return false;
    for (const LineChange& one : a.faults.front().changes)
        for (const LineChange& other : b.faults.front().changes)
            if (one.row == other.row) return false;
    return true;
}

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
    if (pairing_.done < pairing_.best.size()) return true;
    settle();
    // Beyond this point the chances are final.
    is_settled_ = true;
    return false;
}

bool Diagnosis::wants_pairs() const {
    const auto now =
        std::count_if(line_->looks.begin(), line_->looks.end(), [](const Look& look) { return !look.is_before; });
    return unexplained_ >= (now > 1 ? pairs_from : pairs_from_one_reading);
}

void Diagnosis::weigh_singles(std::size_t most) {
    const Likelihood likelihood(*line_);
    CauseEffects effects(*line_);
    const std::size_t last = std::min(line_->causes.size(), causes_.size() + most);
    while (causes_.size() < last) {
        const Cause& cause = line_->causes[causes_.size()];
        effects.set(cause);
        logs_.push_back(std::log(cause.weight) + likelihood.of_readings(effects, 0).log_likelihood +
                        likelihood.of_the_rest(cause, effects));
        sum_ += cause.weight;
        causes_.push_back(cause);
    }
}

void Diagnosis::weigh_unexplained() {
    const Likelihood likelihood(*line_);
    CauseEffects effects(*line_);
    effects.set(line_->causes.front());
    unexplained_log_ = std::log(sum_ * line_->weights.unexplained) +
                       likelihood.of_readings(effects, line_->spreads.unexplained).log_likelihood +
                       likelihood.of_the_rest_unexplained();
}

void Diagnosis::choose_pairs() {
    tried_pairs_ = true;
    std::vector<std::size_t>& best = pairing_.best;
    best.resize(line_->causes.size() - 1);
    std::iota(best.begin(), best.end(), 1);
    std::sort(best.begin(), best.end(), [&](std::size_t a, std::size_t b) { return logs_[a] > logs_[b]; });
    const double depth = static_cast<double>(line_->conditions.front().effects->rows());
    const auto most = static_cast<std::size_t>(std::sqrt(2 * most_pair_rows / std::max(depth / 4, 1.0)));
    if (best.size() > std::min(most_in_pairs, most)) best.resize(std::min(most_in_pairs, most));
    for (std::size_t i = 1; i < line_->causes.size(); ++i) pairing_.sum += line_->causes[i].weight;
    pairing_.next_place = line_->places;
    pairing_.top = std::max(unexplained_log_, *std::max_element(logs_.begin(), logs_.end()));
}

void Diagnosis::weigh_pairs(std::size_t most) {
    const auto& singles = line_->causes;
    const std::vector<std::size_t>& best = pairing_.best;
    const double sum = pairing_.sum;
    const Likelihood likelihood(*line_);
    CauseEffects effects(*line_);
    for (std::size_t tried = 0; pairing_.done < best.size() && tried < most; ++pairing_.done)
        for (std::size_t j = 0; j < pairing_.done; ++j) {
            const Cause& a = singles[best[pairing_.done]];
            const Cause& b = singles[best[j]];
            if (!can_be_both(a, b)) continue;
            ++tried;
            Cause pair;
            pair.faults = {b.faults.front(), a.faults.front()};
            pair.weight = sum * line_->weights.pairs * 2 * (a.weight / sum) * (b.weight / sum);
            effects.set(pair);
            const double log = std::log(pair.weight) + likelihood.of_readings(effects, 0).log_likelihood +
                               likelihood.of_the_rest(pair, effects);
            if (log < pairing_.top - 12) continue;
            const auto [known, is_new] =
                pairing_.places.try_emplace(std::minmax(a.place, b.place), pairing_.next_place);
            pair.place = known->second;
            pairing_.next_place += is_new;
            causes_.push_back(std::move(pair));
            logs_.push_back(log);
        }
}

void Diagnosis::settle() {
    const double top = std::max(unexplained_log_, *std::max_element(logs_.begin(), logs_.end()));
    double sum = std::exp(unexplained_log_ - top);
    for (const double log : logs_) sum += std::exp(log - top);
    unexplained_ = std::exp(unexplained_log_ - top) / sum;
    for (std::size_t i = 0; i < causes_.size(); ++i) causes_[i].chance = std::exp(logs_[i] - top) / sum;
    if (wants_pairs() && !tried_pairs_) return;
    std::stable_sort(causes_.begin(), causes_.end(),
                     [](const Cause& a, const Cause& b) { return a.chance > b.chance; });
    while (causes_.size() > 1 && causes_.back().chance < least_chance) causes_.pop_back();
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
