// The technician's tables that are records read out: rooms, types, interfaces, settings, snags, visits.
#include "core/base/direction.h"
#include "core/base/text.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"

namespace tapwright::sheet {
namespace {

using document::Align;
using document::Cell;
using document::Heading;
using document::Table;
using document::Tone;

std::string joined(const std::vector<std::string>& parts, const char* between) {
    std::string text;
    for (const std::string& part : parts)
        if (!part.empty()) text += (text.empty() ? "" : between) + part;
    return text;
}

// "14 m × 9 m, 3.6 m high".
std::string size_of(const View& view, const Room& room) {
    std::string text;
    if (room.length_m && room.width_m)
        text = show(*room.length_m, view.lengths) + " × " + show(*room.width_m, view.lengths);
    if (room.height_m) text += (text.empty() ? "" : ", ") + show(*room.height_m, view.lengths) + " high";
    return text;
}

std::string ceiling_of(const Room& room) {
    std::vector<std::string> parts;
    if (room.ceiling) parts.push_back(std::string(word(*room.ceiling)));
    if (room.plenum) parts.push_back(*room.plenum ? "plenum above" : "no plenum");
    return joined(parts, ", ");
}

std::string levels_of(const Room& room) {
    std::vector<std::string> parts;
    if (room.noise_dba) parts.push_back("noise " + show(*room.noise_dba) + "(A)");
    if (room.wanted_dba) parts.push_back("wanted " + show(*room.wanted_dba) + "(A)");
    return joined(parts, ", ");
}

// With no-break spaces, so that a label and its tap stay together.
std::string unbroken(std::string text) {
    for (std::size_t at = 0; (at = text.find(' ', at)) != std::string::npos;) text.replace(at, 1, "\u00A0");
    return text;
}

// "C-101 5 W, C-102 5 W, V-121, H-021 (planned)".
std::string contents_of(const View& view, const std::vector<std::uint32_t>& points) {
    std::vector<std::string> parts;
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        std::string text = name_of(view.job, point.id);
        if (!is_fitted(point) && point.kind == PointKind::speaker)
            text += " (not fitted)";
        else if (point.kind == PointKind::speaker)
            text += " " + tap_as_left(point);
        parts.push_back(unbroken(std::move(text)));
    }
    return parts.empty() ? "nothing recorded" : joined(parts, ", ");
}

std::string taps_of(const SpeakerType& type) {
    std::vector<std::string> taps;
    if (type.taps_w)
        for (const Watts tap : *type.taps_w) taps.push_back(rounded(tap.value(), 3));
    return taps.empty() ? not_recorded : joined(taps, ", ") + " W";
}

void speaker_types(const View& view, Blocks& blocks) {
    if (view.job.all<SpeakerType>().empty()) return;
    Table table;
    table.caption = "Types of loudspeakers";
    table.columns = {{"Type", Align::start, 3},      {"Taps", Align::start, 3},  {"Marked for", Align::end, 1.6},
                     {"At most", Align::end, 1.5},   {"Low Z", Align::end, 1.3}, {"1 W, 1 m", Align::end, 1.7},
                     {"Tap means", Align::start, 2}, {"Notes", Align::start, 3}};
    for (const SpeakerType& type : view.job.all<SpeakerType>()) {
        std::string means = type.tap_means == TapMeans::delivered ? "watts delivered" : "watts drawn";
        if (type.xfmr_loss_db) means += ", transformer loses " + show(*type.xfmr_loss_db);
        table.rows.push_back({{name_of(view.job, type.id)},
                              {taps_of(type)},
                              {type.taps_v ? show(*type.taps_v) : "its line"},
                              {shown(type.max_w)},
                              {type.low_z_ohm ? show(*type.low_z_ohm) : ""},
                              {type.sens_db ? show(*type.sens_db) : ""},
                              {means},
                              {text_or(type.notes, "")}});
    }
    blocks.push_back(std::move(table));
}

std::string steps_of(const AttenuatorType& type) {
    if (!type.steps_db || type.steps_db->empty()) return not_recorded;
    std::string text = show(type.steps_db->front());
    if (type.steps_db->size() > 1)
        text += " to " + show(type.steps_db->back()) + " in " + counted(type.steps_db->size(), "step");
    return text + (type.has_off.value_or(false) ? " and off" : "");
}

void attenuator_types(const View& view, Blocks& blocks) {
    if (view.job.all<AttenuatorType>().empty()) return;
    Table table;
    table.caption = "Types of wall controls";
    table.columns = {{"Type", Align::start, 3},  {"Rating", Align::start, 2},    {"Build", Align::start, 2},
                     {"Steps", Align::start, 3}, {"Insertion", Align::end, 1.6}, {"Override", Align::start, 3},
                     {"Notes", Align::start, 2}};
    for (const AttenuatorType& type : view.job.all<AttenuatorType>()) {
        std::string override_text = in_words(type.override.value_or(Override::none));
        if (type.coil_ma) override_text += ", coil " + show(*type.coil_ma);
        table.rows.push_back({{name_of(view.job, type.id)},
                              {shown(type.rated_w) + (type.rated_v ? " at " + show(*type.rated_v) : "")},
                              {in_words(type.build.value_or(AttenuatorBuild::autotransformer))},
                              {steps_of(type)},
                              {show(type.insertion_db.value_or(Decibels(0)))},
                              {override_text},
                              {text_or(type.notes, "")}});
    }
    blocks.push_back(std::move(table));
}

void cable_types(const View& view, Blocks& blocks) {
    if (view.job.all<CableType>().empty()) return;
    Table table;
    table.caption = "Types of cable";
    table.columns = {{"Cable", Align::start, 2},
                     {"Conductors", Align::start, 3},
                     {"Jacket as printed", Align::start, 2},
                     {"Notes", Align::start, 3}};
    for (const CableType& cable : view.job.all<CableType>())
        table.rows.push_back({{name_of(view.job, cable.id)},
                              {cable_text(cable)},
                              {text_or(cable.jacket, not_recorded)},
                              {text_or(cable.notes, "")}});
    blocks.push_back(std::move(table));
}

}  // namespace

