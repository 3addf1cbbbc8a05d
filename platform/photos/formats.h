// The two kinds of pictures: what their headers say, and their decoding. For platform/photos, and for who
// only wants to know how large a picture is.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "platform/photos/photos.h"
#include "platform/photos/pixels.h"

namespace tapwright::photos {

// What the bytes say of themselves before anything is decoded.
struct Header {
    std::uint32_t width = 0;  // pixels, as stored
    std::uint32_t height = 0;
    int orientation = 1;        // EXIF tag 274; 1 where nothing sensible is said
    unsigned scans = 0;         // of a JPEG: passes over the picture
    bool has_adobe = false;     // of a JPEG: an Adobe segment, whose CMYK is stored inverted
    std::size_t image_end = 0;  // of a JPEG: where the first image ends
};

bool is_jpeg(std::string_view bytes);
bool is_png(std::string_view bytes);

// jpeg_header.cpp: walks the markers (ITU-T T.81, annex B), forward only and never twice over a byte. Returns: nothing
// when there is no frame header that libjpeg-turbo could take.
std::optional<Header> jpeg_header(std::string_view bytes);
// The orientation in an Exif block ("Exif\0\0", then TIFF). Only its first directory is read, so that directories that
// point at each other lead nowhere.
int exif_orientation(std::string_view tiff);

// png.cpp: walks the chunks up to the pixels.
std::optional<Header> png_header(std::string_view bytes);

// Decodes; a JPEG at the smallest of 1/1, 1/2, 1/4 and 1/8 whose longer side still has `longest` pixels.
// Returns: pixels not yet turned, or what the decoder says is wrong: "It ends too early."
Result<Pixels> decode_jpeg(std::string_view bytes, const Header& header, int longest);
Result<Pixels> decode_png(std::string_view bytes, const Header& header);

// A JPEG of three components without metadata but the JFIF header.
Result<Jpeg> encode_jpeg(const Pixels& pixels);

}  // namespace tapwright::photos
