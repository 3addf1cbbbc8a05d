// Sizes, weights and colours of the printed sheet, in points (1/72 inch). One place, so that the sheet stays one thing.
#pragma once

#include "core/sheet/document.h"

namespace tapwright::print {

struct Colour {
    double red;
    double green;
    double blue;
    bool operator==(const Colour&) const = default;
};

constexpr Colour colour(unsigned rgb) {
    return {static_cast<double>((rgb >> 16U) & 255U) / 255.0, static_cast<double>((rgb >> 8U) & 255U) / 255.0,
            static_cast<double>(rgb & 255U) / 255.0};
}

namespace theme {

// Every text colour has at least 5.5:1 against white and prints dark enough without colour.
constexpr Colour ink = colour(0x1B2125);
constexpr Colour quiet = colour(0x566069);
constexpr Colour white = colour(0xFFFFFF);
constexpr Colour hairline = colour(0xD3D8DB);
constexpr Colour track = colour(0xEEF0F1);
constexpr Colour reserve = colour(0xD2D8DC);
constexpr Colour block = colour(0x4A5C69);
constexpr Colour good = colour(0x1D6641);
constexpr Colour note = colour(0x2B5782);
constexpr Colour warning = colour(0x7D5200);
constexpr Colour stop = colour(0x9C2218);

// Of Shades, darkest first: about evenly spaced in lightness, so that they stay apart in grey.
constexpr Colour shades[] = {colour(0x23415C), colour(0x426582), colour(0x6A8AA4),
                             colour(0x97AFC2), colour(0xC5D3DE), colour(0xEEF2F5)};

constexpr double margin_side = 42;
constexpr double margin_top = 40;
constexpr double margin_bottom = 30;  // below the footer
constexpr double footer_gap = 10;     // between the body and the footer's rule

constexpr double tone_mark = 7;     // side of the shape that goes with a tone
constexpr double tone_indent = 11;  // room the shape takes before a text

}  // namespace theme

// How a text is set: size in points, weight as in CSS, and the distance of baselines as a multiple of the size.
struct Style {
    double size;
    int weight;
    double leading;
    bool operator==(const Style&) const = default;
};

namespace theme {

constexpr Style heading_1{21, 600, 1.22};
constexpr Style heading_1_dense{17, 600, 1.15};
constexpr Style heading_2{13.5, 600, 1.25};
constexpr Style heading_2_dense{12, 600, 1.2};
constexpr Style heading_3{10.5, 600, 1.3};
constexpr Style body{9.5, 400, 1.42};
constexpr Style body_strong{9.5, 500, 1.42};
constexpr Style body_dense{9.5, 400, 1.2};
constexpr Style body_dense_strong{9.5, 500, 1.2};
constexpr Style large{12, 600, 1.25};  // what has to be found at once
constexpr Style caption{9, 400, 1.3};
constexpr Style table_caption{9.5, 600, 1.3};
constexpr Style small{8, 400, 1.3};

}  // namespace theme

// The colour of a tone. Never the only sign: shapes.h adds a shape, and warnings and stops are set heavier.
constexpr Colour tone_colour(document::Tone tone) {
    switch (tone) {
        case document::Tone::plain:
            return theme::ink;
        case document::Tone::good:
            return theme::good;
        case document::Tone::note:
            return theme::note;
        case document::Tone::warning:
            return theme::warning;
        case document::Tone::stop:
            return theme::stop;
    }
    return theme::ink;
}

}  // namespace tapwright::print
