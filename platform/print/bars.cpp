// The load bar: one block for each part, as wide as its amount, against a limit with its reserve marked off.
#include <algorithm>
#include <cmath>

#include "platform/print/compose.h"

namespace tapwright::print {
namespace {

constexpr double bar_height = 24;
constexpr double overhang = 5;  // of the limit's line, above and below the bar
constexpr Style label_style{8, 500, 1.25};

double sane(double amount) {
    return std::isfinite(amount) ? std::max(amount, 0.0) : 0.0;
}

void hatch(cairo_t* context, double x, double y, double width, double height, double step) {
    cairo_save(context);
    cairo_rectangle(context, x, y, width, height);
    cairo_clip(context);
    for (double at = x - height; at < x + width; at += step) {
        cairo_move_to(context, at, y + height);
        cairo_line_to(context, at + height, y);
    }
    cairo_stroke(context);
    cairo_restore(context);
}

struct Block {
    double x;
    double width;
    bool hatched;
    SharedText label;  // null: does not fit
};

struct Scale {
    double points_per_unit;
    double width;
    double at(double amount) const { return std::min(sane(amount) * points_per_unit, width); }
};

Scale scale_of(const document::Bar& bar, double width) {
    double sum = 0;
    for (const auto& part : bar.parts) sum += sane(part.amount);
    const double whole = std::max({sane(bar.whole), sane(bar.limit), sane(bar.reserve_from), sum});
    return {whole > 0 ? width / whole : 0, width};
}

std::vector<Block> blocks_of(Composer& composer, const document::Bar& bar, const Scale& scale) {
    std::vector<Block> blocks;
    double reached = 0;
    for (const auto& part : bar.parts) {
        const double x = scale.at(reached);
        reached += sane(part.amount);
        Block block{x, scale.at(reached) - x, part.hatched, nullptr};
        const SharedText label = composer.type.set(part.label, label_style);
        if (!label->empty() && label->line_count() == 1 && label->width() + 8 <= block.width) block.label = label;
        blocks.push_back(std::move(block));
    }
    return blocks;
}

void draw_block(cairo_t* context, const Block& block) {
    const double seam = std::min(0.8, block.width * 0.2);
    const double width = block.width - seam;
    if (block.hatched) {
        set_colour(context, theme::white);
        cairo_rectangle(context, block.x, 0, width, bar_height);
        cairo_fill(context);
        set_colour(context, theme::block);
        cairo_set_line_width(context, 1);
        hatch(context, block.x, 0, width, bar_height, 5);
        cairo_rectangle(context, block.x + 0.5, 0.5, std::max(width - 1, 0.0), bar_height - 1);
        cairo_stroke(context);
    } else {
        set_colour(context, theme::block);
        cairo_rectangle(context, block.x, 0, width, bar_height);
        cairo_fill(context);
    }
    if (!block.label) return;
    const double left = block.x + (width - block.label->width()) / 2;
    const double top = (bar_height - block.label->height()) / 2;
    if (block.hatched) {
        set_colour(context, theme::white);
        cairo_rectangle(context, left - 3, top, block.label->width() + 6, block.label->height());
        cairo_fill(context);
    }
    set_colour(context, block.hatched ? theme::ink : theme::white);
    draw_lines(context, *block.label, 0, 1, left, top, block.label->width(), document::Align::start);
}

void draw_limit(cairo_t* context, double x) {
    set_colour(context, theme::ink);
    cairo_rectangle(context, x - 1, -overhang, 2, bar_height + 2 * overhang);
    cairo_fill(context);
}

}  // namespace

Sketch sketch_bar(Composer& composer, const document::Bar& bar) {
    const Scale scale = scale_of(bar, composer.width);
    const double limit = scale.at(bar.limit);
    const double reserve = bar.limit > 0 ? std::min(scale.at(bar.reserve_from), limit) : 0;
    const bool limited = bar.limit > 0;
    const bool reserved = limited && bar.reserve_from > 0 && reserve < limit;
    auto draw = [blocks = blocks_of(composer, bar, scale), width = composer.width, limit, reserve, limited,
                 reserved](cairo_t* context) {
        cairo_translate(context, 0, overhang);
        set_colour(context, theme::track);
        cairo_rectangle(context, 0, 0, width, bar_height);
        cairo_fill(context);
        if (reserved) {
            set_colour(context, theme::quiet);
            cairo_set_line_width(context, 0.5);
            hatch(context, reserve, 0, limit - reserve, bar_height, 4);
            cairo_rectangle(context, reserve, 0, limit - reserve, bar_height);
            cairo_stroke(context);
        }
        for (const Block& block : blocks) draw_block(context, block);
        if (limited) draw_limit(context, limit);
    };
    return {bar_height + 2 * overhang, std::move(draw)};
}

}  // namespace tapwright::print
