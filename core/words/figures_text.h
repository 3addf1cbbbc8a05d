// Figures as sentences write them: as many digits as a meter shows, with their unit.
#pragma once

#include <cmath>
#include <string>

#include "core/base/text.h"
#include "core/units/quantity.h"

namespace tapwright {

inline std::string in_ohms(double value) {
    const double size = std::abs(value);
    return rounded(value, size < 100 ? 2 : size < 1000 ? 1 : 0) + " ohm";
}
inline std::string in_watts(double value) {
    return rounded(value, std::abs(value) < 1000 ? 1 : 0) + " W";
}
inline std::string in_volts(Volts value) {
    return rounded(value.value(), 1) + " V";
}

}  // namespace tapwright
