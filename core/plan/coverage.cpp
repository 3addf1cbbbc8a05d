#include "core/plan/coverage.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/base/ensure.h"
#include "core/base/sort.h"

namespace tapwright {
namespace {

constexpr double most_spots = 100000;

// How many pitches cover `extent`; what only rounding makes longer does not cost another.
double count_over(Metres extent, Metres pitch) {
    return std::max(1.0, std::ceil(extent / pitch - 1e-9));
}

}  // namespace

std::string_view word(Grid grid) {
    return grid == Grid::square ? "square" : "staggered";
}

std::string_view word(LayoutRule rule) {
    switch (rule) {
        case LayoutRule::touching:
            return "touching";
        case LayoutRule::gapless:
            return "gapless";
        case LayoutRule::twofold:
            return "double";
    }
    TAPWRIGHT_ENSURE(!"a rule that is not in the list");
}

Metres circle_of(Metres drop, Degrees cone) {
    TAPWRIGHT_ENSURE(drop > Metres(0) && cone > Degrees(0) && cone < Degrees(180));
    return drop * (2 * std::tan(cone.value() / 2 * std::numbers::pi / 180));
}

Metres spacing_of(Grid grid, LayoutRule rule, Metres diameter) {
    switch (rule) {
        case LayoutRule::touching:
            return diameter;
        case LayoutRule::gapless:
            return diameter * (grid == Grid::square ? 1 / std::numbers::sqrt2 : std::numbers::sqrt3 / 2);
        case LayoutRule::twofold:
            return diameter / 2;
    }
    TAPWRIGHT_ENSURE(!"a rule that is not in the list");
}

Rows rows_for(const Floor& floor, Grid grid, Metres spacing) {
    TAPWRIGHT_ENSURE(floor.length > Metres(0) && floor.width > Metres(0) && spacing > Metres(0));
    const Metres between = grid == Grid::square ? spacing : spacing * (std::numbers::sqrt3 / 2);
    Rows rows{.grid = grid};
    rows.rows = floor.width <= spacing ? 1 : count_over(floor.width, between);
    rows.each = count_over(floor.length, spacing);
    rows.pitch = floor.length / rows.each;
    rows.distance = floor.width / rows.rows;
    return rows;
}

namespace {

// How far the nearest of these is. Walks away from the place along x, on either side until that alone is too far.
// Requires: `by_x` is in order of x, and not empty.
double nearest_of(const std::vector<Spot>& by_x, const Spot& place) {
    double least2 = std::numeric_limits<double>::infinity();
    // Returns: whether what is farther along x may still be nearer.
    const auto meet = [&](const Spot& spot) {
        const double dx = (spot.x - place.x).value();
        const double dy = (spot.y - place.y).value();
        if (dx * dx >= least2) return false;
        least2 = std::min(least2, dx * dx + dy * dy);
        return true;
    };
    const auto middle =
        std::lower_bound(by_x.begin(), by_x.end(), place.x, [](const Spot& spot, Metres x) { return spot.x < x; });
    for (auto right = middle; right != by_x.end() && meet(*right); ++right) {
    }
    for (auto left = middle; left != by_x.begin() && meet(*(left - 1)); --left) {
    }
    return std::sqrt(least2);
}

}  // namespace

Gaps gaps_of(const Floor& floor, std::span<const Spot> spots, Metres diameter) {
    TAPWRIGHT_ENSURE(!spots.empty() && floor.length > Metres(0) && floor.width > Metres(0));
    // As fine as stays quick: never more than about 20 million distances, were each looked at.
    const auto steps = static_cast<int>(std::clamp(std::sqrt(1e7 / static_cast<double>(spots.size())), 24.0, 150.0));
    std::vector<Spot> by_x(spots.begin(), spots.end());
    sort_by(by_x, [](const Spot& a, const Spot& b) { return a.x < b.x; });
    const auto nearest = [&](double along, double across) {
        return nearest_of(by_x, {floor.length * along, floor.width * across});
    };
    Gaps gaps;
    int outside = 0;
    for (int i = 0; i <= steps; ++i)
        for (int j = 0; j <= steps; ++j) {
            gaps.farthest = std::max(gaps.farthest, Metres(nearest(double(i) / steps, double(j) / steps)));
            if (i == steps || j == steps) continue;  // the share is counted in the middles of the cells
            outside += nearest((i + 0.5) / steps, (j + 0.5) / steps) > diameter.value() / 2 * (1 + 1e-9) ? 1 : 0;
        }
    gaps.share = static_cast<double>(outside) / (static_cast<double>(steps) * steps);
    gaps.beyond = std::max(Metres(0), gaps.farthest - diameter / 2);
    return gaps;
}

std::vector<Spot> spots_of(const Floor& floor, const Rows& rows) {
    TAPWRIGHT_ENSURE(rows.count() <= most_spots);
    const bool staggered = rows.grid == Grid::staggered && rows.rows > 1;
    const auto each = static_cast<int>(rows.each);
    std::vector<Spot> spots;
    spots.reserve(static_cast<std::size_t>(rows.count()));
    for (int row = 0; row < static_cast<int>(rows.rows); ++row) {
        const double start = !staggered ? 0.5 : row % 2 == 0 ? 0.25 : 0.75;
        for (int i = 0; i < each; ++i) {
            const int along = row % 2 == 0 ? i : each - 1 - i;
            spots.push_back({floor.length * ((along + start) / rows.each), rows.distance * (row + 0.5)});
        }
    }
    return spots;
}

}  // namespace tapwright
