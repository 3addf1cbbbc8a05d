// Whether a figure keeps a limit: the one comparison behind loads, ratings, losses and impedances.
//
// A limit reached exactly is kept. 50 loudspeakers of 1.2 W are 60 W, but their sum in doubles is 60.000000000000014:
// the taps people write are decimals, most have no exact double, and each addition rounds by up to 2^-53 of the sum.
// Adding n of them is off by less than n 2^-53 of the sum (Higham, Accuracy and Stability of Numerical Algorithms,
// section 4.2, from memory), which for the 100,000 points of the largest job is 1.1e-11; scaling to another line
// voltage and taking off the reserve add a few roundings more. A share of 1e-9 lies far above that, and far below what
// any meter tells apart: of 60 W it is 0.06 µW.
#pragma once

#include <cmath>
#include <optional>

#include "core/units/quantity.h"

namespace tapwright {

inline constexpr double rounding_share = 1e-9;

// Whether `value` is the limit or below it; whether it is the limit or above it.
template <class Q>
constexpr bool keeps_most(Q value, Q most) {
    return !(value.value() > most.value() + std::abs(most.value()) * rounding_share);
}
template <class Q>
constexpr bool keeps_least(Q value, Q least) {
    return !(value.value() < least.value() - std::abs(least.value()) * rounding_share);
}

// By how much `value` is above `most`; nothing where it keeps it.
template <class Q>
constexpr std::optional<Q> above_most(Q value, Q most) {
    if (keeps_most(value, most)) return std::nullopt;
    return value - most;
}

// What is left of something that was taken from `limit`: 0 where only rounding is left, on either side.
template <class Q>
constexpr Q without_rounding(Q left, Q limit) {
    return std::abs(left.value()) <= std::abs(limit.value()) * rounding_share ? Q(0) : left;
}

}  // namespace tapwright
