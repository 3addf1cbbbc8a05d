#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "core/base/text.h"
#include "core/units/limit.h"
#include "core/units/parse.h"
#include "core/units/show.h"

namespace tapwright {
namespace {

// With a real minus sign (U+2212), which is as wide as a plus and does not break a line.
std::string with_minus(std::string figure) {
    if (figure.starts_with('-')) figure.replace(0, 1, "\u2212");
    return figure;
}

// `number` on a grid of `step`, in the direction asked for. What lies on the grid but for its own rounding stays there.
double on_grid(double number, double step, Rounding rounding) {
    const double steps = number / step;
    const double nearest = std::round(steps);
    if (rounding == Rounding::nearest || std::abs(steps - nearest) <= std::max(1.0, std::abs(steps)) * rounding_share)
        return nearest * step;
    return (rounding == Rounding::down ? std::floor(steps) : std::ceil(steps)) * step;
}

std::string joined(double number, int decimals, std::string_view unit, Rounding rounding) {
    const std::string gap = unit == "°" || unit.empty() ? "" : " ";
    const double step = std::pow(10.0, -decimals);
    if (rounding != Rounding::nearest) number = on_grid(number, step, rounding);
    // A half goes away from zero, as people round: the tap of 0.625 W is 0.63 W, though its double is an exact tie.
    const double nudge = std::copysign(step * 1e-9, number);
    return with_minus(rounded(number + nudge, decimals)) + gap + std::string(unit);
}

double to_significant(double number, int digits, Rounding rounding) {
    if (rounding != Rounding::nearest && number != 0)
        number = on_grid(number, std::pow(10.0, std::floor(std::log10(std::abs(number))) - (digits - 1)), rounding);
    char buffer[40];
    std::snprintf(buffer, sizeof buffer, "%.*e", digits - 1, number);
    return std::strtod(buffer, nullptr);
}

// Three significant digits, but never a whole digit dropped: 83.3, 8.25, 1250.
std::string three_digits(double number, std::string_view unit, Rounding rounding) {
    const double size = std::abs(number);
    if (size >= 100 || size == 0) return joined(number, 0, unit, rounding);
    const double kept = to_significant(number, 3, rounding);
    if (kept == 0) return joined(0, 0, unit, rounding);
    const int decimals = std::clamp(2 - static_cast<int>(std::floor(std::log10(std::abs(kept)))), 0, 12);
    return joined(kept, decimals, unit, Rounding::nearest);
}

// With kilo and mega in front of `unit` where the figure gets long; decided after rounding, so 999.7 is 1 k.
std::string with_prefix(double number, const std::string& unit, Rounding rounding) {
    const double kept = to_significant(number, 3, rounding);
    if (std::abs(kept) >= 1e6) return three_digits(kept / 1e6, "M" + unit, Rounding::nearest);
    if (std::abs(kept) >= 1e3) return three_digits(kept / 1e3, "k" + unit, Rounding::nearest);
    return three_digits(number, unit, rounding);
}

std::string show_watts(double watts, Rounding rounding) {
    const double size = std::abs(watts);
    if (size < 0.005 && size >= 0.0005) return joined(watts * 1000, 1, "mW", rounding);
    return joined(watts, size < 9.995 ? 2 : 1, "W", rounding);
}

std::string show_henries(double henries, Rounding rounding) {
    const double size = std::abs(to_significant(henries, 3, rounding));
    if (size >= 1 || size == 0) return three_digits(henries, "H", rounding);
    if (size >= 1e-3) return three_digits(henries * 1e3, "mH", rounding);
    return three_digits(henries * 1e6, "µH", rounding);
}

// Whole inches; tenths below a foot. Of a negative length the sign stands apart, and its size goes the other way.
std::string show_feet(double metres, Rounding rounding) {
    const Rounding of_size = metres >= 0 || rounding == Rounding::nearest ? rounding
                             : rounding == Rounding::down                 ? Rounding::up
                                                                          : Rounding::down;
    const double all = std::abs(metres) / 0.0254;
    const std::string sign = metres < 0 ? "\u2212" : "";
    if (all < 11.95) {
        const std::string inches = rounded(on_grid(all, 0.1, of_size), 1);
        return (inches == "0" ? "" : sign) + inches + " in";
    }
    const double whole = on_grid(all, 1, of_size);
    const double feet = std::floor(whole / 12);
    const double inches = whole - feet * 12;
    return sign + rounded(feet, 0) + " ft" + (inches > 0 ? " " + rounded(inches, 0) + " in" : "");
}

std::string show_endless(double number, Unit unit) {
    if (unit == Unit::ohm && number > 0) return "open";
    const std::string shown(words_of(unit).shown);
    return std::string(number < 0 ? "\u2212∞" : "∞") + (shown.empty() || shown == "°" ? "" : " ") + shown;
}

}  // namespace

std::string show_number(double number, Unit unit, LengthUnits lengths, Rounding rounding) {
    if (std::isnan(number)) return "unknown";
    if (std::isinf(number)) return show_endless(number, unit);
    const std::string shown(words_of(unit).shown);
    const double size = std::abs(number);
    switch (unit) {
        case Unit::none:
            return with_minus(shortest(number));
        case Unit::volt:
            return joined(number, size < 9.995 ? 2 : 1, shown, rounding);
        case Unit::amp:
            if (size < 0.0995 && size >= 0.00005) return three_digits(number * 1000, "mA", rounding);
            return three_digits(number, shown, rounding);
        case Unit::milliamp:
        case Unit::sound_level:
        case Unit::sensitivity:
        case Unit::percent:
        case Unit::degree:
        case Unit::celsius:
            return joined(number, 1, shown, rounding);
        case Unit::watt:
            return show_watts(number, rounding);
        case Unit::ohm:
        case Unit::hertz:
            return with_prefix(number, shown, rounding);
        case Unit::ohm_per_km:
        case Unit::square_mm:
            return three_digits(number, shown, rounding);
        case Unit::henry:
            return show_henries(number, rounding);
        case Unit::metre:
            return lengths == LengthUnits::feet ? show_feet(number, rounding)
                                                : joined(number, size < 100 ? 2 : 1, shown, rounding);
        case Unit::decibel:
            return joined(number, size < 9.995 ? 2 : 1, shown, rounding);
        case Unit::gauge:
            return joined(number, 0, shown, rounding);
    }
    TAPWRIGHT_ENSURE(!"a unit that is not in the table");
}

std::string show_decimals(double number, int decimals, Unit unit, Rounding rounding) {
    if (!std::isfinite(number)) return show_number(number, unit);
    return joined(number, decimals, words_of(unit).shown, rounding);
}

std::string editable_number(double number, Unit unit, LengthUnits lengths) {
    TAPWRIGHT_ENSURE(std::isfinite(number));
    std::string shown = show_number(number, unit, lengths);
    if (const Result<double> again = parse_number(shown, unit, lengths); again && *again == number) return shown;
    const std::string_view symbol = words_of(unit).symbol;
    return shortest(number) + (symbol.empty() ? "" : " ") + std::string(symbol);
}

}  // namespace tapwright
