// Expected ohms as they may be said: as a bound where something on the way is not recorded, and beside what is
// connected what will be expected once all that is planned is. Also what a figure behind an unrecorded run is: unknown.
#pragma once

#include <cstdint>

#include "core/base/message.h"
#include "core/calc/figures.h"
#include "core/derive/derived.h"

namespace tapwright {

// "118 Ω", "at least 118 Ω", "at most 118 Ω", "about 118 Ω", "open".
Message bounded(Ohms ohms, const NotRecorded& not_recorded);

// What makes the ohms of a zone, an output or a point a bound; and what does once all that is planned is connected.
NotRecorded missing_of_all(const ZoneState& zone);
NotRecorded missing_of(const Derived& derived, std::uint32_t channel);
NotRecorded missing_of_all(const Derived& derived, std::uint32_t channel);
NotRecorded missing_of_all(const PointOnLine& point);

// Of a zone, attenuators as left, and full where that is another figure: "278 Ω; 118 Ω with attenuators full; 167 Ω
// once all is connected".
Message expected_of(const ZoneState& zone);
// The same of an output: a bound where that of a zone on it is one.
Message expected_of(const Derived& derived, std::uint32_t channel);

// Why the expected ohms of a zone are a bound: "2 runs have no cable or length." Nothing where they are not.
Message bound_reason(const NotRecorded& not_recorded);

// A loss or level of a point: unknown where it is fed through a run without cable or length.
Message known_along(const PointOnLine& point, Decibels figure);

}  // namespace tapwright
