// The technician's sheet: the whole record, in the order in which a next visit asks for it.
#include <algorithm>

#include "core/calc/emergency.h"
#include "core/calc/loads.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/expected_text.h"
#include "core/words/margin_text.h"
#include "core/words/place_name.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Bullets;
using outline::Cell;
using outline::Facts;
using outline::Heading;
using outline::Paragraph;
using outline::Table;
using outline::Tone;

void technician_title(const View& view, Blocks& blocks) {
    const JobInfo& info = view.job.info();
    blocks.push_back(Heading{1, entered(name_of(view.job, job_id()))});
    blocks.push_back(Paragraph{Message("Technician's sheet: as-built record of the loudspeaker lines."), Tone::plain});
    not_a_certificate(blocks);
    emergency_parts(view, blocks);
    blocks.push_back(outline::Contents{Message("Contents"), true});
    Facts facts;
    const auto add = [&](Message name, const std::optional<std::string>& value) {
        if (value) facts.facts.push_back({std::move(name), entered(*value)});
    };
    add(Message("Site"), info.site);
    add(Message("Client"), info.client);
    add(Message("Contractor"), info.contractor);
    add(Message("Contact"), info.contact);
    add(Message("Out of hours"), info.after_hours);
    add(Message("Responsible person"), info.responsible);
    add(Message("Instructed"), info.instructed);
    add(Message("Documents handed over"), info.documents);
    if (!view.day.empty()) facts.facts.push_back({Message("Sheet made"), Day{view.day}});
    facts.facts.push_back(
        {Message("Line voltage"), Message("{volts} unless stated otherwise", {{"volts", line_voltage(view.job)}})});
    facts.facts.push_back({Message("Reserve"), Message("{share} of every limit",
                                                       {{"share", info.reserve_pct.value_or(Defaults::reserve_pct)}})});
    facts.facts.push_back({Message("Readings judged"),
                           Message("within {tolerance} of the expected value, {baseline} of a baseline",
                                   {{"tolerance", info.ohms_tol_pct.value_or(Defaults::ohms_tol_pct)},
                                    {"baseline", info.baseline_tol_pct.value_or(Defaults::baseline_tol_pct)}})});
    facts.facts.push_back(
        {Message("Calculated at"), Message("{frequency}, conductors at {temperature}, cable loss limit {loss}",
                                           {{"frequency", info.test_hz.value_or(Defaults::test_hz)},
                                            {"temperature", info.cable_c.value_or(Defaults::cable_c)},
                                            {"loss", info.loss_limit_db.value_or(Defaults::loss_limit_db)}})});
    add(Message("Electrical code followed"), info.code_note);
    add(Message("Notes"), info.notes);
    blocks.push_back(std::move(facts));
}

template <class Record>
std::int64_t count_of(const View& view) {
    return static_cast<std::int64_t>(view.job.all<Record>().size());
}

void summary(const View& view, Blocks& blocks) {
    std::int64_t fitted = 0;
    std::int64_t planned = 0;
    for (const Point& point : view.job.all<Point>())
        if (point.kind == PointKind::speaker) ++(is_fitted(point) ? fitted : planned);
    const auto lost = static_cast<std::int64_t>(view.not_traced.size());
    blocks.push_back(Paragraph{
        sentences(
            {Message("{zones}, {amplifiers}, {rooms}.",
                     {{"zones", plural("{count} zone", "{count} zones", count_of<Zone>(view))},
                      {"amplifiers", plural("{count} amplifier", "{count} amplifiers", count_of<Amplifier>(view))},
                      {"rooms", plural("{count} room", "{count} rooms", count_of<Room>(view))}}),
             plural("{count} loudspeaker is recorded as fitted.", "{count} loudspeakers are recorded as fitted.",
                    fitted),
             planned == 0
                 ? Message()
                 : plural("{count} loudspeaker is not fitted.", "{count} loudspeakers are not fitted.", planned),
             lost == 0
                 ? Message()
                 : plural("{count} point is not traced to a zone.", "{count} points are not traced to a zone.", lost)}),
        Tone::plain});
}

// So many notes or warnings of one kind share a row: what they have in common, and where.
constexpr std::size_t least_in_a_group = 3;

