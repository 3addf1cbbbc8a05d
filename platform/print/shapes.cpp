#include "platform/print/shapes.h"

#include <numbers>

namespace tapwright::print {
namespace {

void tick(cairo_t* context, double x, double y, double side) {
    cairo_set_line_width(context, side * 0.2);
    cairo_move_to(context, x + side * 0.08, y + side * 0.55);
    cairo_line_to(context, x + side * 0.38, y + side * 0.86);
    cairo_line_to(context, x + side * 0.94, y + side * 0.16);
    cairo_stroke(context);
}

void ring(cairo_t* context, double x, double y, double side) {
    cairo_set_line_width(context, side * 0.17);
    cairo_arc(context, x + side / 2, y + side / 2, side * 0.41, 0, 2 * std::numbers::pi);
    cairo_stroke(context);
}

void triangle(cairo_t* context, double x, double y, double side) {
    cairo_set_line_width(context, side * 0.16);
    cairo_set_line_join(context, CAIRO_LINE_JOIN_ROUND);
    cairo_move_to(context, x + side / 2, y + side * 0.08);
    cairo_line_to(context, x + side * 0.97, y + side * 0.92);
    cairo_line_to(context, x + side * 0.03, y + side * 0.92);
    cairo_close_path(context);
    cairo_stroke(context);
    cairo_rectangle(context, x + side * 0.43, y + side * 0.38, side * 0.14, side * 0.32);
    cairo_fill(context);
}

void barred_square(cairo_t* context, double x, double y, double side) {
    cairo_rectangle(context, x, y, side, side);
    cairo_fill(context);
    set_colour(context, theme::white);
    cairo_rectangle(context, x + side * 0.18, y + side * 0.41, side * 0.64, side * 0.18);
    cairo_fill(context);
}

}  // namespace

void set_colour(cairo_t* context, const Colour& colour) {
    cairo_set_source_rgb(context, colour.red, colour.green, colour.blue);
}

void draw_tone(cairo_t* context, document::Tone tone, double x, double y, double side) {
    set_colour(context, tone_colour(tone));
    switch (tone) {
        case document::Tone::plain:
            return;
        case document::Tone::good:
            return tick(context, x, y, side);
        case document::Tone::note:
            return ring(context, x, y, side);
        case document::Tone::warning:
            return triangle(context, x, y, side);
        case document::Tone::stop:
            return barred_square(context, x, y, side);
    }
}

void draw_shape(cairo_t* context, const Shape& shape) {
    cairo_new_path(context);  // an arc would draw a line from where the last text ended
    set_colour(context, shape.colour);
    switch (shape.kind) {
        case Shape::Kind::box:
            cairo_rectangle(context, shape.x, shape.y, shape.width, shape.height);
            cairo_fill(context);
            return;
        case Shape::Kind::tone:
            draw_tone(context, shape.tone, shape.x, shape.y, shape.width);
            return;
        case Shape::Kind::bullet:
            cairo_arc(context, shape.x + shape.width / 2, shape.y + shape.width / 2, shape.width / 2, 0,
                      2 * std::numbers::pi);
            cairo_fill(context);
            return;
    }
}

}  // namespace tapwright::print