void room_schedule(const View& view, Blocks& blocks) {
    if (view.rooms.empty() && view.no_room.empty()) return;
    blocks.push_back(Heading{2, "Rooms in walking order"});
    Table table;
    table.caption = "Rooms, what they are like, and what hangs in them as left";
    table.columns = {{"Room", Align::start, 2},
                     {"About", Align::start, 3},
                     {"Access and notes", Align::start, 3},
                     {"Points", Align::start, 5}};
    for (const std::uint32_t at : view.rooms) {
        const Room& room = view.room(at);
        table.rows.push_back(
            {{joined({name_of(view.job, room.id), text_or(room.floor, "")}, ", ")},
             {joined({size_of(view, room), ceiling_of(room), levels_of(room)}, "; ")},
             {joined({text_or(room.use, ""), text_or(room.access, ""), text_or(room.notes, "")}, "; ")},
             {contents_of(view, view.room_points[at])}});
    }
    if (!view.no_room.empty())
        table.rows.push_back({{"Room not recorded"}, {""}, {""}, {contents_of(view, view.no_room)}});
    blocks.push_back(std::move(table));
}

void type_tables(const View& view, Blocks& blocks) {
    if (view.job.all<SpeakerType>().empty() && view.job.all<AttenuatorType>().empty() &&
        view.job.all<CableType>().empty())
        return;
    blocks.push_back(Heading{2, "Types"});
    speaker_types(view, blocks);
    attenuator_types(view, blocks);
    cable_types(view, blocks);
}

void interface_table(const View& view, Blocks& blocks) {
    if (view.job.all<Interface>().empty()) return;
    blocks.push_back(Heading{2, "What other systems do to this one"});
    Table table;
    table.caption = "Interfaces and their tests";
    table.columns = {{"What", Align::start, 3},
                     {"Acts on", Align::start, 2},
                     {"Supplies", Align::end, 1.5},
                     {"Test", Align::start, 2},
                     {"Notes", Align::start, 4}};
    for (const Interface& interface : view.job.all<Interface>())
        table.rows.push_back({{interface.kind ? what_it_does(*interface.kind) : not_recorded},
                              {interface.amplifier ? name_of(view.job, interface.amplifier) : not_recorded},
                              {interface.supply_ma ? show(*interface.supply_ma) : ""},
                              interface.tested ? Cell{"seen to work on " + interface.tested->text, Tone::good}
                                               : Cell{"not tested", Tone::note},
                              {text_or(interface.notes, "")}});
    blocks.push_back(std::move(table));
}

