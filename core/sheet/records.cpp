// The technician's tables that are records read out: rooms, types, interfaces, settings, snags, visits.
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/choices.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Cell;
using outline::Heading;
using outline::Table;
using outline::Tone;

// "14 m × 9 m, 3.6 m high".
Message size_of(const Room& room) {
    return with_commas({room.length_m && room.width_m
                            ? Message("{length} × {width}", {{"length", *room.length_m}, {"width", *room.width_m}})
                            : Message(),
                        room.height_m ? Message("{height} high", {{"height", *room.height_m}}) : Message()});
}

Message ceiling_of(const Room& room) {
    const Message plenum = !room.plenum ? Message() : *room.plenum ? Message("plenum above") : Message("no plenum");
    return with_commas({shown_or_nothing(room.ceiling), plenum});
}

Message levels_of(const Room& room) {
    return with_commas({room.noise_dba ? Message("noise {level}", {{"level", *room.noise_dba}}) : Message(),
                        room.wanted_dba ? Message("wanted {level}", {{"level", *room.wanted_dba}}) : Message()});
}

// "C-101 5 W, C-102 5 W, V-121 and H-021 (not fitted)".
Message contents_of(const View& view, const std::vector<std::uint32_t>& points) {
    if (points.empty()) return Message("nothing recorded");
    Series parts;
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        const Entered name = entered(name_of(view.job, point.id));
        if (point.kind != PointKind::speaker)
            parts.items.emplace_back(name);
        else if (!is_fitted(point))
            parts.items.emplace_back(Message("{point} (not fitted)", {{"point", name}}));
        else
            parts.items.emplace_back(in_context("a loudspeaker and its tap", "{point} {tap}",
                                                {{"point", name}, {"tap", tap_as_left(view.job, point)}}));
    }
    return parts;
}

// "1.25 (yellow), 2.5 (green) and 5 W (blue)": the key to what is printed on a transformer or to its leads' colours.
Message taps_of(const SpeakerType& type) {
    if (!type.taps_w || type.taps_w->empty()) return not_recorded();
    Series taps;
    for (const Watts tap : *type.taps_w) taps.items.emplace_back(with_mark(type, tap));
    return taps;
}

Message meaning_of_taps(const SpeakerType& type) {
    const Message means = type.tap_means == TapMeans::delivered ? Message("watts delivered") : Message("watts drawn");
    if (!type.xfmr_loss_db) return means;
    return with_commas({means, Message("transformer loses {loss}", {{"loss", *type.xfmr_loss_db}})});
}

void speaker_types(const View& view, Blocks& blocks) {
    if (view.job.all<SpeakerType>().empty()) return;
    Table table;
    table.caption = Message("Types of loudspeakers");
    table.columns = {{Message("Type"), Align::start, 3},       {Message("Taps and their marks"), Align::start, 4},
                     {Message("Marked for"), Align::end, 1.6}, {Message("Max power"), Align::end, 1.5},
                     {Message("Bypass"), Align::end, 1.3},     {Message("1 W, 1 m"), Align::end, 1.7},
                     {Message("Tap means"), Align::start, 2},  {Message("Notes"), Align::start, 3}};
    for (const SpeakerType& type : view.job.all<SpeakerType>())
        table.rows.push_back({{entered(name_of(view.job, type.id))},
                              {taps_of(type)},
                              {type.taps_v ? Message(*type.taps_v) : Message("its line")},
                              {shown(type.max_w)},
                              {shown_or_nothing(type.low_z_ohm)},
                              {shown_or_nothing(type.sens_db)},
                              {meaning_of_taps(type)},
                              {typed(type.notes)}});
    blocks.push_back(std::move(table));
}

Message rating_of(const AttenuatorType& type) {
    if (!type.rated_v) return shown(type.rated_w);
    return Message("{watts} at {volts}", {{"watts", shown(type.rated_w)}, {"volts", *type.rated_v}});
}

Message steps_of(const AttenuatorType& type) {
    if (!type.steps_db || type.steps_db->empty()) return not_recorded();
    const auto count = static_cast<std::int64_t>(type.steps_db->size());
    const bool has_off = type.has_off.value_or(false);
    if (count == 1)
        return has_off ? Message("{step} and off", {{"step", type.steps_db->front()}})
                       : Message(type.steps_db->front());
    const std::vector<Named> ends = {{"first", type.steps_db->front()}, {"last", type.steps_db->back()}};
    return has_off ? plural("{first} to {last} in {count} step and off", "{first} to {last} in {count} steps and off",
                            count, ends)
                   : plural("{first} to {last} in {count} step", "{first} to {last} in {count} steps", count, ends);
}

Message override_of(const AttenuatorType& type) {
    const Message kind = type.override.value_or(Override::none);
    if (!type.coil_ma) return kind;
    return with_commas({as_title(kind), Message("coil {current}", {{"current", *type.coil_ma}})});
}

