// One zone for the technician: what feeds it, its bar and its drawing, its points in feed order, its attenuators and
// its readings.
#include <compare>

#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/expected_text.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Cell;
using outline::Facts;
using outline::Heading;
using outline::Paragraph;
using outline::Table;
using outline::Tone;

// ---- what feeds it ----

Message source_of(const View& view, const ZoneState& state) {
    if (!state.channel) return Message("output not recorded");
    const Entered output = entered(name_of(view.job, view.job.all<Channel>()[*state.channel].id));
    if (!state.amplifier) return Message("output {output}", {{"output", output}});
    return Message("output {output} of {amplifier}",
                   {{"output", output},
                    {"amplifier", entered(name_of(view.job, view.job.all<Amplifier>()[*state.amplifier].id))}});
}

Message expected_and_why(const ZoneState& state) {
    Message why = bound_reason(state.not_recorded);
    if (why.empty()) return expected_of(state);
    return Message("{expected}. {reason}", {{"expected", expected_of(state)}, {"reason", std::move(why)}});
}

Message solved(const ZoneLine& line) {
    const std::vector<Named> named = {
        {"watts", line.watts}, {"delivered", line.delivered}, {"cable", line.cable}, {"attenuators", line.attenuator}};
    return line.attenuator.value() > 0
               ? Message(Pattern("{watts} from the output: {delivered} into loudspeakers, {cable} in cable, "
                                 "{attenuators} in attenuators"),
                         named)
               : Message(Pattern("{watts} from the output: {delivered} into loudspeakers, {cable} in cable"), named);
}

void feed_facts(const View& view, const Zone& zone, const ZoneState& state, const ZoneLine& line, Blocks& blocks) {
    Facts facts;
    const Message terminals = zone.terminal ? Message("terminals {terminals}", {{"terminals", entered(*zone.terminal)}})
                                            : Message("terminals not recorded");
    facts.facts.push_back({Message("Fed by"),
                           with_commas({source_of(view, state), terminals, zone.output.value_or(ZoneOutput::direct)})});
    if (zone.knob_db) facts.facts.push_back({Message("Zone level as left"), position_of({*zone.knob_db, false})});
    const bool is_marked = zone.wiring_class && *zone.wiring_class != WiringClass::unknown;
    const Message wiring = is_marked ? Message("wiring {class} as marked", {{"class", *zone.wiring_class}}) : Message();
    if (state.emergency) {
        if (is_marked) facts.facts.push_back({Message("Wiring"), wiring});
        blocks.push_back(std::move(facts));
        return;
    }
    facts.facts.push_back({Message("Line voltage"), with_commas({state.line_v, wiring})});
    facts.facts.push_back({Message("Expected, attenuators as left"), expected_and_why(state)});
    facts.facts.push_back({Message("Solved, attenuators as left"), solved(line)});
    blocks.push_back(std::move(facts));
}

// ---- its points ----

Message fed_from(const View& view, const Point& point) {
    if (!point.fed_from) return Message("not traced");
    const Message name = entered(name_of(view.job, point.fed_from));
    const Point* feed = view.job.find<Point>(point.fed_from);
    const bool at_attenuator = feed && feed->kind == PointKind::attenuator;
    const Message from = !at_attenuator                    ? name
                         : point.feed_side == FeedSide::in ? Message("{attenuator}, input", {{"attenuator", name}})
                                                           : Message("{attenuator}, output", {{"attenuator", name}});
    if (!point.ring_to) return from;
    return with_semicolons(
        {from, Message("ring closes at {point}", {{"point", entered(name_of(view.job, point.ring_to))}})});
}

Message run_of(const View& view, const Point& point) {
    return with_commas({point.length_m ? Message(*point.length_m) : Message("length not recorded"),
                        point.cable ? Message(entered(name_of(view.job, point.cable))) : Message()});
}

Cell as_left(const View& view, const Point& point) {
    switch (point.kind.value_or(PointKind::other)) {
        case PointKind::speaker: {
            if (!is_fitted(point)) return {Message("not fitted"), Tone::note};
            const bool moved = point.tap_w && point.planned_tap_w && *point.tap_w != *point.planned_tap_w;
            return {tap_and_mark(view.job, point), moved || !point.tap_w ? Tone::note : Tone::plain};
        }
        case PointKind::attenuator:
            return {point.knob_db ? position_of(*point.knob_db) : Message("position not recorded")};
        default:
            return {};
    }
}

