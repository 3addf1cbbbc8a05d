// The units people write quantities in, and how each may be spelled. parse() and show() (core/units/parse.h,
// core/units/show.h) are made from this table, so what one of them knows the other knows too.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "core/base/message.h"
#include "core/base/unit.h"
#include "core/units/quantity.h"

namespace tapwright {

struct UnitWords {
    Unit unit = Unit::none;
    std::string_view symbol;  // as the field table names it: "W", "ohm", "mm2"; plain ASCII
    std::string_view shown;   // as it stands behind a figure: "W", "Ω", "mm²"
    std::string_view
        points;        // letters that may stand for the decimal point (IEC 60062): "R", "k", "M" in 4R7, 1k2, 2M2
    Pattern is_of_it;  // "“{given}” is in watts."
    Pattern remedy;    // "Write watts, for example 7.5 W."
};
const UnitWords& words_of(Unit unit);

// The unit whose symbol this is; nothing when there is none.
std::optional<Unit> unit_from_symbol(std::string_view symbol);

// How a spelled unit leads to the unit it is a spelling of.
enum class Conversion : std::uint8_t {
    decimal,        // times 10^exponent
    feet,           // of 12 inches
    inches,         // of exactly 25.4 mm (ISO 31-1, annex)
    fahrenheit,     // (F - 32) / 1.8
    per_1000_feet,  // ohm / 1000 ft to ohm / km
};
struct UnitSpelling {
    Unit unit = Unit::none;
    std::string_view text;
    int exponent = 0;
    Conversion conversion = Conversion::decimal;
};

// The spelling of `unit` that `text` is: exactly, else without regard to capitals where that leaves no doubt; a capital
// M is never milli. Nothing when it is no spelling of that unit.
std::optional<UnitSpelling> find_spelling(Unit unit, std::string_view text);

// Which unit `text` is a spelling of, asked when it is not the wanted one.
std::optional<Unit> unit_spelled(std::string_view text);

template <class Q>
inline constexpr Unit unit_of = Unit::none;
template <>
inline constexpr Unit unit_of<Volts> = Unit::volt;
template <>
inline constexpr Unit unit_of<Amps> = Unit::amp;
template <>
inline constexpr Unit unit_of<MilliAmps> = Unit::milliamp;
template <>
inline constexpr Unit unit_of<Watts> = Unit::watt;
template <>
inline constexpr Unit unit_of<Ohms> = Unit::ohm;
template <>
inline constexpr Unit unit_of<OhmsPerKm> = Unit::ohm_per_km;
template <>
inline constexpr Unit unit_of<Henries> = Unit::henry;
template <>
inline constexpr Unit unit_of<Hertz> = Unit::hertz;
template <>
inline constexpr Unit unit_of<Metres> = Unit::metre;
template <>
inline constexpr Unit unit_of<SquareMm> = Unit::square_mm;
template <>
inline constexpr Unit unit_of<Celsius> = Unit::celsius;
template <>
inline constexpr Unit unit_of<Decibels> = Unit::decibel;
template <>
inline constexpr Unit unit_of<SoundLevel> = Unit::sound_level;
template <>
inline constexpr Unit unit_of<Sensitivity> = Unit::sensitivity;
template <>
inline constexpr Unit unit_of<Percent> = Unit::percent;
template <>
inline constexpr Unit unit_of<Degrees> = Unit::degree;

// A quantity in a Message: {"load", zone.load}.
template <class Dimension>
Argument as_argument(Quantity<Dimension> quantity) {
    static_assert(unit_of<Quantity<Dimension>> != Unit::none, "a quantity whose unit has no words");
    return Figure{quantity.value(), unit_of<Quantity<Dimension>>};
}
// The same with its last digit towards less, or towards more: {"length", rounded_down(longest)}.
template <class Dimension>
Figure rounded_down(Quantity<Dimension> quantity) {
    return {quantity.value(), unit_of<Quantity<Dimension>>, Figure::as_usual, Rounding::down};
}
template <class Dimension>
Figure rounded_up(Quantity<Dimension> quantity) {
    return {quantity.value(), unit_of<Quantity<Dimension>>, Figure::as_usual, Rounding::up};
}
inline Argument as_argument(SoundLevel level) {
    return Figure{level.value(), Unit::sound_level};
}
inline Argument as_argument(Sensitivity sensitivity) {
    return Figure{sensitivity.value(), Unit::sensitivity};
}

}  // namespace tapwright
