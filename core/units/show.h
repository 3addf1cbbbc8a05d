// A quantity to text for a person, and to text for a field that is edited. Files hold plain SI numbers (core/job).
#pragma once

#include <optional>
#include <string>

#include "core/base/message.h"
#include "core/units/quantity.h"
#include "core/units/unit.h"

namespace tapwright {

// `number` of `unit` for a person to read, with digits enough for the trade: "7.5 W", "0.63 W", "83.3 Ω", "1.2 kΩ",
// "−0.29 dB", "12.25 m" or "40 ft 6 in". Endless ohms are "open"; what is not a number is "unknown".
// With a rounding down or up the last digit that is said goes that way; what differs from it by less than a share of
// 1e-9 is that digit.
std::string show_number(double number, Unit unit, LengthUnits lengths = LengthUnits::metric,
                        Rounding rounding = Rounding::nearest);

// The same with at most so many decimals, whatever the unit usually gets: "0.1235 W", "0.25 W".
std::string show_decimals(double number, int decimals, Unit unit, Rounding rounding = Rounding::nearest);

template <class Q>
requires(unit_of<Q> != Unit::none) std::string show(Q quantity, LengthUnits lengths = LengthUnits::metric) {
    return show_number(quantity.value(), unit_of<Q>, lengths);
}
template <class Q>
requires(unit_of<Q> != Unit::none) std::string
    show(const std::optional<Q>& quantity, LengthUnits lengths = LengthUnits::metric) {
    return quantity ? show(*quantity, lengths) : std::string("unknown");
}

// The text to put into a field for editing: parse_number() reads exactly `number` from it. It is what show_number()
// says when that loses nothing, else every digit: "83.308 ohm". Requires: number is finite.
std::string editable_number(double number, Unit unit, LengthUnits lengths = LengthUnits::metric);

}  // namespace tapwright