void settings_and_controls(const View& view, Blocks& blocks) {
    if (!view.job.all<Setting>().empty()) {
        blocks.push_back(Heading{2, "Settings as left"});
        Table table;
        table.caption = "Knobs, inputs and limiters of the amplifiers";
        table.columns = {{"Amplifier", Align::start, 2}, {"Setting", Align::start, 3}, {"As left", Align::start, 3}};
        for (const Setting& setting : view.job.all<Setting>())
            table.rows.push_back({{name_of(view.job, setting.amplifier)},
                                  {text_or(setting.name, not_recorded)},
                                  {text_or(setting.value, not_recorded)}});
        blocks.push_back(std::move(table));
    }
    if (view.job.all<Control>().empty()) return;
    blocks.push_back(Heading{2, "Controls that are not in a line"});
    Table table;
    table.caption = "Wall controls on the loudspeaker side, or remote";
    table.columns = {{"Control", Align::start, 2},
                     {"Room", Align::start, 2},
                     {"Kind", Align::start, 2},
                     {"Acts on", Align::start, 3},
                     {"Notes", Align::start, 3}};
    for (const Control& control : view.job.all<Control>()) {
        std::vector<std::string> names;
        if (control.governs)
            for (const Id& id : *control.governs) names.push_back(name_of(view.job, id));
        const std::string kind = !control.kind                                ? not_recorded
                                 : *control.kind == ControlKind::speaker_side ? "on the loudspeaker side"
                                                                              : "remote";
        table.rows.push_back({{name_of(view.job, control.id)},
                              {room_name(view.job, control.room)},
                              {kind},
                              {names.empty() ? not_recorded : names_in_words(names, 40)},
                              {text_or(control.notes, "")}});
    }
    blocks.push_back(std::move(table));
}

void snag_table(const View& view, Blocks& blocks) {
    Table table;
    table.caption = "Snags, open ones first";
    table.columns = {{"About", Align::start, 2},
                     {"What", Align::start, 6},
                     {"State", Align::start, 2},
                     {"Opened", Align::start, 2},
                     {"Closed", Align::start, 2}};
    for (const bool open : {true, false})
        for (const Snag& snag : view.job.all<Snag>()) {
            if (snag.share == Share::private_ || open != (snag.state.value_or(SnagState::open) == SnagState::open))
                continue;
            table.rows.push_back({{snag.about ? name_of(view.job, *snag.about) : "the job"},
                                  {text_or(snag.text, not_recorded)},
                                  open ? Cell{"open", Tone::note} : Cell{"closed", Tone::good},
                                  {date_or(snag.opened, "")},
                                  {date_or(snag.closed, "")}});
        }
    if (table.rows.empty()) return;
    blocks.push_back(Heading{2, "Snags"});
    blocks.push_back(std::move(table));
}

namespace {

void as_found_and_left(const View& view, const SheetVisit& told, Blocks& blocks) {
    const Visit* visit = view.job.find<Visit>(told.visit);
    if (!visit || told.rows.empty()) return;
    Table table;
    table.caption = "As found and as left, " + date_or(visit->date, "day not recorded") +
                    (visit->purpose ? ", " + in_words(*visit->purpose) : "");
    table.columns = {{"Point", Align::start, 2}, {"As found", Align::start, 5}, {"As left", Align::start, 5}};
    for (const SheetVisitRow& row : told.rows)
        table.rows.push_back({{contained(row.point)}, {contained(row.found)}, {contained(row.left)}});
    blocks.push_back(std::move(table));
}

}  // namespace

void visit_table(const View& view, Blocks& blocks) {
    if (view.job.all<Visit>().empty()) return;
    blocks.push_back(Heading{2, "Visits"});
    Table table;
    table.caption = "Who was on site, and what for";
    table.columns = {{"Date", Align::start, 2},
                     {"Purpose", Align::start, 2},
                     {"Person", Align::start, 3},
                     {"Notes", Align::start, 6}};
    for (const Visit& visit : view.job.all<Visit>())
        table.rows.push_back({{date_or(visit.date, not_recorded)},
                              {visit.purpose ? in_words(*visit.purpose) : not_recorded},
                              {text_or(visit.person, not_recorded)},
                              {text_or(visit.notes, "")}});
    blocks.push_back(std::move(table));
    for (const SheetVisit& visit : view.options.visits) as_found_and_left(view, visit, blocks);
}

}  // namespace tapwright::sheet
