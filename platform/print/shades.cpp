// A floor in shades with its key below: each shade's sign, then what it means.
#include <algorithm>
#include <numbers>

#include "core/base/ensure.h"
#include "platform/print/compose.h"

namespace tapwright::print {
namespace {

constexpr Style key_style{8, 400, 1.25};
constexpr double sign = 11;  // side of a sign in the key
constexpr double key_above = 6;
static_assert(std::size(theme::shades) == document::Shades::most);

struct KeyEntry {
    std::size_t shade;
    SharedText words;
    double x;
    double y;
};

struct Key {
    std::vector<KeyEntry> entries;
    double height = 0;
};

// As many in a line as there is room for.
Key key_of(Composer& composer, const document::Shades& shades) {
    Key key;
    double x = 0;
    double line = 0;
    for (std::size_t shade = 0; shade < shades.key.size(); ++shade) {
        if (shades.key[shade].empty()) continue;
        const SharedText words = composer.type.set(shades.key[shade], key_style);
        const double width = sign + 4 + words->width() + 12;
        if (x > 0 && x + width > composer.width) x = 0, key.height += line + 3;
        key.entries.push_back({shade, words, x, key.height});
        line = std::max(sign, words->height());
        x += width;
    }
    key.height += line;
    return key;
}

void draw_cells(cairo_t* context, const document::Shades& shades, double width, double height) {
    const double across = width / static_cast<double>(shades.columns);
    const double down = height / static_cast<double>(shades.rows);
    // Cells meet without the pale seams that smoothed edges would leave.
    cairo_set_antialias(context, CAIRO_ANTIALIAS_NONE);
    for (std::size_t row = 0; row < shades.rows; ++row) {
        const std::uint8_t* cells = &shades.cells[row * shades.columns];
        for (std::size_t first = 0, column = 1; column <= shades.columns; ++column) {
            if (column < shades.columns && cells[column] == cells[first]) continue;
            set_colour(context, theme::shades[std::min<std::size_t>(cells[first], document::Shades::most - 1)]);
            cairo_rectangle(context, across * static_cast<double>(first), down * static_cast<double>(row),
                            across * static_cast<double>(column - first), down);
            cairo_fill(context);
            first = column;
        }
    }
    cairo_set_antialias(context, CAIRO_ANTIALIAS_DEFAULT);
}

void draw_spot(cairo_t* context, double x, double y) {
    cairo_new_path(context);
    cairo_arc(context, x, y, 2.6, 0, 2 * std::numbers::pi);
    set_colour(context, theme::white);
    cairo_fill_preserve(context);
    set_colour(context, theme::ink);
    cairo_set_line_width(context, 1);
    cairo_stroke(context);
}

void draw_key(cairo_t* context, const Key& key, double top) {
    for (const KeyEntry& entry : key.entries) {
        const double y = top + entry.y;
        set_colour(context, theme::shades[entry.shade]);
        cairo_rectangle(context, entry.x + 0.3, y + 0.3, sign - 0.6, sign - 0.6);
        cairo_fill_preserve(context);
        set_colour(context, theme::ink);
        cairo_set_line_width(context, 0.5);
        cairo_stroke(context);
        draw_lines(context, *entry.words, 0, 1, entry.x + sign + 4, y + (sign - entry.words->height()) / 2,
                   entry.words->width(), document::Align::start);
    }
}

}  // namespace

Sketch sketch_shades(Composer& composer, const document::Shades& shades, double most_height) {
    if (shades.columns == 0 || shades.rows == 0 || !(shades.length > 0) || !(shades.width > 0)) return {};
    TAPWRIGHT_ENSURE(shades.cells.size() == shades.columns * shades.rows);
    Key key = key_of(composer, shades);
    const double room = most_height - key.height - key_above;
    const double scale = std::min(composer.width / shades.length, std::max(room, 20.0) / shades.width);
    const double width = shades.length * scale;
    const double height = shades.width * scale;
    auto draw = [shades, key, scale, width, height](cairo_t* context) {
        draw_cells(context, shades, width, height);
        set_colour(context, theme::ink);
        cairo_set_line_width(context, 0.8);
        cairo_rectangle(context, 0, 0, width, height);
        cairo_stroke(context);
        for (const auto& spot : shades.spots)
            draw_spot(context, std::clamp(spot[0] * scale, 0.0, width), std::clamp(spot[1] * scale, 0.0, height));
        draw_key(context, key, height + key_above);
    };
    return {height + key_above + key.height, std::move(draw)};
}

}  // namespace tapwright::print