void findings(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, Message("Findings")});
    const std::vector<Finding>& all = view.derived.findings;
    if (all.empty()) {
        blocks.push_back(Paragraph{Message("No findings. What is not recorded has not been checked."), Tone::plain});
        return;
    }
    Table table;
    table.caption = Message("What is wrong or open in the record, most serious first");
    table.columns = {{Message("Kind"), Align::start, 1}, {Message("What"), Align::start, 8}};
    std::vector<std::vector<const Finding*>> groups;
    for (const Finding& finding : all) {
        auto group = std::find_if(groups.begin(), groups.end(), [&](const std::vector<const Finding*>& each) {
            return each.front()->code == finding.code && finding.severity != Severity::stop;
        });
        if (group == groups.end()) group = groups.insert(groups.end(), std::vector<const Finding*>());
        group->push_back(&finding);
    }
    for (const auto& group : groups) {
        const Cell kind = {words_for(group.front()->severity), tone_of(group.front()->severity)};
        if (group.size() < least_in_a_group) {
            for (const Finding* finding : group)
                table.rows.push_back({kind, {view.statements.statement_of(*finding).text}});
            continue;
        }
        Series places;
        for (const Finding* finding : group) places.items.emplace_back(Message(place_name(view.job, finding->at)));
        table.rows.push_back(
            {kind,
             {Message("{count} of one kind, {what}: {places}.",
                      {{"count", group.size()},
                       {"what", Message(finding_table()[static_cast<std::size_t>(code_of(*group.front()))].help)},
                       {"places", places}})}});
    }
    blocks.push_back(std::move(table));
}

// The least on the way to the amplifier, named where it is not the zone's own.
Cell headroom_on_the_way(const View& view, std::uint32_t zone) {
    const ZoneState& state = view.derived.zones[zone];
    const Tightest tightest = tightest_on_the_way(view.derived, zone);
    const Margin& margin = tightest.margin;
    if (!margin.headroom) return {Message("unknown"), Tone::note};
    // The figure that the load strip has; whoever adds to it asks first, for a limit or a tap on the way is missing.
    if (!state.can_add && !margin.over() && !(*margin.headroom < Watts(0)) && !margin.is_open_ended)
        return {Message("{headroom}, as far as recorded", {{"headroom", headroom_of(margin)}}), Tone::note};
    const Tone tone = margin.over() ? Tone::stop : margin.headroom->value() < 0 ? Tone::warning : Tone::plain;
    if (tightest.kind == Kind::zone) return {headroom_of(margin), tone};
    const Id id = tightest.kind == Kind::channel ? view.job.all<Channel>()[tightest.place].id
                                                 : view.job.all<Amplifier>()[tightest.place].id;
    return {in_context("a headroom and whose it is", "{headroom} ({place})",
                       {{"headroom", headroom_of(margin)}, {"place", entered(name_of(view.job, id))}}),
            tone};
}

Cell headroom_cell(const Margin& margin) {
    if (!margin.headroom) return {Message("unknown"), Tone::note};
    return {headroom_of(margin), margin.over()                  ? Tone::stop
                                 : margin.headroom->value() < 0 ? Tone::warning
                                                                : Tone::plain};
}

Message serial_number(const std::optional<std::string>& serial) {
    return serial ? Message("serial number {number}", {{"number", entered(*serial)}}) : Message();
}

void amplifier_rows(const View& view, Table& table) {
    const auto all = view.job.all<Amplifier>();
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Margin& margin = view.derived.amplifiers[i].margin;
        table.rows.push_back(
            {{entered(name_of(view.job, all[i].id))},
             {with_semicolons({room_name(view.job, all[i].room), typed(all[i].breaker), typed(all[i].model),
                               typed(all[i].notes), serial_number(all[i].serial)})},
             {load_of(margin)},
             {shown(margin.limit)},
             headroom_cell(margin),
             {}});
    }
}

Message about_output(const View& view, const Channel& output) {
    const Message amplifier =
        output.amplifier ? Message("of {amplifier}", {{"amplifier", entered(name_of(view.job, output.amplifier))}})
                         : Message("amplifier not recorded");
    const bool plain = output.mode.value_or(ChannelMode::line) == ChannelMode::line;
    return with_semicolons(
        {amplifier, plain ? Message() : Message(*output.mode),
         output.highpass_hz ? Message("high-pass {frequency}", {{"frequency", *output.highpass_hz}}) : Message(),
         output.min_ohm ? Message("not below {ohms}", {{"ohms", *output.min_ohm}}) : Message(), typed(output.notes)});
}

