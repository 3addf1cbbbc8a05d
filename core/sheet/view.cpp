#include "core/sheet/view.h"

#include <limits>
#include <numeric>

#include "core/base/sort.h"
#include "core/readings/assessment.h"
#include "core/readings/order.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using Places = std::vector<std::uint32_t>;

bool at_input(const Point& point) {
    return point.feed_side == FeedSide::in;
}

// Feed order: a point, then what its output feeds, then what is looped through at its input; siblings as recorded.
// With a stack of its own, since a line may be ten thousand points long.
void walk_zones(View& view) {
    const auto points = view.job.all<Point>();
    std::vector<Places> roots(view.job.all<Zone>().size());
    std::vector<Places> fed(points.size());
    for (std::uint32_t i = 0; i < points.size(); ++i) {
        const PointOnLine& line = view.on_line(i);
        if (!line.traced || line.zone == nowhere)
            view.not_traced.push_back(i);
        else
            (line.feed == nowhere ? roots[line.zone] : fed[line.feed]).push_back(i);
    }
    view.zone_points.resize(roots.size());
    view.governor.assign(points.size(), nowhere);
    Places stack;
    for (std::size_t zone = 0; zone < roots.size(); ++zone) {
        stack.assign(roots[zone].rbegin(), roots[zone].rend());
        while (!stack.empty()) {
            const std::uint32_t at = stack.back();
            stack.pop_back();
            view.zone_points[zone].push_back(at);
            const std::uint32_t feed = view.on_line(at).feed;
            if (feed != nowhere) {
                const bool behind = points[feed].kind == PointKind::attenuator && !at_input(points[at]);
                view.governor[at] = behind ? feed : view.governor[feed];
            }
            Places& next = fed[at];
            std::stable_partition(next.begin(), next.end(), [&](std::uint32_t i) { return !at_input(points[i]); });
            stack.insert(stack.end(), next.rbegin(), next.rend());
        }
    }
}

void sort_rooms(View& view) {
    const auto rooms = view.job.all<Room>();
    view.rooms.resize(rooms.size());
    std::iota(view.rooms.begin(), view.rooms.end(), 0U);
    sort_by(view.rooms, [&](std::uint32_t a, std::uint32_t b) {
        const int last = std::numeric_limits<int>::max();
        return rooms[a].order.value_or(last) < rooms[b].order.value_or(last);
    });
}

void fill_rooms(View& view) {
    view.room_points.resize(view.job.all<Room>().size());
    const auto put = [&](const Places& places) {
        for (const std::uint32_t at : places) {
            const std::optional<Id>& id = view.point(at).room;
            const std::optional<std::uint32_t> room = id ? view.job.place<Room>(*id) : std::nullopt;
            (room ? view.room_points[*room] : view.no_room).push_back(at);
        }
    };
    for (const Places& places : view.zone_points) put(places);
    put(view.not_traced);
}

void sort_readings(View& view) {
    const auto readings = view.job.all<Reading>();
    view.zone_ohms.assign(view.job.all<Zone>().size(), nowhere);
    view.point_ohms.assign(view.job.all<Point>().size(), nowhere);
    view.zone_readings.resize(view.job.all<Zone>().size());
    for (const std::uint32_t i : in_order_taken(view.job)) {
        const Reading& reading = readings[i];
        auto zone = reading.at ? view.job.place<Zone>(*reading.at) : std::nullopt;
        const auto point = reading.at ? view.job.place<Point>(*reading.at) : std::nullopt;
        std::uint32_t* latest = zone ? &view.zone_ohms[*zone] : point ? &view.point_ohms[*point] : nullptr;
        const bool says_ohms =
            reading.quantity == Measured::ohms && (reading.value || reading.over_range.value_or(false));
        if (latest && says_ohms) *latest = i;
        if (point && view.on_line(*point).traced && view.on_line(*point).zone != nowhere)
            zone = view.on_line(*point).zone;
        (zone ? view.zone_readings[*zone] : view.other_readings).push_back(i);
    }
}

}  // namespace

View::View(const Job& job_of, const Derived& derived_of, const SheetOptions& options_of, const Words& words_of)
    : job(job_of),
      derived(derived_of),
      options(options_of),
      words(words_of),
      statements(job, derived),
      day(day_of(options.time).date) {
    walk_zones(*this);
    sort_rooms(*this);
    fill_rooms(*this);
    sort_readings(*this);
}

}  // namespace tapwright::sheet
