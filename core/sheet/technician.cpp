// The technician's sheet: the whole record, in the order in which a next visit asks for it.
#include <algorithm>

#include "core/base/direction.h"
#include "core/base/text.h"
#include "core/findings/findings.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"
#include "core/words/findings_text.h"

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

void title(const View& view, Blocks& blocks) {
    const JobInfo& info = view.job.info();
    blocks.push_back(Heading{1, name_of(view.job, job_id())});
    blocks.push_back(Paragraph{"Technician's sheet: as-built record of the loudspeaker lines.", Tone::plain});
    not_a_certificate(blocks);
    Facts facts;
    const auto add = [&](const char* name, const std::optional<std::string>& value) {
        if (value) facts.facts.push_back({name, *value});
    };
    add("Site", info.site);
    add("Client", info.client);
    add("Contractor", info.contractor);
    add("Contact", info.contact);
    if (!view.day.empty()) facts.facts.push_back({"Sheet made", view.day});
    facts.facts.push_back({"Line voltage", show(line_voltage(view.job)) + " where nothing else is said"});
    facts.facts.push_back({"Kept free of every limit", show(info.reserve_pct.value_or(Defaults::reserve_pct))});
    facts.facts.push_back({"Readings judged", "within " + show(info.ohms_tol_pct.value_or(Defaults::ohms_tol_pct)) +
                                                  " of what is expected, " +
                                                  show(info.baseline_tol_pct.value_or(Defaults::baseline_tol_pct)) +
                                                  " of a baseline"});
    facts.facts.push_back({"Calculated at", show(info.test_hz.value_or(Defaults::test_hz)) + ", conductors at " +
                                                show(info.cable_c.value_or(Defaults::cable_c)) +
                                                ", cable losing at most " +
                                                show(info.loss_limit_db.value_or(Defaults::loss_limit_db))});
    add("Code worked to", info.code_note);
    add("Notes", info.notes);
    blocks.push_back(std::move(facts));
}

void summary(const View& view, Blocks& blocks) {
    const auto points = view.job.all<Point>();
    std::size_t fitted = 0;
    std::size_t planned = 0;
    for (const Point& point : points)
        if (point.kind == PointKind::speaker) ++(is_fitted(point) ? fitted : planned);
    std::string text = counted(view.job.all<Zone>().size(), "zone") + ", " +
                       counted(view.job.all<Amplifier>().size(), "amplifier") + ", " +
                       counted(view.job.all<Room>().size(), "room") + "; " + count_is(fitted, "loudspeaker") +
                       " recorded as fitted";
    if (planned > 0) text += ", " + std::to_string(planned) + " not";
    if (!view.not_traced.empty()) text += "; " + count_is(view.not_traced.size(), "point") + " not traced to a zone";
    blocks.push_back(Paragraph{text + ".", Tone::plain});
}

// The sentence without the "C-101: " it begins with: that stands in the column before.
std::string without_place(const View& view, const Finding& finding) {
    std::string text = sentence(view.job, view.derived, finding);
    const std::string place = name_of(view.job, finding.at) + ": ";
    if (text.starts_with(place)) text.erase(0, place.size());
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

void findings(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, "Findings"});
    if (view.derived.findings.empty()) {
        blocks.push_back(Paragraph{
            "The rules find nothing in this record. That says nothing about what is not recorded.", Tone::plain});
        return;
    }
    Table table;
    table.caption = "What the rules find in the record, gravest first";
    table.columns = {{"Where", Align::start, 2}, {"Kind", Align::start, 1.3}, {"What", Align::start, 8}};
    for (const Finding& finding : view.derived.findings) {
        const char* const kind = finding.severity == Severity::stop   ? "stop"
                                 : finding.severity == Severity::warn ? "warning"
                                                                      : "note";
        table.rows.push_back(
            {{name_of(view.job, finding.at)}, {kind, tone_of(finding.severity)}, {without_place(view, finding)}});
    }
    blocks.push_back(std::move(table));
}