void output_rows(const View& view, Table& table) {
    const auto all = view.job.all<Channel>();
    for (std::size_t i = 0; i < all.size(); ++i) {
        const ChannelState& state = view.derived.channels[i];
        const bool is_emergency = emergency_of(view.job, view.derived, all[i].id) == Answer::yes;
        table.rows.push_back(
            {{Message("Output {output}", {{"output", entered(name_of(view.job, all[i].id))}})},
             {about_output(view, all[i])},
             {is_emergency ? not_calculated() : load_of(state.margin)},
             {shown(state.margin.limit)},
             is_emergency ? Cell{not_calculated(), Tone::stop} : headroom_cell(state.margin),
             {is_emergency ? not_calculated() : expected_of(view.derived, static_cast<std::uint32_t>(i))}});
    }
}

void sources(const View& view, Blocks& blocks) {
    if (view.job.all<Amplifier>().empty() && view.job.all<Channel>().empty()) return;
    blocks.push_back(Heading{2, Message("Amplifiers and outputs")});
    Table table;
    table.caption = Message("Load against rated power; impedance expected with all zones on and attenuators as left");
    table.columns = {{Message("Source"), Align::start, 2},   {Message("About"), Align::start, 5},
                     {Message("Load"), Align::end, 1.6},     {Message("Rated"), Align::end, 1.6},
                     {Message("Headroom"), Align::end, 1.8}, {Message("Expected"), Align::end, 1.8}};
    amplifier_rows(view, table);
    output_rows(view, table);
    blocks.push_back(std::move(table));
}

Message load_of(const ZoneState& state) {
    if (state.emergency) return not_calculated();
    const Message load = state.low_impedance ? Message("not in watts") : Message(state.margin.load);
    if (!(state.margin.unrecorded.value() > 0)) return load;
    return Message("{load} + {unrecorded} measured", {{"load", load}, {"unrecorded", state.margin.unrecorded}});
}

void zone_schedule(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, Message("Zone schedule")});
    const auto zones = view.job.all<Zone>();
    if (zones.empty()) {
        blocks.push_back(Paragraph{Message("No zone is recorded."), Tone::note});
        return;
    }
    Table table;
    table.caption =
        Message("Load, limit and headroom: the least on the way to the amplifier, shared there, never to be summed");
    table.columns = {{Message("Zone"), Align::start, 2.6},      {Message("Output"), Align::start, 1.6},
                     {Message("Terminals"), Align::start, 2.3}, {Message("Line"), Align::end, 1.5},
                     {Message("Load"), Align::end, 1.7},        {Message("Basis"), Align::start, 1.8},
                     {Message("Limit"), Align::end, 1.6},       {Message("Reserve"), Align::end, 1.6},
                     {Message("Headroom"), Align::end, 2.4}};
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const ZoneState& state = view.derived.zones[i];
        const bool low = state.low_impedance;
        const bool is_counted = !low && !state.emergency;
        Message output = state.channel ? Message(entered(name_of(view.job, view.job.all<Channel>()[*state.channel].id)))
                                       : not_recorded();
        table.rows.push_back({{entered(name_of(view.job, zones[i].id))},
                              {std::move(output)},
                              {typed_or(zones[i].terminal, not_recorded())},
                              {state.line_v},
                              {load_of(state)},
                              {is_counted ? words_for(state.margin.basis)
                               : low      ? Message(ZoneOutput::low_z)
                                          : Message()},
                              {is_counted ? shown(state.margin.limit) : Message()},
                              {is_counted ? shown_or_nothing(state.margin.reserve) : Message()},
                              is_counted        ? headroom_on_the_way(view, static_cast<std::uint32_t>(i))
                              : state.emergency ? Cell{not_calculated(), Tone::stop}
                                                : Cell{Message("unknown"), Tone::note}});
    }
    blocks.push_back(std::move(table));
}

// ---- what happened since ----

