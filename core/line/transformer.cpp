#include "core/line/transformer.h"

#include <cmath>
#include <numbers>

#include "core/base/ensure.h"
#include "core/units/unit.h"

namespace tapwright {

Result<TransformerSeen> transformer_at(const TransformerModel& model, Ohms tap_ohms, Hertz hz) {
    TAPWRIGHT_ENSURE(std::isfinite(tap_ohms.value()) && tap_ohms.value() > 0);
    TAPWRIGHT_ENSURE(std::isfinite(hz.value()) && hz.value() > 0);
    for (const double value : {model.primary.value(), model.secondary.value(), model.leakage.value()}) {
        TAPWRIGHT_ENSURE(std::isfinite(value) && value >= 0);
    }
    TAPWRIGHT_ENSURE(!model.magnetising ||
                     (std::isfinite(model.magnetising->value()) && model.magnetising->value() > 0));

    const Ohms windings = model.primary + model.secondary;
    const Ohms speaker = tap_ohms - windings;
    if (!(speaker.value() > 0)) {
        return Refusal{Message(
            "The transformer's windings ({windings}) leave nothing of the tap's {tap} for the loudspeaker. "
            "Primary and secondary together must be less.",
            {{"windings", Figure{windings.value(), Unit::ohm, 1}}, {"tap", Figure{tap_ohms.value(), Unit::ohm, 1}}})};
    }

    const double omega = 2 * std::numbers::pi * hz.value();
    const double load = model.secondary.value() + speaker.value();
    // The magnetising inductance across the load, as an admittance so that "infinite" is simply nothing.
    std::complex<double> core_s(1 / load, 0);
    if (model.magnetising) core_s -= std::complex<double>(0, 1 / (omega * model.magnetising->value()));
    const std::complex<double> series(model.primary.value(), omega * model.leakage.value());
    const std::complex<double> whole = 1.0 + series * core_s;
    TransformerSeen seen;
    seen.admittance = core_s / whole;
    seen.speaker_gain = speaker.value() / load / whole;
    seen.speaker = speaker;
    return seen;
}

}  // namespace tapwright
