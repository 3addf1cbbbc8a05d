// Conductors: the edges. The values themselves are checked in published_test.cpp and gnu_units_test.cpp.
#include "core/line/conductor.h"
#include "core/words/words.h"

#include <doctest/doctest.h>

#include <limits>

#include "tests/line/nearness.h"

namespace tapwright {

namespace {

bool mentions(const Refusal& refusal, const char* words) {
    return in_english(refusal).find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("every six gauges halve the diameter, closely: the gauge's own definition") {
    // 92^(6/39) = 2.0050: ASTM B258's ratio, not exactly two.
    for (int awg = 0; awg <= 34; ++awg) {
        CHECK(relative_error(awg_diameter_mm(awg) / awg_diameter_mm(awg + 6), 2.005) < 1e-4);
    }
    CHECK(awg_diameter_mm(36) == 0.127);
    CHECK(relative_error(awg_diameter_mm(-3), 11.684) < 1e-12);  // 4/0 is 0.46 inch by definition
}

TEST_CASE("a stranded conductor has 2 % more") {
    CHECK(relative_error(awg_resistance(18, Strand::stranded)->value() / awg_resistance(18, Strand::solid)->value(),
                         1.02) < 1e-14);
}

TEST_CASE("a gauge that does not exist is refused in a sentence that says which do") {
    for (const int awg : {-4, 41, 1000, std::numeric_limits<int>::min(), std::numeric_limits<int>::max()}) {
        const auto answer = awg_resistance(awg, Strand::solid);
        REQUIRE_FALSE(answer.ok());
        CHECK(mentions(answer.refusal(), std::to_string(std::abs(std::int64_t{awg})).c_str()));
        CHECK(mentions(answer.refusal(), "from −3 AWG (4/0) to 40 AWG"));
    }
    CHECK(awg_resistance(-3, Strand::solid).ok());
    CHECK(awg_resistance(40, Strand::solid).ok());
}

TEST_CASE("a size or class the table does not have is refused, naming those it has") {
    for (const double area : {0.0, -1.0, 0.6, 1.2, 10.0, 1e300, std::numeric_limits<double>::infinity(),
                              std::numeric_limits<double>::quiet_NaN()}) {
        const auto answer = iec_resistance(SquareMm(area), 5);
        REQUIRE_FALSE(answer.ok());
        CHECK(mentions(answer.refusal(), "0.5 mm², 0.75 mm², 1 mm², 1.5 mm², 2.5 mm², 4 mm² and 6 mm²"));
    }
    for (const int iec_class : {0, 3, 4, 6, -1}) {
        const auto answer = iec_resistance(SquareMm(1.5), iec_class);
        REQUIRE_FALSE(answer.ok());
        CHECK(mentions(answer.refusal(), "1 (solid), 2 (stranded) and 5 (flexible)"));
    }
}

TEST_CASE("copper-clad aluminium has 1.59 times the resistance of copper") {
    CHECK(in_metal(OhmsPerKm(10), Metal::copper_clad_aluminium).value() == doctest::Approx(15.9));
    CHECK(in_metal(OhmsPerKm(10), Metal::copper).value() == 10);
}

TEST_CASE("a pair is there and back") {
    CHECK(pair_resistance(OhmsPerKm(20.95), Metres(40)).value() == doctest::Approx(1.676));
    CHECK(pair_resistance(OhmsPerKm(20.95), Metres(0)).value() == 0);
}

TEST_CASE("the magazine example: 50 ft of 22 AWG and 500 ft of 12 AWG") {
    // Whale, "70-V audio distribution part 1", Professional Sound: 1.614 and 1.588 ohm, loops doubled.
    const double foot = 0.3048;
    CHECK(relative_error(pair_resistance(*awg_resistance(22, Strand::solid), Metres(50 * foot)).value(), 1.614) < 5e-4);
    CHECK(relative_error(pair_resistance(*awg_resistance(12, Strand::solid), Metres(500 * foot)).value(), 1.588) <
          5e-4);
}

TEST_CASE("the next size up") {
    CHECK(next_awg_up(24) == 22);
    CHECK(next_awg_up(23) == 22);
    CHECK(next_awg_up(19) == 18);
    CHECK(next_awg_up(12) == 10);
    CHECK(next_awg_up(11) == 10);
    CHECK_FALSE(next_awg_up(10));
    CHECK_FALSE(next_awg_up(2));
    CHECK(next_area_up(SquareMm(0.5))->value() == 0.75);
    CHECK(next_area_up(SquareMm(0.6))->value() == 0.75);
    CHECK(next_area_up(SquareMm(1.0))->value() == 1.5);
    CHECK(next_area_up(SquareMm(4))->value() == 6);
    CHECK_FALSE(next_area_up(SquareMm(6)));
    CHECK_FALSE(next_area_up(SquareMm(16)));
}

TEST_CASE("the next size up always has less resistance") {
    for (int awg = 26; next_awg_up(awg); awg = *next_awg_up(awg)) {
        CHECK(awg_resistance(*next_awg_up(awg), Strand::solid)->value() < awg_resistance(awg, Strand::solid)->value());
    }
    for (const int iec_class : {1, 2, 5}) {
        for (SquareMm area(0.5); next_area_up(area); area = *next_area_up(area)) {
            CHECK(iec_resistance(*next_area_up(area), iec_class)->value() < iec_resistance(area, iec_class)->value());
        }
    }
}

}  // namespace tapwright
