#include "platform/photos/formats.h"

namespace tapwright::photos {
namespace {

unsigned byte_at(std::string_view bytes, std::size_t at) {
    return static_cast<unsigned char>(bytes[at]);
}

unsigned word_at(std::string_view bytes, std::size_t at, bool big_endian = true) {
    const unsigned first = byte_at(bytes, at);
    const unsigned second = byte_at(bytes, at + 1);
    return big_endian ? first << 8U | second : second << 8U | first;
}

std::uint32_t long_at(std::string_view bytes, std::size_t at, bool big_endian) {
    const std::uint32_t first = word_at(bytes, at, big_endian);
    const std::uint32_t second = word_at(bytes, at + 2, big_endian);
    return big_endian ? first << 16U | second : second << 16U | first;
}

constexpr std::string_view exif_mark("Exif\0\0", 6);

// Markers without a segment: TEM, RST0 to RST7.
bool stands_alone(unsigned marker) {
    return marker == 0x01 || (marker >= 0xD0 && marker <= 0xD7);
}
// Start of a frame; 0xC4, 0xC8 and 0xCC are tables.
bool is_frame(unsigned marker) {
    return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

// Past the entropy-coded data that begins at `at`: to the 0xFF of the next marker.
std::size_t after_scan(std::string_view bytes, std::size_t at) {
    for (;;) {
        at = bytes.find('\xFF', at);
        if (at == std::string_view::npos || at + 1 >= bytes.size()) return bytes.size();
        const unsigned next = byte_at(bytes, at + 1);
        if (next != 0 && next != 0xFF && !stands_alone(next)) return at;
        at += next == 0xFF ? 1 : 2;
    }
}

void read_segment(unsigned marker, std::string_view segment, Header& header) {
    if (marker == 0xE1 && segment.starts_with(exif_mark))
        header.orientation = exif_orientation(segment.substr(exif_mark.size()));
    if (marker == 0xEE && segment.starts_with("Adobe")) header.has_adobe = true;
    if (!is_frame(marker) || segment.size() < 6 || header.width != 0) return;
    header.height = word_at(segment, 1);
    header.width = word_at(segment, 3);
}

}  // namespace

bool is_jpeg(std::string_view bytes) {
    return bytes.starts_with("\xFF\xD8\xFF");
}

int exif_orientation(std::string_view tiff) {
    if (tiff.size() < 8) return 1;
    const bool big_endian = tiff.starts_with("MM");
    if (!big_endian && !tiff.starts_with("II")) return 1;
    const std::size_t directory = long_at(tiff, 4, big_endian);
    if (directory > tiff.size() || tiff.size() - directory < 2) return 1;
    const unsigned entries = word_at(tiff, directory, big_endian);
    for (unsigned i = 0; i < entries; ++i) {
        const std::size_t at = directory + 2 + std::size_t{12} * i;
        if (at + 12 > tiff.size()) return 1;
        if (word_at(tiff, at, big_endian) != 274) continue;
        const unsigned value = word_at(tiff, at + 8, big_endian);
        return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
    }
    return 1;
}

std::optional<Header> jpeg_header(std::string_view bytes) {
    if (!is_jpeg(bytes)) return std::nullopt;
    Header header;
    header.image_end = bytes.size();
    std::size_t at = 2;
    while (at + 2 <= bytes.size()) {
        if (byte_at(bytes, at) != 0xFF) {  // stray bytes between segments: decoders skip them, and so do we
            at = bytes.find('\xFF', at);
            if (at == std::string_view::npos) break;
            continue;
        }
        const unsigned marker = byte_at(bytes, at + 1);
        if (marker == 0xD9) {
            header.image_end = at + 2;
            break;
        }
        if (marker == 0xFF || marker == 0 || stands_alone(marker)) {
            at += marker == 0xFF ? 1 : 2;
            continue;
        }
        if (at + 4 > bytes.size()) break;
        const std::size_t length = word_at(bytes, at + 2);
        if (length < 2 || at + 2 + length > bytes.size()) break;
        read_segment(marker, bytes.substr(at + 4, length - 2), header);
        at += 2 + length;
        if (marker != 0xDA) continue;
        ++header.scans;
        at = after_scan(bytes, at);
    }
    if (header.width == 0 || header.height == 0) return std::nullopt;
    return header;
}

}  // namespace tapwright::photos
