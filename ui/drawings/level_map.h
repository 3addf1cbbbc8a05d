// A floor seen from above with the level at each spot in six steps, lighter or darker in one colour so that they read
// in grey too, with the figures of the steps below.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/context.h"

namespace tapwright::ui {

struct LevelMapData {
    float length = 1, width = 1;  // of the floor, in any unit
    std::size_t columns = 0, rows = 0;
    std::span<const std::uint8_t> cells;      // row by row, columns * rows of them: 0 the loudest; outlives the call
    std::span<const Message> key;             // what each step means; empty: it does not occur. Outlives the call
    std::vector<std::array<float, 2>> spots;  // loudspeakers, in the floor's unit
    Message words;                            // what it shows, for who cannot see it
};

// Draws it over the width left, at most `most_units` high, with its key below. Marks NAME.
void level_map_drawing(Context& context, std::string_view name, const LevelMapData& data, float most_units = 320);

}  // namespace tapwright::ui
