// Bytes that somebody made to hurt, and those that simply broke: one sentence each, and never a crash.
#include <doctest/doctest.h>

#include <cstdint>

#include "core/words/words.h"
#include "platform/photos/photos.h"
#include "tests/photos/made_pictures.h"

using namespace tapwright;

namespace {

std::string refusal(const std::string& bytes) {
    const auto photo = photos::take_in(bytes, "ceiling.jpg");
    if (photo.ok()) return "taken in";
    const std::string& text = in_english(photo.refusal());
    CHECK(text.starts_with("ceiling.jpg "));
    CHECK(text.ends_with("."));
    return text;
}

// Whatever comes of it; counts as passed when it comes back.
void survives(const std::string& bytes) {
    const auto photo = photos::take_in(bytes, "x");
    if (!photo) CHECK_FALSE(in_english(photo.refusal()).empty());
    if (photo) CHECK(photo->copy.width <= photos::copy_side);
}

}  // namespace

TEST_CASE("what is empty, too large or no picture is refused by its first bytes") {
    CHECK(refusal("") == "ceiling.jpg is empty. Choose the photo again, or take it again.");
    CHECK(refusal("GIF89a....").find("is a GIF picture. Save it as JPEG or PNG.") != std::string::npos);
    CHECK(refusal(std::string("\0\0\0\x18"
                              "ftypheic",
                              12) +
                  std::string(20, 'x'))
              .find("HEIF") != std::string::npos);
    CHECK(refusal("hello").find("is not a picture") != std::string::npos);
    CHECK(refusal(std::string(photos::most_bytes + 1, 'x')).find("40 MiB can be saved") != std::string::npos);
}

TEST_CASE("the size a header claims is checked before anything is decoded") {
    CHECK(refusal(made::png_claiming(30000, 30000)).find("has 30000 × 30000 pixels. Up to 64 megapixels") !=
          std::string::npos);
    CHECK(refusal(made::jpeg_claiming(30000, 30000)).find("has 30000 × 30000 pixels") != std::string::npos);
    CHECK(refusal(made::png_claiming(0xFFFFFFFF, 0xFFFFFFFF)).find("megapixels") != std::string::npos);
    CHECK(refusal(made::png_claiming(0, 7)).find("does not say how large the picture is") != std::string::npos);
    CHECK(refusal(made::png_claiming(100, 100)).find("cut short or damaged") != std::string::npos);
    // A claim within bounds that the data do not keep.
    CHECK(refusal(made::jpeg_claiming(8000, 8000)).find("It ends too early.") != std::string::npos);
}

TEST_CASE("a picture cut off anywhere is refused or, where only padding is missing, taken") {
    for (const std::string& whole : {made::quarters_jpeg(64, 48), made::quarters_progressive_jpeg(64, 48),
                                     made::quarters_png(64, 48), made::quarters_cmyk_jpeg(32, 32)})
        for (std::size_t length = 0; length < whole.size(); ++length) survives(whole.substr(0, length));
    const std::string camera = made::camera_jpeg(800, 600, 1);
    CHECK(refusal(camera.substr(0, camera.size() / 2)).find("It ends too early.") != std::string::npos);
    const std::string png = made::quarters_png(800, 600);
    CHECK(refusal(png.substr(0, png.size() / 2)).find("cut short") != std::string::npos);
}

TEST_CASE("flipped bytes are survived") {
    std::uint32_t state = 1;
    for (const std::string& whole :
         {made::quarters_jpeg(40, 40), made::quarters_progressive_jpeg(40, 40), made::quarters_png(40, 40),
          made::animated_png(24, 24), made::quarters_16_bit_png(24, 24),
          made::with_segment(made::quarters_jpeg(24, 24), 0xE1, made::exif_with_orientation(6, true))})
        for (int round = 0; round < 400; ++round) {
            std::string bytes = whole;
            for (int flips = 0; flips < 3; ++flips) {
                state = state * 1664525U + 1013904223U;
                bytes[state % bytes.size()] = static_cast<char>(state >> 16);
            }
            survives(bytes);
        }
}

TEST_CASE("an EXIF directory that points at itself or outside leads nowhere") {
    const std::string stored = made::quarters_jpeg(24, 24);
    // One entry: the sub-directory (34665) at the offset of this very directory, whose next directory is itself too.
    const std::string loop("Exif\0\0MM\0*\0\0\0\x08\0\x01\x87\x69\0\x04\0\0\0\x01\0\0\0\x08\0\0\0\x08", 32);
    CHECK(photos::take_in(made::with_segment(stored, 0xE1, loop), "x").ok());
    const std::string outside("Exif\0\0MM\0*\xFF\xFF\xFF\xFF", 14);
    CHECK(photos::take_in(made::with_segment(stored, 0xE1, outside), "x").ok());
    const std::string many("Exif\0\0MM\0*\0\0\0\x08\xFF\xFF", 16);
    CHECK(photos::take_in(made::with_segment(stored, 0xE1, many), "x").ok());
    CHECK(photos::take_in(made::with_segment(stored, 0xE1, "Exif"), "x").ok());
}

TEST_CASE("a JPEG of endless passes is refused before they are made") {
    const std::string progressive = made::quarters_progressive_jpeg(64, 64);
    const std::size_t scan = progressive.find("\xFF\xDA");
    std::string bytes = progressive.substr(0, progressive.size() - 2);
    const std::string again = bytes.substr(scan);
    for (int i = 0; i < 60; ++i) bytes += again;
    CHECK(refusal(bytes + "\xFF\xD9").find("far more than a camera makes") != std::string::npos);
}
