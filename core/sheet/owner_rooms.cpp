// The owner's sheet, room by room: volume controls, loudspeakers as left, and what the record cannot vouch for.
#include <algorithm>
#include <map>
#include <tuple>

#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Bullets;
using outline::Cell;
using outline::Heading;
using outline::Table;
using outline::Tone;

bool is_fitted_speaker(const Point& point) {
    return point.kind == PointKind::speaker && is_fitted(point);
}

bool has_override(const View& view, const Point& attenuator) {
    const AttenuatorType* type = view.job.find<AttenuatorType>(attenuator.type);
    return type && type->override.value_or(Override::none) != Override::none;
}

// ---- volume controls ----

// A room by its place in job.all<Room>(); nowhere: not recorded.
std::uint32_t place_of_room(const View& view, const std::optional<Id>& room) {
    return room ? view.job.place<Room>(*room).value_or(nowhere) : nowhere;
}

Message room_called(const View& view, std::uint32_t place) {
    return place == nowhere ? Message("room not recorded") : Message(entered(name_of(view.job, view.room(place).id)));
}

// Rooms of the fitted loudspeakers each attenuator governs, each room once, by the attenuator's place in
// job.all<Point>(). A loudspeaker behind two attenuators counts for both; a chain of them longer than this is a mistake
// of the record, not of the house.
std::vector<std::vector<std::uint32_t>> governed_rooms(const View& view) {
    constexpr int longest_chain = 8;
    std::vector<std::vector<std::uint32_t>> rooms(view.job.all<Point>().size());
    for (const auto& points : view.zone_points)
        for (const std::uint32_t at : points) {
            if (!is_fitted_speaker(view.point(at))) continue;
            const std::uint32_t room = place_of_room(view, view.point(at).room);
            int steps = 0;
            for (std::uint32_t control = view.governor[at]; control != nowhere && steps < longest_chain;
                 control = view.governor[control], ++steps) {
                auto& governed = rooms[control];
                if (std::find(governed.begin(), governed.end(), room) == governed.end()) governed.push_back(room);
            }
        }
    return rooms;
}

Message rooms_in_words(const View& view, const std::vector<std::uint32_t>& rooms) {
    constexpr std::size_t most = 12;
    if (rooms.empty()) return Message("nothing recorded as fitted");
    Series named;
    for (std::size_t i = 0; i < std::min(rooms.size(), most); ++i)
        named.items.emplace_back(room_called(view, rooms[i]));
    if (rooms.size() > most) named.items.emplace_back(Message("{count} more", {{"count", rooms.size() - most}}));
    return named;
}

Message with_place(std::string name, Message place) {
    return in_context("a control and its room", "{control} ({room})",
                      {{"control", entered(name)}, {"room", std::move(place)}});
}

Cell announcements(const View& view, const Point& control) {
    if (!view.job.find<AttenuatorType>(control.type)) return {not_recorded()};
    if (!has_override(view, control)) return {Message("no override: silent when the control is off")};
    if (control.override_tested)
        return {Message("tested {day}", {{"day", Day{control.override_tested->text}}}), Tone::good};
    return {Message("not tested"), Tone::note};
}

void add_attenuators(const View& view, Table& table) {
    const auto rooms = governed_rooms(view);
    for (const auto& points : view.zone_points)
        for (const std::uint32_t at : points) {
            const Point& control = view.point(at);
            if (control.kind != PointKind::attenuator || !is_fitted(control)) continue;
            const std::string name = name_of(view.job, control.id);
            const bool in_its_room = rooms[at] == std::vector{place_of_room(view, control.room)};
            table.rows.push_back(
                {{in_its_room ? Message(entered(name)) : with_place(name, room_name(view.job, control.room))},
                 {rooms_in_words(view, rooms[at])},
                 {control.knob_db ? position_of(*control.knob_db) : not_recorded()},
                 announcements(view, control)});
        }
}

void add_zone_levels(const View& view, Table& table) {
    for (const Zone& zone : view.job.all<Zone>()) {
        if (!zone.knob_db) continue;
        table.rows.push_back({{Message("Level of {zone}", {{"zone", entered(name_of(view.job, zone.id))}})},
                              {Message("the whole line")},
                              {position_of({*zone.knob_db, false})},
                              {}});
    }
}

