// What a JPEG says of itself, without decoding it.
#pragma once

#include <optional>
#include <string_view>

namespace tapwright::print {

struct JpegShape {
    int width = 0;  // pixels
    int height = 0;
    int components = 0;  // 1 grey, 3 colour
};

// Walks the markers (ITU-T T.81, annex B) to the frame header. Returns: nothing when `bytes` is not a whole JPEG that
// a PDF reader shows: no start or end marker, no frame header, 12-bit, lossless or arithmetic coding, no pixels, or
// another number of components than 1 or 3.
std::optional<JpegShape> jpeg_shape(std::string_view bytes);

}  // namespace tapwright::print
