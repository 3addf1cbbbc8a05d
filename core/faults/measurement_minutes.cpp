// What a measurement costs: the table of minutes (weights.h) at the place as the job has it.
#include <algorithm>
#include <cmath>
#include <set>

#include "core/faults/next_measurement.h"

namespace tapwright {

double NextMeasurement::walk_to(const std::optional<Id>& room) const {
    if (!room || room == room_) return 0;
    const Room* there = job_.find<Room>(*room);
    const Room* here = job_.find<Room>(room_);
    double minutes = options_.costs.another_room;
    if (there && here && there->order && here->order)
        minutes += options_.costs.room_between * std::abs(*there->order - *here->order);
    return minutes;
}

double NextMeasurement::minutes_at(std::uint32_t place, double at_loudspeaker) const {
    const MeasurementCosts& costs = options_.costs;
    const Point& point = job_.all<Point>()[place];
    const PointKind kind = line_.wiring.points[place].kind;
    double minutes = kind == PointKind::speaker      ? at_loudspeaker
                     : kind == PointKind::attenuator ? costs.at_wall
                                                     : costs.at_joint;
    const Room* room = job_.find<Room>(point.room);
    if (!room) return minutes;
    minutes += walk_to(point.room);
    if (room->access) minutes += costs.by_arrangement;
    if (kind != PointKind::speaker) return minutes;
    if (room->ceiling == Ceiling::plaster) minutes += costs.ceiling_of_plaster;
    if (room->height_m) minutes += costs.metre_above_3 * std::max(0.0, room->height_m->value() - 3);
    return minutes;
}

double NextMeasurement::minutes_of(const Measurement& measurement) const {
    const MeasurementCosts& costs = options_.costs;
    if (measurement.at_zone) {
        const WiredZone& zone = line_.wiring.zones[line_.zone];
        std::optional<Id> rack;
        if (zone.amplifier != nowhere) rack = job_.all<Amplifier>()[zone.amplifier].room;
        double minutes = costs.at_amplifier + walk_to(rack);
        if (measurement.turned) minutes += costs.turn + walk_to(job_.all<Point>()[*measurement.turned].room);
        return minutes;
    }
    if (!measurement.heard.empty()) return minutes_of_walk(measurement);
    const std::uint32_t place = *job_.place<Point>(measurement.at);
    if (measurement.asked == Asked::heard) return costs.listen + walk_to(job_.all<Point>()[place].room);
    if (measurement.asked == Asked::tap_w && ladder_ == place) return costs.look_from_ladder;
    return minutes_at(place, measurement.asked == Asked::tap_w ? costs.look_at_tap : costs.at_loudspeaker);
}

// From room to room in their order, as the crow flies from here to the furthest.
double NextMeasurement::minutes_of_walk(const Measurement& measurement) const {
    const MeasurementCosts& costs = options_.costs;
    double minutes = costs.listen + costs.listen_further * static_cast<double>(measurement.heard.size() - 1);
    double furthest = 0;
    std::set<std::string> rooms;
    for (const std::uint32_t point : measurement.heard) {
        const auto& room = job_.all<Point>()[point].room;
        if (!room || room == room_ || !rooms.insert(room->text()).second) continue;
        minutes += costs.another_room;
        furthest = std::max(furthest, walk_to(room) - costs.another_room);
    }
    return minutes + furthest;
}

}  // namespace tapwright
