// What a good photo becomes.
#include "platform/photos/photos.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>

#include "core/words/words.h"
#include "tests/photos/made_pictures.h"

using namespace tapwright;

namespace {

// The four quarters of a thumbnail as letters, row by row: "RG" over "BW".
std::string quarters_of(const std::string& copy) {
    const auto seen = photos::thumbnail(copy, 64);
    REQUIRE(seen.ok());
    std::string letters;
    for (const int y : {seen->height / 4, seen->height * 3 / 4})
        for (const int x : {seen->width / 4, seen->width * 3 / 4}) {
            const std::uint8_t* pixel = seen->rgba.data() + (y * seen->width + x) * 4;
            const bool red = pixel[0] > 128;
            const bool green = pixel[1] > 128;
            const bool blue = pixel[2] > 128;
            CHECK(pixel[3] == 255);
            letters += red && green && blue ? 'W' : red ? 'R' : green ? 'G' : blue ? 'B' : '-';
        }
    return letters;
}

photos::TakenIn taken(const std::string& original) {
    const auto made = photos::take_in(original, "a.jpg");
    if (!made) FAIL(in_english(made.refusal()));
    return *made;
}

}  // namespace

TEST_CASE("a photo of any usual kind becomes an upright JPEG of at most 1280 pixels") {
    struct Case {
        const char* what;
        std::string original;
        std::string extension;
    };
    const Case cases[] = {{"baseline", made::quarters_jpeg(1600, 1200), "jpg"},
                          {"progressive", made::quarters_progressive_jpeg(1600, 1200), "jpg"},
                          {"CMYK", made::quarters_cmyk_jpeg(1600, 1200), "jpg"},
                          {"PNG", made::quarters_png(1600, 1200), "png"},
                          {"16 bits", made::quarters_16_bit_png(1600, 1200), "png"},
                          {"animated", made::animated_png(1600, 1200), "png"}};
    for (const Case& one : cases) {
        CAPTURE(one.what);
        const photos::TakenIn photo = taken(one.original);
        CHECK(photo.extension == one.extension);
        CHECK(photo.copy.width == 1280);
        CHECK(photo.copy.height == 960);
        CHECK(quarters_of(photo.copy.bytes) == "RGBW");
    }
}

TEST_CASE("a small photo is not enlarged, a long one keeps a pixel across") {
    CHECK(taken(made::quarters_jpeg(40, 30)).copy.width == 40);
    CHECK(taken(made::quarters_jpeg(1, 1)).copy.height == 1);
    const photos::TakenIn strip = taken(made::quarters_png(20000, 2));
    CHECK(strip.copy.width == 1280);
    CHECK(strip.copy.height == 1);
    CHECK(taken(made::grey_jpeg(300, 200)).copy.width == 300);
}

// Which visual corner row 0 and column 0 belong to: EXIF 2.3 (JEITA CP-3451C), tag 274.
TEST_CASE("the eight orientations of EXIF come out upright, in both byte orders") {
    const std::string stored = made::quarters_jpeg(64, 32);
    const char* const upright[] = {"RGBW", "GRWB", "WBGR", "BWRG", "RBGW", "BRWG", "WGBR", "GWRB"};
    for (unsigned orientation = 1; orientation <= 8; ++orientation)
        for (const bool big_endian : {false, true}) {
            CAPTURE(orientation);
            CAPTURE(big_endian);
            const photos::TakenIn photo =
                taken(made::with_segment(stored, 0xE1, made::exif_with_orientation(orientation, big_endian)));
            CHECK(quarters_of(photo.copy.bytes) == upright[orientation - 1]);
            CHECK((photo.copy.width == 32) == (orientation >= 5));
        }
    CHECK(quarters_of(taken(made::with_segment(stored, 0xE1, made::exif_with_orientation(77, true))).copy.bytes) ==
          "RGBW");
}

TEST_CASE("transparent parts become white") {
    const auto seen = photos::thumbnail(taken(made::transparent_png(64, 64)).copy.bytes, 64);
    REQUIRE(seen.ok());
    CHECK(seen->rgba[(32 * 64 + 8) * 4] > 240);
    CHECK(seen->rgba[(32 * 64 + 56) * 4] < 15);
}

TEST_CASE("the name of a file says nothing: what counts is its content") {
    const auto photo = photos::take_in(made::quarters_png(10, 10), "wrong.jpg");
    REQUIRE(photo.ok());
    CHECK(photo->extension == "png");
}

TEST_CASE("of a JPEG with a second image behind the first, the first counts") {
    const std::string both = made::quarters_jpeg(200, 100) + made::grey_jpeg(300, 300);
    const photos::TakenIn photo = taken(both);
    CHECK(photo.copy.width == 200);
    CHECK(photo.copy.bytes == taken(made::quarters_jpeg(200, 100)).copy.bytes);
}

TEST_CASE("averaging keeps the light, whatever the factor") {
    const photos::TakenIn photo = taken(made::grey_jpeg(1999, 1501));
    const auto seen = photos::thumbnail(photo.copy.bytes, 97);
    REQUIRE(seen.ok());
    CHECK(seen->width == 97);
    for (std::size_t i = 0; i < seen->rgba.size(); i += 4) CHECK(std::abs(seen->rgba[i] - 128) <= 2);
}

TEST_CASE("the same photo gives the same copy, and a copy can be made smaller for a sheet") {
    const std::string original = made::camera_jpeg(1400, 1000, 7);
    const photos::TakenIn photo = taken(original);
    CHECK(photo.copy.bytes == taken(original).copy.bytes);
    const auto small = photos::reduced(photo.copy.bytes, 640);
    REQUIRE(small.ok());
    CHECK(small->width == 640);
    CHECK(small->height == 457);
    CHECK(small->bytes.size() < photo.copy.bytes.size());
    CHECK(taken(small->bytes).copy.width == 640);
}
