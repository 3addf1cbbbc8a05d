// Loads against limits, and what may still be added. Source: common practice, no single source; definitions and worked
// examples in docs/calculations.md, "Loads" and "Headroom".
#pragma once

#include "core/calc/wiring.h"

namespace tapwright {

// Fills the loads and limits of zones, and of each point its drawn, behind, rating.
// Requires: the lists of `figures` are as long as their records.
void add_loads(const Job& job, const Wiring& wiring, Figures& figures);

// Fills outputs and amplifiers, and headroom and can_add everywhere. Requires: loads are final, and of every zone's
// margin `unrecorded` and `is_open_ended`.
void add_headroom(const Job& job, const Wiring& wiring, Figures& figures);

// What stands closest to its limit on the way from a zone to its amplifier: the zone itself, its channel, its
// amplifier. Over a limit comes before into a reserve; the zone before the others where nothing is known of them.
struct Tightest {
    Kind kind = Kind::zone;
    std::uint32_t place = 0;  // in job.all<...>() of that kind
    Margin margin;
};
// Requires: a place in figures.zones.
Tightest tightest_on_the_way(const Figures& figures, std::uint32_t zone);
// The tighter of a zone's channel and amplifier; nothing where neither is known.
std::optional<Tightest> tightest_source(const Figures& figures, std::uint32_t zone);

// A limit as the record says it; what an only channel and its amplifier say stands for the other (can_add alone).
std::optional<Watts> channel_limit_on_the_way(const Job& job, const Figures& figures, std::uint32_t channel);
std::optional<Watts> amplifier_limit_on_the_way(const Job& job, const Figures& figures, std::uint32_t amplifier);

}  // namespace tapwright
