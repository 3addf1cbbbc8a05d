#include "core/readings/newest.h"

#include <algorithm>

#include "core/readings/order.h"

namespace tapwright {

std::vector<std::uint32_t> readings_at(const Job& job, const Id& at) {
    std::vector<std::uint32_t> found = in_order_taken(job);
    std::erase_if(found, [&](std::uint32_t place) { return job.all<Reading>()[place].at != at; });
    std::reverse(found.begin(), found.end());
    return found;
}

}  // namespace tapwright
