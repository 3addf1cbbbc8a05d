// What a camera writes beside the picture stays out of the copy.
#include <doctest/doctest.h>

#include "platform/photos/photos.h"
#include "tests/photos/made_pictures.h"

using namespace tapwright;

namespace {

using made::secrets;

std::size_t count_of(const std::string& text, const std::string& what) {
    std::size_t count = 0;
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; ++at) ++count;
    return count;
}

void check_bare(const std::string& jpeg) {
    for (const char* secret : secrets) {
        CAPTURE(secret);
        CHECK(jpeg.find(secret) == std::string::npos);
    }
    for (const char* mark : {"Exif", "xmp", "XMP", "ICC", "MPF", "GPS", "MAKER", "IPTC", "COMMENT"}) {
        CAPTURE(mark);
        CHECK(jpeg.find(mark) == std::string::npos);
    }
    CHECK(jpeg.starts_with("\xFF\xD8\xFF\xE0"));
    CHECK(jpeg.ends_with("\xFF\xD9"));
    CHECK(count_of(jpeg, "\xFF\xD8\xFF") == 1);  // no second image
    for (unsigned marker = 0xE1; marker <= 0xEF; ++marker)
        CHECK(count_of(jpeg, std::string("\xFF") + static_cast<char>(marker)) == 0);
    CHECK(count_of(jpeg, "\xFF\xFE") == 0);
}

}  // namespace

TEST_CASE("nothing private is in the copy, nor in what sheets and screens are given of it") {
    const std::string original = made::private_photo();
    for (const char* secret : secrets) REQUIRE(original.find(secret) != std::string::npos);
    const auto photo = photos::take_in(original, "a.jpg");
    REQUIRE(photo.ok());
    check_bare(photo->copy.bytes);
    const auto small = photos::reduced(photo->copy.bytes, 320);
    REQUIRE(small.ok());
    check_bare(small->bytes);
    // Even a photo that never went through take_in() comes out bare.
    const auto straight = photos::reduced(original, 320);
    REQUIRE(straight.ok());
    check_bare(straight->bytes);
}
