// How what a finding is about compares with its limit, and what is missing where headroom is unknown: data, made when
// somebody asks.
#pragma once

#include "core/findings/findings.h"

namespace tapwright {

// A load, recorded or measured, held against one limit.
struct AgainstLimit {
    Watts load{0};  // recorded; of a finding about a reading, measured
    Basis basis = Basis::as_built;
    Watts limit{0};
    Watts reserve{0};
    Watts unrecorded{0};                // measured beyond the load; counted in the two below
    std::optional<Watts> over;          // above the limit
    std::optional<Watts> into_reserve;  // within the limit, but above limit - reserve
};

// Of a finding about the limit of a zone, output or amplifier, or about a reading above one; nothing for any other.
// Requires: `finding` is one that was made of `judged`.
std::optional<AgainstLimit> against_limit(const Job& job, const Judged& judged, const Finding& finding);

// What has to be recorded before a zone's headroom is known.
enum class Unrecorded : std::uint8_t {
    zone_limit,
    taps,
    output,
    output_rating,
    amplifier,
    amplifier_rating,
    taps_of_other_zones,  // on the same amplifier
};
std::vector<Unrecorded> unrecorded_for_headroom(const Judged& judged, std::uint32_t zone);

}  // namespace tapwright
