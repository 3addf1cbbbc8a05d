#include "core/readings/order.h"

#include <algorithm>
#include <numeric>

#include "core/base/sort.h"
#include "core/readings/judgement.h"
#include "core/readings/newest.h"

namespace tapwright {
namespace {

bool is_same_stay(const Reading& a, const Reading& b) {
    if (a.visit && b.visit && *a.visit == *b.visit) return true;
    if (a.time && b.time) return a.time->text.substr(0, 10) == b.time->text.substr(0, 10);
    return !(a.visit && b.visit);
}

}  // namespace

std::vector<std::uint32_t> in_order_taken(const Job& job) {
    const auto readings = job.all<Reading>();
    std::vector<std::int64_t> moments(readings.size());
    MomentsTaken taken;
    for (std::size_t i = 0; i < readings.size(); ++i) moments[i] = taken.next(readings[i]);
    std::vector<std::uint32_t> order(readings.size());
    std::iota(order.begin(), order.end(), 0u);
    sort_by(order, [&](std::uint32_t a, std::uint32_t b) { return moments[a] < moments[b]; });
    return order;
}

std::optional<Id> StrayVolts::line_of(const Id& at) const {
    const auto point = job_.place<Point>(at);
    if (!point) return at;
    const std::uint32_t zone = wiring_.points[*point].zone;
    return zone == nowhere ? std::optional<Id>() : job_.all<Zone>()[zone].id;
}

void StrayVolts::take(std::uint32_t reading) {
    const Reading& record = job_.all<Reading>()[reading];
    if (record.quantity != Measured::stray_v || !record.value || !record.at) return;
    const std::optional<Id> line = line_of(*record.at);
    if (!line) return;
    latest_.insert_or_assign(line->text(), reading);
    // The output that feeds the line sees it too.
    if (const auto zone = job_.place<Zone>(*line); zone && wiring_.zones[*zone].channel != nowhere)
        latest_.insert_or_assign(job_.all<Channel>()[wiring_.zones[*zone].channel].id.text(), reading);
}

std::optional<std::uint32_t> StrayVolts::against(const Reading& reading) const {
    const std::optional<Id> line = reading.at ? line_of(*reading.at) : std::nullopt;
    if (!line) return std::nullopt;
    const auto found = latest_.find(line->text());
    if (found == latest_.end()) return std::nullopt;
    const Reading& stray = job_.all<Reading>()[found->second];
    const bool is_live = Volts(*stray.value) >= least_stray_volts;
    return is_live && is_same_stay(stray, reading) ? std::optional(found->second) : std::nullopt;
}

}  // namespace tapwright
