// The owner's sheet, room by room: knobs, loudspeakers as left, and what the record cannot vouch for.
#include <algorithm>
#include <array>
#include <map>

#include "core/base/text.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"

namespace tapwright::sheet {
namespace {

using document::Align;
using document::Bullets;
using document::Cell;
using document::Heading;
using document::Paragraph;
using document::Table;
using document::Tone;

std::string mark(const std::optional<Knob>& knob) {
    return knob ? knob_text(*knob) : not_recorded;
}

// Rooms of the fitted loudspeakers each attenuator governs, by its place in job.all<Point>(). A loudspeaker behind two
// attenuators counts for both; a chain of them longer than this is a mistake of the record, not of the house.
std::vector<std::vector<std::string>> governed_rooms(const View& view) {
    constexpr int longest_chain = 8;
    std::vector<std::vector<std::string>> rooms(view.job.all<Point>().size());
    for (const auto& points : view.zone_points)
        for (const std::uint32_t at : points) {
            if (view.point(at).kind != PointKind::speaker || !is_fitted(view.point(at))) continue;
            int steps = 0;
            for (std::uint32_t knob = view.governor[at]; knob != nowhere && steps < longest_chain;
                 knob = view.governor[knob], ++steps)
                rooms[knob].push_back(room_name(view.job, view.point(at).room));
        }
    return rooms;
}

std::string with_place(const std::string& name, const std::string& place) {
    return name + " (" + place + ")";
}

Cell override_cell(const View& view, const Point& knob) {
    const AttenuatorType* type = view.job.find<AttenuatorType>(knob.type);
    if (!type) return {not_recorded};
    if (type->override.value_or(Override::none) == Override::none) return {"turned down"};
    if (knob.override_tested) return {knob.override_tested->text, Tone::good};
    return {"not tested", Tone::note};
}

void add_attenuators(const View& view, Table& table) {
    const auto rooms = governed_rooms(view);
    for (const auto& points : view.zone_points)
        for (const std::uint32_t at : points) {
            const Point& knob = view.point(at);
            if (knob.kind != PointKind::attenuator || !is_fitted(knob)) continue;
            table.rows.push_back({{names_in_words(rooms[at]) == room_name(view.job, knob.room)
                                       ? name_of(view.job, knob.id)
                                       : with_place(name_of(view.job, knob.id), room_name(view.job, knob.room))},
                                  {rooms[at].empty() ? "nothing recorded as fitted" : names_in_words(rooms[at])},
                                  {mark(knob.knob_db)},
                                  override_cell(view, knob)});
        }
}

void add_zone_knobs(const View& view, Table& table) {
    const auto zones = view.job.all<Zone>();
    for (std::size_t i = 0; i < zones.size(); ++i) {
        if (!zones[i].knob_db) continue;
        table.rows.push_back({{"Level of " + name_of(view.job, zones[i].id)},
                              {"the whole line"},
                              {knob_text({*zones[i].knob_db, false})},
                              {""}});
    }
}

void add_controls(const View& view, Table& table) {
    for (const Control& control : view.job.all<Control>()) {
        std::vector<std::string> names;
        if (control.governs)
            for (const Id& id : *control.governs) names.push_back(name_of(view.job, id));
        table.rows.push_back({{with_place(name_of(view.job, control.id), room_name(view.job, control.room))},
                              {names.empty() ? "not recorded" : names_in_words(names)},
                              {not_recorded},
                              {""}});
    }
}

// Labels of a few, then how many more.
std::string labels(const View& view, const std::vector<std::uint32_t>& points) {
    std::vector<std::string> names;
    for (const std::uint32_t at : points) names.push_back(name_of(view.job, view.point(at).id));
    return names_in_words(names, 10);
}

std::vector<std::uint32_t> pick(const View& view, bool (*wanted)(const Point& point)) {
    std::vector<std::uint32_t> picked;
    const auto points = view.job.all<Point>();
    for (std::uint32_t i = 0; i < points.size(); ++i)
        if (wanted(points[i])) picked.push_back(i);
    return picked;
}

// Loudspeakers of one room that are not known to hang there.
void gaps_of_room(const View& view, const std::string& room, const std::vector<std::uint32_t>& points, Bullets& gaps) {
    std::size_t foreseen = 0;
    std::size_t unsure = 0;
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        if (point.kind == PointKind::speaker && !is_fitted(point)) ++(point.state ? foreseen : unsure);
    }
    if (foreseen > 0)
        gaps.items.push_back(room + ": " + count_is(foreseen, "loudspeaker") + " foreseen but not fitted.");
    if (unsure > 0)
        gaps.items.push_back(room + ": " + count_is(unsure, "loudspeaker") + " recorded, but not whether fitted.");
}

void gaps_of_points(const View& view, Bullets& gaps) {
    std::vector<std::uint32_t> lost;
    for (const std::uint32_t at : view.not_traced)
        if (is_fitted(view.point(at))) lost.push_back(at);
    if (!lost.empty())
        gaps.items.push_back("Not traced, so it is not known which line feeds them: " + labels(view, lost) + ".");
    for (const std::uint32_t room : view.rooms)
        gaps_of_room(view, name_of(view.job, view.room(room).id), view.room_points[room], gaps);
    gaps_of_room(view, "Room not recorded", view.no_room, gaps);
    const auto no_tap = pick(view, [](const Point& point) {
        return point.kind == PointKind::speaker && is_fitted(point) && !point.tap_w &&
               point.wired.value_or(Wired::line) == Wired::line;
    });
    if (!no_tap.empty()) gaps.items.push_back("Tap not seen: " + labels(view, no_tap) + ".");
    const auto not_heard = pick(
        view, [](const Point& point) { return point.kind == PointKind::speaker && is_fitted(point) && !point.heard; });
    if (!not_heard.empty()) gaps.items.push_back("Not listened to in a walk test: " + labels(view, not_heard) + ".");
    const auto faulty = pick(view, [](const Point& point) {
        return point.kind == PointKind::speaker && is_fitted(point) && point.heard && *point.heard != Heard::ok;
    });
    for (const std::uint32_t at : faulty) {
        const Point& point = view.point(at);
        const std::string how = *point.heard == Heard::silent ? "silent"
                                : *point.heard == Heard::buzz ? "buzzing"
                                                              : "too quiet";
        gaps.items.push_back(name_of(view.job, point.id) + " in " + room_name(view.job, point.room) + " was " + how +
                             " when last heard.");
    }
}

void gaps_of_zones(const View& view, Bullets& gaps) {
    const auto zones = view.job.all<Zone>();
    std::vector<std::string> unmeasured;
    for (std::size_t i = 0; i < zones.size(); ++i) {
        if (view.zone_ohms[i] == nowhere) unmeasured.push_back(name_of(view.job, zones[i].id));
        const double more = view.derived.zones[i].unrecorded.value();
        if (more > 0)
            gaps.items.push_back(name_of(view.job, zones[i].id) + ": the line was measured to carry about " +
                                 show(Watts(more)) + " that nobody has found yet.");
    }
    if (!unmeasured.empty()) gaps.items.push_back("Line not measured: " + names_in_words(unmeasured) + ".");
}

// One row for the loudspeakers of a room that have type, tap and line in common, in the order of the first of each.
void room_rows(const View& view, const std::string& room, const std::vector<std::uint32_t>& points, Table& table) {
    struct Row {
        std::array<std::string, 3> alike;
        std::vector<std::string> labels;
    };
    std::vector<Row> rows;
    std::map<std::array<std::string, 3>, std::size_t> place;
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        if (point.kind != PointKind::speaker || !is_fitted(point)) continue;
        const PointOnLine& line = view.on_line(at);
        const bool traced = line.traced && line.zone != nowhere;
        std::array<std::string, 3> alike = {
            type_name(view.job, point), tap_as_left(point),
            traced ? name_of(view.job, view.job.all<Zone>()[line.zone].id) : "not traced"};
        const auto [found, is_new] = place.try_emplace(alike, rows.size());
        if (is_new) rows.push_back({std::move(alike), {}});
        rows[found->second].labels.push_back(name_of(view.job, point.id));
    }
    for (const Row& row : rows) {
        std::string labels_text;
        for (const std::string& label : row.labels) labels_text += (labels_text.empty() ? "" : ", ") + label;
        table.rows.push_back({{room}, {row.alike[0]}, {row.alike[1]}, {row.alike[2]}, {labels_text}});
    }
}

}  // namespace

