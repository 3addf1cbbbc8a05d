// Coverage: where loudspeakers that look straight down have to hang so that their circles meet at the listeners' ears.
//
// A circle is what lies inside the cone (to -6 dB) on the plane of the ears: D = 2 (H - h) tan(a/2). Formula as printed
// in study notes for AV design certification and on a trade page; spacings are plane geometry. Definitions and worked
// examples: docs/calculations.md, "Coverage". Nothing here knows records, levels or walls.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "core/base/message.h"
#include "core/units/quantity.h"

namespace tapwright {

enum class Grid : std::uint8_t { square, staggered };
// touching: circles touch; gapless: the widest spacing that leaves no gap in an endless layout; twofold ("double"):
// each circle reaches the centres of its neighbours.
enum class LayoutRule : std::uint8_t { touching, gapless, twofold };
inline constexpr std::array<Grid, 2> grids{Grid::square, Grid::staggered};
inline constexpr std::array<LayoutRule, 3> layout_rules{LayoutRule::touching, LayoutRule::gapless, LayoutRule::twofold};
// The keys of the command line and of `--json`; words for people: core/words/choices.h.
std::string_view word(Grid grid);
std::string_view word(LayoutRule rule);
inline Argument as_argument(Grid grid) {
    return Choice{"Grid", word(grid)};
}
inline Argument as_argument(LayoutRule rule) {
    return Choice{"LayoutRule", word(rule)};
}

// A rectangle of floor, x along its length and y along its width, (0, 0) in a corner.
struct Floor {
    Metres length{0};
    Metres width{0};
};
struct Spot {
    Metres x{0};
    Metres y{0};
    friend bool operator==(const Spot&, const Spot&) = default;
};

// From the loudspeaker's plane down to the ears. Requires: drop > 0, 0 < cone < 180 degrees.
Metres circle_of(Metres drop, Degrees cone);

// Between neighbours, for circles of this diameter.
Metres spacing_of(Grid grid, LayoutRule rule, Metres diameter);

// A layout over one floor: rows of equal length, along the floor's length. What is left over is shared out, so that
// neighbours are never farther apart than the spacing. Staggered rows are shifted by half a pitch; where that
// leaves room for one row only, it is straight.
struct Rows {
    Grid grid = Grid::square;
    double rows = 1;     // whole numbers; as doubles, because a floor may ask for absurdly many
    double each = 1;     // loudspeakers in a row
    Metres pitch{0};     // within a row
    Metres distance{0};  // from row to row
    double count() const { return rows * each; }
};
// Requires: floor and spacing > 0.
Rows rows_for(const Floor& floor, Grid grid, Metres spacing);

// The share of the floor, 0 to 1, that lies in no circle of this diameter around a spot, how far the farthest place on
// it is from the nearest spot, and how far beyond the edge of that circle (0: every place is in one). By a fine grid,
// corners included. Requires: at least one spot; floor > 0.
struct Gaps {
    double share = 0;
    Metres farthest{0};
    Metres beyond{0};
};
Gaps gaps_of(const Floor& floor, std::span<const Spot> spots, Metres diameter);

// Where they hang, row by row, every other row backwards: the way a cable goes. Requires: rows.count() <= 100000.
std::vector<Spot> spots_of(const Floor& floor, const Rows& rows);

}  // namespace tapwright
