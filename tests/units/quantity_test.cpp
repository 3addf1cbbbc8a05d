#include "core/units/quantity.h"

#include <doctest/doctest.h>

#include <concepts>

#include "core/units/unit.h"

using namespace tapwright;
using namespace tapwright::literals;

namespace {

template <class A, class B>
concept CanAdd = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept CanCompare = requires(A a, B b) {
    a < b;
};

}  // namespace

TEST_CASE("quantities of different kinds do not meet") {
    static_assert(CanAdd<Watts, Watts> && CanCompare<Watts, Watts>);
    static_assert(!CanAdd<Watts, Volts> && !CanCompare<Watts, Volts>);
    static_assert(!CanAdd<Amps, MilliAmps>);
    static_assert(!CanAdd<Watts, double> && !std::convertible_to<double, Watts> && !std::convertible_to<Watts, double>);
    static_assert(CanAdd<SoundLevel, Decibels> && !CanAdd<SoundLevel, SoundLevel>);
    CHECK((72_dBA + 3_dB) == 75_dBA);
    CHECK((75_dBA - 72_dBA) == 3_dB);
}

TEST_CASE("arithmetic keeps the dimension") {
    CHECK(7.5_W + 2.5_W == 10_W);
    CHECK(8 * 5_W == 40_W);
    CHECK(60_W / 12_W == 5);
    CHECK(-(5_W) == Watts(-5));
    Watts sum;
    for (const Watts tap : {30_W, 15_W}) sum += tap;
    CHECK(sum == 45_W);
}

TEST_CASE("Ohm's law and decibels: worked values") {
    CHECK(ohms_of(70.7_V, 60_W).value() == doctest::Approx(83.31).epsilon(1e-4));  // 12 x 5 W on 70.7 V, by hand
    CHECK(watts_of(70.7_V, 69_ohm).value() == doctest::Approx(72.44).epsilon(1e-4));
    CHECK(ohms_of(100_V, 100_W) == 100_ohm);
    CHECK(decibels_of_power(0.5).value() == doctest::Approx(-3.0103).epsilon(1e-5));  // 10 lg 2
    CHECK(power_ratio(-10_dB) == doctest::Approx(0.1));
    CHECK(voltage_ratio(Decibels(-20)) == doctest::Approx(0.1));
}

TEST_CASE("each unit's own words are spellings of it") {
    for (std::size_t i = 1; i < unit_count; ++i) {
        const auto unit = static_cast<Unit>(i);
        const UnitWords& words = words_of(unit);
        CHECK_MESSAGE(find_spelling(unit, words.symbol), words.symbol);
        CHECK_MESSAGE(find_spelling(unit, words.shown), words.shown);
        CHECK(unit_from_symbol(words.symbol) == unit);
        CHECK_FALSE(words.is_of_it.empty());
        CHECK_FALSE(words.remedy.empty());
    }
    CHECK(unit_from_symbol("") == Unit::none);
    CHECK_FALSE(unit_from_symbol("furlong").has_value());
}
