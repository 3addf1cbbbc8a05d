// Why the headroom of a zone is not known, and what to record so that it is. Who promises watts asks here first.
#pragma once

#include <optional>

#include "core/derive/derived.h"

namespace tapwright {

// A whole sentence: "Headroom of Foyer unknown. Record the limit of Foyer, then try again." Nothing where every limit
// on the way to the amplifier is known and every tap is, or is inside what a valid reading shows. Said also where one
// known limit is used up: other taps could free it, and the others would still be unknown.
// Requires: `derived` is derive(job); the zone has loads in watts (no low-impedance zone).
std::optional<Message> unknown_headroom(const Job& job, const Derived& derived, std::uint32_t zone);

}  // namespace tapwright
