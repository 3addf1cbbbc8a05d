// Our own few signs, drawn from lines and fills: the generic marks of schematics and site drawings, at any size.
#pragma once

#include <imgui.h>

#include "ui/frame/theme.h"

namespace tapwright::ui {

enum class Shape {
    none,
    // tones
    check,
    diamond,
    triangle,
    octagon,
    // actions
    plus,
    minus,
    cross,
    arrow_left,
    arrow_right,
    arrow_up,
    arrow_down,
    chevron,
    search,
    undo,
    redo,
    erase,
    more,
    fit,
    // things on a line
    amplifier,
    loudspeaker,
    attenuator,
    splice,
    other_point,
    // places
    survey,
    rooms,
    lines,
    readings,
    snags,
    handover,
};

// The shape that goes with a tone: check, diamond, triangle, octagon; none for plain.
Shape tone_shape(Tone tone);

// Whether any of that box is inside what the list is clipped to; what is not need not be drawn.
bool in_sight(const ImDrawList* list, ImVec2 least, ImVec2 greatest);

// Draws `shape` into the square of `size` pixels around `centre`. `cut` is the colour of what is cut out of filled
// shapes (the ground they stand on).
void draw_shape(ImDrawList* list, Shape shape, ImVec2 centre, float size, Colour colour, Colour cut);

// Diagonal lines over a rectangle, `step` pixels apart: for load that nobody recorded and for what is out of use.
void draw_hatch(ImDrawList* list, ImVec2 least, ImVec2 greatest, Colour colour, float step, float thickness);

// A dashed outline.
void draw_dashed_rect(ImDrawList* list, ImVec2 least, ImVec2 greatest, Colour colour, float dash, float thickness);

// A dashed straight line.
void draw_dashed_line(ImDrawList* list, ImVec2 from, ImVec2 to, Colour colour, float dash, float thickness);

}  // namespace tapwright::ui
