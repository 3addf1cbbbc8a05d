// The transformer model: its limits. Its values at nine frequencies are checked in reference_test.cpp.
#include "core/line/transformer.h"

#include <doctest/doctest.h>

#include <cmath>

#include "core/words/words.h"
#include "tests/line/line_networks.h"
#include "tests/line/nearness.h"

namespace tapwright {

TEST_CASE("without inductances the model is exactly the tap's V^2/P") {
    const TransformerModel model{.primary = Ohms(60), .secondary = Ohms(50), .leakage = {}, .magnetising = {}};
    for (const double hz : {20.0, 1000.0, 20000.0}) {
        const auto seen = transformer_at(model, Ohms(1000), Hertz(hz));
        REQUIRE(seen.ok());
        CHECK(relative_error(seen->admittance, {0.001, 0}) < 1e-14);
        CHECK(seen->speaker.value() == 890);
        CHECK(relative_error(seen->speaker_gain, {0.89, 0}) < 1e-14);
    }
}

TEST_CASE("towards direct current only the primary copper is left, far up only the leakage") {
    CHECK(relative_error(1.0 / n3_speaker(1e-7).admittance, {60, 0}) < 1e-6);
    const auto high = 1.0 / n3_speaker(1e7).admittance;
    CHECK(relative_error(high.imag(), 2 * std::numbers::pi * 1e7 * 0.012) < 1e-3);
}

TEST_CASE("windings that leave nothing for the loudspeaker are refused in a sentence") {
    TransformerModel model = n3_model();
    model.primary = Ohms(700);
    model.secondary = Ohms(300);
    const auto seen = transformer_at(model, Ohms(999.698), Hertz(1000));
    REQUIRE_FALSE(seen.ok());
    CHECK(in_english(seen.refusal()) ==
          "The transformer's windings (1000 Ω) leave nothing of the tap's 999.7 Ω for the loudspeaker. Primary and "
          "secondary "
          "together must be less.");
}

TEST_CASE("a passive model never gives power back") {
    for (int step = 0; step < 27; ++step) CHECK(n3_speaker(std::pow(1.7, step)).admittance.real() > 0);  // to 980 kHz
}

}  // namespace tapwright
