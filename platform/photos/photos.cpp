#include "platform/photos/photos.h"

#include <algorithm>
#include <new>
#include <optional>

#include "core/base/ensure.h"
#include "core/base/text.h"
#include "platform/photos/formats.h"

namespace tapwright::photos {
namespace {

// A picture is passed over once for each scan of a progressive JPEG. Cameras make about ten scans; this bounds the time
// a hostile one takes.
constexpr unsigned most_scans = 100;
constexpr std::uint64_t most_scanned_pixels = 20 * most_pixels;

// What else people hand in, by the bytes it begins with.
Pattern what_it_is(std::string_view bytes) {
    if (bytes.size() > 12 && bytes.substr(4, 4) == "ftyp")
        return Pattern("{photo} is a HEIF picture or a film. Save it as JPEG or PNG.");
    if (bytes.starts_with("GIF8")) return Pattern("{photo} is a GIF picture. Save it as JPEG or PNG.");
    if (bytes.starts_with("RIFF") && bytes.size() > 12 && bytes.substr(8, 4) == "WEBP")
        return Pattern("{photo} is a WebP picture. Save it as JPEG or PNG.");
    if (bytes.starts_with("BM")) return Pattern("{photo} is a BMP picture. Save it as JPEG or PNG.");
    if (bytes.starts_with("II*") || bytes.starts_with("MM"))
        return Pattern("{photo} is a TIFF or raw picture. Save it as JPEG or PNG.");
    if (bytes.starts_with("%PDF")) return Pattern("{photo} is a PDF. Save it as JPEG or PNG.");
    return Pattern("{photo} is not a picture. Choose a JPEG or PNG.");
}

struct Opened {
    Header header;
    bool is_png = false;
};

Result<Opened> open(std::string_view bytes, std::string_view what) {
    const Named photo{"photo", code(cited(what, 200))};
    if (bytes.empty()) return Refusal{Message("{photo} is empty. Choose the photo again, or take it again.", {photo})};
    if (bytes.size() > most_bytes)
        return Refusal{Message("{photo} is too large ({size} MiB). Up to 40 MiB can be saved; make a smaller one.",
                               {photo, {"size", bytes.size() >> 20U}})};
    const bool png = is_png(bytes);
    if (!png && !is_jpeg(bytes)) return Refusal{Message(what_it_is(bytes), {photo})};
    const std::optional<Header> header = png ? png_header(bytes) : jpeg_header(bytes);
    if (!header)
        return Refusal{Message(
            "{photo} is cut short or damaged: it does not say how large the picture is. Take it again.", {photo})};
    const std::uint64_t pixels = std::uint64_t{header->width} * header->height;
    if (pixels > most_pixels)
        return Refusal{
            Message("{photo} has {width} × {height} pixels. Up to 64 megapixels can be saved; make a smaller one.",
                    {photo, {"width", header->width}, {"height", header->height}})};
    if (header->scans > most_scans || header->scans * pixels > most_scanned_pixels)
        return Refusal{
            Message("{photo} is stored in {count} passes, far more than a camera makes. Save it again from a "
                    "picture program.",
                    {photo, {"count", header->scans}})};
    return Opened{*header, png};
}

// Upright, its longer side at most `longest`. Throws std::bad_alloc.
Result<Pixels> picture(std::string_view bytes, std::string_view what, const Opened& opened, int longest) {
    const Result<Pixels> decoded =
        opened.is_png ? decode_png(bytes, opened.header) : decode_jpeg(bytes, opened.header, longest);
    if (!decoded)
        return Refusal{sentences({Message("{photo} cannot be saved.", {{"photo", code(cited(what, 200))}}),
                                  decoded.refusal().message, Message("Take it again.")})};
    return upright(scaled(*decoded, fitted(decoded->width, decoded->height, longest)), opened.header.orientation);
}

// The same, where a picture that is too large for this machine is no reason to stop all else.
Result<Pixels> picture_if_it_fits(std::string_view bytes, std::string_view what, const Opened& opened, int longest) {
    try {
        return picture(bytes, what, opened, longest);
    } catch (const std::bad_alloc&) {
        return Refusal{Message("{photo} needs more memory than there is. Make a smaller one.",
                               {{"photo", code(cited(what, 200))}})};
    }
}

}  // namespace

Result<TakenIn> take_in(std::string_view original, std::string_view what) {
    TAPWRIGHT_TAKE(opened, open(original, what));
    TAPWRIGHT_TAKE(pixels, picture_if_it_fits(original, what, opened, copy_side));
    Result<Jpeg> copy = encode_jpeg(pixels);
    if (!copy)
        return Refusal{sentences(
            {Message("{photo} cannot be saved.", {{"photo", code(cited(what, 200))}}), copy.refusal().message})};
    return TakenIn{std::move(*copy), opened.is_png ? "png" : "jpg"};
}

Result<Jpeg> reduced(std::string_view copy, int longest) {
    TAPWRIGHT_ENSURE(longest > 0);
    constexpr std::string_view what = "copy.jpg";  // in sentences
    TAPWRIGHT_TAKE(opened, open(copy, what));
    TAPWRIGHT_TAKE(pixels, picture(copy, what, opened, longest));
    return encode_jpeg(pixels);
}

Result<Thumbnail> thumbnail(std::string_view copy, int longest) {
    TAPWRIGHT_ENSURE(longest > 0);
    constexpr std::string_view what = "copy.jpg";  // in sentences
    TAPWRIGHT_TAKE(opened, open(copy, what));
    TAPWRIGHT_TAKE(pixels, picture_if_it_fits(copy, what, opened, longest));
    Thumbnail made{pixels.width, pixels.height, {}};
    made.rgba.reserve(pixels.rgb.size() / 3 * 4);
    for (std::size_t i = 0; i + 2 < pixels.rgb.size(); i += 3) {
        made.rgba.insert(made.rgba.end(), {pixels.rgb[i], pixels.rgb[i + 1], pixels.rgb[i + 2], 255});
    }
    return made;
}

}  // namespace tapwright::photos
