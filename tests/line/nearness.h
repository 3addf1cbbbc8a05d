// Comparing within a relative tolerance, and saying how far off a value is.
#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

namespace tapwright {

// |value - expected| / |expected|; with expected 0, |value|. Equal infinities are 0 apart.
inline double relative_error(double value, double expected) {
    if (value == expected) return 0;
    return std::abs(value - expected) / (expected == 0 ? 1 : std::abs(expected));
}
inline double relative_error(std::complex<double> value, std::complex<double> expected) {
    if (value == expected) return 0;
    return std::abs(value - expected) / (std::abs(expected) == 0 ? 1 : std::abs(expected));
}

// From magnitude and degrees.
inline std::complex<double> phasor(double magnitude, double degrees) {
    return std::polar(magnitude, degrees * std::numbers::pi / 180);
}

}  // namespace tapwright
