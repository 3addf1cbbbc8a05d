#include "core/faults/likely_pairs.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/faults/likelihood.h"

namespace tapwright {
namespace {

// Singles that are paired with each other: all of a line of sixty loudspeakers.
constexpr std::size_t most_singles = 1000;
constexpr std::size_t most_pairs = 600;
constexpr std::size_t least_pairs = 200;
// Rows to go over for all pairs together; on deep lines fewer pairs are solved.
constexpr double most_pair_rows = 2e6;
// A pair that is estimated so much worse than the best one (of logarithms) is not solved.
constexpr double most_behind = 14;

// Two faults at one place would be one other fault there.
bool can_be_both(const Cause& a, const Cause& b) {
    if (a.place == b.place) return false;
    for (const LineChange& one : a.faults.front().changes)
        for (const LineChange& other : b.faults.front().changes)
            if (one.row == other.row) return false;
    return true;
}

class PairSearch {
public:
    PairSearch(const FaultLine& line, const std::vector<double>& logs)
        : line_(line), logs_(logs), likelihood_(line), effects_(line) {}

    std::vector<Cause> search() {
        measure_spread();
        take_singles();
        return made(compared());
    }

private:
    struct Single {
        std::uint32_t cause = 0;
        double log = 0;  // weight, and all that is not a reading of ohms
    };
    struct Pair {
        double log = 0;
        std::uint32_t a = 0;
        std::uint32_t b = 0;
    };

    void measure_spread() {
        effects_.set(line_.causes.front());
        none_ = likelihood_.of_readings(effects_, 0);
        none_rest_ = likelihood_.of_the_rest(line_.causes.front(), effects_);
        while (first_now_ < none_.looks.size() && line_.looks[none_.looks[first_now_]].is_before) ++first_now_;
        now_ = none_.looks.size() - first_now_;
        std::vector<double> missing(now_);
        for (std::size_t k = 0; k < now_; ++k) {
            // What the line would draw there if it read so, in the light of what was before.
            const Look& look = line_.looks[none_.looks[first_now_ + k]];
            const double shift =
                std::log(likelihood_.predicted_ohms(none_, first_now_ + k)) - none_.predicted[first_now_ + k].log_ohms;
            target_.push_back(std::exp(shift) / look.ohms);
            missing[k] = none_.predicted[first_now_ + k].siemens / target_[k] - 1;
        }
        missing_ = whitened(missing);
    }

    std::vector<double> whitened(const std::vector<double>& logs) const {
        std::vector<double> white(now_);
        for (std::size_t k = 0; k < now_; ++k) {
            const std::size_t row = first_now_ + k;
            const double* factors = &none_.lower[row * (row + 1) / 2];
            double left = logs[k];
            for (std::size_t j = 0; j < k; ++j) left -= factors[first_now_ + j] * white[j];
            white[k] = left / factors[row];
        }
        return white;
    }

