// A person's text to a quantity: the one place where a figure with its unit is read from a person, a command line or a
// form. Files do not come by here; they hold plain SI numbers (core/job).
//
// A number is digits with a decimal point or comma, a minus (- or U+2212) and, as programs write it, an exponent
// ("1e-7"). Thousands are not separated: "1,000" could be one or a thousand and is refused. The unit may be left out.
// Where the trade writes a letter for the decimal point it is one (IEC 60062): 4R7, 1k2, 7W5. Lengths may be feet and
// inches: 40 ft, 40' 6", 6 1/2 in.
//
// What this is not: a check of ranges. parse<Watts>("-5") is -5 W; whether a field takes that, its rule says.
// Numbers are read as strtod reads them in the "C" locale, which the program never leaves.
#pragma once

#include <string_view>
#include <variant>
#include <vector>

#include "core/base/result.h"
#include "core/units/quantity.h"
#include "core/units/unit.h"

namespace tapwright {

// Returns: the number of `unit`, always finite. For Unit::none, a number without any unit.
// Errors: whole sentences: "“5 V” is in volts. Write watts, for example 7.5 W."
Result<double> parse_number(std::string_view text, Unit unit, LengthUnits lengths = LengthUnits::metric);

template <class Q>
Result<Q> parse(std::string_view text, LengthUnits lengths = LengthUnits::metric) {
    const Result<double> number = parse_number(text, unit_of<Q>, lengths);
    if (!number) return number.refusal();
    return Q(*number);
}

// Several figures as they are printed on a transformer or a wall plate, or typed in a row: "1.5/3/6", "1,5 3 6",
// "5, 2.5, 1.25 W". Each may have its unit. Whether a comma is decimal, this rule says and nothing else:
//   1. Where there is a / or ; or |, that separates, and every comma is decimal: "1,5/3/6", "2,5; 5".
//   2. Else, where a comma has a blank beside it, commas separate: "5, 2.5, 1.25". A comma without a blank among them
//      is refused ("2,5, 5"), unless a decimal point shows that none is decimal.
//   3. Else, where blanks stand between figures, they separate, and every comma is decimal: "1,5 3 6".
//   4. Else commas separate: "5,10,20". Figures that then neither rise nor fall throughout, as printed ones do, are
//      refused: "1,5,3,6" was meant as 1.5, 3, 6.
// Errors: one sentence. Ranges are not checked here.
Result<std::vector<double>> parse_numbers(std::string_view text, Unit unit);

// A conductor's size: a gauge (18) or a cross-section.
struct Gauge {
    int awg = 0;
    friend bool operator==(const Gauge&, const Gauge&) = default;
};
using ConductorSize = std::variant<Gauge, SquareMm>;

// "18 AWG", "AWG 18", "2.5 mm2", "2,5 mm²". A bare number is refused: it could be either.
Result<ConductorSize> parse_conductor_size(std::string_view text);

// `text` without blanks at its ends; no-break and narrow blanks are blanks too.
std::string_view trimmed(std::string_view text);

}  // namespace tapwright
