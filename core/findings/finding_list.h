// Findings as they are gathered: plain numbers, put in order at the end. Used by findings_*.cpp alone.
#pragma once

#include <vector>

#include "core/findings/findings.h"

namespace tapwright {

class FindingList {
public:
    void add(FindingCode code, Kind kind, std::size_t place, std::size_t detail = 0) {
        found_.push_back({code, kind, static_cast<std::uint32_t>(place), static_cast<std::uint32_t>(detail)});
    }
    // Stops first, then warnings, then notes; within these by kind, place and code.
    std::vector<Finding> in_order(const Job& job);

private:
    struct Found {
        FindingCode code;
        Kind kind;
        std::uint32_t place;
        std::uint32_t detail;
    };
    std::vector<Found> found_;
};

// One subject each. `detail` is said beside the code where it means something.
void find_in_loads(const Job& job, const Wiring& wiring, const Judged& judged, FindingList& list);
void find_on_points(const Job& job, const Wiring& wiring, const Judged& judged, FindingList& list);
void find_on_lines(const Job& job, const Wiring& wiring, const Judged& judged, FindingList& list);
void find_in_readings(const Job& job, const Judged& judged, FindingList& list);
void find_broken_relations(const Job& job, FindingList& list);

}  // namespace tapwright