Cell headroom_cell(const Margin& margin) {
    if (!margin.headroom) return {"unknown", Tone::note};
    const bool over = margin.limit && margin.load > *margin.limit;
    return {show(*margin.headroom), over ? Tone::stop : margin.headroom->value() < 0 ? Tone::warning : Tone::plain};
}

std::string load_text(const Margin& margin) {
    return (margin.basis == Basis::at_least ? "at least " : "") + show(margin.load);
}

void amplifier_rows(const View& view, Table& table) {
    const auto all = view.job.all<Amplifier>();
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Margin& margin = view.derived.amplifiers[i].margin;
        std::vector<std::string> about = {room_name(view.job, all[i].room)};
        for (const auto& text : {all[i].breaker, all[i].model, all[i].notes})
            if (text) about.push_back(*text);
        if (all[i].serial) about.push_back("serial number " + *all[i].serial);
        std::string text;
        for (const std::string& part : about) text += (text.empty() ? "" : "; ") + part;
        table.rows.push_back({{name_of(view.job, all[i].id)},
                              {text},
                              {load_text(margin)},
                              {shown(margin.limit)},
                              headroom_cell(margin),
                              {""}});
    }
}

void channel_rows(const View& view, Table& table) {
    const auto all = view.job.all<Channel>();
    for (std::size_t i = 0; i < all.size(); ++i) {
        const ChannelState& state = view.derived.channels[i];
        std::string text = all[i].amplifier ? "of " + name_of(view.job, all[i].amplifier) : "amplifier not recorded";
        if (all[i].mode && *all[i].mode != ChannelMode::line)
            text += *all[i].mode == ChannelMode::bridged ? "; bridged" : "; low impedance";
        if (all[i].highpass_hz) text += "; high-pass " + show(*all[i].highpass_hz);
        if (all[i].min_ohm) text += "; not below " + show(*all[i].min_ohm);
        if (all[i].notes) text += "; " + *all[i].notes;
        table.rows.push_back({{"Channel " + name_of(view.job, all[i].id)},
                              {text},
                              {load_text(state.margin)},
                              {shown(state.margin.limit)},
                              headroom_cell(state.margin),
                              {show(state.ohms)}});
    }
}

void sources(const View& view, Blocks& blocks) {
    if (view.job.all<Amplifier>().empty() && view.job.all<Channel>().empty()) return;
    blocks.push_back(Heading{2, "Amplifiers and channels"});
    Table table;
    table.caption = "Loads against rated power; ohms as expected with all zones on and knobs as left";
    table.columns = {{"Source", Align::start, 2}, {"About", Align::start, 5},    {"Load", Align::end, 1.6},
                     {"Rated", Align::end, 1.6},  {"Headroom", Align::end, 1.8}, {"Expected", Align::end, 1.8}};
    amplifier_rows(view, table);
    channel_rows(view, table);
    blocks.push_back(std::move(table));
}

void zone_schedule(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, "Zone schedule"});
    const auto zones = view.job.all<Zone>();
    if (zones.empty()) {
        blocks.push_back(Paragraph{"No zone is recorded.", Tone::note});
        return;
    }
    Table table;
    table.caption = "Load, limit and what can still be added; shared on one channel or amplifier, never to be summed";
    table.columns = {{"Zone", Align::start, 2.6}, {"Channel", Align::start, 1.6}, {"Terminals", Align::start, 2.3},
                     {"Line", Align::end, 1.5},   {"Load", Align::end, 1.7},      {"Basis", Align::start, 1.8},
                     {"Limit", Align::end, 1.6},  {"Reserve", Align::end, 1.6},   {"Headroom", Align::end, 1.9},
                     {"Can add", Align::end, 1.9}};
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const ZoneState& state = view.derived.zones[i];
        const bool low = state.low_impedance;
        std::string load = low ? "no tap sum" : show(state.margin.load);
        if (state.unrecorded.value() > 0) load += " + " + show(state.unrecorded) + " measured";
        table.rows.push_back(
            {{name_of(view.job, zones[i].id)},
             {state.channel ? name_of(view.job, view.job.all<Channel>()[*state.channel].id) : not_recorded},
             {text_or(zones[i].terminal, not_recorded)},
             {show(state.line_v)},
             {load},
             {low ? "low impedance" : in_words(state.margin.basis)},
             {low ? "" : shown(state.margin.limit)},
             {low || !state.margin.reserve ? "" : show(*state.margin.reserve)},
             low ? Cell{""} : headroom_cell(state.margin),
             {can_add_text(state)}});
    }
    blocks.push_back(std::move(table));
}

