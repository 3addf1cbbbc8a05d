#include "tests/photos/made_pictures.h"

#include <png.h>
#include <turbojpeg.h>
#include <zlib.h>

#include <memory>
#include <vector>

#include "core/base/ensure.h"

namespace tapwright::made {
namespace {

using Bytes = std::vector<std::uint8_t>;

constexpr std::uint8_t quarter_colours[4][3] = {{220, 20, 20}, {20, 200, 20}, {20, 20, 220}, {250, 250, 250}};

const std::uint8_t* colour_at(int x, int y, int width, int height) {
    return quarter_colours[(y >= height / 2 ? 2 : 0) + (x >= width / 2 ? 1 : 0)];
}

Bytes quarters(int width, int height) {
    Bytes rgb;
    rgb.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const std::uint8_t* colour = colour_at(x, y, width, height);
            rgb.insert(rgb.end(), colour, colour + 3);
        }
    return rgb;
}

std::string jpeg(const Bytes& pixels, int width, int height, int format, int sampling, int flags, int quality = 90) {
    tjhandle handle = tjInitCompress();
    unsigned char* made = nullptr;
    unsigned long size = 0;
    const int status =
        tjCompress2(handle, pixels.data(), width, 0, height, format, &made, &size, sampling, quality, flags);
    TAPWRIGHT_ENSURE(status == 0);
    std::string bytes(reinterpret_cast<const char*>(made), size);
    tjFree(made);
    tjDestroy(handle);
    return bytes;
}

template <class Sample>
std::string png(const std::vector<Sample>& samples, int width, int height, png_uint_32 format) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(width);
    image.height = static_cast<png_uint_32>(height);
    image.format = format;
    png_alloc_size_t size = 0;
    int status = png_image_write_to_memory(&image, nullptr, &size, 0, samples.data(), 0, nullptr);
    TAPWRIGHT_ENSURE(status != 0);
    std::string bytes(size, '\0');
    status = png_image_write_to_memory(&image, bytes.data(), &size, 0, samples.data(), 0, nullptr);
    TAPWRIGHT_ENSURE(status != 0);
    bytes.resize(size);
    return bytes;
}

std::string number(std::uint32_t value, int bytes = 4) {
    std::string text;
    for (int i = bytes - 1; i >= 0; --i) text += static_cast<char>(value >> (8 * i) & 255U);
    return text;
}

std::string chunk(std::string_view name, std::string_view data) {
    const std::string body = std::string(name) + std::string(data);
    const auto check = crc32(0, reinterpret_cast<const Bytef*>(body.data()), static_cast<uInt>(body.size()));
    return number(static_cast<std::uint32_t>(data.size())) + body + number(static_cast<std::uint32_t>(check));
}

constexpr std::string_view png_signature("\x89PNG\r\n\x1A\n", 8);

}  // namespace

std::string quarters_jpeg(int width, int height) {
    return jpeg(quarters(width, height), width, height, TJPF_RGB, TJSAMP_444, 0);
}

std::string quarters_progressive_jpeg(int width, int height) {
    return jpeg(quarters(width, height), width, height, TJPF_RGB, TJSAMP_420, TJFLAG_PROGRESSIVE);
}

std::string quarters_cmyk_jpeg(int width, int height) {
    Bytes inverted;  // what remains of the light: as Adobe stores it
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const std::uint8_t* colour = colour_at(x, y, width, height);
            inverted.insert(inverted.end(), colour, colour + 3);
            inverted.push_back(255);
        }
    return jpeg(inverted, width, height, TJPF_CMYK, TJSAMP_444, 0);
}

std::string grey_jpeg(int width, int height) {
    const Bytes grey(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 128);
    return jpeg(grey, width, height, TJPF_GRAY, TJSAMP_GRAY, 0);
}

std::string camera_jpeg(int width, int height, std::uint32_t seed) {
    Bytes rgb;
    rgb.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    std::uint32_t state = seed * 2654435761U + 1;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int k = 0; k < 3; ++k) {
                state = state * 1664525U + 1013904223U;
                const int light = 40 + (x * 90 / width + y * 70 / height) + k * 8;
                rgb.push_back(static_cast<std::uint8_t>(light + static_cast<int>(state >> 24) / 7));
            }
    return jpeg(rgb, width, height, TJPF_RGB, TJSAMP_420, 0, 84);
}

