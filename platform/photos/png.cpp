// PNG by libpng's simplified interface, which keeps the long jumps of its error handling inside the library. 16-bit
// samples, palettes and interlacing come out as 8-bit red, green and blue; animation chunks are passed over, so that
// the still image counts (W3C PNG, third edition).
#include <png.h>

#include <cstring>

#include "platform/photos/formats.h"

namespace tapwright::photos {
namespace {

constexpr std::string_view signature("\x89PNG\r\n\x1A\n", 8);

std::uint32_t long_at(std::string_view bytes, std::size_t at) {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8U | static_cast<unsigned char>(bytes[at + i]);
    return value;
}

}  // namespace

bool is_png(std::string_view bytes) {
    return bytes.starts_with(signature);
}

std::optional<Header> png_header(std::string_view bytes) {
    if (!is_png(bytes)) return std::nullopt;
    Header header;
    std::size_t at = signature.size();
    while (at + 12 <= bytes.size()) {
        const std::size_t length = long_at(bytes, at);
        const std::string_view name = bytes.substr(at + 4, 4);
        if (length > bytes.size() - at - 12) break;
        const std::string_view data = bytes.substr(at + 8, length);
        if (name == "IHDR" && data.size() == 13 && header.width == 0) {
            header.width = long_at(data, 0);
            header.height = long_at(data, 4);
        }
        if (name == "eXIf") header.orientation = exif_orientation(data);
        if (name == "IEND") break;
        at += length + 12;
    }
    if (header.width == 0 || header.height == 0) return std::nullopt;
    return header;
}

Result<Pixels> decode_png(std::string_view bytes, const Header& header) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    const auto reason = [&image] {
        return entered(std::string_view(image.message, strnlen(image.message, sizeof image.message)));
    };
    if (png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()) == 0)
        return Refusal{Message("Its header cannot be read ({reason}).", {{"reason", reason()}})};
    if (image.width != header.width || image.height != header.height) {
        png_image_free(&image);
        return Refusal{Message("It gives two sizes.")};
    }
    image.format = PNG_FORMAT_RGB;
    Pixels pixels{static_cast<int>(image.width), static_cast<int>(image.height), {}};
    pixels.rgb.resize(pixels.row_bytes() * image.height);
    const png_color white{255, 255, 255};
    if (png_image_finish_read(&image, &white, pixels.rgb.data(), 0, nullptr) == 0) {
        Refusal refusal{Message("It is cut short or damaged ({reason}).", {{"reason", reason()}})};
        png_image_free(&image);
        return refusal;
    }
    return pixels;
}

}  // namespace tapwright::photos
