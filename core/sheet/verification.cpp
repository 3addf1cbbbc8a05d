// What was verified, made of the records: item, method, limit, result, who and when. The items follow the topics of
// ANSI/INFOCOMM 10:2013 (loudspeaker zoning and circuit impedance as documented, muting, labelling); the words and the
// arrangement are ours.
#include <algorithm>
#include <cmath>

#include "core/sheet/owner_parts.h"
#include "core/sheet/parts.h"
#include "core/sheet/people.h"
#include "core/sheet/phrases.h"
#include "core/words/expected_text.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Cell;
using outline::Heading;
using outline::Table;
using outline::Tone;

void add_row(Table& table, Message item, Message method, Message limit, Cell result, Message who, Message day) {
    table.rows.push_back({{std::move(item)},
                          {std::move(method)},
                          {std::move(limit)},
                          std::move(result),
                          {std::move(who)},
                          {std::move(day)}});
}

// Loudspeakers that are there, but for those of a fire or emergency line.
std::vector<std::uint32_t> fitted(const View& view) {
    std::vector<std::uint32_t> all;
    for (std::uint32_t i = 0; i < view.job.all<Point>().size(); ++i)
        if (is_fitted_speaker(view.point(i)) && !view.on_line(i).emergency) all.push_back(i);
    return all;
}

// So many of so many, and which are not.
struct Count {
    std::int64_t good = 0;
    std::int64_t all = 0;
    std::vector<std::string> bad;
    std::int64_t open = 0;  // nothing is recorded of them

    void add(bool is_good, bool is_known, const std::string& name) {
        ++all;
        if (is_good)
            ++good;
        else if (is_known)
            bad.push_back(name);
        else
            ++open;
    }
    Cell in_words() const {
        const Message some = Message("{some} of {all}", {{"some", good}, {"all", all}});
        const Message which = bad.empty() ? Message() : Message("not: {points}", {{"points", names_in_words(bad, 14)}});
        const Message rest = open == 0 ? Message() : plural("{count} not recorded", "{count} not recorded", open);
        return {with_semicolons({some, which, rest}), !bad.empty() ? Tone::warning
                                                      : open > 0   ? Tone::note
                                                                   : Tone::good};
    }
};

void zones_as_recorded(const View& view, Table& table) {
    Count count;
    std::vector<std::uint32_t> heard;
    for (const std::uint32_t at : fitted(view)) {
        const Point& point = view.point(at);
        const bool traced = view.on_line(at).traced && view.on_line(at).zone != nowhere;
        count.add(traced && point.heard == Heard::ok, !traced || point.heard, name_of(view.job, point.id));
        if (point.heard) heard.push_back(at);
    }
    ByWhom who = by_whom(view, "heard", heard, view.job.info().walk_tested);
    if (count.all > 0)
        add_row(table, Message("Zones wired as recorded"), Message("walk test"), Message("every one"), count.in_words(),
                std::move(who.people), std::move(who.days));
}

void impedance_of(const View& view, std::uint32_t zone, Table& table) {
    const ZoneState& state = view.derived.zones[zone];
    if (state.emergency) return;
    const Message item =
        Message("Impedance: {zone}", {{"zone", entered(name_of(view.job, view.job.all<Zone>()[zone].id))}});
    const std::uint32_t at = view.zone_ohms[zone];
    if (at == nowhere) return add_row(table, item, Message("meter"), {}, {Message("not measured"), Tone::note}, {}, {});
    const Reading& reading = view.job.all<Reading>()[at];
    const Judgement& judged = view.derived.readings[at];
    Days day;
    day.add(day_taken(view.job, reading));
    const bool is_open = judged.expected && std::isinf(judged.expected->value());  // nothing to be read there yet
    const Message limit =
        judged.low && judged.high && !is_open
            ? Message("{low} to {high}", {{"low", rounded_up(*judged.low)}, {"high", rounded_down(*judged.high)}})
            : Message();
    add_row(table, item,
            with_commas(
                {Message("meter"), Message(reading.hz.value_or(view.job.info().test_hz.value_or(Defaults::test_hz)))}),
            limit, {with_semicolons({value_of(reading), words_for(judged.verdict)}), tone_of(judged)},
            day.people(view.job), day.in_words());
}

void polarity(const View& view, Table& table) {
    Count count;
    std::vector<std::uint32_t> tested;
    for (const std::uint32_t at : fitted(view)) {
        const Point& point = view.point(at);
        count.add(point.polarity == Polarity::ok, point.polarity.has_value(), name_of(view.job, point.id));
        if (point.polarity) tested.push_back(at);
    }
    ByWhom who = by_whom(view, "polarity", tested, view.job.info().polarity_tested);
    if (count.all > 0)
        add_row(table, Message("Polarity"), Message("tester, by ear"), Message("alike"), count.in_words(),
                std::move(who.people), std::move(who.days));
}

