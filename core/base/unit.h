// The units a figure may be in: a closed list that a Message can carry before anything knows how a unit is written.
// How each is spelled and shown: core/units/unit.h.
#pragma once

#include <cstddef>
#include <cstdint>

namespace tapwright {

enum class Unit : std::uint8_t {
    none,
    volt,
    amp,
    milliamp,
    watt,
    ohm,
    ohm_per_km,
    henry,
    hertz,
    metre,
    square_mm,
    celsius,
    decibel,
    sound_level,
    sensitivity,
    percent,
    degree,
    gauge,
};
inline constexpr std::size_t unit_count = 18;

// What a length without a unit is in, and how lengths are shown.
enum class LengthUnits : std::uint8_t { metric, feet };

}  // namespace tapwright
