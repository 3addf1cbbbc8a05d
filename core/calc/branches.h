// What hangs behind each point: loads summed from the far ends towards the amplifier, every attenuator at 0 dB.
//
// An attenuator's load is what hangs behind it. An L-pad draws through fixed parts, so its load is the largest draw
// over all its steps, and never less than the tap watts behind it. Source: circuit theory; docs/calculations.md.
#pragma once

#include "core/calc/wiring.h"

namespace tapwright {

// Fills WiredPoint::behind_*, load_*, pad_ohm and Wiring::zone_*. Requires: order, draws and types are final.
void sum_branches(const Job& job, Wiring& wiring);

// What an L-pad with `behind_w` behind its output asks of the line, at worst over its steps. It rises with behind_w.
double load_of_l_pad(const AttenuatorType& type, Volts line, double behind_w);

// The sum of two loads rests on the weaker of their bases.
constexpr Basis weaker(Basis a, Basis b) {
    return a < b ? b : a;
}

}  // namespace tapwright