void taps(const View& view, Table& table) {
    Count count;
    std::vector<std::uint32_t> seen;
    for (const std::uint32_t at : fitted(view)) {
        const Point& point = view.point(at);
        if (point.planned_tap_w || !point.tap_w)
            count.add(point.tap_w && point.tap_w == point.planned_tap_w, point.tap_w.has_value(),
                      name_of(view.job, point.id));
        if (point.planned_tap_w && point.tap_w) seen.push_back(at);
    }
    if (count.all == 0) return;
    ByWhom who = by_whom(view, "tap_w", seen, view.job.info().taps_checked);
    Cell result = count.in_words();
    if (result.tone == Tone::warning) result.tone = Tone::note;  // off plan is no fault
    add_row(table, Message("Taps as planned"), Message("looked at"), Message("as planned"), std::move(result),
            std::move(who.people), std::move(who.days));
}

// The latest level measured in each room, with what is wanted there.
void levels(const View& view, Table& table) {
    Series rooms;
    Days days;
    for (const std::uint32_t at : view.rooms) {
        const Room& room = view.room(at);
        const Reading* latest = nullptr;
        for (const Reading& reading : view.job.all<Reading>())
            if (reading.at == room.id && reading.quantity == Measured::level_dba && reading.value) latest = &reading;
        if (!latest) continue;
        days.add(day_taken(view.job, *latest));
        const std::vector<Named> named = {{"room", entered(name_of(view.job, room.id))},
                                          {"level", SoundLevel(*latest->value)},
                                          {"wanted", room.wanted_dba ? Message(*room.wanted_dba) : Message()}};
        rooms.items.emplace_back(room.wanted_dba ? Message(Pattern("{room} {level} ({wanted})"), named)
                                                 : Message(Pattern("{room} {level}"), named));
    }
    if (!rooms.items.empty())
        add_row(table, Message("Levels"), Message("level meter"), Message("wanted, in brackets"), {Message(rooms)},
                days.people(view.job), days.in_words());
}

void overrides(const View& view, Table& table) {
    Count count;
    Days days;
    for (std::uint32_t i = 0; i < view.job.all<Point>().size(); ++i) {
        const Point& point = view.point(i);
        if (point.kind != PointKind::attenuator || !is_fitted(point) || view.on_line(i).emergency ||
            !has_override(view, point))
            continue;
        if (point.override_tested) days.add(point.override_tested->text);
        count.add(point.override_tested.has_value(), true, name_of(view.job, point.id));
    }
    if (count.all > 0)
        add_row(table, Message("Overrides"), Message("announcement"), Message("heard"), count.in_words(),
                days.people(view.job), days.in_words());
}

void labelling(const View& view, Table& table) {
    Days days;
    if (const auto& day = view.job.info().labels_checked) days.add(day->text);
    const bool is_checked = view.job.info().labels_checked.has_value();
    add_row(
        table, Message("Labelling"), Message("both ends"), Message("every cable"),
        is_checked ? Cell{Message("looked at"), Tone::good} : Cell{Message("not recorded: check on site"), Tone::note},
        is_checked ? days.people(view.job) : Message(), is_checked ? days.in_words() : Message());
}

void links(const View& view, Table& table) {
    Count count;
    Days days;
    for (const Interface& link : view.job.all<Interface>()) {
        if (link.tested) days.add(link.tested->text);
        count.add(link.tested.has_value(), false, {});
    }
    if (count.all > 0)
        add_row(table, Message("Muting and other links"), Message("seen to work"), Message("every one"),
                count.in_words(), days.people(view.job), days.in_words());
}

}  // namespace

void verification(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, Message("Verification")});
    Table table;
    table.caption = Message("What was verified, by the topics of ANSI/INFOCOMM 10:2013");
    table.columns = {{Message("Item"), Align::start, 4},   {Message("Method"), Align::start, 2},
                     {Message("Limit"), Align::start, 2},  {Message("Result"), Align::start, 20},
                     {Message("Person"), Align::start, 1}, {Message("Date"), Align::start, 1}};
    zones_as_recorded(view, table);
    for (std::uint32_t zone = 0; zone < view.job.all<Zone>().size(); ++zone) impedance_of(view, zone, table);
    polarity(view, table);
    taps(view, table);
    levels(view, table);
    overrides(view, table);
    links(view, table);
    labelling(view, table);
    blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
