// Sheets to try the renderer on. Every name, place and figure in them is invented.
#pragma once

#include <cstddef>
#include <string>

#include "core/sheet/document.h"

namespace tapwright::samples {

// A handover sheet as an installer would hand it on: every kind of block, every tone.
document::Document handover();

// A page of its own with two columns, floors in shades, a photo with a pin.
document::Document laid_out();

// So many labels of that size.
document::Document labels(double width_mm, double height_mm, std::size_t count);

// One table of `rows` loudspeakers in eight columns.
document::Document long_table(std::size_t rows);

// Names in many scripts, words of 300 characters, a cell higher than a page.
document::Document nasty();

// A grey JPEG of that many pixels in a pattern of large squares, made here bit by bit.
std::string picture_jpeg(int width, int height);

}  // namespace tapwright::samples
