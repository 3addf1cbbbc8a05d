// Chances by place, spread over what a meter may show at one measurement.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/faults/likelihood.h"

namespace tapwright {

// Places one after the other: add() each of its causes, then close_place().
class ReadingBins {
    // Readings are told apart in steps of so much of their logarithm, finer than any meter.
    static constexpr double step_of_log = 0.01;
    static constexpr double lowest_ohms = 0.05;

public:
    explicit ReadingBins(double most_ohms)
        : bins_(static_cast<std::size_t>(std::log(most_ohms / lowest_ohms) / step_of_log) + 2),
          mine_(bins_, 0),
          all_(bins_, 0),
          logs_(bins_, 0),
          most_(bins_, 0) {}

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
                most_[i] = std::max(most_[i], mass);
                mine_[i] = 0;
            }
        }
        touched_from_ = bins_;
        touched_to_ = 0;
    }

    // For each figure that may be read: its chance, what is then left of the place in bits, and the likeliest's chance.
    template <class Take>
    void for_each(const Take& take) const {
        for (std::size_t i = 0; i < bins_; ++i)
            if (all_[i] > 0) take(all_[i], std::log2(all_[i]) - logs_[i] / all_[i], most_[i] / all_[i]);
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
    std::vector<double> most_;  // of one place
    std::vector<double> weights_;
    std::size_t touched_from_ = static_cast<std::size_t>(-1);
    std::size_t touched_to_ = 0;
};

}  // namespace tapwright