// What was written into the job since, as its log has it; the latest rows where there are very many.
void changes_table(const View& view, Blocks& blocks) {
    constexpr std::size_t most_rows = 400;
    Table table;
    table.caption = Message("Changes of the record since the handover");
    table.columns = {
        {Message("Date"), Align::start, 2}, {Message("By"), Align::start, 2}, {Message("What"), Align::start, 9}};
    for (const SheetChange& change : view.options.changes)
        for (const Message& what : change.what)
            table.rows.push_back({{Day{change.day}}, {typed_or(change.person, not_recorded())}, {what}});
    if (table.rows.empty()) return;
    const std::size_t left_out = table.rows.size() > most_rows ? table.rows.size() - most_rows : 0;
    table.rows.erase(table.rows.begin(), table.rows.begin() + static_cast<std::ptrdiff_t>(left_out));
    blocks.push_back(std::move(table));
    if (left_out > 0)
        blocks.push_back(
            Paragraph{plural("{count} earlier change is in the job's history.",
                             "{count} earlier changes are in the job's history.", static_cast<std::int64_t>(left_out)),
                      Tone::note});
}

std::optional<Date> last_handover(const View& view) {
    std::optional<Date> last;
    for (const Visit& visit : view.job.all<Visit>())
        if (visit.purpose == Purpose::handover && visit.date && (!last || *visit.date > *last)) last = visit.date;
    return last;
}

Message told(const Visit& visit) {
    const Message purpose = visit.purpose ? Message(*visit.purpose) : Message("purpose not recorded");
    const Day day{visit.date->text};
    if (!visit.notes) return Message("{day}: visit, {purpose}.", {{"day", day}, {"purpose", purpose}});
    return Message("{day}: visit, {purpose}. {notes}",
                   {{"day", day}, {"purpose", purpose}, {"notes", entered(*visit.notes)}});
}

void add_snag(const Snag& snag, const Date& handover, Bullets& items) {
    if (snag.share == Share::private_ || !snag.text) return;
    if (snag.opened && *snag.opened > handover)
        items.items.push_back(
            Message("{day}: snag opened. {snag}", {{"day", Day{snag.opened->text}}, {"snag", entered(*snag.text)}}));
    if (snag.closed && *snag.closed > handover)
        items.items.push_back(
            Message("{day}: snag fixed. {snag}", {{"day", Day{snag.closed->text}}, {"snag", entered(*snag.text)}}));
}

// What happened after the latest handover, from the dates the records carry.
void since_handover(const View& view, Blocks& blocks) {
    const std::optional<Date> handover = last_handover(view);
    if (!handover) return;
    Bullets items;
    for (const Visit& visit : view.job.all<Visit>())
        if (visit.date && *visit.date > *handover) items.items.push_back(told(visit));
    const auto all = view.job.all<Reading>();
    const auto newer = std::count_if(all.begin(), all.end(), [&](const Reading& reading) {
        return reading.time && day_of(reading.time->text).date > handover->text;
    });
    if (newer > 0)
        items.items.push_back(plural("{count} reading is newer than the handover.",
                                     "{count} readings are newer than the handover.", newer));
    for (const Snag& snag : view.job.all<Snag>()) add_snag(snag, *handover, items);
    if (items.items.empty() && view.options.changes.empty()) return;
    blocks.push_back(Heading{2, Message("Since the handover on {day}", {{"day", Day{handover->text}}})});
    if (!items.items.empty()) blocks.push_back(std::move(items));
    changes_table(view, blocks);
}

}  // namespace

void technician_sheet(const View& view, Blocks& blocks) {
    blocks.push_back(outline::Layout::compact);
    technician_title(view, blocks);
    summary(view, blocks);
    technician_cautions(view, blocks);
    findings(view, blocks);
    verification(view, blocks);
    faults_section(view, blocks);
    since_handover(view, blocks);
    sources(view, blocks);
    zone_schedule(view, blocks);
    for (std::uint32_t zone = 0; zone < view.zone_points.size(); ++zone) zone_section(view, zone, blocks);
    not_traced_section(view, blocks);
    room_schedule(view, blocks);
    plan_section(view, blocks);
    if (!view.other_readings.empty()) {
        blocks.push_back(Heading{2, Message("Readings elsewhere")});
        readings_table(view, view.other_readings, Message("Readings in rooms, at outputs and at points not traced"),
                       blocks);
    }
    settings_and_controls(view, blocks);
    interface_table(view, blocks);
    snag_table(view, blocks);
    visit_table(view, blocks);
    type_tables(view, blocks);
    photo_section(view, blocks);
    sign_off(view, blocks);
    blocks.push_back(outline::Layout::end_compact);
}

}  // namespace tapwright::sheet
