#include "core/line/loss.h"

#include <cmath>

#include "core/base/ensure.h"

namespace tapwright {

LineLoss loss_of_wire_to_load(double ratio) {
    TAPWRIGHT_ENSURE(std::isfinite(ratio) && ratio >= 0);
    LineLoss loss;
    loss.wire_to_load = ratio;
    loss.volts_ratio = 1 / (1 + ratio);
    loss.level = Decibels(-20 * std::log10(1 + ratio));
    loss.power_ratio = loss.volts_ratio * loss.volts_ratio;
    loss.wire_share = ratio / (1 + ratio);
    return loss;
}

LineLoss loss_of_decibels(Decibels limit) {
    TAPWRIGHT_ENSURE(std::isfinite(limit.value()) && limit.value() >= 0);
    return loss_of_wire_to_load(voltage_ratio(limit) - 1);
}

LineLoss loss_of_volts(double share) {
    TAPWRIGHT_ENSURE(share >= 0 && share < 1);
    return loss_of_wire_to_load(share / (1 - share));
}

LineLoss loss_of_power(double share) {
    TAPWRIGHT_ENSURE(share >= 0 && share < 1);
    return loss_of_wire_to_load(1 / std::sqrt(1 - share) - 1);
}

Metres longest_run(Ohms load, OhmsPerKm conductor, Decibels limit) {
    TAPWRIGHT_ENSURE(std::isfinite(load.value()) && load.value() > 0);
    TAPWRIGHT_ENSURE(std::isfinite(conductor.value()) && conductor.value() > 0);
    TAPWRIGHT_ENSURE(std::isfinite(limit.value()) && limit.value() > 0);
    const double ohm_per_m = conductor.value() / 1000;
    return Metres(load.value() * loss_of_decibels(limit).wire_to_load / (2 * ohm_per_m));
}

std::optional<Ohms> run_for_volts(Ohms present, Volts at_present, Volts at_nothing, Volts wanted) {
    for (const double value : {present.value(), at_present.value(), at_nothing.value(), wanted.value()}) {
        TAPWRIGHT_ENSURE(std::isfinite(value) && value > 0);
    }
    if (wanted > at_nothing) return std::nullopt;
    const double slope = (1 / at_present.value() - 1 / at_nothing.value()) / present.value();
    if (!(slope > 0)) return std::nullopt;
    return Ohms((1 / wanted.value() - 1 / at_nothing.value()) / slope);
}

}  // namespace tapwright
