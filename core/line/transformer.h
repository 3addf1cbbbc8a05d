// A loudspeaker with a model of its line transformer: admittance at a frequency.
//
// Everything is reflected to the line side. In series from the line: primary winding resistance, leakage inductance;
// then the magnetising inductance across; behind it the secondary's resistance and the loudspeaker, both reflected:
//
//   line o--[primary]--(leakage)--+--[secondary]--+
//                                 |               |
//                           (magnetising)     [loudspeaker]
//                                 |               |
//        o------------------------+---------------+
//
// The loudspeaker's reflected resistance is what is left of the tap's V^2/P when both windings are taken off:
// loudspeaker = V^2/P - primary - secondary. So with the inductances gone (no leakage, infinite magnetising) the
// whole is exactly V^2/P, and a model refines the plain conductance instead of contradicting it.
// The loudspeaker itself is a resistance here; its own resonance and inductance are not modelled.
// Formula, source and worked example: docs/calculations.md.
#pragma once

#include <complex>
#include <optional>

#include "core/base/result.h"
#include "core/units/quantity.h"

namespace tapwright {

struct TransformerModel {
    Ohms primary;                        // winding copper
    Ohms secondary;                      // winding copper, reflected to the line side
    Henries leakage;                     // seen from the line side
    std::optional<Henries> magnetising;  // absent: infinite, it draws nothing
};

struct TransformerSeen {
    std::complex<double> admittance;    // siemens, at the line terminals
    std::complex<double> speaker_gain;  // volts across the reflected loudspeaker / volts at the line terminals
    Ohms speaker;                       // the reflected loudspeaker
};

// Requires: tap_ohms > 0 (V^2/P), hz > 0; model: resistances and leakage >= 0, magnetising > 0; all finite.
// Returns: a refusal where the windings leave nothing of tap_ohms for the loudspeaker.
Result<TransformerSeen> transformer_at(const TransformerModel& model, Ohms tap_ohms, Hertz hz);

}  // namespace tapwright
