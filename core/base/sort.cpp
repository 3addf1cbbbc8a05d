#include "core/base/sort.h"

#include <algorithm>
#include <numeric>

namespace tapwright {

std::vector<std::uint32_t> sorted_places(std::size_t count, bool (*before)(const void*, std::uint32_t, std::uint32_t),
                                         const void* context) {
    std::vector<std::uint32_t> places(count);
    std::iota(places.begin(), places.end(), 0u);
    std::stable_sort(places.begin(), places.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return before(context, a, b); });
    return places;
}

}  // namespace tapwright
