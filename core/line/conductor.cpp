#include "core/line/conductor.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include "core/base/ensure.h"
#include "core/units/unit.h"

namespace tapwright {

namespace {

struct IecRow {
    double area_mm2;
    double class_1_and_2;  // ohm/km
    double class_5;
};

// IEC 60228, maximum resistance at 20 C, plain copper, as several public copies of its 2004 edition agree.
constexpr std::array iec_table{IecRow{0.5, 36.0, 39.0}, IecRow{0.75, 24.5, 26.0}, IecRow{1, 18.1, 19.5},
                               IecRow{1.5, 12.1, 13.3}, IecRow{2.5, 7.41, 7.98},  IecRow{4, 4.61, 4.95},
                               IecRow{6, 3.08, 3.30}};

// Sizes come from decimal text, so 0.1 % is equality.
bool same_area(double a, double b) {
    return std::abs(a - b) <= 0.001 * b;
}

Series known_sizes() {
    std::vector<SquareMm> sizes;
    sizes.reserve(iec_table.size());
    for (const IecRow& row : iec_table) sizes.emplace_back(row.area_mm2);
    return series(sizes);
}

Argument as_gauge(int awg) {
    return Figure{static_cast<double>(awg), Unit::gauge};
}

constexpr int thickest_trade_awg = 10;
constexpr int thinnest_trade_awg = 24;
constexpr double one_km = 1000;  // metres

}  // namespace

double awg_diameter_mm(int awg) {
    return 0.127 * std::pow(92.0, (36 - awg) / 39.0);
}

Result<OhmsPerKm> awg_resistance(int awg, Strand strand) {
    if (awg < thickest_awg || awg > thinnest_awg) {
        return Refusal{
            Message("There is no gauge {gauge}: they run from {thickest} (4/0) to {thinnest}. A loudspeaker line has "
                    "{thinnest_usual} to {thickest_usual}.",
                    {{"gauge", as_gauge(awg)},
                     {"thickest", as_gauge(thickest_awg)},
                     {"thinnest", as_gauge(thinnest_awg)},
                     {"thinnest_usual", as_gauge(thinnest_trade_awg)},
                     {"thickest_usual", as_gauge(thickest_trade_awg)}})};
    }
    const double diameter = awg_diameter_mm(awg);
    const double area_mm2 = std::numbers::pi / 4 * diameter * diameter;
    const double solid = one_km / (copper_conductivity * area_mm2);
    return OhmsPerKm(strand == Strand::stranded ? solid * stranding_factor : solid);
}

Result<OhmsPerKm> iec_resistance(SquareMm area, int iec_class) {
    if (iec_class != 1 && iec_class != 2 && iec_class != 5) {
        return Refusal{
            Message("IEC 60228 has no conductor class {class} here: the classes known are 1 (solid), 2 (stranded) and "
                    "5 (flexible).",
                    {{"class", iec_class}})};
    }
    for (const IecRow& row : iec_table) {
        if (same_area(area.value(), row.area_mm2)) {
            return OhmsPerKm(iec_class == 5 ? row.class_5 : row.class_1_and_2);
        }
    }
    if (!std::isfinite(area.value()))
        return Refusal{
            Message("The IEC 60228 table has no such size: the sizes known are {sizes}. For another, give the Ω/km "
                    "of one conductor.",
                    {{"sizes", known_sizes()}})};
    return Refusal{
        Message("The IEC 60228 table has no conductor of {size}: the sizes known are {sizes}. For another, give "
                "the Ω/km of one conductor.",
                {{"size", area}, {"sizes", known_sizes()}})};
}

OhmsPerKm in_metal(OhmsPerKm copper, Metal metal) {
    return metal == Metal::copper_clad_aluminium ? copper * copper_clad_aluminium_factor : copper;
}

OhmsPerKm at_temperature(OhmsPerKm at_20, Celsius celsius) {
    TAPWRIGHT_ENSURE(celsius.value() > -230);
    return at_20 * (1 + copper_temperature_coefficient * (celsius.value() - 20));
}

Ohms pair_resistance(OhmsPerKm conductor, Metres one_way) {
    TAPWRIGHT_ENSURE(std::isfinite(conductor.value()) && conductor.value() >= 0);
    TAPWRIGHT_ENSURE(std::isfinite(one_way.value()) && one_way.value() >= 0);
    return Ohms(2 * one_way.value() * conductor.value() / one_km);
}

std::optional<int> next_awg_up(int awg) {
    const int up = awg % 2 == 0 ? awg - 2 : awg - 1;
    if (up < thickest_trade_awg) return std::nullopt;
    return up;
}

std::optional<SquareMm> next_area_up(SquareMm area) {
    for (const IecRow& row : iec_table) {
        if (row.area_mm2 > area.value() && !same_area(area.value(), row.area_mm2)) return SquareMm(row.area_mm2);
    }
    return std::nullopt;
}

}  // namespace tapwright
