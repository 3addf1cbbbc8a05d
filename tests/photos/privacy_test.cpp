// What a camera writes beside the picture stays out of the copy.
#include <doctest/doctest.h>

#include "platform/photos/photos.h"
#include "tests/photos/made_pictures.h"

using namespace tapwright;

namespace {

// Each stands for something private; none may be found again, in one piece or as its first four bytes.
const char* const secrets[] = {"GPS-47.123456-N-8.654321-E", "MAKER-SERIAL-0099887", "XMP-LOCATION-TARN-STREET",
                               "IPTC-BYLINE-K-FERRIN",       "COMMENT-AT-HOME",      "ICC-DEVICE-SERIAL"};

// A photo as a telephone writes it: orientation, GPS and maker note in EXIF with a thumbnail, XMP, IPTC, a colour
// profile, a comment, a list of pictures (MPF), and a second whole image behind the first.
std::string private_photo() {
    std::string photo = made::camera_jpeg(640, 480, 3);
    const std::string thumbnail = made::quarters_jpeg(32, 24);
    photo = made::with_segment(photo, 0xFE, secrets[4]);
    photo = made::with_segment(photo, 0xE2, std::string("MPF\0", 4) + "second image behind");
    photo = made::with_segment(photo, 0xE2, std::string("ICC_PROFILE\0\x01\x01", 14) + secrets[5]);
    photo = made::with_segment(photo, 0xED, std::string("IPTC\0", 5) + secrets[3]);
    photo = made::with_segment(
        photo, 0xE1, std::string("http://ns.adobe.com/xap/1.0/\0", 29) + "<x:xmpmeta>" + secrets[2] + "</x:xmpmeta>");
    photo = made::with_segment(
        photo, 0xE1, made::exif_with_orientation(1, true) + secrets[0] + std::string(4, '\0') + secrets[1] + thumbnail);
    return photo + made::quarters_jpeg(320, 240) + secrets[0];
}

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
    const std::string original = private_photo();
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
