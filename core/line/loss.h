// Line loss: the several things "x per cent" means, and how long a run may be for a limit.
//
// All figures are for one load at the end of a pair fed by an ideal source. "10 % loss" spans 0.46 dB (10 % of the
// load's power) to 0.92 dB (10 % of the volts), so a figure is never kept without its definition.
// Formulas, sources and worked examples: docs/calculations.md.
#pragma once

#include <optional>

#include "core/units/quantity.h"

namespace tapwright {

// One and the same loss, said in every way the trade says it.
struct LineLoss {
    double wire_to_load = 0;  // R of the pair / Z of the load
    double volts_ratio = 1;   // volts at the load / volts at the source
    Decibels level;           // 20 lg volts_ratio: 0 or negative
    double power_ratio = 1;   // watts at the load / its rated watts
    double wire_share = 0;    // watts in the pair / watts out of the amplifier
};

// Requires: ratio >= 0, finite.
LineLoss loss_of_wire_to_load(double ratio);
// `limit` as a positive figure: 0.5 dB is Decibels(0.5). Requires: limit >= 0, finite.
LineLoss loss_of_decibels(Decibels limit);
// `share` 0.1 is "10 % of the volts". Requires: 0 <= share < 1.
LineLoss loss_of_volts(double share);
// `share` 0.1 is "10 % of the load's power". Requires: 0 <= share < 1.
LineLoss loss_of_power(double share);

// The longest one-way run that keeps one `load` at its end within `limit` (positive decibels).
// Requires: load > 0, conductor > 0, limit > 0, all finite.
Metres longest_run(Ohms load, OhmsPerKm conductor, Decibels limit);

// The resistance one run of a resistive tree may have so that a point behind it keeps `wanted` volts.
//
// In any network with an ideal source, 1/V at a point is a straight line in the resistance of a run on its way (the
// rest of the network is one Thevenin source). Two solutions therefore give it exactly: `at_present` with the run's
// `present` resistance, `at_nothing` with none.
// Requires: present > 0; volts > 0 and finite.
// Returns: nothing where no resistance will do (the volts are missing before or behind that run), or where the run
// has no influence on the point.
std::optional<Ohms> run_for_volts(Ohms present, Volts at_present, Volts at_nothing, Volts wanted);

}  // namespace tapwright
