// Two charts where looking beats reading: level along the line, and readings over time against their band.
//
// Data come ready: values, words and tones. The chart only places them. Few labels: a few round values up the side, the
// ends below, the band and the point in hand.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/context.h"

namespace tapwright::ui {

struct ChartPoint {
    double x = 0, y = 0;
    Tone tone = Tone::plain;  // good is inside, everything else has its own shape
    Message label = {};       // for the one in hand, for example "L-104: -0.8 dB"
};

struct ChartData {
    Message title;  // "Level along the line"
    Unit x_unit = Unit::none, y_unit = Unit::none;
    std::vector<ChartPoint> points;
    bool joined = true;  // a line through the points, in the order given
    // A band that is right, or a single limit: low and high the same.
    bool has_band = false;
    double band_low = 0, band_high = 0;
    Message band_word;          // "expected", "limit"
    bool limit_is_low = false;  // the band's lower edge is the limit the word stands at
    Message x_first, x_last;    // words at the ends of the x axis; empty: the numbers
    int selected = -1;
};

// Where things go, in pixels inside `plot`.
struct ChartLayout {
    Area plot;
    double x_least = 0, x_greatest = 1, y_least = 0, y_greatest = 1;  // what the plot's edges stand for
    float inset = 0;  // pixels at both ends of the x axis, so that no point lies on an edge
    float x_of(double x) const;
    float y_of(double y) const;
};
// Round values between `least` and `greatest`: as few as there can be, but two or more; 1, 2 or 5 times a power of ten
// apart. Requires: least < greatest.
std::vector<double> round_values(double least, double greatest);
// The axes hold every point and the whole band, with a little room above and below; a single value gets room around it.
ChartLayout lay_out_chart(const ChartData& data, Area plot);

// Draws it over the width left, `height_units` high, as one touch target. Marks NAME.
// Returns: the index of the point nearest to a tap (within 48 units), else -1.
int chart(Context& context, std::string_view name, const ChartData& data, float height_units = 220);

}  // namespace tapwright::ui