std::string quarters_png(int width, int height) {
    return png(quarters(width, height), width, height, PNG_FORMAT_RGB);
}

std::string quarters_16_bit_png(int width, int height) {
    std::vector<std::uint16_t> samples;  // linear light
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            const std::uint8_t* colour = colour_at(x, y, width, height);
            for (int k = 0; k < 3; ++k) samples.push_back(colour[k] > 128 ? 65535 : 0);
        }
    return png(samples, width, height, PNG_FORMAT_LINEAR_RGB);
}

std::string transparent_png(int width, int height) {
    Bytes rgba;
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            rgba.insert(rgba.end(), {0, 0, 0, static_cast<std::uint8_t>(x < width / 2 ? 0 : 255)});
    return png(rgba, width, height, PNG_FORMAT_RGBA);
}

std::string animated_png(int width, int height) {
    const std::string still = quarters_png(width, height);
    const std::size_t after_header = png_signature.size() + 25;
    const Bytes rows(static_cast<std::size_t>(height) * (static_cast<std::size_t>(width) * 3 + 1), 0);
    uLongf size = compressBound(rows.size());
    std::string packed(size, '\0');
    const int status =
        compress(reinterpret_cast<Bytef*>(packed.data()), &size, rows.data(), static_cast<uLong>(rows.size()));
    TAPWRIGHT_ENSURE(status == Z_OK);
    packed.resize(size);
    const auto frame = [&](std::uint32_t sequence) {
        return chunk("fcTL", number(sequence) + number(static_cast<std::uint32_t>(width)) +
                                 number(static_cast<std::uint32_t>(height)) + number(0) + number(0) + number(1, 2) +
                                 number(10, 2) + std::string(2, '\0'));
    };
    const std::size_t end = still.rfind("IEND") - 4;
    return still.substr(0, after_header) + chunk("acTL", number(2) + number(0)) + frame(0) +
           still.substr(after_header, end - after_header) + frame(1) + chunk("fdAT", number(2) + packed) +
           still.substr(end);
}

std::string png_claiming(std::uint32_t width, std::uint32_t height) {
    return std::string(png_signature) +
           chunk("IHDR", number(width) + number(height) + std::string("\x08\x02\x00\x00\x00", 5)) + chunk("IDAT", "x") +
           chunk("IEND", "");
}

std::string jpeg_claiming(std::uint16_t width, std::uint16_t height) {
    std::string bytes = quarters_jpeg(16, 16);
    const std::size_t frame = bytes.find("\xFF\xC0");
    bytes.replace(frame + 5, 4, number(height, 2) + number(width, 2));
    return bytes;
}

std::string with_segment(const std::string& jpeg_bytes, unsigned marker, std::string_view payload) {
    TAPWRIGHT_ENSURE(payload.size() < 65534);
    return jpeg_bytes.substr(0, 2) + "\xFF" + static_cast<char>(marker) +
           number(static_cast<std::uint32_t>(payload.size() + 2), 2) + std::string(payload) + jpeg_bytes.substr(2);
}

std::string exif_with_orientation(unsigned orientation, bool big_endian) {
    const std::string low(1, static_cast<char>(orientation));
    const std::string zero(1, '\0');
    if (big_endian)
        return std::string("Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0", 25) + low +
               std::string("\0\0\0\0\0\0", 6);
    return std::string("Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0", 24) + low +
           std::string("\0\0\0\0\0\0\0", 7);
}

std::string private_photo() {
    std::string photo = camera_jpeg(640, 480, 3);
    const std::string thumbnail = quarters_jpeg(32, 24);
    photo = with_segment(photo, 0xFE, secrets[4]);
    photo = with_segment(photo, 0xE2, std::string("MPF\0", 4) + "second image behind");
    photo = with_segment(photo, 0xE2, std::string("ICC_PROFILE\0\x01\x01", 14) + secrets[5]);
    photo = with_segment(photo, 0xED, std::string("IPTC\0", 5) + secrets[3]);
    photo = with_segment(
        photo, 0xE1, std::string("http://ns.adobe.com/xap/1.0/\0", 29) + "<x:xmpmeta>" + secrets[2] + "</x:xmpmeta>");
    photo = with_segment(photo, 0xE1,
                         exif_with_orientation(1, true) + secrets[0] + std::string(4, '\0') + secrets[1] + thumbnail);
    return photo + quarters_jpeg(320, 240) + secrets[0];
}

}  // namespace tapwright::made
