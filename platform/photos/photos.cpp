#include "platform/photos/photos.h"

#include <algorithm>
#include <new>
#include <optional>

#include "core/base/ensure.h"
#include "core/base/text.h"
#include "platform/photos/formats.h"
#include "core/words/words.h"

namespace tapwright::photos {
namespace {

// A picture is passed over once for each scan of a progressive JPEG. Cameras make about ten scans; this bounds the time
// a hostile one takes.
constexpr unsigned most_scans = 100;
constexpr std::uint64_t most_scanned_pixels = 20 * most_pixels;

constexpr const char* what_is_right = "; only JPEG and PNG pictures can be kept";

// What else people hand in, by the bytes it begins with.
std::string kind_of(std::string_view bytes) {
    if (bytes.size() > 12 && bytes.substr(4, 4) == "ftyp") return "a HEIF picture or a film";
    if (bytes.starts_with("GIF8")) return "a GIF picture";
    if (bytes.starts_with("RIFF") && bytes.size() > 12 && bytes.substr(8, 4) == "WEBP") return "a WebP picture";
    if (bytes.starts_with("BM")) return "a BMP picture";
    if (bytes.starts_with("II*") || bytes.starts_with("MM")) return "a TIFF or raw picture";
    if (bytes.starts_with("%PDF")) return "a PDF";
    return "no picture";
}

struct Opened {
    Header header;
    bool is_png = false;
};

Result<Opened> open(std::string_view bytes, std::string_view what) {
    const std::string name = cited(what, 200);
    if (bytes.empty()) return Refusal{name + " is empty; choose the photo once more, or take it again."};
    if (bytes.size() > most_bytes)
        return Refusal{name + " has " + std::to_string(bytes.size() >> 20U) +
                       " MiB; up to 40 MiB can be kept. Make a smaller one."};
    const bool png = is_png(bytes);
    if (!png && !is_jpeg(bytes))
        return Refusal{name + " is " + kind_of(bytes) + what_is_right + ". Save it as one of those."};
    const std::optional<Header> header = png ? png_header(bytes) : jpeg_header(bytes);
    if (!header)
        return Refusal{name + " is cut short or damaged: no size of the picture can be found in it. Take it anew."};
    const std::uint64_t pixels = std::uint64_t{header->width} * header->height;
    if (pixels > most_pixels)
        return Refusal{name + " has " + std::to_string(header->width) + " x " + std::to_string(header->height) +
                       " pixels; up to 64 megapixels can be kept. Make a smaller one."};
    if (header->scans > most_scans || header->scans * pixels > most_scanned_pixels)
        return Refusal{name + " is stored in " + std::to_string(header->scans) +
                       " passes, far more than a camera makes. Save it anew from a picture program."};
    return Opened{*header, png};
}

// Upright, its longer side at most `longest`.
Result<Pixels> picture(std::string_view bytes, std::string_view what, const Opened& opened, int longest) {
    try {
        const Result<Pixels> decoded =
            opened.is_png ? decode_png(bytes, opened.header) : decode_jpeg(bytes, opened.header, longest);
        if (!decoded)
            return Refusal{cited(what, 200) + " cannot be kept: " + in_english(decoded.refusal()) + ". Take it anew."};
        return upright(scaled(*decoded, fitted(decoded->width, decoded->height, longest)), opened.header.orientation);
    } catch (const std::bad_alloc&) {
        return Refusal{cited(what, 200) + " needs more memory than there is. Make a smaller one."};
    }
}

}  // namespace

Result<TakenIn> take_in(std::string_view original, std::string_view what) {
    const Result<Opened> opened = open(original, what);
    if (!opened) return opened.refusal();
    const Result<Pixels> pixels = picture(original, what, *opened, copy_side);
    if (!pixels) return pixels.refusal();
    Result<Jpeg> copy = encode_jpeg(*pixels);
    if (!copy) return Refusal{cited(what, 200) + " cannot be kept: " + in_english(copy.refusal()) + "."};
    return TakenIn{std::move(*copy), opened->is_png ? "png" : "jpg"};
}

Result<Jpeg> reduced(std::string_view copy, int longest) {
    TAPWRIGHT_ENSURE(longest > 0);
    constexpr std::string_view what = "A photo's copy";
    const Result<Opened> opened = open(copy, what);
    if (!opened) return opened.refusal();
    const Result<Pixels> pixels = picture(copy, what, *opened, longest);
    if (!pixels) return pixels.refusal();
    return encode_jpeg(*pixels);
}

Result<Thumbnail> thumbnail(std::string_view copy, int longest) {
    TAPWRIGHT_ENSURE(longest > 0);
    constexpr std::string_view what = "A photo's copy";
    const Result<Opened> opened = open(copy, what);
    if (!opened) return opened.refusal();
    const Result<Pixels> pixels = picture(copy, what, *opened, longest);
    if (!pixels) return pixels.refusal();
    Thumbnail made{pixels->width, pixels->height, {}};
    made.rgba.reserve(pixels->rgb.size() / 3 * 4);
    for (std::size_t i = 0; i + 2 < pixels->rgb.size(); i += 3) {
        made.rgba.insert(made.rgba.end(), {pixels->rgb[i], pixels->rgb[i + 1], pixels->rgb[i + 2], 255});
    }
    return made;
}

}  // namespace tapwright::photos
