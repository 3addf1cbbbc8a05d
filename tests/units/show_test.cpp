// How figures are shown. The digits are what the trade reads: common practice, no single source.
#include <doctest/doctest.h>

#include <limits>

#include "core/units/show.h"

using namespace tapwright;
using namespace tapwright::literals;

TEST_CASE("watts keep the digits of a tap") {
    CHECK(show(7.5_W) == "7.5 W");
    CHECK(show(0.63_W) == "0.63 W");
    CHECK(show(Watts(0.625)) == "0.63 W");
    CHECK(show(167.5_W) == "167.5 W");
    CHECK(show(180_W) == "180 W");
    CHECK(show(53.478_W) == "53.5 W");
    CHECK(show(Watts(-0.02)) == "\u22120.02 W");
    CHECK(show(Watts(-23.5)) == "\u221223.5 W");
    CHECK(show(Watts(9.996)) == "10 W");
    CHECK(show(Watts(1250)) == "1250 W");
    CHECK(show(Watts(0.003)) == "3 mW");
    CHECK(show(Watts(1e-13)) == "0 W");  // what is left of a sum that comes out even
    CHECK(show(Watts(-1e-13)) == "0 W");
}

TEST_CASE("ohms carry three digits and a prefix") {
    CHECK(show(83.308_ohm) == "83.3 Ω");
    CHECK(show(277.8_ohm) == "278 Ω");
    CHECK(show(8_ohm) == "8 Ω");
    CHECK(show(4.7_ohm) == "4.7 Ω");
    CHECK(show(0.47_ohm) == "0.47 Ω");
    CHECK(show(1200_ohm) == "1.2 kΩ");
    CHECK(show(999.4_ohm) == "999 Ω");
    CHECK(show(999.7_ohm) == "1 kΩ");
    CHECK(show(9996_ohm) == "10 kΩ");
    CHECK(show(2.2e6_ohm) == "2.2 MΩ");
    CHECK(show(0_ohm) == "0 Ω");
    CHECK(show(Ohms(std::numeric_limits<double>::infinity())) == "open");
    CHECK(show(Ohms(std::numeric_limits<double>::quiet_NaN())) == "unknown");
}

TEST_CASE("decibels have a real minus sign") {
    CHECK(show(Decibels(-0.29)) == "\u22120.29 dB");
    CHECK(show(Decibels(-6)) == "\u22126 dB");
    CHECK(show(Decibels(-0.001)) == "0 dB");
    CHECK(show(Decibels(-12.04)) == "\u221212 dB");
    CHECK(show(Decibels(-std::numeric_limits<double>::infinity())) == "\u2212∞ dB");
    CHECK(show(72.46_dBA) == "72.5 dB(A)");
    CHECK(show(Sensitivity(90)) == "90 dB");
}

TEST_CASE("lengths are metric or feet and inches; areas stay") {
    CHECK(show(12.25_m) == "12.25 m");
    CHECK(show(12_m) == "12 m");
    CHECK(show(0.075_m) == "0.08 m");
    CHECK(show(123.46_m) == "123.5 m");
    CHECK(show(12.3444_m, LengthUnits::feet) == "40 ft 6 in");
    CHECK(show(12.192_m, LengthUnits::feet) == "40 ft");
    CHECK(show(12_m, LengthUnits::feet) == "39 ft 4 in");
    CHECK(show(Metres(12.19), LengthUnits::feet) == "40 ft");  // 39 ft 11.9 in: never "39 ft 12 in"
    CHECK(show(Metres(0.3047), LengthUnits::feet) == "1 ft");
    CHECK(show(Metres(0.1651), LengthUnits::feet) == "6.5 in");
    CHECK(show(Metres(-1.016), LengthUnits::feet) == "\u22123 ft 4 in");
    CHECK(show(0_m, LengthUnits::feet) == "0 in");
    CHECK(show(Metres(-1e-9), LengthUnits::feet) == "0 in");
    CHECK(show(2.5_mm2, LengthUnits::feet) == "2.5 mm²");
}

