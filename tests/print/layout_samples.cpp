// The blocks that are about how a sheet is laid out: a page of its own, columns, floors in shades, pins, labels.
#include "tests/print/samples.h"

namespace tapwright::samples {
namespace {

using namespace document;
using document::Figure;

Figure floor_in_shades() {
    Shades shades{.length = 12, .width = 8, .columns = 24, .rows = 16, .cells = {}, .spots = {}, .key = {}};
    for (std::size_t row = 0; row < shades.rows; ++row)
        for (std::size_t column = 0; column < shades.columns; ++column)
            shades.cells.push_back(static_cast<std::uint8_t>((column / 4 + row / 3) % Shades::most));
    shades.spots = {{3, 4}, {9, 4}, {12, 8}};
    for (std::size_t k = 0; k < shades.key.size(); ++k)
        shades.key[k] = std::to_string(90 - 3 * k) + " to " + std::to_string(87 - 3 * k) + " dB";
    shades.key[5] = "below 75 dB";
    return {shades, "Great hall, 12 m × 8 m: 72 to 90 dB.", "Level over the floor of the great hall: 72 to 90 dB."};
}

Figure pinned(double x, double y, const std::string& caption) {
    return {Picture{picture_jpeg(960, 640), 960, 640, std::array{x, y}}, caption, "Photo. A ring marks the spot."};
}

}  // namespace

Document laid_out() {
    Document sheet;
    sheet.title = "Laid out";
    sheet.created = "2031-04-12T16:40:00Z";
    sheet.footer =
        "Laid out · owner's sheet · 2031-04-12 · code 7f3a-91c2-0b4d · log 14\nHash "
        "bd8228388202247ac4cebb9b511058833bd3389bdc718b12bdbb6db41bb2937b · Tapwright 0.1.0";
    Table knobs;
    knobs.caption = "Knobs";
    knobs.columns = {{"Knob", Align::start, 2}, {"Room", Align::start, 2}, {"Mark", Align::end, 1}};
    for (int k = 0; k < 14; ++k)
        knobs.rows.push_back({{"V-" + std::to_string(100 + k)}, {"Classroom " + std::to_string(k)}, {"−6 dB"}});
    Bullets advice;
    for (int k = 0; k < 9; ++k)
        advice.items.push_back("Advice number " + std::to_string(k) + " that takes more than one line in its column.");
    sheet.blocks = {Layout::one_page,
                    Heading{1, "Lindenhof"},
                    Paragraph{"Keep this page at the amplifier.", Tone::stop},
                    Layout::beside,
                    knobs,
                    Layout::next_column,
                    Heading{3, "When there is no sound"},
                    advice,
                    Layout::end_beside,
                    Layout::beside,
                    SignatureLine{"for the contractor", "A. Sample", "2031-04-12", {}},
                    Layout::next_column,
                    SignatureLine{"for the house", "B. Sample", "2031-04-12", {}},
                    Layout::end_beside,
                    Layout::end_one_page,
                    Heading{2, "Floors and photos"},
                    Layout::beside,
                    floor_in_shades(),
                    Layout::next_column,
                    pinned(0.25, 0.75, "The splice behind the hatch."),
                    Layout::end_beside,
                    floor_in_shades()};
    return sheet;
}

Document labels(double width_mm, double height_mm, std::size_t count) {
    constexpr double points_per_mm = 72 / 25.4;
    Document sheet;
    sheet.title = "Labels";
    sheet.created = "2031-04-12T16:40:00Z";
    sheet.footer = "Labels";
    Labels made{width_mm * points_per_mm, height_mm * points_per_mm, {}};
    for (std::size_t k = 0; k < count; ++k)
        made.labels.push_back({"LS-" + std::to_string(k), {"North", "from A" + std::to_string(k), "5 W"}});
    sheet.blocks = {made};
    return sheet;
}

}  // namespace tapwright::samples