void attenuator_types(const View& view, Blocks& blocks) {
    if (view.job.all<AttenuatorType>().empty()) return;
    Table table;
    table.caption = Message("Types of attenuators");
    table.columns = {{Message("Type"), Align::start, 3},      {Message("Rating"), Align::start, 2},
                     {Message("Build"), Align::start, 2},     {Message("Steps"), Align::start, 3},
                     {Message("Insertion"), Align::end, 1.6}, {Message("Override"), Align::start, 3},
                     {Message("Notes"), Align::start, 2}};
    for (const AttenuatorType& type : view.job.all<AttenuatorType>())
        table.rows.push_back({{entered(name_of(view.job, type.id))},
                              {rating_of(type)},
                              {type.build.value_or(AttenuatorBuild::autotransformer)},
                              {steps_of(type)},
                              {type.insertion_db.value_or(Decibels(0))},
                              {override_of(type)},
                              {typed(type.notes)}});
    blocks.push_back(std::move(table));
}

void cable_types(const View& view, Blocks& blocks) {
    if (view.job.all<CableType>().empty()) return;
    Table table;
    table.caption = Message("Types of cable");
    table.columns = {{Message("Cable"), Align::start, 2},
                     {Message("Conductors"), Align::start, 3},
                     {Message("Sheath (jacket) as printed"), Align::start, 2},
                     {Message("Notes"), Align::start, 3}};
    for (const CableType& cable : view.job.all<CableType>())
        table.rows.push_back({{entered(name_of(view.job, cable.id))},
                              {conductors_of(cable)},
                              {typed_or(cable.jacket, not_recorded())},
                              {typed(cable.notes)}});
    blocks.push_back(std::move(table));
}

}  // namespace

void room_schedule(const View& view, Blocks& blocks) {
    if (view.rooms.empty() && view.no_room.empty()) return;
    blocks.push_back(Heading{2, Message("Rooms in walking order")});
    Table table;
    table.caption = Message("Rooms, what they are like, and their points as left");
    table.columns = {{Message("Room"), Align::start, 2},
                     {Message("About"), Align::start, 3},
                     {Message("Access and notes"), Align::start, 3},
                     {Message("Points"), Align::start, 5}};
    for (const std::uint32_t at : view.rooms) {
        const Room& room = view.room(at);
        table.rows.push_back({{with_commas({entered(name_of(view.job, room.id)), typed(room.floor)})},
                              {with_semicolons({size_of(room), ceiling_of(room), levels_of(room)})},
                              {with_semicolons({typed(room.use), typed(room.access), typed(room.notes)})},
                              {contents_of(view, view.room_points[at])}});
    }
    if (!view.no_room.empty())
        table.rows.push_back({{Message("Room not recorded")}, {}, {}, {contents_of(view, view.no_room)}});
    blocks.push_back(std::move(table));
}

void type_tables(const View& view, Blocks& blocks) {
    if (view.job.all<SpeakerType>().empty() && view.job.all<AttenuatorType>().empty() &&
        view.job.all<CableType>().empty())
        return;
    blocks.push_back(Heading{2, Message("Types")});
    speaker_types(view, blocks);
    attenuator_types(view, blocks);
    cable_types(view, blocks);
}

void interface_table(const View& view, Blocks& blocks) {
    if (view.job.all<Interface>().empty()) return;
    blocks.push_back(Heading{2, Message("What other systems do to this one")});
    Table table;
    table.caption = Message("Interfaces and their tests");
    table.columns = {{Message("What"), Align::start, 3},
                     {Message("Acts on"), Align::start, 2},
                     {Message("Supplies"), Align::end, 1.5},
                     {Message("Test"), Align::start, 2},
                     {Message("Notes"), Align::start, 4}};
    for (const Interface& interface : view.job.all<Interface>())
        table.rows.push_back({{shown(interface.kind)},
                              {called(view.job, interface.amplifier)},
                              {shown_or_nothing(interface.supply_ma)},
                              interface.tested
                                  ? Cell{Message("tested on {day}", {{"day", Day{interface.tested->text}}}), Tone::good}
                                  : Cell{Message("no test recorded"), Tone::note},
                              {typed(interface.notes)}});
    blocks.push_back(std::move(table));
}

