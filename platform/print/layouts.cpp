#include "platform/print/layouts.h"

#include <algorithm>
#include <utility>
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
Composer beside(const Composer& composer, Structure& structure, double width) {
    return {composer.type,          structure, composer.words, composer.sections,    width, composer.height, {},
            composer.heading_depth, false,     composer.dense, composer.in_full_size};
}

double height_of(const Flow& flow) {
    double height = 0;
    for (const Strip& strip : flow.strips)
        height += strip.height + (&strip == flow.strips.data() ? 0 : strip.space_before);
    return height;
}

void move(Shape& shape, double x, double y) {
    shape.x += x;
    shape.y += y;
}

void move(Item& item, double x, double y) {
    item.x += x;
    item.y += y;
}

// All strips of a flow below each other as one that starts at `x`.
void stack(Strip& on, Flow flow, double x) {
    double y = 0;
    for (Strip& strip : flow.strips) {
        if (&strip != flow.strips.data()) y += strip.space_before;
        for (Shape& shape : strip.shapes) {
            move(shape, x, y);
            on.shapes.push_back(shape);
        }
        for (Item& item : strip.items) {
            move(item, x, y);
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
        Composer trial = beside(composer, scratch, width);
        if (auto composed = compose_range(trial, side); !composed) return composed;
        if (height_of(trial.flow) <= composer.height) continue;
        // A column higher than the page cannot go on over the next: below each other then.
        if (auto composed = compose_range(composer, left); !composed) return composed;
        return compose_range(composer, right);
    }
    Strip strip;
    double x = 0;
    for (const Blocks side : {left, right}) {
        Composer column = beside(composer, composer.structure, width);
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

// What stands since the last page that was begun, among the strips before `end`, as far as strips say where pages
// begin.
double height_of_page(const Flow& flow, std::size_t end) {
    double height = 0;
    const auto last = flow.strips.rend() - static_cast<std::ptrdiff_t>(end);
    for (auto strip = last; strip != flow.strips.rend(); ++strip) {
        const bool is_first = strip->new_page || strip + 1 == flow.strips.rend();
        height += strip->height + (is_first ? 0 : strip->space_before);
        if (is_first) break;
    }
    return height;
}

Result<void> compose_dense(Composer& composer, Blocks blocks, bool in_full_size) {
    const bool dense = std::exchange(composer.dense, true);
    const bool full = std::exchange(composer.in_full_size, in_full_size);
    auto composed = compose_range(composer, blocks);
    composer.dense = dense;
    composer.in_full_size = full;
    return composed;
}

Result<void> compose_one_page(Composer& composer, Blocks blocks) {
    const std::size_t first = composer.flow.strips.size();
    if (auto composed = compose_dense(composer, blocks, true); !composed) return composed;
    auto& strips = composer.flow.strips;
    if (first == strips.size()) return done();
    strips[first].new_page = false;
    // Below what is longer than its page it goes on: a page of its own would leave most of that one empty.
    if (first > 0 && height_of_page(composer.flow, strips.size()) > composer.height)
        strips[first].new_page = height_of_page(composer.flow, first) <= composer.height;
    composer.break_next = height_of_page(composer.flow, strips.size()) <= composer.height;
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
        if (is(blocks[i], Hint::compact)) {
            const std::size_t end = find(blocks, i, Hint::end_compact);
            if (auto composed = compose_dense(composer, blocks.subspan(i + 1, end - i - 1), false); !composed)
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
        // What is said right below a table belongs to it, and does not open a page alone.
        const bool is_below_table = i > 0 && std::holds_alternative<document::Table>(blocks[i - 1]) &&
                                    (std::holds_alternative<document::Paragraph>(blocks[i]) ||
                                     std::holds_alternative<document::Bullets>(blocks[i]));
        if (is_below_table && !composer.flow.strips.empty()) composer.flow.strips.back().keep_with_next = true;
        if (auto added = add_block(composer, blocks[i]); !added) return added;
    }
    return done();
}

}  // namespace tapwright::print
