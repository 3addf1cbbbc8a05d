// Which of several readings is the newest: one rule for all screens, sheets and commands.
#pragma once

#include <cstdint>
#include <optional>

#include "core/job/job.h"

namespace tapwright {

// Whether reading `a` was taken after `b`: by their times where both have one, else by when they were entered
// (`a` after `b`).
bool is_newer(const Reading& a, const Reading& b);

// The newest reading at `at` of those meant: is_meant(number of a reading).
template <class IsMeant>
std::optional<std::uint32_t> newest_reading(const Job& job, const Id& at, IsMeant is_meant) {
    const auto readings = job.all<Reading>();
    std::optional<std::uint32_t> newest;
    for (std::uint32_t i = 0; i < readings.size(); ++i)
        if (readings[i].at == at && is_meant(i) && (!newest || is_newer(readings[i], readings[*newest]))) newest = i;
    return newest;
}

}  // namespace tapwright