TEST_CASE("the other quantities") {
    CHECK(show(70.7_V) == "70.7 V");
    CHECK(show(100_V) == "100 V");
    CHECK(show(Volts(0.05)) == "0.05 V");
    CHECK(show(Amps(0.5658)) == "0.566 A");
    CHECK(show(Amps(0.05)) == "50 mA");
    CHECK(show(500_mA) == "500 mA");
    CHECK(show(1000_Hz) == "1 kHz");
    CHECK(show(330_Hz) == "330 Hz");
    CHECK(show(1250_Hz) == "1.25 kHz");
    CHECK(show(Henries(0.01)) == "10 mH");
    CHECK(show(Henries(3e-4)) == "300 µH");
    CHECK(show(Henries(1.5)) == "1.5 H");
    CHECK(show(Celsius(21)) == "21 °C");
    CHECK(show(Celsius(-5)) == "\u22125 °C");
    CHECK(show(Percent(20)) == "20 %");
    CHECK(show(Degrees(90)) == "90°");
    CHECK(show(OhmsPerKm(7.41)) == "7.41 Ω/km");
    CHECK(show_number(18, Unit::gauge) == "18 AWG");
    CHECK(show_number(-2.5, Unit::none) == "\u22122.5");
}

TEST_CASE("what is not known is said to be unknown") {
    CHECK(show(std::optional<Watts>()) == "unknown");
    CHECK(show(std::optional<Metres>(), LengthUnits::feet) == "unknown");
    CHECK(show(std::optional<Watts>(5_W)) == "5 W");
}

TEST_CASE("text for editing loses no digit") {
    CHECK(editable_number(83.308, Unit::ohm) == "83.308 ohm");
    CHECK(editable_number(83.3, Unit::ohm) == "83.3 Ω");
    CHECK(editable_number(1200, Unit::ohm) == "1.2 kΩ");
    CHECK(editable_number(12.3444, Unit::metre, LengthUnits::feet) == "40 ft 6 in");
    CHECK(editable_number(12, Unit::metre, LengthUnits::feet) == "12 m");
    CHECK(editable_number(-0.125, Unit::decibel) == "-0.125 dB");
    CHECK(editable_number(0.1 + 0.2, Unit::none) == "0.30000000000000004");
}

TEST_CASE("a figure that somebody may go up to is rounded down, one that must be reached is rounded up") {
    const auto down = [](double number, Unit unit, LengthUnits lengths = LengthUnits::metric) {
        return show_number(number, unit, lengths, Rounding::down);
    };
    const auto up = [](double number, Unit unit, LengthUnits lengths = LengthUnits::metric) {
        return show_number(number, unit, lengths, Rounding::up);
    };
    CHECK(show_number(6.698, Unit::metre) == "6.7 m");
    CHECK(down(6.698, Unit::metre) == "6.69 m");
    CHECK(down(123.48, Unit::metre) == "123.4 m");
    CHECK(down(12.69, Unit::metre, LengthUnits::feet) == "41 ft 7 in");
    CHECK(down(0.2, Unit::metre, LengthUnits::feet) == "7.8 in");
    CHECK(up(12.69, Unit::metre, LengthUnits::feet) == "41 ft 8 in");
    CHECK(down(12.99, Unit::watt) == "12.9 W");
    CHECK(up(0.004, Unit::watt) == "4 mW");
    CHECK(up(0.0051, Unit::watt) == "0.01 W");
    CHECK(up(12.91, Unit::watt) == "13 W");
    CHECK(down(117.9, Unit::ohm) == "117 Ω");
    CHECK(up(94.73, Unit::ohm) == "94.8 Ω");
    CHECK(up(142.1, Unit::ohm) == "143 Ω");
    CHECK(down(1299, Unit::ohm) == "1.29 kΩ");
    CHECK(up(1201, Unit::ohm) == "1.21 kΩ");
    CHECK(up(99.96, Unit::ohm) == "100 Ω");
    CHECK(up(999.5, Unit::ohm) == "1 kΩ");
    // Down is towards less: a negative headroom grows in size.
    CHECK(down(-4.931, Unit::watt) == "\u22124.94 W");
    CHECK(up(-4.939, Unit::watt) == "\u22124.93 W");
    CHECK(down(-0.301, Unit::metre, LengthUnits::feet) == "\u221211.9 in");
    // What is a whole digit but for its own rounding stays.
    CHECK(down(0.1 * 3, Unit::watt) == "0.3 W");
    CHECK(up(0.1 + 0.2, Unit::watt) == "0.3 W");
    CHECK(down(6.7 - 1e-12, Unit::metre) == "6.7 m");
    CHECK(up(0, Unit::watt) == "0 W");
    CHECK(down(0, Unit::ohm) == "0 Ω");
    CHECK(down(std::numeric_limits<double>::infinity(), Unit::ohm) == "open");
    CHECK(show_decimals(1.99, 1, Unit::none, Rounding::down) == "1.9");
}
