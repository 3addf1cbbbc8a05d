#include "ui/frame/theme.h"

#include <doctest/doctest.h>

using tapwright::ui::contrast;
using tapwright::ui::day_theme;
using tapwright::ui::night_theme;
using tapwright::ui::shape_pairs;
using tapwright::ui::text_pairs;
using tapwright::ui::TextPair;
using tapwright::ui::Theme;

TEST_CASE("contrast follows WCAG 2.2") {
    // Source: WCAG 2.2, definition of contrast ratio: black on white is 21, a colour on itself 1.
    CHECK(contrast({0, 0, 0, 255}, {255, 255, 255, 255}) == doctest::Approx(21.0));
    CHECK(contrast({90, 90, 90, 255}, {90, 90, 90, 255}) == doctest::Approx(1.0));
    // Source: WebAIM, "Contrast and Color Accessibility": #777777 on white is 4.48, just too little; #767676 is 4.54.
    CHECK(contrast({0x77, 0x77, 0x77, 255}, {255, 255, 255, 255}) == doctest::Approx(4.48).epsilon(0.002));
    CHECK(contrast({0x76, 0x76, 0x76, 255}, {255, 255, 255, 255}) == doctest::Approx(4.54).epsilon(0.002));
}

TEST_CASE("every text stands out from its ground in both themes") {
    // Source: WCAG 2.2, success criterion 1.4.3 (AA).
    for (const Theme& theme : {day_theme(), night_theme()}) {
        CAPTURE(theme.night);
        CHECK(text_pairs(theme).size() > 30);
        for (const TextPair& pair : text_pairs(theme)) {
            CAPTURE(pair.name);
            CHECK(contrast(pair.text, pair.background) >= 4.5);
        }
    }
}

TEST_CASE("every shape that means something stands out from its ground in both themes") {
    // Source: WCAG 2.2, success criterion 1.4.11 (AA): 3:1.
    for (const Theme& theme : {day_theme(), night_theme()}) {
        for (const TextPair& pair : shape_pairs(theme)) {
            CAPTURE(theme.night);
            CAPTURE(pair.name);
            CHECK(contrast(pair.text, pair.background) >= 3.0);
        }
    }
}
