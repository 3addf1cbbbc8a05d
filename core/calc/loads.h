// Loads against limits, and what may still be added. Source: common practice, no single source; definitions and worked
// examples in docs/calculations.md, "Loads" and "Headroom".
#pragma once

#include "core/calc/wiring.h"

namespace tapwright {

// Fills the loads, limits and reserves of zones, channels and amplifiers, and of each point its drawn, behind, rating.
// Requires: the lists of `derived` are as long as their records.
void add_loads(const Job& job, const Wiring& wiring, Derived& derived);

// Fills headroom_measured and can_add everywhere. Requires: loads are final, and `unrecorded` of every zone.
void add_headroom(const Job& job, const Wiring& wiring, Derived& derived);

// A limit as the record says it; what an only channel and its amplifier say stands for the other (can_add alone).
std::optional<Watts> channel_limit_on_the_way(const Job& job, const Derived& derived, std::uint32_t channel);
std::optional<Watts> amplifier_limit_on_the_way(const Job& job, const Derived& derived, std::uint32_t amplifier);

}  // namespace tapwright
