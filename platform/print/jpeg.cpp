#include "platform/print/jpeg.h"

namespace tapwright::print {
namespace {

unsigned byte_at(std::string_view bytes, std::size_t at) {
    return static_cast<unsigned char>(bytes[at]);
}
unsigned word_at(std::string_view bytes, std::size_t at) {
    return byte_at(bytes, at) << 8U | byte_at(bytes, at + 1);
}

std::optional<JpegShape> frame(std::string_view header) {
    if (header.size() < 8 || byte_at(header, 2) != 8) return std::nullopt;
    const JpegShape shape{static_cast<int>(word_at(header, 5)), static_cast<int>(word_at(header, 3)),
                          static_cast<int>(byte_at(header, 7))};
    const bool shows = shape.width > 0 && shape.height > 0 && (shape.components == 1 || shape.components == 3);
    return shows ? std::optional(shape) : std::nullopt;
}

}  // namespace

std::optional<JpegShape> jpeg_shape(std::string_view bytes) {
    if (!bytes.starts_with("\xFF\xD8") || bytes.substr(2).find("\xFF\xD9") == std::string_view::npos)
        return std::nullopt;
    std::size_t at = 2;
    while (at + 4 <= bytes.size()) {
        if (byte_at(bytes, at) != 0xFF) return std::nullopt;
        const unsigned marker = byte_at(bytes, at + 1);
        if (marker == 0xFF) {  // fill byte
            ++at;
            continue;
        }
        const std::size_t length = word_at(bytes, at + 2);
        if (length < 2 || at + 2 + length > bytes.size()) return std::nullopt;
        // SOF0 to SOF2: baseline, extended, progressive, all with Huffman coding.
        if (marker >= 0xC0 && marker <= 0xC2) return frame(bytes.substr(at + 2, length));
        if (marker == 0xDA || marker == 0xD9 || (marker >= 0xC3 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8))
            return std::nullopt;
        at += 2 + length;
    }
    return std::nullopt;
}

}  // namespace tapwright::print