Message type_of(const View& view, const Point& point) {
    const PointKind kind = point.kind.value_or(PointKind::other);
    const bool has_type = kind == PointKind::speaker || kind == PointKind::attenuator;
    return has_type ? type_name(view.job, point) : Message(kind);
}

Message level_of(const Point& point, const PointOnLine& line) {
    if (line.emergency) return {};
    if (line.level) return known_along(line, *line.level);
    return point.kind == PointKind::speaker ? Message("silent") : Message();
}

void point_schedule(const View& view, std::uint32_t zone, Blocks& blocks) {
    if (view.zone_points[zone].empty()) {
        blocks.push_back(Paragraph{Message("No point is recorded on this line."), Tone::note});
        return;
    }
    Table table;
    const Entered name = entered(name_of(view.job, view.job.all<Zone>()[zone].id));
    table.caption = view.derived.zones[zone].emergency
                        ? Message("Points of {zone} in feed order, as recorded", {{"zone", name}})
                        : Message("Points of {zone} in feed order, attenuators as left", {{"zone", name}});
    table.columns = {{Message("Point"), Align::start, 2},   {Message("Room"), Align::start, 2.6},
                     {Message("Type"), Align::start, 3},    {Message("Planned"), Align::end, 1.8},
                     {Message("As left"), Align::end, 2},   {Message("Fed from"), Align::start, 2.2},
                     {Message("Cable"), Align::start, 2.6}, {Message("Volts"), Align::end, 1.7},
                     {Message("Level"), Align::end, 1.8},   {Message("Watts"), Align::end, 1.7}};
    for (const std::uint32_t at : view.zone_points[zone]) {
        const Point& point = view.point(at);
        const PointOnLine& line = view.on_line(at);
        table.rows.push_back({{entered(name_of(view.job, point.id))},
                              {room_name(view.job, point.room)},
                              {type_of(view, point)},
                              {shown_or_nothing(point.planned_tap_w)},
                              as_left(view, point),
                              {fed_from(view, point)},
                              {run_of(view, point)},
                              {line.emergency ? Message() : line.volts},
                              {level_of(point, line)},
                              {point.kind == PointKind::speaker && !line.emergency ? Message(line.watts) : Message()}});
    }
    blocks.push_back(std::move(table));
}

// ---- remarks on them ----

// What is remarkable about a point, as data: neighbours with the same share a row.
struct Remark {
    std::optional<PointState> state;
    bool was_there = false;
    bool is_reversed = false;
    std::optional<Heard> heard;
    std::optional<std::string> serial;
    std::optional<std::string> notes;
    bool operator==(const Remark&) const = default;
};

Remark remark_on(const Point& point) {
    Remark remark;
    // That it is fitted goes without saying: the others are marked in the table above.
    if (point.kind == PointKind::speaker && !is_fitted(point)) remark.state = point.state;
    remark.was_there = point.origin == Origin::existing;
    remark.is_reversed = point.polarity == Polarity::reversed;
    if (point.heard != Heard::ok) remark.heard = point.heard;
    remark.serial = point.serial;
    remark.notes = point.notes;
    return remark;
}

Message words_of_remark(const Remark& remark) {
    return with_semicolons(
        {shown_or_nothing(remark.state), remark.was_there ? Message(Origin::existing) : Message(),
         remark.is_reversed ? Message("polarity reversed") : Message(),
         remark.heard ? Message("walk test: {heard}", {{"heard", *remark.heard}}) : Message(),
         remark.serial ? Message("serial number {number}", {{"number", entered(*remark.serial)}}) : Message(),
         typed(remark.notes)});
}

void remarks(const View& view, std::uint32_t zone, Blocks& blocks) {
    Table table;
    table.caption =
        Message("Remarks on points of {zone}", {{"zone", entered(name_of(view.job, view.job.all<Zone>()[zone].id))}});
    table.columns = {{Message("Point"), Align::start, 1}, {Message("Remark"), Align::start, 5}};
    Series names;
    Remark last;
    const auto end_row = [&] {
        if (!names.items.empty() && last != Remark()) table.rows.push_back({{names}, {words_of_remark(last)}});
        names.items.clear();
    };
    for (const std::uint32_t at : view.zone_points[zone]) {
        Remark remark = remark_on(view.point(at));
        if (remark != last) end_row();
        last = std::move(remark);
        names.items.emplace_back(entered(name_of(view.job, view.point(at).id)));
    }
    end_row();
    if (!table.rows.empty()) blocks.push_back(std::move(table));
}

