// What people type and what it means. Where no source is named: common practice, no single source.
#include <doctest/doctest.h>

#include <initializer_list>

#include "core/units/parse.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

struct Row {
    const char* text;
    double number;
};

template <class Q>
void check_rows(std::initializer_list<Row> rows, LengthUnits lengths = LengthUnits::metric) {
    for (const Row& row : rows) {
        const Result<Q> read = parse<Q>(row.text, lengths);
        CHECK_MESSAGE(read.ok(), row.text << ": " << (read.ok() ? "" : in_english(read.refusal())));
        if (read.ok()) CHECK_MESSAGE(read->value() == row.number, row.text << " was read as " << read->value());
    }
}

}  // namespace

TEST_CASE("watts") {
    check_rows<Watts>({{"7.5", 7.5},
                       {"7.5 W", 7.5},
                       {"7,5 W", 7.5},
                       {"7.5W", 7.5},
                       {"  7.5 watts ", 7.5},
                       {"7.5 w", 7.5},
                       {"7W5", 7.5},
                       {"0.63", 0.63},
                       {".63 W", 0.63},
                       {"0,625 W", 0.625},
                       {"120", 120},
                       {"1.2 kW", 1200},
                       {"1,2 KW", 1200},
                       {"250 mW", 0.25},
                       {"007", 7},
                       {"0", 0},
                       {"-0", 0},
                       {"1e3", 1000},
                       {"2.5e-1 W", 0.25}});
}

TEST_CASE("ohms, with a letter in place of the decimal point (IEC 60062)") {
    check_rows<Ohms>({{"83.3", 83.3},      {"83,3 ohm", 83.3},  {"83.3 Ω", 83.3},   {"83.3\u2126", 83.3},
                      {"83.3 Ohms", 83.3}, {"4R7", 4.7},        {"4r7", 4.7},       {"R47", 0.47},
                      {"47R", 47},         {"1k2", 1200},       {"1K2", 1200},      {"1k2 ohm", 1200},
                      {"1.2k", 1200},      {"1,2 kΩ", 1200},    {"1.2 kOhm", 1200}, {"2M", 2e6},
                      {"2M2", 2.2e6},      {"2.2 Mohm", 2.2e6}, {"120 mΩ", 0.12},   {"120m", 0.12}});
    CHECK(parse<Ohms>("2.2k")->value() == 2200);  // rounded once, not 2.2 times 1000
    CHECK(parse<Ohms>("4.35k")->value() == 4350);
}

TEST_CASE("volts, amperes, henries, hertz") {
    check_rows<Volts>({{"70.7", 70.7},
                       {"70,7 V", 70.7},
                       {"70V7", 70.7},
                       {"100 V", 100},
                       {"100v", 100},
                       {"25 volts", 25},
                       {"35 mV", 0.035}});
    check_rows<Amps>({{"0.5", 0.5}, {"500 mA", 0.5}, {"1.4 A", 1.4}});
    check_rows<MilliAmps>({{"500", 500}, {"500 mA", 500}, {"500ma", 500}, {"0.5 A", 500}, {"0,5A", 500}});
    check_rows<Henries>({{"10 mH", 0.01},
                         {"10mh", 0.01},
                         {"0.8", 0.8},
                         {"1.5 H", 1.5},
                         {"300 µH", 3e-4},
                         {"300 \u03bcH", 3e-4},
                         {"300 uH", 3e-4}});
    check_rows<Hertz>({{"1000", 1000},
                       {"1 kHz", 1000},
                       {"1k", 1000},
                       {"1k25", 1250},
                       {"1khz", 1000},
                       {"330 Hz", 330},
                       {"1,6 kHz", 1600}});
}

