// What one loudspeaker draws from its line. Source: the square law (Ohm's law); what a tap's watts mean is common
// practice, no single source. Conventions and worked examples: docs/calculations.md, "Loads".
#pragma once

#include "core/calc/figures.h"
#include "core/job/records.h"

namespace tapwright {

// Beyond every real figure, and small enough that sums of a million of them stay finite.
inline constexpr double largest_watts = 1e12;

// One loudspeaker across the line. What cannot be known is not counted: `known` is false and both figures are 0.
struct Draw {
    double watts = 0;    // at the zone's line voltage; the tap's watts x (line_v/taps_v)^2, and its loss if "delivered"
    double siemens = 0;  // watts / line_v^2, what stands across the line
    Basis basis = Basis::as_built;  // as_built, planned, or at_least where not known
    bool known = true;
    bool counts = false;  // whether it is connected at all
    bool on_low_z = false;
};

// `type` may be null (unknown): then the tap's watts hold for the line voltage it hangs on. `line` > 0.
// On a low-impedance zone a loudspeaker of which neither tap nor wiring is recorded stands there with its low_z_ohm.
Draw draw_of(const Point& speaker, const SpeakerType* type, Volts line, bool low_impedance_zone);

// Watts drawn at `line` by a tap marked `marked`: x (line/taps_v)^2; a tap that means watts delivered draws its
// transformer's loss on top. At most largest_watts.
Watts drawn_by_tap(Watts marked, const SpeakerType* type, Volts line);

// Whether taps marked for one line voltage may hang on the other: within 2.5 %, so that 70 V marks a 70.7 V line.
bool is_same_line(Volts marked, Volts line);

}  // namespace tapwright
