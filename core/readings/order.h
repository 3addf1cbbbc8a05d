// The order readings were taken in, and the stray voltage known at each: what "newest" and "before" mean in
// core/readings and in the search for faults.
#pragma once

#include <unordered_map>
#include <vector>

#include "core/calc/wiring.h"
#include "core/job/job.h"

namespace tapwright {

// Places in job.all<Reading>(), the earliest first, by MomentsTaken.
std::vector<std::uint32_t> in_order_taken(const Job& job);

// The latest readings of stray volts on each line and output, fed with readings in the order they were taken.
class StrayVolts {
public:
    StrayVolts(const Job& job, const Wiring& wiring) : job_(job), wiring_(wiring) {}

    // Requires: no reading taken later was given before.
    void take(std::uint32_t reading);

    // The one that speaks against an impedance read at `at`: the last taken on that line, in the same visit or on the
    // same day, with least_stray_volts or more. A point counts as its zone. Where neither visit nor day can be compared
    // it counts: nobody can say that the line was dead.
    std::optional<std::uint32_t> against(const Reading& reading) const;

private:
    std::optional<Id> line_of(const Id& at) const;

    const Job& job_;
    const Wiring& wiring_;
    std::unordered_map<std::string, std::uint32_t> latest_;
};

}  // namespace tapwright
