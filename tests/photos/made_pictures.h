// Pictures for tests, made here: no file and no camera is behind any of them.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace tapwright::made {

// Four quarters: red and green above, blue and white below, so that turning and mirroring show.
std::string quarters_jpeg(int width, int height);
std::string quarters_progressive_jpeg(int width, int height);
std::string quarters_cmyk_jpeg(int width, int height);  // with the Adobe segment, stored inverted
std::string grey_jpeg(int width, int height);
// As a camera sees: noise of some strength over a slow change of light. About 3 MB at 4000 x 3000.
std::string camera_jpeg(int width, int height, std::uint32_t seed);

std::string quarters_png(int width, int height);
std::string quarters_16_bit_png(int width, int height);
// Half of it transparent.
std::string transparent_png(int width, int height);
// The still image in quarters, and after it a black frame (acTL, fcTL, fdAT).
std::string animated_png(int width, int height);

// A PNG of which only the header is there: any size may be claimed.
std::string png_claiming(std::uint32_t width, std::uint32_t height);
std::string jpeg_claiming(std::uint16_t width, std::uint16_t height);

// `jpeg` with a segment of this marker right after its start.
std::string with_segment(const std::string& jpeg, unsigned marker, std::string_view payload);
// "Exif\0\0" and a TIFF of one directory that holds the orientation.
std::string exif_with_orientation(unsigned orientation, bool big_endian);

// What stands in private_photo() and may never be found again.
inline constexpr const char* secrets[] = {
    "GPS-47.123456-N-8.654321-E", "MAKER-SERIAL-0099887", "XMP-LOCATION-TARN-STREET",
    "IPTC-BYLINE-K-FERRIN",       "COMMENT-AT-HOME",      "ICC-DEVICE-SERIAL"};
// A photo as a telephone writes it: orientation, GPS and maker note in EXIF with a thumbnail, XMP, IPTC, a colour
// profile, a comment, a list of pictures (MPF), and a second whole image behind the first.
std::string private_photo();

}  // namespace tapwright::made
