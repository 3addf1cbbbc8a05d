// Where the points of a line go on paper: a riser, read from the amplifier at the top to the last loudspeaker.
//
// Every point has a row of its own, so that its label always has room at the right. A line goes straight down its
// column; at a branch the side with the most points goes on in the column and the others are drawn before it, one
// column further right. Since at most half of what is left can hang on such a side branch, n points need no more than
// log2(n) + 1 columns. No lines cross. Time and memory are linear in the number of points, and nothing recurses, so
// that ten thousand points in one long string are as good as a bush.
#pragma once

#include <span>
#include <vector>

namespace tapwright::ui {

struct PlacedPoint {
    int row = 0, column = 0;
    int parent = -1;       // index of what feeds it, -1 for the source
    bool reached = false;  // false when it hangs on itself in a loop: it gets a row at the end
};

struct LineLayout {
    std::vector<PlacedPoint> points;  // in the order of the data
    std::vector<int> by_row;          // the point in each row
    int columns = 1;
};

// `feeds[i]` is the index of the point that feeds point i, or -1 when the source does. Points keep their order among
// those fed by the same one. Requires: every index is -1 or within the span.
LineLayout lay_out_line(std::span<const int> feeds);

}  // namespace tapwright::ui
