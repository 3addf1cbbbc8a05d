// Photos as they come in: JPEG or PNG bytes from a camera, a file or a stranger, to a small JPEG that holds the picture
// and nothing else.
//
// The bytes are taken as hostile. What the header claims is checked before anything is decoded (at most 64 megapixels
// and 40 MiB), the decoders are libjpeg-turbo and libpng, and whatever the bytes are, the answer is a copy or one
// sentence. The kind is told by the content, never by the name of the file.
//
// The copy is decoded, turned upright by the orientation the camera wrote, scaled so that its longer side has at most
// 1280 pixels (never enlarged), and encoded anew. So nothing but the visible picture can be in it: no EXIF, GPS, XMP,
// maker notes, colour profiles, thumbnails, second images or trailing bytes. Equal bytes give equal copies.
//
// The first frame of an animated PNG and the first image of a JPEG with several count. Transparent parts become white.
// What it is not: it keeps nothing (see Session::put_blob) and judges no content.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"

namespace tapwright::photos {

inline constexpr std::size_t most_bytes = std::size_t{40} << 20;
inline constexpr std::uint64_t most_pixels = std::uint64_t{64} << 20;
inline constexpr int copy_side = 1280;

// A JPEG without metadata, and its size in pixels.
struct Jpeg {
    std::string bytes;
    int width = 0;
    int height = 0;
};

struct TakenIn {
    Jpeg copy;
    std::string extension;  // of the original, by its content: "jpg" or "png"
};

// `what` names the photo in sentences: "ceiling.jpg". Returns: the copy, or a sentence saying what is wrong with the
// photo and what would be right.
Result<TakenIn> take_in(std::string_view original, std::string_view what);

// A smaller JPEG of a copy, for a sheet: the longer side has at most `longest` pixels. Errors: as take_in();
// but memory that runs out is thrown, std::bad_alloc: a sheet must not leave out a picture for that.
// Requires: longest > 0.
Result<Jpeg> reduced(std::string_view copy, int longest);

// Pixels for a screen, rows from the top, 4 bytes each: red, green, blue, 255.
struct Thumbnail {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgba;
};

// A copy, or a photo, scaled so that its longer side has at most `longest` pixels. Requires: longest > 0.
Result<Thumbnail> thumbnail(std::string_view copy, int longest);

}  // namespace tapwright::photos
