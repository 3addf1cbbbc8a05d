// What is not taken, and the sentence that says what would be.
#include <doctest/doctest.h>

#include <array>
#include <random>
#include <string>

#include "core/base/text.h"
#include "core/units/parse.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

template <class Q>
std::string why_not(std::string_view text, LengthUnits lengths = LengthUnits::metric) {
    const Result<Q> read = parse<Q>(text, lengths);
    return read.ok() ? "it was read as " + shortest(read->value()) : in_english(read.refusal());
}

}  // namespace

TEST_CASE("refusals say what is wrong and what would be right") {
    CHECK(why_not<Watts>("") == "Nothing was given. Write watts, for example 7.5 W.");
    CHECK(why_not<Watts>(" \u00a0") == "Nothing was given. Write watts, for example 7.5 W.");
    CHECK(why_not<Watts>("5 V") == "“5 V” is in volts. Write watts, for example 7.5 W.");
    CHECK(why_not<Watts>("abc") == "“abc” is not a number. Write watts, for example 7.5 W.");
    CHECK(why_not<Watts>("5 furlongs") ==
          "“furlongs” in “5 furlongs” is not a unit for this. Write watts, for example 7.5 W.");
    CHECK(why_not<Watts>("1e999") == "“1e999” is too large. Write watts, for example 7.5 W.");
    CHECK(why_not<Watts>("1e-999") == "“1e-999” is too small. Write watts, for example 7.5 W.");
    CHECK(
        why_not<Watts>("1,000") ==
        "In “1,000” the comma could mean thousands or decimals. Use a decimal point. Write watts, for example 7.5 W.");
    CHECK(why_not<Watts>("1 000") ==
          "“1 000” has a second number. Do not separate thousands. Write watts, for example 7.5 W.");
    CHECK(why_not<Metres>("40' 14\"") ==
          "“40' 14\"” has 12 inches or more besides its feet. Write a length, for example 12.5 m or 40' 6\".");
}

TEST_CASE("what is no figure is refused for every quantity") {
    for (const char* text :
         {"nan",  "NaN", "inf",     "-inf",  "Infinity", "∞",     "-",       "+",       ".",         ",",    "e",
          "e5",   "--5", "+-5",     "5..2",  "5.2.1",    "5,2,1", "1.000,5", "1,000.5", "1'000.5.2", "0x10", "0x1p3",
          "5 5",  "1/0", "5 1/2",   "1e",    "1e+",      "1e5e5", "5 \x01",  "½",       "٥",         "５",   "5 W W",
          "open", "off", "unknown", "5\xff", "\xff\xfe", "5;",    "$5",      "5 W!"})
        for (std::size_t unit = 0; unit < unit_count; ++unit) {
            const Result<double> read = parse_number(text, static_cast<Unit>(unit));
            CHECK_MESSAGE(!read.ok(), text << " as " << words_of(static_cast<Unit>(unit)).symbol << " was read as "
                                           << (read.ok() ? shortest(*read) : ""));
        }
}

TEST_CASE("a unit of something else is refused by the name of what it is") {
    CHECK(why_not<Watts>("5 ohm").find("is in ohms") != std::string::npos);
    CHECK(why_not<Volts>("5 W").find("is in watts") != std::string::npos);
    CHECK(why_not<Metres>("5 Hz").find("is in hertz") != std::string::npos);
    CHECK(why_not<Decibels>("5 %").find("is a percentage") != std::string::npos);
    CHECK(why_not<SquareMm>("18 AWG").find("is a wire gauge") != std::string::npos);
    CHECK(why_not<Decibels>("60 dBA").find("is a sound level") != std::string::npos);
    CHECK(why_not<Ohms>("5 H").find("is in henries") != std::string::npos);
}

TEST_CASE("capitals never turn mega into milli") {
    CHECK(parse<Ohms>("5 MOHM")->value() == 5e6);
    CHECK_FALSE(parse<Watts>("5 MW"));
    CHECK_FALSE(parse<MilliAmps>("5 MA"));
    CHECK(parse<Ohms>("5 Mohm")->value() == 5e6);
    CHECK(parse<Ohms>("5 mohm")->value() == 5e-3);
}

TEST_CASE("a length that could be read two ways is refused") {
    for (const char* text : {"40' 12\"", "40' 13",     "40.5' 6\"", "40' -6\"", "1'000",    "6' 6'",     "6\" 6\"",
                             "6\" 6'",   "12 m 5",     "12 m 5 cm", "1/2 m",    "1/2 ft",   "1 2/0 in",  "1.5 1/2 in",
                             "5' 1/2 m", "1e2 1/2 in", "1/ in",     "/2 in",    "1/2/3 in", "5 ' 6 ' 7", "12,500 m"})
        CHECK_MESSAGE(!parse<Metres>(text), text << " was read as " << parse<Metres>(text)->value());
}

TEST_CASE("a letter for the decimal point belongs to its own quantity and stands once") {
    CHECK_FALSE(parse<Watts>("1k2"));
    CHECK_FALSE(parse<Ohms>("4V7"));
    CHECK_FALSE(parse<Ohms>("1k2k"));
    CHECK_FALSE(parse<Ohms>("1k2 kohm"));
    CHECK_FALSE(parse<Ohms>("1k2M2"));
    CHECK_FALSE(parse<Ohms>("1.5k2"));
    CHECK_FALSE(parse<Hertz>("1M2"));
}

TEST_CASE("long and random bytes are refused or read as a finite number, never worse") {
    CHECK_FALSE(parse<Watts>(std::string(10'000'000, '9')));
    CHECK_FALSE(parse<Watts>("1" + std::string(1'000'000, ' ') + "W"));
    CHECK(parse<Watts>(std::string(1'000'000, ' ') + "5 W" + std::string(1'000'000, '\n'))->value() == 5);
    CHECK_FALSE(parse<Watts>("1e" + std::string(90, '9')));
    constexpr std::array<std::string_view, 28> pieces{"1",  "5", "0", "9", ".",  ",",  "-",    "\u2212", "+", "e",
                                                      "E",  "k", "R", "M", "m",  " ",  "'",    "\"",     "/", "Ω",
                                                      "ft", "W", "V", "H", "dB", "in", "\xff", "°"};
    std::mt19937 random(7);
    std::size_t read = 0;
    for (int round = 0; round < 200'000; ++round) {
        std::string text;
        for (auto left = random() % 8; left > 0; --left) text += pieces[random() % pieces.size()];
        const auto unit = static_cast<Unit>(random() % unit_count);
        const Result<double> number = parse_number(text, unit, random() % 2 ? LengthUnits::feet : LengthUnits::metric);
        if (number.ok()) {
            ++read;
            REQUIRE_MESSAGE(std::isfinite(*number), text);
        } else {
            REQUIRE_MESSAGE(in_english(number.refusal()).ends_with("."), text);
            REQUIRE_MESSAGE(is_utf8(in_english(number.refusal())), text);
        }
    }
    CHECK(read > 1000);
}
