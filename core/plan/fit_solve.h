// The choice of taps, solved exactly wherever that is feasible. Used inside core/plan alone.
//
// Attenuators make a zone a tree, and each node of it a limit: a tree knapsack with several choices a loudspeaker. From
// the far ends towards the amplifier every node keeps its Pareto front: for each load the least cost, where no lesser
// load costs as little. Joining two fronts and cutting at a limit keeps all that can still be best, because costs and
// loads only add (an L-pad's load rises with what hangs behind it), so what is left at the zone holds the optimum
// (multiple-choice knapsack by dominance; Nemhauser and Ullmann 1969, from memory). A front is never longer than there
// are different sums of taps.
//
// With many different taps there are many different sums, more with each loudspeaker: the problem is hard by nature. So
// the sums are counted, and after so many the search is done again on fronts that are thinned out: of each small
// stretch of loads the cheapest state goes on. What is found then fits and is mostly the best or close to it, but it is
// not proven. About a second and 100 MB at most, whatever the problem.
//
// "The least worst, then the least sum of squares" is not of that kind, so the worst is found first: a worst of B can
// be kept exactly when every loudspeaker on the lowest tap within B fits, which a bisection over the few possible B
// finds.
#pragma once

#include "core/plan/fit_problem.h"

namespace tapwright {

using Picks = std::vector<std::uint16_t>;  // of each slot, its place in FitSlot::choices

// Where even the lowest taps do not fit, and by how much.
struct Shortage {
    Nanowatts missing = 0;
    std::uint32_t node = 0;
};
std::optional<Shortage> shortage_of(const FitProblem& problem);

struct FitPicks {
    Picks picks;
    bool is_proven = true;  // no other picks are better for the aim
};
// What a search may take, counted in sums of two states: the same on every machine, and no clock is read.
struct FitEffort {
    std::size_t exact = 24'000'000;   // with more the exact search is given up
    std::size_t thinned = 8'000'000;  // then, about, for the one with thinned fronts
};
// Requires: !shortage_of(problem).
FitPicks solve_fit(const FitProblem& problem, Aim aim, const FitEffort& effort = {});

// What the zone carries with these picks.
Nanowatts load_of(const FitProblem& problem, const Picks& picks);

}  // namespace tapwright
