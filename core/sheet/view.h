// What both sheets need to find their way through a job: points in feed order and by room, rooms in walking order, and
// which attenuator governs which point. Built once for a sheet, in linear time.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/sheet/sheet.h"
#include "core/words/findings_text.h"
#include "core/words/words.h"

namespace tapwright::sheet {

struct View {
    const Job& job;
    const Derived& derived;
    const SheetOptions& options;
    const Words& words;       // for what is laid out by how wide its texts are; all else stays messages
    FindingWords statements;  // of findings and, by readings(), of readings
    std::string day;          // of the sheet, YYYY-MM-DD; empty when no time was given

    // All of these hold places in job.all<...>().
    std::vector<std::vector<std::uint32_t>> zone_points;  // of each zone in feed order: a feed before what it feeds
    std::vector<std::vector<std::uint32_t>> room_points;  // of each room, in feed order
    std::vector<std::uint32_t> rooms;                     // in walking order
    std::vector<std::uint32_t> not_traced;                // points that no zone is known to feed
    std::vector<std::uint32_t> no_room;                   // points whose room is not recorded
    // Of each point: the nearest attenuator before it whose output side feeds it; nowhere: none. Follow it on for the
    // ones before that.
    std::vector<std::uint32_t> governor;
    // The latest reading of ohms at each zone and point, a place in job.all<Reading>(); nowhere: none. Readings are in
    // the order they were taken, as everywhere: in_order_taken().
    std::vector<std::uint32_t> zone_ohms;
    std::vector<std::uint32_t> point_ohms;
    std::vector<std::vector<std::uint32_t>> zone_readings;  // of each zone, at it or at one of its points
    std::vector<std::uint32_t> other_readings;              // at channels, rooms and points not traced

    View(const Job& job, const Derived& derived, const SheetOptions& options, const Words& words);

    const Point& point(std::uint32_t place) const { return job.all<Point>()[place]; }
    const PointOnLine& on_line(std::uint32_t place) const { return derived.points[place]; }
    const Room& room(std::uint32_t place) const { return job.all<Room>()[place]; }
};

}  // namespace tapwright::sheet
