// Legible in colour and in black and white: contrast as WCAG 2.2 defines it (success criterion 1.4.3: at least 4.5:1
// for text), and greys that stay apart once the colours are gone.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "platform/print/theme.h"
#include "tests/print/outside.h"
#include "tests/print/samples.h"

using namespace tapwright;
using print::Colour;

namespace {

// Relative luminance, WCAG 2.2.
double luminance(const Colour& colour) {
    const auto linear = [](double c) { return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); };
    return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

double contrast(const Colour& a, const Colour& b) {
    const double lighter = std::max(luminance(a), luminance(b));
    const double darker = std::min(luminance(a), luminance(b));
    return (lighter + 0.05) / (darker + 0.05);
}

// CIE 1976 lightness, 0 to 100: what is left of a colour on a black and white printer.
double lightness(const Colour& colour) {
    const double y = luminance(colour);
    return y > 0.008856 ? 116 * std::cbrt(y) - 16 : 903.3 * y;
}

std::string grey_picture(const std::string& pdf) {
    const outside::TemporaryFile file(pdf);
    const outside::Outcome drawn = outside::run("pdftoppm -r 60 -gray -f 1 -l 1 " + file.path());
    REQUIRE(drawn.status == 0);
    return drawn.output;
}

}  // namespace

TEST_CASE(
    "the measure itself: black on white is 21:1, a grey of #767676 about 4.54:1 (WCAG 2.2, understanding 1.4.3)") {
    CHECK(contrast(print::colour(0x000000), print::colour(0xFFFFFF)) == doctest::Approx(21));
    CHECK(contrast(print::colour(0x767676), print::colour(0xFFFFFF)) == doctest::Approx(4.54).epsilon(0.002));
}

TEST_CASE("every colour of text has at least 4.5:1 on the grounds it stands on") {
    namespace theme = print::theme;
    for (const Colour& text : {theme::ink, theme::quiet, theme::good, theme::note, theme::warning, theme::stop})
        for (const Colour& ground : {theme::white, theme::track}) CHECK(contrast(text, ground) >= 4.5);
    CHECK(contrast(theme::white, theme::block) >= 4.5);
    // Signs and limits need 3:1 (WCAG 2.2, 1.4.11).
    CHECK(contrast(theme::block, theme::track) >= 3);
}

TEST_CASE("the shades of a floor stay apart in grey, from dark to light") {
    for (std::size_t k = 1; k < std::size(print::theme::shades); ++k) {
        CAPTURE(k);
        CHECK(lightness(print::theme::shades[k]) - lightness(print::theme::shades[k - 1]) >= 9);
    }
}

TEST_CASE("printed without colour, a sheet still has its darkest ink and its white paper") {
    // A binary PGM: header, then one byte a pixel.
    const std::string picture = grey_picture(outside::rendered(samples::handover()).bytes);
    REQUIRE(picture.rfind("P5", 0) == 0);
    std::size_t dark = 0;
    std::size_t white = 0;
    for (std::size_t at = picture.size() / 100; at < picture.size(); ++at) {
        const auto grey = static_cast<unsigned char>(picture[at]);
        dark += grey < 96;
        white += grey > 250;
    }
    CHECK(dark > picture.size() / 200);
    CHECK(white > picture.size() / 2);
}
