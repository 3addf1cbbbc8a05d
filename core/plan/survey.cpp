#include "core/plan/survey.h"

#include <algorithm>
#include <cmath>

#include "core/base/sort.h"
#include "core/calc/drawn.h"
#include "core/plan/survey_room.h"
#include "core/plan/unknown_headroom.h"

namespace tapwright {
namespace {

// More than a single room ever holds; a larger figure is a slip in its sizes.
constexpr double most_loudspeakers = 2000;

// The zone that serves the room already: that of its first traced loudspeaker.
std::optional<std::uint32_t> zone_serving(const Job& job, const Derived& derived, const Id& room) {
    const auto points = job.all<Point>();
    for (std::size_t i = 0; i < points.size(); ++i)
        if (points[i].room == room && points[i].kind == PointKind::speaker && derived.points[i].traced)
            return derived.points[i].zone;
    return std::nullopt;
}

Result<Volts> voltage_for(const Job& job, const Derived& derived, const Survey& survey) {
    if (survey.request.zone) {
        const auto place = job.place<Zone>(*survey.request.zone);
        if (!place) return no_zone(*survey.request.zone);
        return derived.zones[*place].line_v;
    }
    if (const auto serving = zone_serving(job, derived, survey.room)) return derived.zones[*serving].line_v;
    return line_voltage(job);
}

Result<void> lay_out(const Job& job, const Floor& floor, Survey& survey) {
    for (const Grid grid : grids)
        for (const LayoutRule rule : layout_rules) {
            const Metres spacing = spacing_of(grid, rule, survey.diameter);
            const Rows rows = rows_for(floor, grid, spacing);
            SurveyLayout layout{grid, rule, spacing, rows.count()};
            if (rows.count() <= most_loudspeakers)
                layout.uncovered = gaps_of(floor, spots_of(floor, rows), survey.diameter).share;
            survey.layouts.push_back(layout);
        }
    survey.chosen =
        rows_for(floor, survey.request.grid, spacing_of(survey.request.grid, survey.request.rule, survey.diameter));
    if (survey.chosen.count() > most_loudspeakers)
        return Refusal{
            Message("{room} would take {loudspeakers} loudspeakers, more than {most}. Check its length, width and "
                    "heights, or survey a part of it.",
                    {{"room", entered(name_of(job, survey.room))},
                     {"loudspeakers", Figure{survey.chosen.count(), Unit::none}},
                     {"most", Figure{most_loudspeakers, Unit::none}}})};
    survey.spots = spots_of(floor, survey.chosen);
    return done();
}

void map_one_watt(const Floor& floor, const TypeFigures& type, Survey& survey) {
    const double exponent = exponent_of(type.cone);
    std::vector<Source> sources;
    for (const Spot& spot : survey.spots) sources.push_back({spot, survey.drop, type.sensitivity, exponent});
    survey.one_watt = level_map(sources, floor);
    survey.endless =
        spread_of_endless(survey.request.grid, spacing_of(survey.request.grid, survey.request.rule, survey.diameter),
                          survey.drop, exponent);
}

void try_taps(const SpeakerType& type, const TypeFigures& figures, Survey& survey) {
    for (const Watts tap : *type.taps_w) {
        const Watts delivered = delivered_by_tap(tap, &type, survey.line_v);
        SurveyTap tried{.tap = tap, .drawn = drawn_by_tap(tap, &type, survey.line_v)};
        tried.one = level_on_axis(figures.sensitivity, delivered, survey.drop);
        tried.room = survey.one_watt.mean + decibels_of_power(delivered.value());
        tried.allowed = !type.max_w || keeps_most(tried.drawn, *type.max_w);
        survey.taps.push_back(tried);
    }
    sort_by(survey.taps, [](const SurveyTap& a, const SurveyTap& b) { return a.tap < b.tap; });
}

void choose_tap(Survey& survey) {
    if (!survey.wanted) return;
    for (std::size_t i = 0; i < survey.taps.size() && !survey.tap; ++i)
        if (survey.taps[i].allowed && survey.taps[i].room >= *survey.wanted - Decibels(1e-9)) survey.tap = i;
    for (std::size_t i = 0; i < survey.taps.size(); ++i)
        if (survey.taps[i].allowed) survey.highest = i;
    if (survey.tap) {
        survey.over = survey.taps[*survey.tap].room - *survey.wanted;
        survey.watts = survey.taps[*survey.tap].drawn * static_cast<double>(survey.spots.size());
    } else if (survey.highest) {
        survey.over = survey.taps[*survey.highest].room - *survey.wanted;
    }
}

void find_zones(const Job& job, const Derived& derived, Survey& survey) {
    if (!survey.watts) return;
    std::vector<char> serves(derived.zones.size());
    const auto points = job.all<Point>();
    for (std::size_t i = 0; i < points.size(); ++i)
        if (points[i].room == survey.room && derived.points[i].traced) serves[derived.points[i].zone] = 1;
    std::uint32_t first_unknown = nowhere;
    for (std::uint32_t i = 0; i < derived.zones.size(); ++i) {
        const ZoneState& zone = derived.zones[i];
        if (zone.low_impedance || zone.emergency || !is_same_line(zone.line_v, survey.line_v)) continue;
        if (!zone.can_add) {
            if (serves[i] && !survey.unknown) survey.unknown = unknown_headroom(job, derived, i);
            if (first_unknown == nowhere) first_unknown = i;
            continue;
        }
        survey.zones.push_back(
            {job.all<Zone>()[i].id, without_rounding(*zone.can_add - *survey.watts, *survey.watts), serves[i] != 0});
    }
    sort_by(survey.zones, [](const SurveyZone& a, const SurveyZone& b) {
        if (a.serves_room != b.serves_room) return a.serves_room;
        return a.keeps > b.keeps;
    });
    if (survey.zones.empty() && !survey.unknown && first_unknown != nowhere)
        survey.unknown = unknown_headroom(job, derived, first_unknown);
    const auto nearest = std::max_element(survey.zones.begin(), survey.zones.end(),
                                          [](const SurveyZone& a, const SurveyZone& b) { return a.keeps < b.keeps; });
    if (nearest == survey.zones.end() || nearest->keeps >= Watts(0)) return;
    survey.closest = ClosestZone{nearest->zone, -nearest->keeps};
}

}  // namespace

Result<Survey> survey(const Job& job, const Derived& derived, const Id& room, const Id& type,
                      const SurveyRequest& request) {
    const Result<RoomFigures> figures = figures_of(job, room);
    if (!figures) return figures.refusal();
    const Result<TypeFigures> sound = figures_of_type(job, type);
    if (!sound) return sound.refusal();
    const SpeakerType& record = *job.find<SpeakerType>(type);
    if (!record.taps_w || record.taps_w->empty()) return no_taps(job, type);
    Survey made;
    made.room = room;
    made.type = type;
    made.request = request;
    made.ears = figures->ears;
    made.ears_assumed = figures->ears_assumed;
    made.drop = figures->drop;
    made.diameter = circle_of(made.drop, sound->cone);
    const Result<Volts> line = voltage_for(job, derived, made);
    if (!line) return line.refusal();
    made.line_v = *line;
    if (const Result<void> laid = lay_out(job, figures->floor, made); !laid) return laid.refusal();
    // Beyond this point it is known what hangs where.
    made.gaps = gaps_of(figures->floor, made.spots, made.diameter);
    for (const Point& point : job.all<Point>())
        made.fitted_already += point.room == room && point.kind == PointKind::speaker && is_fitted(point);
    map_one_watt(figures->floor, *sound, made);
    made.wanted = request.wanted ? request.wanted : wanted_in(*job.find<Room>(room), request.margin);
    try_taps(record, *sound, made);
    choose_tap(made);
    find_zones(job, derived, made);
    return made;
}

LevelMap map_on_tap(const Survey& survey, std::size_t tap) {
    TAPWRIGHT_ENSURE(tap < survey.taps.size());
    LevelMap map = survey.one_watt;
    const Decibels lift = survey.taps[tap].room - map.mean;
    for (float& db : map.db) db += static_cast<float>(lift.value());
    map.mean = map.mean + lift;
    map.least = map.least + lift;
    map.greatest = map.greatest + lift;
    return map;
}

Result<RoomSources> sources_of_room(const Job& job, const Derived& derived, const Id& room, bool one_watt) {
    const Result<RoomFigures> figures = figures_of(job, room);
    if (!figures) return figures.refusal();
    RoomSources found;
    found.floor = figures->floor;
    const auto points = job.all<Point>();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Point& point = points[i];
        if (point.room != room || point.kind != PointKind::speaker) continue;
        const SpeakerType* type = job.find<SpeakerType>(point.type);
        const Result<TypeFigures> sound = type ? figures_of_type(job, *point.type) : no_type(room);
        const PointOnLine& state = derived.points[i];
        const std::optional<Watts> marked = point.tap_w ? point.tap_w : point.planned_tap_w;
        const bool sounds = one_watt || (marked && state.drawn && state.watts > Watts(0));
        if (!sound || !point.x_m || !point.y_m || !sounds) {
            ++found.left_out;
            continue;
        }
        // Of what it draws a tap that means "delivered" leaves a part in its transformer.
        const double watts = one_watt ? 1
                                      : state.watts.value() * (delivered_by_tap(*marked, type, Volts(1)) /
                                                               drawn_by_tap(*marked, type, Volts(1)));
        found.sources.push_back({{*point.x_m, *point.y_m},
                                 figures->drop,
                                 sound->sensitivity + decibels_of_power(watts),
                                 exponent_of(sound->cone)});
    }
    return found;
}

}  // namespace tapwright