TEST_CASE("decibels, levels, shares, angles, temperatures") {
    check_rows<Decibels>(
        {{"-6 dB", -6}, {"-6", -6}, {"\u22126 dB", -6}, {"\u2212 6", -6}, {"- 6 db", -6}, {"+3", 3}, {"-0,5dB", -0.5}});
    check_rows<SoundLevel>({{"72", 72}, {"72 dB", 72}, {"72 dBA", 72}, {"72.5 dB(A)", 72.5}, {"90 dB SPL", 90}});
    check_rows<Percent>({{"20 %", 20}, {"20%", 20}, {"20", 20}, {"12,5 per cent", 12.5}});
    check_rows<Degrees>({{"90", 90}, {"90°", 90}, {"90 deg", 90}, {"110 degrees", 110}});
    // Fixed points of the two scales: water freezes at 32 F and boils at 212 F (ISO 80000-5 gives t_F = 1.8 t_C + 32).
    check_rows<Celsius>({{"21", 21},
                         {"21 °C", 21},
                         {"21C", 21},
                         {"21°", 21},
                         {"-5 °C", -5},
                         {"32 F", 0},
                         {"212 °F", 100},
                         {"-40 f", -40},
                         {"70 ℉", 38 / 1.8}});
}

TEST_CASE("cross-sections and resistance per length") {
    check_rows<SquareMm>({{"2,5 mm²", 2.5}, {"2.5 mm2", 2.5}, {"2.5mm^2", 2.5}, {"1.5", 1.5}, {"4 sq mm", 4}});
    check_rows<OhmsPerKm>(
        {{"7.41", 7.41}, {"7.41 ohm/km", 7.41}, {"7,41 Ω/km", 7.41}, {"7.41 mΩ/m", 7.41}, {"0.01 ohm/m", 10}});
    // 18 AWG copper: 6.385 ohm / 1000 ft is 20.95 ohm / km (ASTM B258 and B3, from memory).
    CHECK(parse<OhmsPerKm>("6.385 ohm/1000 ft")->value() == doctest::Approx(20.95).epsilon(1e-3));
    CHECK(parse<OhmsPerKm>("6.385 ohm/kft")->value() == parse<OhmsPerKm>("6.385 Ω/1000 ft")->value());
}

TEST_CASE("lengths, metric and in feet and inches: an inch is 25.4 mm exactly (ISO 31-1)") {
    check_rows<Metres>({{"12", 12},
                        {"12 m", 12},
                        {"12,5 metres", 12.5},
                        {"250 cm", 2.5},
                        {"1250 mm", 1.25},
                        {"0.3 km", 300},
                        {"40 ft", 12.192},
                        {"40'", 12.192},
                        {"40′", 12.192},
                        {"40’", 12.192},
                        {"40' 6\"", 12.3444},
                        {"40'6\"", 12.3444},
                        {"40’ 6”", 12.3444},
                        {"40′ 6″", 12.3444},
                        {"40 ft 6 in", 12.3444},
                        {"40 ft 6", 12.3444},
                        {"40'6", 12.3444},
                        {"40 feet 6 inches", 12.3444},
                        {"40' 0\"", 12.192},
                        {"-3' 4\"", -1.016},
                        {"6 in", 0.1524},
                        {"6\"", 0.1524},
                        {"6.5 in", 0.1651},
                        {"6 1/2 in", 0.1651},
                        {"6 1/2\"", 0.1651},
                        {"1/2 in", 0.0127},
                        {"-1/2 in", -0.0127},
                        {"5' 6 1/2\"", 1.6891},
                        {"5' 1/2\"", 1.5367},
                        {"12.5 ft", 3.81}});
    check_rows<Metres>({{"12", 3.6576}, {"12 m", 12}, {"12'", 3.6576}, {"250 cm", 2.5}, {"6 in", 0.1524}},
                       LengthUnits::feet);
}

TEST_CASE("blanks that word processors and phones put in are blanks") {
    check_rows<Watts>({{"7.5\u00a0W", 7.5}, {"\u202f7.5\u2009W\t", 7.5}, {"\r\n7.5 W\n", 7.5}});
}

TEST_CASE("a plain number takes no unit") {
    CHECK(*parse_number("12,5", Unit::none) == 12.5);
    CHECK_FALSE(parse_number("12 W", Unit::none));
}
