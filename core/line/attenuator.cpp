#include "core/line/attenuator.h"

#include <algorithm>
#include <cmath>

#include "core/base/ensure.h"

namespace tapwright {

AttenuatorNetwork autotransformer(Decibels step, Decibels insertion) {
    TAPWRIGHT_ENSURE(std::isfinite(step.value()) && step.value() <= 0);
    TAPWRIGHT_ENSURE(std::isfinite(insertion.value()) && insertion.value() >= 0);
    AttenuatorNetwork network;
    network.voltage_gain = voltage_ratio(step - insertion);
    network.admittance_gain = power_ratio(step);
    // Exactly 0 for a lossless one: admittance_gain - voltage_gain^2 would leave rounding behind.
    network.core_loss = network.admittance_gain * (1 - power_ratio(-insertion));
    return network;
}

LPadParts l_pad_parts(Decibels step, Ohms pad) {
    TAPWRIGHT_ENSURE(std::isfinite(step.value()) && step.value() < 0);
    TAPWRIGHT_ENSURE(std::isfinite(pad.value()) && pad.value() > 0);
    const double k = voltage_ratio(-step);
    return {.series = pad * ((k - 1) / k), .shunt = pad / (k - 1)};
}

AttenuatorNetwork l_pad(Decibels step, Ohms pad) {
    if (step.value() == 0) return straight_through();
    const LPadParts parts = l_pad_parts(step, pad);
    AttenuatorNetwork network;
    network.series_ohm = parts.series.value();
    network.shunt_s = 1 / parts.shunt.value();
    return network;
}

Watts largest_l_pad_draw(Volts line, Ohms pad, std::span<const double> steps_db, double behind_s) {
    TAPWRIGHT_ENSURE(std::isfinite(line.value()) && std::isfinite(behind_s) && behind_s >= 0);
    double largest_s = steps_db.empty() ? behind_s : 0;
    for (const double step_db : steps_db) {
        const AttenuatorNetwork network = l_pad(Decibels(step_db), pad);
        const double at_output = behind_s + network.shunt_s;
        largest_s = std::max(largest_s, at_output / (1 + network.series_ohm * at_output));
    }
    return Watts(line.value() * line.value() * largest_s);
}

}  // namespace tapwright
