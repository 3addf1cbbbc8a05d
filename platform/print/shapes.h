// The few shapes of the sheet that are not text. All of them are artifacts: what they say, a text says too.
#pragma once

#include <cairo.h>

#include "core/sheet/document.h"
#include "platform/print/theme.h"

namespace tapwright::print {

struct Shape {
    enum class Kind { box, tone, bullet };
    Kind kind = Kind::box;
    double x = 0;
    double y = 0;
    double width = 0;
    double height = 0;
    Colour colour = theme::ink;
    document::Tone tone = document::Tone::plain;  // Kind::tone only
};

void set_colour(cairo_t* context, const Colour& colour);
void draw_shape(cairo_t* context, const Shape& shape);

// A shape that tells a tone without colour: a tick for good, a ring for note, a triangle for warning, a full square
// with a bar for stop, nothing for plain. Its box has its top left at (x, y).
void draw_tone(cairo_t* context, document::Tone tone, double x, double y, double side);

}  // namespace tapwright::print
