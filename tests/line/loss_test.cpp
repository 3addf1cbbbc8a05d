// Loss: its definitions and the longest run. The table of definitions is checked in published_test.cpp.
#include "core/line/loss.h"

#include <doctest/doctest.h>

#include "core/line/tree.h"
#include "tests/line/line_networks.h"
#include "tests/line/nearness.h"

namespace tapwright {

TEST_CASE("no wire, no loss") {
    for (const LineLoss& loss :
         {loss_of_wire_to_load(0), loss_of_decibels(Decibels(0)), loss_of_volts(0), loss_of_power(0)}) {
        CHECK(loss.wire_to_load == 0);
        CHECK(loss.level.value() == 0);
        CHECK(loss.power_ratio == 1);
        CHECK(loss.wire_share == 0);
    }
}

TEST_CASE("ten per cent spans 0.46 to 0.92 dB, depending on what is meant") {
    CHECK(loss_of_power(0.1).level.value() == doctest::Approx(-0.457575));
    CHECK(loss_of_wire_to_load(0.1).level.value() == doctest::Approx(-0.827854));
    CHECK(loss_of_volts(0.1).level.value() == doctest::Approx(-0.915150));
}

TEST_CASE("the longest run for 0.5 dB, lumped 60 W and 100 W") {
    // Recomputed figures: 18 AWG at 6.385 ohm/kft, 16 AWG at 4.016 ohm/kft; feet.
    const double foot = 0.3048;
    struct Case {
        double volts, watts, ohm_per_kft, feet;
    };
    for (const Case& row :
         {Case{25, 60, 6.385, 48.334}, Case{70.7, 60, 6.385, 386.556}, Case{100, 60, 6.385, 773.345},
          Case{25, 100, 4.016, 46.108}, Case{70.7, 100, 4.016, 368.749}, Case{100, 100, 4.016, 737.721}}) {
        CAPTURE(row.volts);
        const Metres run =
            longest_run(ohms_of(Volts(row.volts), Watts(row.watts)), OhmsPerKm(row.ohm_per_kft / foot), Decibels(0.5));
        CHECK(relative_error(run.value() / foot, row.feet) < 1e-5);
    }
}

TEST_CASE("the run that keeps the wanted volts is exact: solving with it gives those volts") {
    auto made = tree_of<double>(reference::n1);
    const LineRow home_run = made.rows[1];
    const LineRow last = made.rows.back();
    const Volts present = solve(made.tree).volts_at(last);
    made.tree.set_run(home_run, Ohms(0));
    const Volts at_nothing = solve(made.tree).volts_at(last);
    const Volts wanted(69.0);
    const auto run = run_for_volts(Ohms(1.676), present, at_nothing, wanted);
    REQUIRE(run);
    made.tree.set_run(home_run, *run);
    CHECK(relative_error(solve(made.tree).volts_at(last).value(), 69.0) < 1e-12);

    CHECK_FALSE(run_for_volts(Ohms(1.676), present, at_nothing, Volts(70)));     // lost behind that run
    CHECK_FALSE(run_for_volts(Ohms(1.676), at_nothing, at_nothing, Volts(60)));  // the run has no influence
}

}  // namespace tapwright
