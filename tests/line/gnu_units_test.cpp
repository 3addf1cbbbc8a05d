// Copper and gauges against GNU units, whose tables are not ours: wiregauge() and copperconductivity. Fails, never
// skips, where the program is missing (Debian package "units").
#include <doctest/doctest.h>

#include "core/line/conductor.h"
#include "tests/line/nearness.h"
#include "tests/line/run_program.h"

namespace tapwright {

namespace {

double units(const std::string& have, const std::string& want) {
    const ProgramRun run = run_program("units -t -o %.12g '" + have + "' '" + want + "'");
    INFO("GNU units says: " << run.output);
    REQUIRE_MESSAGE(run.status != 127, "GNU units is missing: install the Debian package units");
    REQUIRE(run.status == 0);
    return std::stod(run.output);
}

}  // namespace

TEST_CASE("GNU units agrees on the conductivity of annealed copper") {
    CHECK(relative_error(copper_conductivity, units("copperconductivity", "S m/mm^2")) < 1e-11);
}

TEST_CASE("GNU units agrees on diameter and resistance of every gauge of the trade") {
    for (int awg = 4; awg <= 30; ++awg) {
        CAPTURE(awg);
        const std::string gauge = "wiregauge(" + std::to_string(awg) + ")";
        CHECK(relative_error(awg_diameter_mm(awg), units(gauge, "mm")) < 1e-8);
        const double ohm_per_km = units("1/(copperconductivity*pi/4*" + gauge + "^2)", "ohm/km");
        CHECK(relative_error(awg_resistance(awg, Strand::solid)->value(), ohm_per_km) < 1e-8);
    }
}

TEST_CASE("GNU units agrees on the loop of a run") {
    const double loop = units("2*120 ft/(copperconductivity*pi/4*wiregauge(16)^2)", "ohm");
    CHECK(relative_error(pair_resistance(*awg_resistance(16, Strand::solid), Metres(120 * 0.3048)).value(), loop) <
          1e-8);
}

}  // namespace tapwright
