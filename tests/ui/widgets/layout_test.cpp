#include "ui/drawings/line_layout.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <set>

using tapwright::ui::lay_out_line;
using tapwright::ui::LineLayout;
using tapwright::ui::PlacedPoint;

namespace {

// A repeatable sequence of numbers: Numerical Recipes' quick linear congruential generator.
class Sequence {
public:
    explicit Sequence(std::uint32_t seed) : state_(seed) {}
    std::uint32_t below(std::uint32_t limit) {
        state_ = state_ * 1664525U + 1013904223U;
        return static_cast<std::uint32_t>((static_cast<std::uint64_t>(state_) * limit) >> 32);
    }

private:
    std::uint32_t state_;
};

std::vector<int> random_tree(int count, std::uint32_t seed, std::uint32_t reach) {
    Sequence sequence(seed);
    std::vector<int> feeds;
    for (int i = 0; i < count; ++i) {
        const int back = 1 + static_cast<int>(sequence.below(reach));
        feeds.push_back(i - back < 0 ? -1 : i - back);
    }
    return feeds;
}

// Columns through which each point's stroke runs, row by row: no two strokes may share a place unless one feeds the
// other.
void check_no_crossing(const LineLayout& layout, const std::vector<int>& feeds) {
    std::set<std::pair<int, int>> taken;
    for (const PlacedPoint& point : layout.points) {
        CHECK(taken.insert({point.row, point.column}).second);
    }
    for (std::size_t i = 0; i < feeds.size(); ++i) {
        const PlacedPoint& point = layout.points[i];
        if (feeds[i] < 0) continue;
        const PlacedPoint& feed = layout.points[static_cast<std::size_t>(feeds[i])];
        CHECK(point.row > feed.row);
        CHECK((point.column == feed.column || point.column == feed.column + 1));
        // The stroke runs down the feed's column: no symbol stands in its way.
        bool free = true;
        for (int row = feed.row + 1; row < point.row && free; ++row) free = !taken.count({row, feed.column});
        CHECK(free);
    }
}

}  // namespace

TEST_CASE("a plain string goes straight down") {
    const std::vector<int> feeds = {-1, 0, 1, 2};
    const LineLayout layout = lay_out_line(feeds);
    CHECK(layout.columns == 1);
    for (int i = 0; i < 4; ++i) CHECK(layout.points[static_cast<std::size_t>(i)].row == i);
}

TEST_CASE("at a branch the longer side goes straight on, the shorter one stands beside and before it") {
    //  0 -> 1 -> 2 -> 3, and 0 -> 4
    const std::vector<int> feeds = {-1, 0, 1, 2, 0};
    const LineLayout layout = lay_out_line(feeds);
    CHECK(layout.points[4].column == 1);
    CHECK(layout.points[4].row == 1);
    CHECK(layout.points[1].column == 0);
    CHECK(layout.points[1].row == 2);
}

TEST_CASE("a thousand points lie apart, no line crosses another, and the columns stay few") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        CAPTURE(seed);
        const std::vector<int> feeds = random_tree(1000, seed, 1 + seed);
        const LineLayout layout = lay_out_line(feeds);
        CHECK(layout.by_row.size() == 1000);
        // Heavy paths: a side branch holds at most half of what is left, so log2(1000) + 1 columns at the most.
        CHECK(layout.columns <= static_cast<int>(std::log2(1000.0)) + 2);
        check_no_crossing(layout, feeds);
    }
}

TEST_CASE("a hundred thousand points in one string are laid out without recursion") {
    const std::vector<int> feeds = random_tree(100000, 1, 1);
    const LineLayout layout = lay_out_line(feeds);
    CHECK(layout.columns == 1);
    CHECK(layout.points.back().row == 99999);
}

TEST_CASE("points that feed each other in a loop still get a place, at the end") {
    const std::vector<int> feeds = {-1, 2, 1, 0};
    const LineLayout layout = lay_out_line(feeds);
    CHECK(layout.by_row.size() == 4);
    CHECK(layout.points[3].reached);
    CHECK_FALSE(layout.points[1].reached);
    CHECK(layout.points[1].row >= 2);
}

TEST_CASE("no points are no rows") {
    CHECK(lay_out_line({}).by_row.empty());
}