// What was written into the job since, as its log has it; the latest rows where there are very many.
void changes_table(const View& view, Blocks& blocks) {
    constexpr std::size_t most_rows = 400;
    Table table;
    table.caption = "Changes of the record since the handover";
    table.columns = {{"Date", Align::start, 2}, {"By", Align::start, 2}, {"What", Align::start, 9}};
    for (const SheetChange& change : view.options.changes)
        for (const std::string& what : change.what)
            table.rows.push_back(
                {{change.day}, {change.person.empty() ? not_recorded : contained(change.person)}, {contained(what)}});
    if (table.rows.empty()) return;
    const std::size_t left_out = table.rows.size() > most_rows ? table.rows.size() - most_rows : 0;
    table.rows.erase(table.rows.begin(), table.rows.begin() + static_cast<std::ptrdiff_t>(left_out));
    blocks.push_back(std::move(table));
    if (left_out > 0)
        blocks.push_back(Paragraph{counted(left_out, "earlier change") + " stand in the job's history.", Tone::note});
}

// What happened after the latest handover, from the dates the records carry.
void since_handover(const View& view, Blocks& blocks) {
    std::string handover;
    for (const Visit& visit : view.job.all<Visit>())
        if (visit.purpose == Purpose::handover && visit.date) handover = std::max(handover, visit.date->text);
    if (handover.empty()) return;
    Bullets items;
    for (const Visit& visit : view.job.all<Visit>())
        if (visit.date && visit.date->text > handover)
            items.items.push_back(visit.date->text + ": visit, " +
                                  (visit.purpose ? in_words(*visit.purpose) : "purpose not recorded") +
                                  (visit.notes ? ". " + *visit.notes : ""));
    std::size_t readings = 0;
    for (const Reading& reading : view.job.all<Reading>())
        readings += reading.time && day_of(reading.time->text) > handover;
    if (readings > 0) items.items.push_back(count_is(readings, "reading") + " newer than the handover.");
    for (const Snag& snag : view.job.all<Snag>()) {
        if (snag.share == Share::private_ || !snag.text) continue;
        if (snag.opened && snag.opened->text > handover)
            items.items.push_back(snag.opened->text + ": snag opened. " + *snag.text);
        if (snag.closed && snag.closed->text > handover)
            items.items.push_back(snag.closed->text + ": snag closed. " + *snag.text);
    }
    if (items.items.empty() && view.options.changes.empty()) return;
    blocks.push_back(Heading{2, "Since the handover of " + handover});
    if (!items.items.empty()) blocks.push_back(std::move(items));
    changes_table(view, blocks);
}

}  // namespace

void technician_sheet(const View& view, Blocks& blocks) {
    title(view, blocks);
    summary(view, blocks);
    technician_cautions(view, blocks);
    findings(view, blocks);
    since_handover(view, blocks);
    sources(view, blocks);
    zone_schedule(view, blocks);
    for (std::uint32_t zone = 0; zone < view.zone_points.size(); ++zone) zone_section(view, zone, blocks);
    not_traced_section(view, blocks);
    room_schedule(view, blocks);
    level_section(view, blocks);
    if (!view.other_readings.empty()) {
        blocks.push_back(Heading{2, "Readings elsewhere"});
        readings_table(view, view.other_readings, "Readings in rooms, at channels and at points not traced", blocks);
    }
    settings_and_controls(view, blocks);
    interface_table(view, blocks);
    snag_table(view, blocks);
    visit_table(view, blocks);
    type_tables(view, blocks);
    photo_section(view, blocks);
    sign_off(view, blocks);
    sign_again(view, blocks);
}

}  // namespace tapwright::sheet
