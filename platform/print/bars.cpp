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
    const auto line_at = [&](int line) { return x - height + line * step; };
    for (int line = 0; line_at(line) < x + width; ++line) {
        const double at = line_at(line);
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
    double label_left;
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

// In the middle of its block; where the limit's line would cross it there, beside the line; else not at all.
void place_label(Block& block, const SharedText& label, double limit) {
    constexpr double margin = 4;
    const auto place = [&](double from, double to) {
        if (block.label || label->width() + 2 * margin > to - from) return;
        block.label = label;
        block.label_left = from + (to - from - label->width()) / 2;
    };
    if (label->empty() || label->line_count() != 1) return;
    const double end = block.x + block.width;
    const double middle = block.x + block.width / 2;
    if (std::abs(middle - limit) > label->width() / 2 + margin) place(block.x, end);
    place(block.x, std::min(limit, end));
    place(std::max(limit, block.x), end);
}

std::vector<Block> blocks_of(Composer& composer, const document::Bar& bar, const Scale& scale) {
    std::vector<Block> blocks;
    double reached = 0;
    for (const auto& part : bar.parts) {
        const double x = scale.at(reached);
        reached += sane(part.amount);
        Block block{x, scale.at(reached) - x, part.hatched, nullptr, 0};
        place_label(block, composer.type.set(part.label, label_style), scale.at(bar.limit));
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
    const double left = block.label_left;
    const double top = (bar_height - block.label->height()) / 2;
    if (block.hatched) {
        set_colour(context, theme::white);
        cairo_rectangle(context, left - 3, top, block.label->width() + 6, block.label->height());
        cairo_fill(context);
    }
    set_colour(context, block.hatched ? theme::ink : theme::white);
    draw_lines(context, *block.label, 0, 1, left, top, block.label->width(), document::Align::start);
}

// Where the reserve begins and ends: a darker ground, a dashed line over the blocks, and the limit's full line.
struct Marks {
    double reserve;  // == limit: none
    double limit;
    SharedText reserve_word;
    SharedText limit_word;
};

void draw_ground(cairo_t* context, const Marks& marks, double width) {
    set_colour(context, theme::track);
    cairo_rectangle(context, 0, 0, width, bar_height);
    cairo_fill(context);
    set_colour(context, theme::reserve);
    cairo_rectangle(context, marks.reserve, 0, marks.limit - marks.reserve, bar_height);
    cairo_fill(context);
}

void draw_word(cairo_t* context, const Text& word, double right) {
    draw_lines(context, word, 0, 1, std::max(right - word.width(), 0.0), bar_height + overhang + 1, word.width(),
               document::Align::start);
}

// True when the reserve's line would cross the label of a block; it then shows above and below the bar only.
bool crosses_label(const std::vector<Block>& blocks, double x) {
    return std::any_of(blocks.begin(), blocks.end(), [x](const Block& block) {
        return block.label && x > block.label_left - 4 && x < block.label_left + block.label->width() + 4;
    });
}

void stroke_upright(cairo_t* context, double x, double top, double bottom) {
    cairo_move_to(context, x, top);
    cairo_line_to(context, x, bottom);
    cairo_stroke(context);
}

void draw_marks(cairo_t* context, const Marks& marks, bool through) {
    set_colour(context, theme::ink);
    cairo_rectangle(context, marks.limit - 1, -overhang, 2, bar_height + 2 * overhang);
    cairo_fill(context);
    set_colour(context, theme::quiet);
    draw_word(context, *marks.limit_word, marks.limit);
    if (marks.reserve >= marks.limit) return;
    const double limit_left = marks.limit - marks.limit_word->width();
    draw_word(context, *marks.reserve_word, std::min(marks.reserve + marks.reserve_word->width() / 2, limit_left - 8));
    const double dashes[] = {2.5, 2};
    if (through) {  // white under ink, so that it shows on dark blocks too
        set_colour(context, theme::white);
        cairo_set_line_width(context, 2.4);
        stroke_upright(context, marks.reserve, 0, bar_height);
        set_colour(context, theme::ink);
        cairo_set_line_width(context, 1);
        cairo_set_dash(context, dashes, 2, 0);
        stroke_upright(context, marks.reserve, 0, bar_height);
        cairo_set_dash(context, dashes, 0, 0);
    }
    set_colour(context, theme::ink);
    cairo_set_line_width(context, 1);
    stroke_upright(context, marks.reserve, -overhang, 0);
    stroke_upright(context, marks.reserve, bar_height, bar_height + overhang);
}

}  // namespace

Sketch sketch_bar(Composer& composer, const document::Bar& bar) {
    const Scale scale = scale_of(bar, composer.width);
    const bool limited = sane(bar.limit) > 0;
    const double limit = scale.at(bar.limit);
    const double reserve = sane(bar.reserve_from) > 0 ? std::min(scale.at(bar.reserve_from), limit) : limit;
    const Marks marks{reserve, limit, composer.type.set(composer.words.text(Message("reserve")), theme::small),
                      composer.type.set(composer.words.text(Message("limit")), theme::small)};
    auto draw = [blocks = blocks_of(composer, bar, scale), width = composer.width, marks, limited](cairo_t* context) {
        cairo_translate(context, 0, overhang);
        draw_ground(context, marks, width);
        for (const Block& block : blocks) draw_block(context, block);
        if (limited) draw_marks(context, marks, !crosses_label(blocks, marks.reserve));
    };
    const double words = limited ? marks.limit_word->height() + 1 : 0;
    return {bar_height + 2 * overhang + words, std::move(draw)};
}

}  // namespace tapwright::print
