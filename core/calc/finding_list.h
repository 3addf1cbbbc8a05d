// Findings as they are gathered: plain numbers, put in order at the end. Used by findings_*.cpp alone.
#pragma once

#include <vector>

#include "core/calc/findings.h"

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

// Stray volts and insulation beyond which something is said: common practice, no single source.
inline constexpr double most_stray_volts = 2;
inline constexpr double least_insulation_ohms = 1e6;

// One subject each. `detail` is said beside the code where it means something.
void find_in_loads(const Job& job, const Wiring& wiring, const Derived& derived, FindingList& list);
void find_on_points(const Job& job, const Wiring& wiring, const Derived& derived, FindingList& list);
void find_on_lines(const Job& job, const Wiring& wiring, const Derived& derived, FindingList& list);
void find_in_readings(const Job& job, const Derived& derived, FindingList& list);
void find_broken_relations(const Job& job, FindingList& list);

}  // namespace tapwright
