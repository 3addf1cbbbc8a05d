// Attenuators (volume controls in the line) as two-ports: what they do to the volts behind them and to the admittance
// seen before them.
//
// Two builds: an autotransformer (turns ratio, insertion loss), and an L-pad of fixed parts (a series resistor, then
// a shunt resistor across the output). "Off" opens the circuit. A step is written as in the records: 0 or negative
// decibels; an insertion loss is 0 or positive. Formulas, sources and worked examples: docs/calculations.md.
#pragma once

#include <span>

#include "core/units/quantity.h"

namespace tapwright {

// One setting of one attenuator. With Y the admittance behind its output terminals and B = Y + shunt_s:
//   V_out = V_in x voltage_gain / (1 + series_ohm x B)
//   Y_in  = admittance_gain x B / (1 + series_ohm x B)
// and of the power entering, |V_in|^2 x Re(Y) x core_loss stays in an autotransformer's core and windings.
// The values are made by the functions below; the default passes everything straight through.
struct AttenuatorNetwork {
    double voltage_gain = 1;
    double admittance_gain = 1;
    double core_loss = 0;
    double series_ohm = 0;
    double shunt_s = 0;
};

constexpr AttenuatorNetwork straight_through() {
    return {};
}
// Nothing behind it is fed: no volts out, no admittance in.
constexpr AttenuatorNetwork switched_off() {
    return {.voltage_gain = 0, .admittance_gain = 0};
}

// V_out = V_in x 10^((step - insertion)/20); Y_in = Y x 10^(step/10).
// Requires: step <= 0, insertion >= 0, both finite.
AttenuatorNetwork autotransformer(Decibels step, Decibels insertion);

// Parts of an L-pad that shows `pad` at its input while `pad` is behind it:
// k = 10^(-step/20); series = pad (k - 1)/k; shunt = pad/(k - 1).
// Requires: step < 0, pad > 0, both finite. (At 0 dB there are no parts: the shunt would be infinite.)
struct LPadParts {
    Ohms series;
    Ohms shunt;
};
LPadParts l_pad_parts(Decibels step, Ohms pad);

// The L-pad as a two-port. 0 dB is straight through. Requires: step <= 0, pad > 0, both finite.
AttenuatorNetwork l_pad(Decibels step, Ohms pad);

// What an L-pad can ask of the line at most: its largest draw over all its steps, with the conductance
// `behind_s` (siemens, the sum of P/V^2 behind it) at its output and `line` volts at its input.
// Requires: steps_db all <= 0; pad > 0; behind_s >= 0; all finite.
// Returns: without steps, the draw straight through.
Watts largest_l_pad_draw(Volts line, Ohms pad, std::span<const double> steps_db, double behind_s);

}  // namespace tapwright