namespace {

// Side by side with the remote controls.
void settings(const View& view, Blocks& blocks) {
    if (view.job.all<Setting>().empty()) return;
    blocks.push_back(Heading{2, Message("Settings as left")});
    Table table;
    table.caption = Message("Levels, inputs and limiters of the amplifiers");
    table.columns = {{Message("Amplifier"), Align::start, 2},
                     {Message("Setting"), Align::start, 3},
                     {Message("As left"), Align::start, 3}};
    for (const Setting& setting : view.job.all<Setting>())
        table.rows.push_back({{called(view.job, setting.amplifier)},
                              {typed_or(setting.name, not_recorded())},
                              {typed_or(setting.value, not_recorded())}});
    blocks.push_back(std::move(table));
}

void remote_controls(const View& view, Blocks& blocks) {
    if (view.job.all<Control>().empty()) return;
    blocks.push_back(Heading{2, Message("Controls that are not in a line")});
    Table table;
    table.caption = Message("Remote controls, and controls on the loudspeaker side");
    table.columns = {{Message("Control"), Align::start, 2},
                     {Message("Room and kind"), Align::start, 2},
                     {Message("Normal"), Align::start, 1},
                     {Message("Acts on"), Align::start, 2},
                     {Message("Notes"), Align::start, 3}};
    for (const Control& control : view.job.all<Control>()) {
        std::vector<std::string> names;
        if (control.governs)
            for (const Id& id : *control.governs) names.push_back(name_of(view.job, id));
        table.rows.push_back({{entered(name_of(view.job, control.id))},
                              {with_commas({room_name(view.job, control.room), shown(control.kind)})},
                              {typed(control.normal)},
                              {names.empty() ? not_recorded() : names_in_words(names, 40)},
                              {typed(control.notes)}});
    }
    blocks.push_back(std::move(table));
}

}  // namespace

void settings_and_controls(const View& view, Blocks& blocks) {
    if (view.job.all<Setting>().empty() || view.job.all<Control>().empty()) {
        settings(view, blocks);
        return remote_controls(view, blocks);
    }
    blocks.emplace_back(outline::Layout::beside);
    settings(view, blocks);
    blocks.emplace_back(outline::Layout::next_column);
    remote_controls(view, blocks);
    blocks.emplace_back(outline::Layout::end_beside);
}

void snag_table(const View& view, Blocks& blocks) {
    Table table;
    table.caption = Message("Snags, open ones first");
    table.columns = {{Message("About"), Align::start, 2},       {Message("What"), Align::start, 6},
                     {Message("Who does it"), Align::start, 2}, {Message("State"), Align::start, 1.5},
                     {Message("Opened"), Align::start, 2},      {Message("Fixed"), Align::start, 2}};
    for (const SnagState state : {SnagState::open, SnagState::closed})
        for (const Snag& snag : view.job.all<Snag>()) {
            if (snag.share == Share::private_ || snag.state.value_or(SnagState::open) != state) continue;
            table.rows.push_back(
                {{snag.about && *snag.about != job_id() ? called(view.job, snag.about) : Message("the job")},
                 {typed_or(snag.text, not_recorded())},
                 {typed(snag.who)},
                 {state, state == SnagState::open ? Tone::note : Tone::good},
                 {day_or(snag.opened, {})},
                 {day_or(snag.closed, {})}});
        }
    if (table.rows.empty()) return;
    blocks.push_back(Heading{2, Message("Snags")});
    blocks.push_back(std::move(table));
}

namespace {

// The zone that feeds a point; nowhere: none that is known, or the point is gone.
std::uint32_t zone_feeding(const View& view, const Id& id) {
    const auto place = view.job.place<Point>(id);
    return place && view.on_line(*place).traced ? view.on_line(*place).zone : nowhere;
}

}  // namespace

void visit_table(const View& view, Blocks& blocks) {
    if (view.job.all<Visit>().empty()) return;
    blocks.push_back(Heading{2, Message("Visits")});
    Table table;
    table.caption = Message("Who was on site, and what for");
    table.columns = {{Message("Date"), Align::start, 2},
                     {Message("Purpose"), Align::start, 2},
                     {Message("Person"), Align::start, 3},
                     {Message("Notes"), Align::start, 6}};
    for (const Visit& visit : view.job.all<Visit>())
        table.rows.push_back({{day_or(visit.date, not_recorded())},
                              {shown(visit.purpose)},
                              {typed_or(visit.person, not_recorded())},
                              {typed(visit.notes)}});
    blocks.push_back(std::move(table));
    as_found_and_left(view, nowhere, Message("As found and as left, points on no line"), blocks);
}

void as_found_and_left(const View& view, std::uint32_t zone, Message caption, Blocks& blocks) {
    Table table;
    table.caption = std::move(caption);
    table.columns = {{Message("Point"), Align::start, 2},
                     {Message("Date"), Align::start, 2},
                     {Message("Visit"), Align::start, 2},
                     {Message("As found"), Align::start, 5},
                     {Message("As left"), Align::start, 5}};
    for (const SheetVisit& told : view.options.visits) {
        const Visit* visit = view.job.find<Visit>(told.visit);
        if (!visit) continue;
        for (const SheetVisitRow& row : told.rows)
            if (zone_feeding(view, row.point) == zone)
                table.rows.push_back({{entered(row.label)},
                                      {day_or(visit->date, not_recorded())},
                                      {shown(visit->purpose)},
                                      {row.found},
                                      {row.left}});
    }
    if (!table.rows.empty()) blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
