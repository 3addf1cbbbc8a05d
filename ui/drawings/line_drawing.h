// The line drawing: one zone's line from the amplifier to the last loudspeaker, to pan, zoom and touch.
//
// Strokes are as thick as the watts they carry; a point's shape says what it is; its label, tap, level and reading
// stand in its row. Text keeps its size whatever the zoom: when rows come closer than a line of text, only every
// second, third
// ... label is shown, so that a thousand points stay readable and nothing is written over. The caller knows where a
// line is broken or not traced and says so in the data. Where a fault is sought, suspect points and runs have a sign of
// their own, and each says so in words.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ui/drawings/line_layout.h"
#include "ui/frame/context.h"

namespace tapwright::ui {

struct LinePoint {
    enum class Kind { loudspeaker, attenuator, splice, other };
    std::string id;  // its mark is NAME.point.ID
    int feed = -1;   // index in the data of what feeds it, -1 the source
    Kind kind = Kind::loudspeaker;
    Message label;    // "L-104"
    Message setting;  // "5 W", behind the label wherever that is written: what somebody set here
    // "138 Ω, 92 Ω expected", in a line of its own; where rows are low behind the label, or "138 Ω read" there.
    Message reading, reading_short;
    Message detail;    // "Dining room", in that line where rows are high enough
    Message level;     // "-0.8 dB", at the right
    double watts = 0;  // carried by the run that feeds it
    Tone tone = Tone::plain;
    bool dashed = false;  // a trial, or not traced for certain
    // "suspect, 63 %": a fault may be here. Instead of the level, with a diamond around the point.
    Message suspect;
    Message suspect_figure;       // "63 %", where there is room for no more beside the label
    bool is_run_suspect = false;  // and it is the run that feeds it: two bars across that
};

struct LineDrawingData {
    Message source;         // "Amplifier 1, zone 2"
    Message source_short;   // "Zone 2", where there is no room for both; may say nothing
    Message source_detail;  // below it: "138 Ω, 92 Ω expected"
    std::vector<LinePoint> points;
    int selected = -1;
    int revision = 0;  // changes when the points do: the layout is made anew
};

// Owned by the screen: where the person has moved the paper to.
struct LineView {
    float zoom = 1;           // 1: rows are 56 units high, labels full
    float left = 0, top = 0;  // pixels of paper above and to the left of the window onto it
    bool fit_next = false;    // set to show everything
    bool start_next = false;  // set to show the amplifier's end, everything where that leaves each label in sight
    int show_next = -1;       // set to bring a point into sight
    LineLayout layout;
    int laid_out_revision = -1;
};

// Stroke thickness in units for so many watts of `most`: 2 for nothing, 12 for all.
float stroke_units(double watts, double most);

// Every which label is shown when rows are `row_pixels` apart and a label needs `label_pixels`: 1 all, 2 every second.
int label_stride(float row_pixels, float label_pixels);

struct LineTouch {
    int tapped = -1, long_pressed = -1;  // points
    bool source_tapped = false;
};

// Draws it over the width left, `height` pixels high. Marks NAME, NAME.point.ID for points in sight, NAME.fit, NAME.in,
// NAME.out; these keys stand below the drawing, clear of it. Keyboard: plus and minus zoom, arrows up and down go from
// point to point (reported as taps).
LineTouch line_drawing(Context& context, std::string_view name, const LineDrawingData& data, LineView& view,
                       float height);

}  // namespace tapwright::ui
