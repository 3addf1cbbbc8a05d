// Which of several readings is the newest: one rule for all screens, sheets and commands.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

#include "core/job/job.h"

namespace tapwright {

// When each reading of a job counts as taken, in milliseconds: at its time; one without a time when it was entered,
// after every one that was entered before it. Of two at the same moment the one entered later is the newer.
class MomentsTaken {
public:
    // Requires: called for each reading of job.all<Reading>(), in that order.
    std::int64_t next(const Reading& reading) {
        const std::int64_t moment = reading.time ? milliseconds(*reading.time) : latest_;
        if (moment > latest_) latest_ = moment;
        return moment;
    }

private:
    std::int64_t latest_ = std::numeric_limits<std::int64_t>::min();
};

// The newest reading at `at` of those meant: is_meant(number of a reading).
template <class IsMeant>
std::optional<std::uint32_t> newest_reading(const Job& job, const Id& at, IsMeant is_meant) {
    const auto readings = job.all<Reading>();
    MomentsTaken moments;
    std::int64_t moment_of_newest = 0;
    std::optional<std::uint32_t> newest;
    for (std::uint32_t i = 0; i < readings.size(); ++i) {
        const std::int64_t moment = moments.next(readings[i]);
        if (readings[i].at != at || !is_meant(i) || (newest && moment < moment_of_newest)) continue;
        newest = i;
        moment_of_newest = moment;
    }
    return newest;
}

// All readings at `at`, places in job.all<Reading>(), the newest first.
std::vector<std::uint32_t> readings_at(const Job& job, const Id& at);

}  // namespace tapwright
