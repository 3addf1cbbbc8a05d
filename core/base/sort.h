// Sorting through one compiled body. std::sort and std::stable_sort are made anew for every type and every comparison,
// 2 to 5 kB each; with one for each kind of record they were 4 % of the program that a browser loads. For short lists
// of things with a comparison of their own; numbers in their natural order are std::sort's.
#pragma once

#include <cstddef>
#include <cstdint>
#include <iterator>
#include <utility>
#include <vector>

namespace tapwright {

// Of each place the element that belongs there; equal elements keep their order. `before(context, a, b)` compares the
// elements at a and b. Requires: count < 2^32.
std::vector<std::uint32_t> sorted_places(std::size_t count, bool (*before)(const void*, std::uint32_t, std::uint32_t),
                                         const void* context);

// `list` has data() and size(); before(a, b) says whether element a belongs before element b. Stable. Takes 8 bytes an
// element while it runs.
template <class List, class Before>
void sort_by(List& list, const Before& before) {
    auto* const elements = std::data(list);
    const std::size_t count = std::size(list);
    if (count < 2) return;
    struct Context {
        decltype(elements) in_order;
        const Before& before;
    } const context{elements, before};
    std::vector<std::uint32_t> place = sorted_places(
        count,
        [](const void* given, std::uint32_t a, std::uint32_t b) {
            const Context& in = *static_cast<const Context*>(given);
            return static_cast<bool>(in.before(std::as_const(in.in_order[a]), std::as_const(in.in_order[b])));
        },
        &context);
    // Each ring of elements that change places is moved on by one.
    for (std::uint32_t first = 0; first < count; ++first) {
        if (place[first] == first) continue;
        auto held = std::move(elements[first]);
        std::uint32_t at = first;
        while (place[at] != first) {
            elements[at] = std::move(elements[place[at]]);
            at = std::exchange(place[at], at);
        }
        elements[at] = std::move(held);
        place[at] = at;
    }
}

}  // namespace tapwright
