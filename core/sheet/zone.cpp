// One zone for the technician: what feeds it, its bar and its drawing, its points in feed order, its wall controls and
// its readings.
#include "core/base/text.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"

namespace tapwright::sheet {
namespace {

using document::Align;
using document::Bullets;
using document::Cell;
using document::Facts;
using document::Heading;
using document::Paragraph;
using document::Table;
using document::Tone;

void feed_facts(const View& view, const Zone& zone, const ZoneState& state, const ZoneLine& line, Blocks& blocks) {
    Facts facts;
    std::string source = "channel not recorded";
    if (state.channel) {
        source = "channel " + name_of(view.job, view.job.all<Channel>()[*state.channel].id);
        if (state.amplifier) source += " of " + name_of(view.job, view.job.all<Amplifier>()[*state.amplifier].id);
    }
    source += zone.terminal ? " at " + *zone.terminal : ", terminals not recorded";
    source += ", " + in_words(zone.output.value_or(ZoneOutput::direct));
    facts.facts.push_back({"Fed by", source});
    if (zone.knob_db) facts.facts.push_back({"Zone level as left", knob_text({*zone.knob_db, false})});
    if (zone.wiring_class && *zone.wiring_class != WiringClass::unknown)
        facts.facts.push_back({"Wiring class as marked", std::string(word(*zone.wiring_class))});
    facts.facts.push_back({"Line voltage", show(state.line_v)});
    if (!state.low_impedance) {
        facts.facts.push_back(
            {"Load", show(state.margin.load) + " (" + in_words(state.margin.basis) + ")" +
                         (state.unrecorded.value() > 0 ? ", measured " + show(state.unrecorded) + " more" : "") +
                         "; limit " + shown(state.margin.limit)});
        const std::string why = why_unknown(state);
        facts.facts.push_back({"Can be added", can_add_text(state) + (why.empty() ? "" : ": " + why)});
    }
    facts.facts.push_back({"Expected now, knobs as left", show(state.ohms)});
    facts.facts.push_back(
        {"Solved, knobs as left",
         show(line.watts) + " from the source: " + show(line.delivered) + " into loudspeakers, " + show(line.cable) +
             " in cable" + (line.attenuator.value() > 0 ? ", " + show(line.attenuator) + " in wall controls" : "")});
    blocks.push_back(std::move(facts));
}

std::string fed_from(const View& view, const Point& point) {
    std::string text = point.fed_from ? name_of(view.job, point.fed_from) : "not traced";
    const Point* feed = view.job.find<Point>(point.fed_from);
    if (feed && feed->kind == PointKind::attenuator) text += point.feed_side == FeedSide::in ? ", input" : ", output";
    if (point.ring_to) text += "; ring closes at " + name_of(view.job, point.ring_to);
    return text;
}

std::string run_text(const View& view, const Point& point) {
    std::string text = point.length_m ? show(*point.length_m, view.lengths) : "length not recorded";
    if (point.cable) text += ", " + name_of(view.job, point.cable);
    return text;
}

Cell as_left(const View& view, const Point& point) {
    switch (point.kind.value_or(PointKind::other)) {
        case PointKind::speaker: {
            if (!is_fitted(point)) return {"not fitted", Tone::note};
            const bool moved = point.tap_w && point.planned_tap_w && *point.tap_w != *point.planned_tap_w;
            return {tap_as_left(view.job, point), moved || !point.tap_w ? Tone::note : Tone::plain};
        }
        case PointKind::attenuator:
            return {point.knob_db ? knob_text(*point.knob_db) : "knob not recorded"};
        default:
            return {""};
    }
}

std::string what(const View& view, const Point& point) {
    switch (point.kind.value_or(PointKind::other)) {
        case PointKind::splice:
            return "Splice";
        case PointKind::other:
            return "Draws nothing";
        default:
            return type_name(view.job, point);
    }
}

void point_schedule(const View& view, std::uint32_t zone, Blocks& blocks) {
    if (view.zone_points[zone].empty()) {
        blocks.push_back(Paragraph{"No point is recorded on this line.", Tone::note});
        return;
    }
    Table table;
    table.caption = "Points of " + name_of(view.job, view.job.all<Zone>()[zone].id) + " in feed order, knobs as left";
    table.columns = {{"Point", Align::start, 2},   {"Room", Align::start, 2.6}, {"Type", Align::start, 3},
                     {"Planned", Align::end, 1.8}, {"As left", Align::end, 2},  {"Fed from", Align::start, 2.2},
                     {"Cable", Align::start, 2.6}, {"Volts", Align::end, 1.7},  {"Level", Align::end, 1.8},
                     {"Watts", Align::end, 1.7}};
    for (const std::uint32_t at : view.zone_points[zone]) {
        const Point& point = view.point(at);
        const PointOnLine& line = view.on_line(at);
        const bool speaker = point.kind == PointKind::speaker;
        table.rows.push_back({{name_of(view.job, point.id)},
                              {room_name(view.job, point.room)},
                              {what(view, point)},
                              {point.planned_tap_w ? show(*point.planned_tap_w) : ""},
                              as_left(view, point),
                              {fed_from(view, point)},
                              {run_text(view, point)},
                              {show(line.volts)},
                              {line.level ? show(*line.level)
                               : speaker  ? "silent"
                                          : ""},
                              {speaker ? show(line.watts) : ""}});
    }
    blocks.push_back(std::move(table));
}

std::string remark(const View& view, std::uint32_t at) {
    const Point& point = view.point(at);
    std::vector<std::string> parts;
    if (point.kind == PointKind::speaker && point.state && *point.state != PointState::tested)
        parts.push_back(in_words(*point.state));
    if (point.origin == Origin::existing) parts.push_back("there before");
    if (point.polarity == Polarity::reversed) parts.push_back("polarity reversed");
    if (point.heard && *point.heard != Heard::ok) parts.push_back("heard: " + std::string(word(*point.heard)));
    if (point.serial) parts.push_back("serial number " + *point.serial);
    if (point.notes) parts.push_back(*point.notes);
    std::string text;
    for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
    return text;
}

// Neighbours with the same remark share a row.
void remarks(const View& view, const std::vector<std::uint32_t>& points, const std::string& caption, Blocks& blocks) {
    Table table;
    table.caption = caption;
    table.columns = {{"Point", Align::start, 1}, {"Remark", Align::start, 5}};
    std::vector<std::string> names;
    std::string last;
    const auto end_row = [&] {
        if (!names.empty() && !last.empty()) table.rows.push_back({{list_in_words(names)}, {last}});
        names.clear();
    };
    for (const std::uint32_t at : points) {
        std::string text = remark(view, at);
        if (text != last) end_row();
        last = std::move(text);
        names.push_back(name_of(view.job, view.point(at).id));
    }
    end_row();
    if (!table.rows.empty()) blocks.push_back(std::move(table));
}

void attenuators(const View& view, std::uint32_t zone, Blocks& blocks) {
    Table table;
    table.caption = "Wall controls in the line";
    table.columns = {{"Control", Align::start, 2}, {"Room", Align::start, 2},      {"Type", Align::start, 3},
                     {"Rating", Align::end, 1.5},  {"Behind it", Align::end, 1.7}, {"As left", Align::end, 1.7},
                     {"Override", Align::start, 3}};
    for (const std::uint32_t at : view.zone_points[zone]) {
        const Point& point = view.point(at);
        if (point.kind != PointKind::attenuator) continue;
        const PointOnLine& line = view.on_line(at);
        const AttenuatorType* type = view.job.find<AttenuatorType>(point.type);
        std::string override_text = type ? in_words(type->override.value_or(Override::none)) : not_recorded;
        const bool has_override = type && type->override.value_or(Override::none) != Override::none;
        if (has_override)
            override_text += point.override_tested ? "; tested " + point.override_tested->text : "; not tested";
        const bool too_small = line.rating && line.behind > *line.rating;
        table.rows.push_back({{name_of(view.job, point.id)},
                              {room_name(view.job, point.room)},
                              {type_name(view.job, point)},
                              {shown(line.rating)},
                              {(line.behind_basis == Basis::at_least ? "at least " : "") + show(line.behind),
                               too_small ? Tone::stop : Tone::plain},
                              {point.knob_db ? knob_text(*point.knob_db) : not_recorded},
                              {override_text, has_override && !point.override_tested ? Tone::note : Tone::plain}});
    }
    if (!table.rows.empty()) blocks.push_back(std::move(table));
}

}  // namespace

void zone_section(const View& view, std::uint32_t at, Blocks& blocks) {
    const Zone& zone = view.job.all<Zone>()[at];
    const std::string name = name_of(view.job, zone.id);
    blocks.push_back(Heading{2, "Zone: " + name});
    feed_facts(view, zone, view.derived.zones[at], view.derived.lines[at], blocks);
    if (zone.notes) blocks.push_back(Paragraph{*zone.notes, Tone::plain});
    zone_figures(view, at, blocks);
    point_schedule(view, at, blocks);
    attenuators(view, at, blocks);
    remarks(view, view.zone_points[at], "Remarks on points of " + name, blocks);
    readings_table(view, view.zone_readings[at], "Readings on " + name, blocks);
    if (view.zone_ohms[at] == nowhere)
        blocks.push_back(Paragraph{"The impedance of this line has not been measured.", Tone::note});
}

void not_traced_section(const View& view, Blocks& blocks) {
    if (view.not_traced.empty()) return;
    blocks.push_back(Heading{2, "Points not traced"});
    Table table;
    table.caption = "Points that no line is known to feed";
    table.columns = {{"Point", Align::start, 2},
                     {"Room", Align::start, 3},
                     {"Type", Align::start, 3},
                     {"As left", Align::end, 2},
                     {"Remark", Align::start, 5}};
    for (const std::uint32_t at : view.not_traced) {
        const Point& point = view.point(at);
        table.rows.push_back({{name_of(view.job, point.id)},
                              {room_name(view.job, point.room)},
                              {what(view, point)},
                              as_left(view, point),
                              {remark(view, at)}});
    }
    blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
