// Load and headroom of a zone, an output or an amplifier, and which way they may be off.
#pragma once

#include "core/base/message.h"
#include "core/calc/figures.h"

namespace tapwright {

// "40 W"; "at least 40 W" while taps are not recorded.
Message load_of(const Margin& margin);

// "37.5 W", negative once into the reserve; "at most 37.5 W" where a tap that is not recorded may take some of it;
// "unknown" without a limit.
Message headroom_of(const Margin& margin);

}  // namespace tapwright