void add_controls(const View& view, Table& table) {
    for (const Control& control : view.job.all<Control>()) {
        std::vector<std::string> names;
        if (control.governs)
            for (const Id& id : *control.governs) names.push_back(name_of(view.job, id));
        table.rows.push_back({{with_place(name_of(view.job, control.id), room_name(view.job, control.room))},
                              {names.empty() ? not_recorded() : names_in_words(names)},
                              {},
                              {}});
    }
}

// ---- what the record cannot vouch for ----

// Labels of a few, then how many more.
Message labels(const View& view, const std::vector<std::uint32_t>& points) {
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

// What is still to be done on a fire or emergency line is not ours to ask for.
std::vector<std::uint32_t> without_emergency(const View& view, std::vector<std::uint32_t> points) {
    std::erase_if(points, [&](std::uint32_t at) { return view.on_line(at).emergency; });
    return points;
}

// Loudspeakers of one room that are not known to be there.
void gaps_of_room(const View& view, const Message& room, const std::vector<std::uint32_t>& points, Bullets& gaps) {
    std::int64_t planned = 0;
    std::int64_t unsure = 0;
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        if (point.kind == PointKind::speaker && !is_fitted(point)) ++(point.state ? planned : unsure);
    }
    if (planned > 0)
        gaps.items.push_back(plural("{room}: {count} loudspeaker planned, not fitted.",
                                    "{room}: {count} loudspeakers planned, not fitted.", planned, {{"room", room}}));
    if (unsure > 0)
        gaps.items.push_back(plural("{room}: {count} loudspeaker recorded, but not whether it is fitted.",
                                    "{room}: {count} loudspeakers recorded, but not whether they are fitted.", unsure,
                                    {{"room", room}}));
}

// Of a loudspeaker that did not sound right.
Message fault_of(const View& view, const Point& point) {
    const std::vector<Named> where = {{"point", entered(name_of(view.job, point.id))},
                                      {"room", room_name(view.job, point.room)}};
    switch (*point.heard) {
        case Heard::silent:
            return {Pattern("{point} in {room} was silent at the last check."), where};
        case Heard::buzz:
            return {Pattern("{point} in {room} buzzed at the last check."), where};
        default:
            return {Pattern("{point} in {room} was too quiet at the last check."), where};
    }
}

void gaps_of_points(const View& view, Bullets& gaps) {
    std::vector<std::uint32_t> lost;
    for (const std::uint32_t at : view.not_traced)
        if (is_fitted(view.point(at))) lost.push_back(at);
    if (!lost.empty())
        gaps.items.push_back(Message("Not known which line feeds them: {points}.", {{"points", labels(view, lost)}}));
    for (const std::uint32_t room : view.rooms)
        gaps_of_room(view, room_called(view, room), view.room_points[room], gaps);
    gaps_of_room(view, Message("Room not recorded"), view.no_room, gaps);
    const auto no_tap = without_emergency(view, pick(view, [](const Point& point) {
                                              return is_fitted_speaker(point) && !point.tap_w &&
                                                     point.wired.value_or(Wired::line) == Wired::line;
                                          }));
    if (!no_tap.empty())
        gaps.items.push_back(Message("Tap not recorded: {points}.", {{"points", labels(view, no_tap)}}));
    const auto not_heard = without_emergency(
        view, pick(view, [](const Point& point) { return is_fitted_speaker(point) && !point.heard; }));
    if (!not_heard.empty())
        gaps.items.push_back(Message("Not yet listened to: {points}.", {{"points", labels(view, not_heard)}}));
    const auto faulty = pick(
        view, [](const Point& point) { return is_fitted_speaker(point) && point.heard && *point.heard != Heard::ok; });
    for (const std::uint32_t at : faulty) gaps.items.push_back(fault_of(view, view.point(at)));
}

