#include "ui/drawings/line_layout.h"

#include <algorithm>
#include <cstddef>

namespace tapwright::ui {
namespace {

// Children of every point in one array: those of slot i are children[first[i]] to children[first[i + 1] - 1].
struct Children {
    std::vector<int> first, children;
};

// Slot 0 is the source, slot i + 1 is point i.
std::size_t slot_of(int feed) {
    return feed < 0 ? 0 : static_cast<std::size_t>(feed) + 1;
}

Children children_of(std::span<const int> feeds) {
    const std::size_t count = feeds.size();
    Children result;
    result.first.assign(count + 2, 0);
    for (int feed : feeds) ++result.first[slot_of(feed) + 1];
    for (std::size_t i = 1; i < result.first.size(); ++i) result.first[i] += result.first[i - 1];
    std::vector<int> next = result.first;
    result.children.resize(count);
    for (std::size_t i = 0; i < count; ++i) {
        int& slot = next[slot_of(feeds[i])];
        result.children[static_cast<std::size_t>(slot)] = static_cast<int>(i);
        ++slot;
    }
    return result;
}

// Points from the source outwards, each after what feeds it; points in loops are left out.
std::vector<int> outwards(const Children& tree) {
    std::vector<int> order;
    order.reserve(tree.children.size());
    const auto add = [&](std::size_t slot) {
        for (int i = tree.first[slot]; i < tree.first[slot + 1]; ++i)
            order.push_back(tree.children[static_cast<std::size_t>(i)]);
    };
    add(0);
    // NOLINTNEXTLINE(modernize-loop-convert): it grows meanwhile
    for (std::size_t done = 0; done < order.size(); ++done) add(static_cast<std::size_t>(order[done]) + 1);
    return order;
}

}  // namespace

LineLayout lay_out_line(std::span<const int> feeds) {
    const std::size_t count = feeds.size();
    const Children tree = children_of(feeds);
    const std::vector<int> order = outwards(tree);
    std::vector<int> size(count, 1);
    for (auto point = order.rbegin(); point != order.rend(); ++point) {
        const int feed = feeds[static_cast<std::size_t>(*point)];
        if (feed >= 0) size[static_cast<std::size_t>(feed)] += size[static_cast<std::size_t>(*point)];
    }
    // From here on sizes are final.
    LineLayout layout;
    layout.points.resize(count);
    for (std::size_t i = 0; i < count; ++i) layout.points[i].parent = feeds[i];
    struct Visit {
        int point, column;
    };
    std::vector<Visit> waiting;
    const auto put_children = [&](std::size_t slot, int column) {
        const int from = tree.first[slot], to = tree.first[slot + 1];
        int straight = -1;
        for (int i = from; i < to; ++i) {
            const int child = tree.children[static_cast<std::size_t>(i)];
            if (straight < 0 || size[static_cast<std::size_t>(child)] > size[static_cast<std::size_t>(straight)])
                straight = child;
        }
        if (straight < 0) return;
        waiting.push_back({straight, column});  // taken last, so it comes below the side branches
        for (int i = to - 1; i >= from; --i) {
            const int child = tree.children[static_cast<std::size_t>(i)];
            if (child != straight) waiting.push_back({child, column + 1});
        }
    };
    put_children(0, 0);
    while (!waiting.empty()) {
        const Visit visit = waiting.back();
        waiting.pop_back();
        PlacedPoint& placed = layout.points[static_cast<std::size_t>(visit.point)];
        placed.row = static_cast<int>(layout.by_row.size());
        placed.column = visit.column;
        placed.reached = true;
        layout.columns = std::max(layout.columns, visit.column + 1);
        layout.by_row.push_back(visit.point);
        put_children(static_cast<std::size_t>(visit.point) + 1, visit.column);
    }
    for (std::size_t i = 0; i < count; ++i) {
        if (layout.points[i].reached) continue;
        layout.points[i].row = static_cast<int>(layout.by_row.size());
        layout.points[i].parent = -1;
        layout.by_row.push_back(static_cast<int>(i));
    }
    return layout;
}

}  // namespace tapwright::ui
