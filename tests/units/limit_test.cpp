// A limit reached exactly is kept, whatever a sum's rounding says.
#include "core/units/limit.h"

#include <doctest/doctest.h>

using namespace tapwright;
using namespace tapwright::literals;

namespace {

Watts sum_of(int count, double tap) {
    Watts sum{0};
    for (int i = 0; i < count; ++i) sum += Watts(tap);
    return sum;
}

}  // namespace

TEST_CASE("a sum of taps that reaches a limit keeps it") {
    REQUIRE(sum_of(50, 1.2) > 60_W);  // by its rounding alone
    CHECK(keeps_most(sum_of(50, 1.2), 60_W));
    CHECK_FALSE(above_most(sum_of(50, 1.2), 60_W));
    for (const double tap : {0.1, 0.3, 0.31, 0.63, 0.7, 1.1, 1.2, 2.4, 3.3, 6.6, 14.7})
        for (const int count : {3, 10, 40, 999, 100000}) {
            CAPTURE(tap);
            CAPTURE(count);
            CHECK(keeps_most(sum_of(count, tap), Watts(tap * count)));
            CHECK(keeps_least(sum_of(count, tap), Watts(tap * count)));
            CHECK(without_rounding(Watts(tap * count) - sum_of(count, tap), Watts(tap * count)) == 0_W);
        }
}

TEST_CASE("what a person could write above a limit is above it") {
    CHECK_FALSE(keeps_most(Watts(60.00001), 60_W));
    CHECK(above_most(Watts(60.01), 60_W)->value() == doctest::Approx(0.01));
    CHECK_FALSE(keeps_least(Ohms(7.999), 8_ohm));
    CHECK(without_rounding(Watts(0.0001), 60_W) == Watts(0.0001));
    CHECK(keeps_most(0_W, 0_W));
    CHECK_FALSE(keeps_most(Watts(1e-12), 0_W));
}