void gaps_of_zones(const View& view, Bullets& gaps) {
    const auto zones = view.job.all<Zone>();
    std::vector<std::string> unmeasured;
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const std::string name = name_of(view.job, zones[i].id);
        if (view.derived.zones[i].emergency) continue;  // nothing of it is measured or calculated for this record
        if (view.zone_ohms[i] == nowhere) unmeasured.push_back(name);
        if (const Watts more = view.derived.zones[i].margin.unrecorded; more.value() > 0)
            gaps.items.push_back(Message("{zone}: {watts} more measured than recorded. Not found yet.",
                                         {{"zone", entered(name)}, {"watts", more}}));
    }
    if (!unmeasured.empty())
        gaps.items.push_back(Message("Line not measured: {zones}.", {{"zones", names_in_words(unmeasured)}}));
}

void gaps_of_overrides(const View& view, Bullets& gaps) {
    const auto controls =
        without_emergency(view, pick(view, [](const Point& point) { return point.kind == PointKind::attenuator; }));
    std::vector<std::string> untested;
    for (const std::uint32_t at : controls)
        if (const Point& point = view.point(at); has_override(view, point) && !point.override_tested)
            untested.push_back(name_of(view.job, point.id));
    if (!untested.empty())
        gaps.items.push_back(Message("Announcements not tested with the control down: {controls}.",
                                     {{"controls", names_in_words(untested)}}));
}

// ---- loudspeakers, room by room ----

// One row for the loudspeakers of a room that have type, tap and line in common, in the order of the first of each.
void room_rows(const View& view, const Message& room, const std::vector<std::uint32_t>& points, Table& table) {
    using Alike = std::tuple<std::optional<Id>, std::optional<Wired>, std::optional<Watts>, std::uint32_t>;
    std::vector<std::vector<std::uint32_t>> rows;
    std::map<Alike, std::size_t> place;
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        if (!is_fitted_speaker(point)) continue;
        const PointOnLine& line = view.on_line(at);
        const std::uint32_t zone = line.traced ? line.zone : nowhere;
        const auto [found, is_new] = place.try_emplace(Alike{point.type, point.wired, point.tap_w, zone}, rows.size());
        if (is_new) rows.emplace_back();
        rows[found->second].push_back(at);
    }
    for (const auto& row : rows) {
        const Point& first = view.point(row.front());
        const PointOnLine& line = view.on_line(row.front());
        const bool traced = line.traced && line.zone != nowhere;
        Series labels;
        for (const std::uint32_t at : row) labels.items.emplace_back(entered(name_of(view.job, view.point(at).id)));
        table.rows.push_back(
            {{room},
             {type_name(view.job, first)},
             {tap_as_left(view.job, first)},
             {traced ? Message(entered(name_of(view.job, view.job.all<Zone>()[line.zone].id))) : Message("not traced")},
             {std::move(labels)}});
    }
}

}  // namespace

void owner_controls(const View& view, Blocks& blocks) {
    Table table;
    table.caption = Message("Volume controls and their normal position");
    table.columns = {{Message("Control"), Align::start, 3},
                     {Message("Loudness of"), Align::start, 3},
                     {Message("Position"), Align::start, 2},
                     {Message("Announcements"), Align::start, 6}};
    add_attenuators(view, table);
    add_zone_levels(view, table);
    add_controls(view, table);
    if (table.rows.empty()) return;
    blocks.push_back(std::move(table));
}

void owner_gaps(const View& view, Blocks& blocks) {
    Bullets gaps;
    gaps_of_points(view, gaps);
    gaps_of_zones(view, gaps);
    gaps_of_overrides(view, gaps);
    if (gaps.items.empty()) return;
    blocks.push_back(Heading{3, Message("Not traced, not tested, not fitted")});
    blocks.emplace_back(std::move(gaps));
}

void owner_rooms(const View& view, Blocks& blocks) {
    Table table;
    table.caption = Message("Loudspeakers as fitted, in walking order");
    table.columns = {{Message("Room"), Align::start, 3},
                     {Message("Type"), Align::start, 3},
                     {Message("Tap as left"), Align::end, 2},
                     {Message("Line (zone)"), Align::start, 3},
                     {Message("Loudspeakers"), Align::start, 6}};
    for (const std::uint32_t room : view.rooms)
        room_rows(view, with_commas({room_called(view, room), typed(view.room(room).floor)}), view.room_points[room],
                  table);
    room_rows(view, Message("Room not recorded"), view.no_room, table);
    if (table.rows.empty()) return;
    blocks.push_back(Heading{2, Message("Room by room")});
    blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