    void take_singles() {
        std::vector<double> change(now_);
        std::vector<double> ranks;
        std::vector<std::vector<double>> vectors;
        for (std::uint32_t i = 1; i < line_.causes.size(); ++i) {
            const Cause& cause = line_.causes[i];
            sum_ += cause.weight;
            effects_.set(cause);
            for (std::size_t k = 0; k < now_; ++k) {
                const Look& look = line_.looks[none_.looks[first_now_ + k]];
                const double siemens = effects_.under(look.condition).at(look.row.row).siemens;
                change[k] = (siemens - none_.predicted[first_now_ + k].siemens) / target_[k];
            }
            vectors.push_back(whitened(change));
            singles_.push_back({i, std::log(cause.weight) + likelihood_.of_the_rest(cause, effects_) - none_rest_});
            ranks.push_back(singles_.back().log - 0.5 * left_beside(vectors.back()));
        }
        std::vector<std::size_t> order(singles_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        if (order.size() > most_singles) {
            std::nth_element(order.begin(), order.begin() + most_singles, order.end(),
                             [&](std::size_t a, std::size_t b) { return ranks[a] > ranks[b]; });
            order.resize(most_singles);
            std::sort(order.begin(), order.end());
        }
        std::vector<Single> kept;
        for (const std::size_t i : order) {
            kept.push_back(singles_[i]);
            whites_.insert(whites_.end(), vectors[i].begin(), vectors[i].end());
        }
        singles_ = std::move(kept);
    }

    // What another fault that does to the line what this one does would leave at best.
    double left_beside(const std::vector<double>& vector) const {
        double across = 0;
        double own = 0;
        double all = 0;
        for (std::size_t k = 0; k < now_; ++k) {
            across -= missing_[k] * vector[k];
            own += vector[k] * vector[k];
            all += missing_[k] * missing_[k];
        }
        const double times = own > 0 ? std::max(1.0, across / own) : 1;
        return all - 2 * times * across + times * times * own;
    }

    std::vector<Pair> compared() {
        std::vector<Pair> pairs;
        double best = -1e300;
        std::vector<double> left(now_);
        for (std::uint32_t i = 0; i < singles_.size(); ++i) {
            for (std::size_t k = 0; k < now_; ++k) left[k] = missing_[k] + whites_[i * now_ + k];
            const double* white = whites_.data();
            for (std::uint32_t j = 0; j < i; ++j, white += now_) {
                double squares = 0;
                for (std::size_t k = 0; k < now_; ++k) {
                    const double off = left[k] + white[k];
                    squares += off * off;
                }
                const double log = singles_[i].log + singles_[j].log - 0.5 * squares;
                if (log < best - most_behind) continue;
                if (!can_be_both(line_.causes[singles_[i].cause], line_.causes[singles_[j].cause])) continue;
                best = std::max(best, log);
                pairs.push_back({log, singles_[j].cause, singles_[i].cause});
            }
            if (pairs.size() > 20 * most_pairs) keep_best(pairs, most_pairs);
        }
        const double rows = static_cast<double>(line_.conditions.front().effects->rows());
        const auto most = static_cast<std::size_t>(most_pair_rows / std::max(rows / 4, 1.0));
        keep_best(pairs, std::clamp(most, least_pairs, most_pairs));
        return pairs;
    }

    static void keep_best(std::vector<Pair>& pairs, std::size_t most) {
        const auto is_better = [](const Pair& a, const Pair& b) {
            return a.log != b.log ? a.log > b.log : std::pair(a.a, a.b) < std::pair(b.a, b.b);
        };
        if (pairs.size() > most) {
            std::nth_element(pairs.begin(), pairs.begin() + static_cast<std::ptrdiff_t>(most), pairs.end(), is_better);
            pairs.resize(most);
        }
        std::sort(pairs.begin(), pairs.end(), is_better);
    }

    // The likelier of the two alone first.
    std::vector<Cause> made(const std::vector<Pair>& pairs) const {
        std::vector<Cause> causes;
        for (const Pair& pair : pairs) {
            const bool is_first = logs_[pair.a] >= logs_[pair.b];
            const Cause& first = line_.causes[is_first ? pair.a : pair.b];
            const Cause& second = line_.causes[is_first ? pair.b : pair.a];
            Cause cause;
            cause.faults = {first.faults.front(), second.faults.front()};
            cause.weight = line_.weights.pairs * 2 * first.weight * second.weight / sum_;
            cause.alone = {first.place, second.place};
            causes.push_back(std::move(cause));
        }
        return causes;
    }

    const FaultLine& line_;
    const std::vector<double>& logs_;
    Likelihood likelihood_;
    CauseEffects effects_;
    CauseFit none_;
    double none_rest_ = 0;
    std::size_t first_now_ = 0;
    std::size_t now_ = 0;
    std::vector<double> target_;   // siemens, one a reading of now
    std::vector<double> missing_;  // whitened
    std::vector<Single> singles_;
    std::vector<double> whites_;  // one row a single
    double sum_ = 0;
};

}  // namespace

std::vector<Cause> likely_pairs(const FaultLine& line, const std::vector<double>& logs) {
    return PairSearch(line, logs).search();
}

}  // namespace tapwright
