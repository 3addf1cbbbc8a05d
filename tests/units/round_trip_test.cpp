// Properties: what is shown can be typed, and what is edited comes back.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>

#include "core/units/parse.h"
#include "core/units/show.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

// A figure as it occurs: a few digits, anywhere from thousandths to millions.
rc::Gen<double> figures() {
    return rc::gen::map(rc::gen::tuple(rc::gen::inRange(-99999, 100000), rc::gen::inRange(-4, 4)),
                        [](const auto& parts) { return std::get<0>(parts) * std::pow(10.0, std::get<1>(parts)); });
}

rc::Gen<Unit> units() {
    return rc::gen::map(rc::gen::inRange<int>(0, static_cast<int>(unit_count)),
                        [](int i) { return static_cast<Unit>(i); });
}

rc::Gen<LengthUnits> lengths() {
    return rc::gen::element(LengthUnits::metric, LengthUnits::feet);
}

// How far the shown figure may lie off: half of its last digit.
double rounding_of(Unit unit, double number, LengthUnits length) {
    if (unit == Unit::metre && length == LengthUnits::feet) return 0.0128;
    return std::max(0.0051 * std::abs(number), unit == Unit::gauge ? 0.5 : unit == Unit::henry ? 5e-7 : 0.0501);
}

}  // namespace

TEST_CASE("any figure put up for editing reads back as exactly itself") {
    CHECK(rc::check([] {
        const double number = *figures();
        const Unit unit = *units();
        const LengthUnits length = *lengths();
        const std::string text = editable_number(number, unit, length);
        const Result<double> again = parse_number(text, unit, length);
        RC_ASSERT(again.ok());
        RC_ASSERT(*again == number);
    }));
}

TEST_CASE("any double at all reads back as exactly itself") {
    CHECK(rc::check([] {
        const double number =
            *rc::gen::suchThat(rc::gen::arbitrary<double>(), [](double x) { return std::isfinite(x); });
        const Unit unit = *units();
        const Result<double> again = parse_number(editable_number(number, unit), unit);
        RC_ASSERT(again.ok());
        RC_ASSERT(*again == number);
    }));
}

TEST_CASE("any figure shown reads back as itself, but for its rounding") {
    CHECK(rc::check([] {
        const double number = *figures();
        const Unit unit = *units();
        const LengthUnits length = *lengths();
        const Result<double> again = parse_number(show_number(number, unit, length), unit, length);
        RC_ASSERT(again.ok());
        RC_ASSERT(std::abs(*again - number) <= rounding_of(unit, number, length));
    }));
}

TEST_CASE("any bytes are read as a finite number or refused in a sentence") {
    CHECK(rc::check([](const std::string& text) {
        const Result<double> number = parse_number(text, *units(), *lengths());
        if (number.ok())
            RC_ASSERT(std::isfinite(*number));
        else
            RC_ASSERT(in_english(number.refusal()).ends_with("."));
    }));
}

TEST_CASE("a decimal comma is a decimal point") {
    CHECK(rc::check([] {
        const int whole = *rc::gen::inRange(0, 100000);
        const int tenths = *rc::gen::inRange(0, 100);
        const std::string after = (tenths < 10 ? "0" : "") + std::to_string(tenths);
        const std::string before = std::to_string(whole);
        RC_ASSERT(parse<Watts>(before + "," + after + " W")->value() == parse<Watts>(before + "." + after)->value());
    }));
}