// ---- its attenuators ----

Cell override_cell(const View& view, const Point& point) {
    const AttenuatorType* type = view.job.find<AttenuatorType>(point.type);
    if (!type) return {not_recorded()};
    const Override kind = type->override.value_or(Override::none);
    if (kind == Override::none) return {kind};
    if (point.override_tested)
        return {with_semicolons({kind, Message("tested on {day}", {{"day", Day{point.override_tested->text}}})})};
    return {with_semicolons({kind, Message("not tested")}), Tone::note};
}

Message load_behind(const PointOnLine& line) {
    if (line.emergency) return {};
    return line.behind_basis == Basis::at_least ? Message("at least {load}", {{"load", line.behind}})
                                                : Message(line.behind);
}

void attenuators(const View& view, std::uint32_t zone, Blocks& blocks) {
    Table table;
    table.caption = Message("Attenuators in the line");
    table.columns = {{Message("Attenuator"), Align::start, 2}, {Message("Room"), Align::start, 2},
                     {Message("Type"), Align::start, 3},       {Message("Rating"), Align::end, 1.5},
                     {Message("Behind it"), Align::end, 1.7},  {Message("Position"), Align::end, 1.7},
                     {Message("Override"), Align::start, 3}};
    for (const std::uint32_t at : view.zone_points[zone]) {
        const Point& point = view.point(at);
        if (point.kind != PointKind::attenuator) continue;
        const PointOnLine& line = view.on_line(at);
        const bool too_small = !line.emergency && line.rating && !keeps_most(line.behind, *line.rating);
        table.rows.push_back({{entered(name_of(view.job, point.id))},
                              {room_name(view.job, point.room)},
                              {type_name(view.job, point)},
                              {shown(line.rating)},
                              {load_behind(line), too_small ? Tone::stop : Tone::plain},
                              {point.knob_db ? position_of(*point.knob_db) : not_recorded()},
                              override_cell(view, point)});
    }
    if (!table.rows.empty()) blocks.push_back(std::move(table));
}

}  // namespace

void zone_section(const View& view, std::uint32_t at, Blocks& blocks) {
    const Zone& zone = view.job.all<Zone>()[at];
    const Entered name = entered(name_of(view.job, zone.id));
    const bool is_emergency = view.derived.zones[at].emergency;
    blocks.push_back(Heading{2, Message("Zone: {zone}", {{"zone", name}})});
    if (is_emergency)
        blocks.push_back(Paragraph{Message("Part of a fire or emergency system: leave it to qualified people. What is "
                                           "recorded is listed, and nothing is calculated."),
                                   Tone::stop});
    feed_facts(view, zone, view.derived.zones[at], view.derived.lines[at], blocks);
    if (zone.notes) blocks.push_back(Paragraph{entered(*zone.notes), Tone::plain});
    if (!is_emergency) zone_figures(view, at, blocks);
    point_schedule(view, at, blocks);
    attenuators(view, at, blocks);
    remarks(view, at, blocks);
    as_found_and_left(view, at, Message("As found and as left on {zone}", {{"zone", name}}), blocks);
    readings_table(view, view.zone_readings[at], Message("Readings on {zone}", {{"zone", name}}), blocks);
    if (view.zone_ohms[at] == nowhere && !is_emergency)
        blocks.push_back(Paragraph{Message("The impedance of this line has not been measured."), Tone::note});
}

void not_traced_section(const View& view, Blocks& blocks) {
    if (view.not_traced.empty()) return;
    blocks.push_back(Heading{2, Message("Points not traced")});
    Table table;
    table.caption = Message("Points with an unknown feed");
    table.columns = {{Message("Point"), Align::start, 2},
                     {Message("Room"), Align::start, 3},
                     {Message("Type"), Align::start, 3},
                     {Message("As left"), Align::end, 2},
                     {Message("Remark"), Align::start, 5}};
    for (const std::uint32_t at : view.not_traced) {
        const Point& point = view.point(at);
        table.rows.push_back({{entered(name_of(view.job, point.id))},
                              {room_name(view.job, point.room)},
                              {type_of(view, point)},
                              as_left(view, point),
                              {words_of_remark(remark_on(point))}});
    }
    blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
