// A floor seen from above with the level at each spot: six steps from the loudest down, each 3 dB, lighter or darker in
// one colour so that they read in grey too, with the figures beside them.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ui/context.h"

namespace tapwright::ui {

struct LevelMapData {
    float length = 1, width = 1;  // of the floor, in any unit
    std::size_t columns = 0, rows = 0;
    std::span<const float> db;                // row by row, columns * rows of them; outlives the call
    std::vector<std::array<float, 2>> spots;  // loudspeakers, in the floor's unit
    float loudest = 0;
    std::string words;  // what it shows, for who cannot see it
};

inline constexpr int level_steps = 6;
inline constexpr float step_db = 3;
// The step of a level: 0 the loudest 3 dB, 5 everything 15 dB or more below.
int level_step(float db, float loudest);

// Draws it over the width left, at most `most_units` high, with its key below. Marks NAME.
void level_map_drawing(Context& context, std::string_view name, const LevelMapData& data, float most_units = 320);

}  // namespace tapwright::ui
