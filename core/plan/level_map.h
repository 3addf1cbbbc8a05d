// Level map: the direct sound of a room's loudspeakers on the plane of the ears, as plain numbers a window or a sheet
// can draw.
//
// Each loudspeaker looks straight down and radiates with the pressure cos^n of the angle off its axis, n such that it
// is -6 dB at half its cone; levels add as energies, and fall with 20 lg of the distance (free field). A model: rooms,
// shadows and beams are left out. Source: textbook acoustics, no single source; "Level over a floor" in
// docs/calculations.md.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "core/plan/coverage.h"

namespace tapwright {

// One loudspeaker above the plane of the ears.
struct Source {
    Spot at;
    Metres drop{0};           // from it down to the ears; > 0
    SoundLevel one_metre{0};  // on axis at 1 m, with the watts it gets
    double exponent = 1;      // n
};

// Level at `distance` on axis: S + 10 lg P - 20 lg r. Requires: watts and distance > 0.
SoundLevel level_on_axis(SoundLevel sensitivity, Watts watts, Metres distance);

// The sum of levels that have nothing to do with each other. Requires: at least one.
SoundLevel energy_sum(std::span<const SoundLevel> levels);

// n of p ~ cos^n for -6 dB (half the pressure) at half the cone. Requires: 0 < cone < 180 degrees.
double exponent_of(Degrees cone);

// What these make together at one spot on the plane of the ears. Requires: at least one.
SoundLevel level_at(std::span<const Source> sources, const Spot& spot);

struct LevelMap {
    Floor floor;
    std::size_t columns = 0;  // along the length
    std::size_t rows = 0;     // along the width
    std::vector<float> db;    // row by row, each in the middle of its cell
    SoundLevel mean{0};       // of the energy over the floor
    SoundLevel least{0};      // over all cells, the floor's corners, and under each loudspeaker
    SoundLevel greatest{0};
    Decibels spread() const { return greatest - least; }
    float at(std::size_t column, std::size_t row) const { return db[row * columns + column]; }
};

// Cells of at most a third of a metre, as far as that stays quick: never more than 1.2 million terms in all, never
// fewer than 12 cells along a side. Requires: at least one source, floor > 0.
LevelMap level_map(std::span<const Source> sources, const Floor& floor);

// ---- how it is drawn ----
// In six steps from the loudest down, each 3 dB wide; the last one holds everything 15 dB or more below the loudest.
inline constexpr int level_steps = 6;
inline constexpr float level_step_db = 3;
struct LevelSteps {
    std::vector<std::uint8_t> cells;       // of each cell of the map: 0 the loudest
    std::array<Message, level_steps> key;  // "72 to 69 dB", "below 60 dB"; says nothing where it does not occur
};
LevelSteps steps_of(const LevelMap& map);

// Greatest less least level over one mesh of an endless layout: what the middle of a large room shows.
// Requires: spacing and drop > 0.
Decibels spread_of_endless(Grid grid, Metres spacing, Metres drop, double exponent);

}  // namespace tapwright
