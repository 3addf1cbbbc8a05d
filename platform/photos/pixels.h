// A decoded picture and what is done to it: scaling down and turning. Private to platform/photos.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace tapwright::photos {

// Rows from the top without gaps, 3 bytes a pixel: red, green, blue.
struct Pixels {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgb;

    std::size_t row_bytes() const { return static_cast<std::size_t>(width) * 3; }
};

// The size a picture gets so that its longer side has at most `longest` pixels; each side at least 1, none grows.
struct Size {
    int width;
    int height;
};
Size fitted(int width, int height, int longest);

// Scaled down by averaging over areas. Requires: 0 < size <= the picture's, on both sides.
Pixels scaled(const Pixels& from, Size size);

// Turned upright. `orientation` as in EXIF, tag 274: 1 to 8; anything else leaves it as it is.
Pixels upright(Pixels from, int orientation);

}  // namespace tapwright::photos
