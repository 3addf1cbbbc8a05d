// Quantities as types: a Watts cannot be added to a Volts, and no unit is ever a bare double in an interface.
//
// Each quantity holds one double in the SI unit its name says (kilometres, millimetres and hours only where the trade
// counts so). Arithmetic that keeps the dimension is here; what changes it (V^2/P) is written out beside it.
#pragma once

#include <cmath>
#include <compare>

namespace tapwright {

template <class Dimension>
class Quantity {
public:
    constexpr Quantity() = default;
    constexpr explicit Quantity(double value) : value_(value) {}

    constexpr double value() const { return value_; }

    constexpr auto operator<=>(const Quantity&) const = default;

    constexpr Quantity operator-() const { return Quantity(-value_); }
    constexpr Quantity& operator+=(Quantity other) { return *this = *this + other; }
    constexpr Quantity& operator-=(Quantity other) { return *this = *this - other; }

    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.value_ + b.value_); }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.value_ - b.value_); }
    friend constexpr Quantity operator*(Quantity a, double factor) { return Quantity(a.value_ * factor); }
    friend constexpr Quantity operator*(double factor, Quantity a) { return a * factor; }
    friend constexpr Quantity operator/(Quantity a, double divisor) { return Quantity(a.value_ / divisor); }
    friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }

private:
    double value_ = 0;
};

using Volts = Quantity<struct VoltsDimension>;
using Amps = Quantity<struct AmpsDimension>;
using MilliAmps = Quantity<struct MilliAmpsDimension>;
using Watts = Quantity<struct WattsDimension>;
using Ohms = Quantity<struct OhmsDimension>;
using OhmsPerKm = Quantity<struct OhmsPerKmDimension>;  // of one conductor
using Henries = Quantity<struct HenriesDimension>;
using Hertz = Quantity<struct HertzDimension>;
using Metres = Quantity<struct MetresDimension>;
using SquareMm = Quantity<struct SquareMmDimension>;
using Celsius = Quantity<struct CelsiusDimension>;
using Decibels = Quantity<struct DecibelsDimension>;  // a difference of levels, or a gain
using Percent = Quantity<struct PercentDimension>;
using Degrees = Quantity<struct DegreesDimension>;

// A sound pressure level re 20 micropascal, A-weighted. A level is not a difference: two
// levels meet only in energy_sum().
class SoundLevel {
public:
    constexpr SoundLevel() = default;
    constexpr explicit SoundLevel(double db) : db_(db) {}
    constexpr double value() const { return db_; }
    constexpr auto operator<=>(const SoundLevel&) const = default;

    friend constexpr SoundLevel operator+(SoundLevel level, Decibels gain) {
        return SoundLevel(level.db_ + gain.value());
    }
    friend constexpr SoundLevel operator-(SoundLevel level, Decibels gain) {
        return SoundLevel(level.db_ - gain.value());
    }
    friend constexpr Decibels operator-(SoundLevel a, SoundLevel b) { return Decibels(a.db_ - b.db_); }

private:
    double db_ = 0;
};

// What a loudspeaker gives on axis for 1 W at 1 m: a sound pressure level as its data sheet has it, weighted by
// nothing.
class Sensitivity {
public:
    constexpr Sensitivity() = default;
    constexpr explicit Sensitivity(double db) : db_(db) {}
    constexpr double value() const { return db_; }
    constexpr auto operator<=>(const Sensitivity&) const = default;

private:
    double db_ = 0;
};

// Ohm's law for a resistive load: P = V^2/R and its two readings.
constexpr Ohms ohms_of(Volts v, Watts p) {
    return Ohms(v.value() * v.value() / p.value());
}
constexpr Watts watts_of(Volts v, Ohms r) {
    return Watts(v.value() * v.value() / r.value());
}

// Decibels of a power ratio, and back.
inline Decibels decibels_of_power(double ratio) {
    return Decibels(10 * std::log10(ratio));
}
inline double power_ratio(Decibels gain) {
    return std::pow(10.0, gain.value() / 10);
}
inline double voltage_ratio(Decibels gain) {
    return std::pow(10.0, gain.value() / 20);
}

namespace literals {
#define TAPWRIGHT_LITERAL(suffix, Type)                            \
    constexpr Type operator""_##suffix(long double value) {        \
        return Type(static_cast<double>(value));                   \
    }                                                              \
    constexpr Type operator""_##suffix(unsigned long long value) { \
        return Type(static_cast<double>(value));                   \
    }
TAPWRIGHT_LITERAL(V, Volts)
TAPWRIGHT_LITERAL(A, Amps)
TAPWRIGHT_LITERAL(mA, MilliAmps)
TAPWRIGHT_LITERAL(W, Watts)
TAPWRIGHT_LITERAL(ohm, Ohms)
TAPWRIGHT_LITERAL(ohm_per_km, OhmsPerKm)
TAPWRIGHT_LITERAL(H, Henries)
TAPWRIGHT_LITERAL(Hz, Hertz)
TAPWRIGHT_LITERAL(m, Metres)
TAPWRIGHT_LITERAL(mm2, SquareMm)
TAPWRIGHT_LITERAL(degC, Celsius)
TAPWRIGHT_LITERAL(dB, Decibels)
TAPWRIGHT_LITERAL(dBA, SoundLevel)
#undef TAPWRIGHT_LITERAL
}  // namespace literals

}  // namespace tapwright
