// What helps against too much cable loss: the next cable size up, or how long the longest run may be. Exact: the zone
// is solved again with the thicker cable; the run's length follows from two solutions (core/line/loss.h).
#pragma once

#include <optional>
#include <string>

#include "core/calc/wiring.h"

namespace tapwright {

// "With 16 AWG instead of 18 AWG it would be 0.7 dB. Or ..." for the loudspeaker at `point`. Requires: point is traced.
std::string loss_cure(const Job& job, const Wiring& wiring, std::uint32_t point, Decibels limit);

}  // namespace tapwright
