// Writing one's name by finger, pen or mouse.
#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "ui/frame/context.h"

namespace tapwright::ui {

// A name being written: each stroke a list of x, y in 0..1 of the field, x to the right and y down. Belongs to a
// screen.
struct SignatureDraft {
    std::vector<std::vector<std::array<double, 2>>> strokes;
    bool is_drawing = false;  // the pointer is down in the field
};

// The field to write in, as wide as what is left and two fifths as high, but at most `most_units`. A drag in it writes
// and never scrolls the page. Its mark says whether something is written.
void signature_field(Context& context, std::string_view name, const Message& words, SignatureDraft& draft,
                     float most_units);

// What was written, in a box of that many pixels at the cursor.
void signature_picture(Context& context, std::string_view name, const Message& words,
                       const std::vector<std::vector<std::array<double, 2>>>& strokes, float width, float height);

}  // namespace tapwright::ui