void owner_controls(const View& view, Blocks& blocks) {
    Table table;
    table.caption = "Knobs and wall controls, with the mark they were left at";
    table.columns = {{"Knob or control", Align::start, 3},
                     {"Loudness of", Align::start, 3},
                     {"Normal mark", Align::start, 2},
                     {"Pages heard", Align::start, 3}};
    add_attenuators(view, table);
    add_zone_knobs(view, table);
    add_controls(view, table);
    if (table.rows.empty()) return;
    blocks.push_back(std::move(table));
}

void owner_gaps(const View& view, Blocks& blocks) {
    Bullets gaps;
    gaps_of_points(view, gaps);
    gaps_of_zones(view, gaps);
    std::vector<std::string> untested;
    for (const Point& point : view.job.all<Point>()) {
        const AttenuatorType* type =
            point.kind == PointKind::attenuator ? view.job.find<AttenuatorType>(point.type) : nullptr;
        if (type && type->override && *type->override != Override::none && !point.override_tested)
            untested.push_back(name_of(view.job, point.id));
    }
    if (!untested.empty())
        gaps.items.push_back("Announcements over a turned-down wall control not tested: " + names_in_words(untested) +
                             ".");
    if (gaps.items.empty()) return;
    blocks.push_back(Heading{3, "Not traced, not tested, not reached"});
    blocks.push_back(std::move(gaps));
}

void owner_rooms(const View& view, Blocks& blocks) {
    Table table;
    table.caption = "Loudspeakers as fitted, in walking order";
    table.columns = {{"Room", Align::start, 3},
                     {"Type", Align::start, 3},
                     {"Tap as left", Align::end, 2},
                     {"Line (zone)", Align::start, 3},
                     {"Loudspeakers", Align::start, 6}};
    for (const std::uint32_t room : view.rooms) {
        std::string name = name_of(view.job, view.room(room).id);
        if (view.room(room).floor) name += ", " + *view.room(room).floor;
        room_rows(view, name, view.room_points[room], table);
    }
    room_rows(view, "Room not recorded", view.no_room, table);
    if (table.rows.empty()) return;
    blocks.push_back(Heading{2, "Room by room"});
    blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
