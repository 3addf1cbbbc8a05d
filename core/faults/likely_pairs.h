// Which two faults at once are worth solving together.
//
// What two changes do to siemens at one place is nearly the sum of what each does, unless one lies behind the other's
// break or short. So every pair can be held against the readings by one addition a reading: whitened by their spread,
// as it is without any fault, the readings less what they would be without a fault are a vector, so is each cause, and
// two causes explain the readings where both vectors together come close to it. What comes close is then solved.
#pragma once

#include <utility>
#include <vector>

#include "core/faults/fault_line.h"

namespace tapwright {

// The likeliest pairs of line.causes by that estimate, with their weights, not yet a place. `logs`: of each single
// cause, weight times likelihood.
std::vector<Cause> likely_pairs(const FaultLine& line, const std::vector<double>& logs);

}  // namespace tapwright
