#include "platform/print/layouts.h"

#include <algorithm>
#include <variant>

namespace tapwright::print {
namespace {

using Hint = document::Layout;
using Blocks = std::span<const document::Block>;

constexpr double column_gap = 24;

bool is(const document::Block& block, Hint mark) {
    const auto* held = std::get_if<Hint>(&block);
    return held && *held == mark;
}

std::size_t find(Blocks blocks, std::size_t from, Hint mark) {
    while (from < blocks.size() && !is(blocks[from], mark)) ++from;
    return from;
}

// The same blocks in another width, with a flow of its own.
Composer beside(const Composer& composer, Structure& structure, double width, double height) {
    return {composer.type,          structure, composer.words,      width,         height, {},
            composer.heading_depth, false,     composer.one_column, composer.dense};
}

double height_of(const Flow& flow) {
    double height = 0;
    for (const Strip& strip : flow.strips)
        height += strip.height + (&strip == flow.strips.data() ? 0 : strip.space_before);
    return height;
}

void move(Shape& shape, double scale, double x, double y) {
    shape.x = shape.x * scale + x;
    shape.y = shape.y * scale + y;
    shape.width *= scale;
    shape.height *= scale;
}

void move(Item& item, double scale, double x, double y) {
    item.x = item.x * scale + x;
    item.y = item.y * scale + y;
    item.scale *= scale;
}

// All strips of a flow below each other as one that starts at `x`.
void stack(Strip& on, Flow flow, double x) {
    double y = 0;
    for (Strip& strip : flow.strips) {
        if (&strip != flow.strips.data()) y += strip.space_before;
        for (Shape& shape : strip.shapes) {
            move(shape, 1, x, y);
            on.shapes.push_back(shape);
        }
        for (Item& item : strip.items) {
            move(item, 1, x, y);
            on.items.push_back(std::move(item));
        }
        for (PlacedBookmark& placed : strip.bookmarks) on.bookmarks.push_back({placed.bookmark, placed.y + y});
        y += strip.height;
    }
    on.height = std::max(on.height, y);
}

Result<void> compose_beside(Composer& composer, Blocks left, Blocks right) {
    const double width = (composer.width - column_gap) / 2;
    Structure scratch;
    for (const Blocks side : {left, right}) {
        Composer trial = beside(composer, scratch, width, composer.height);
        if (auto composed = compose_range(trial, side); !composed) return composed;
        if (height_of(trial.flow) <= composer.height && !composer.one_column) continue;
        // A column higher than the page cannot go on over the next: below each other then.
        if (auto composed = compose_range(composer, left); !composed) return composed;
        return compose_range(composer, right);
    }
    Strip strip;
    double x = 0;
    for (const Blocks side : {left, right}) {
        Composer column = beside(composer, composer.structure, width, composer.height);
        if (auto composed = compose_range(column, side); !composed) return composed;
        composer.heading_depth = column.heading_depth;
        if (!column.flow.strips.empty())
            strip.space_before = std::max(strip.space_before, column.flow.strips.front().space_before);
        stack(strip, std::move(column.flow), x);
        x += width + column_gap;
    }
    add_strip(composer, std::move(strip));
    return done();
}

// Puts a flow that was composed 1/scale times as wide onto the sheet.
void append_scaled(Composer& composer, Flow flow, double scale) {
    const int heads = static_cast<int>(composer.flow.heads.size());
    const auto shrink = [scale](auto& part) {
        part.height *= scale;
        for (Shape& shape : part.shapes) move(shape, scale, 0, 0);
        for (Item& item : part.items) move(item, scale, 0, 0);
    };
    for (Head& head : flow.heads) {
        shrink(head);
        composer.flow.heads.push_back(std::move(head));
    }
    for (Strip& strip : flow.strips) {
        shrink(strip);
        strip.space_before *= scale;
        for (PlacedBookmark& placed : strip.bookmarks) placed.y *= scale;
        if (strip.head >= 0) strip.head += heads;
        const bool opens = strip.new_page;
        add_strip(composer, std::move(strip)).new_page |= opens;
    }
}

// Returns: the scale at which the blocks fit on one page; 0 when they do not.
Result<double> fitting_scale(const Composer& composer, Blocks blocks) {
    for (double scale = 1; scale >= smallest_scale - 1e-9; scale -= 0.02) {
        Structure scratch;
        Composer trial = beside(composer, scratch, composer.width / scale, composer.height / scale);
        trial.dense = true;
        if (auto composed = compose_range(trial, blocks); !composed) return composed.refusal();
        if (height_of(trial.flow) <= trial.height) return scale;
    }
    return 0.0;
}

Result<void> compose_one_page(Composer& composer, Blocks blocks) {
    composer.break_next = !composer.flow.strips.empty();
    const Result<double> scale = fitting_scale(composer, blocks);
    if (!scale) return scale.refusal();
    if (*scale == 0) {
        composer.one_column = true;
        auto composed = compose_range(composer, blocks);
        composer.one_column = false;
        composer.break_next = true;
        return composed;
    }
    Composer page = beside(composer, composer.structure, composer.width / *scale, composer.height / *scale);
    page.dense = true;
    if (auto composed = compose_range(page, blocks); !composed) return composed;
    composer.heading_depth = page.heading_depth;
    append_scaled(composer, std::move(page.flow), *scale);
    composer.break_next = true;
    return done();
}

}  // namespace

Result<void> compose_range(Composer& composer, Blocks blocks) {
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        if (is(blocks[i], Hint::one_page)) {
            const std::size_t end = find(blocks, i, Hint::end_one_page);
            if (auto composed = compose_one_page(composer, blocks.subspan(i + 1, end - i - 1)); !composed)
                return composed;
            i = end;
            continue;
        }
        const std::size_t next = is(blocks[i], Hint::beside) ? find(blocks, i, Hint::next_column) : blocks.size();
        const std::size_t end = next < blocks.size() ? find(blocks, next, Hint::end_beside) : blocks.size();
        if (end < blocks.size()) {
            const Blocks left = blocks.subspan(i + 1, next - i - 1);
            const Blocks right = blocks.subspan(next + 1, end - next - 1);
            if (auto composed = compose_beside(composer, left, right); !composed) return composed;
            i = end;
            continue;
        }
        if (std::holds_alternative<document::Layout>(blocks[i])) continue;
        if (auto added = add_block(composer, blocks[i]); !added) return added;
    }
    return done();
}

}  // namespace tapwright::print
