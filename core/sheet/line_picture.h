// The drawing of a line: from the amplifier on the left to the last point on the right, strokes as thick as the watts
// they carry. Layout alone: what stands at a point and how much runs to it comes in as texts and numbers.
//
// How it is laid out. A point and the first thing it feeds stand in one row; whatever else it feeds begins a row of its
// own further down, reached by an upright stroke to the right of the point. What is looped through at an attenuator's
// input comes off to its left, so that a row of attenuators reads as a riser. Every upright has a lane between the
// columns that no text enters. A row that reaches the right edge goes on in a row further down that begins with
// "from ..."; what finds no room on a page goes on in the next figure in the same way.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/sheet/document.h"

namespace tapwright::line_picture {

enum class Symbol : std::uint8_t { speaker, attenuator, splice, other };

inline constexpr std::uint32_t from_the_amplifier = 0xFFFFFFFFu;

struct Node {
    std::uint32_t feed = from_the_amplifier;  // place of what feeds it in the list
    bool at_input = false;                    // looped through at the feed's input
    Symbol symbol = Symbol::other;
    std::string name;
    std::vector<std::string> remarks;  // at most two are drawn, below the name
    std::string run;                   // of the cable that feeds it: "22 m"
    double watts = 0;                  // carried by that cable
    bool dashed = false;               // not there yet
};

struct Source {
    std::string name;
    std::vector<std::string> remarks;  // at most three
    double watts = 0;                  // leaving the amplifier: the thickest stroke
};

// Room for one figure, in columns and rows.
struct Extent {
    int columns = 6;
    int rows = 10;
};

// `words`: for what the drawing says by itself, "from ...".
// Requires: a node's feed stands before it in the list; extent is at least 1 by 1.
// Returns: one drawing or more, every node in exactly one of them; none for an empty list. Linear in the nodes.
std::vector<document::Drawing> draw(const Source& source, const std::vector<Node>& nodes, const Words& words = Words(),
                                    Extent extent = {});

// An upper estimate of how wide `text` runs, in points, and the text cut with an ellipsis to what stays within `width`.
double estimated_width(std::string_view text, double size);
std::string fitted(std::string_view text, double width, double size);

}  // namespace tapwright::line_picture
