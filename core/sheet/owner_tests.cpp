// The owner's sheet: what was tested, by whom and when; what was not; and what is open and who does it.
#include <algorithm>
#include <map>
#include <tuple>

#include "core/job/to_do.h"
#include "core/sheet/owner_parts.h"
#include "core/sheet/parts.h"
#include "core/sheet/people.h"
#include "core/sheet/phrases.h"
#include "core/words/choices.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Bullets;
using outline::Cell;
using outline::Heading;
using outline::Table;
using outline::Tone;

// Labels of a few, then how many more.
Message labels(const View& view, const std::vector<std::uint32_t>& points) {
    std::vector<std::string> names;
    for (const std::uint32_t at : points) names.push_back(name_of(view.job, view.point(at).id));
    return names_in_words(names, 10);
}

// What is still to be done on a fire or emergency line is not ours to ask for.
std::vector<std::uint32_t> pick(const View& view, bool (*wanted)(const Point& point)) {
    std::vector<std::uint32_t> picked;
    const auto points = view.job.all<Point>();
    for (std::uint32_t i = 0; i < points.size(); ++i)
        if (!view.on_line(i).emergency && wanted(points[i])) picked.push_back(i);
    return picked;
}

// What is to be heard or looked at of those that are there; the others are told as not fitted.
bool is_unheard(const Point& point) {
    return is_fitted(point) && is_to_be_heard(point, false);
}

bool is_without_tap(const Point& point) {
    return is_fitted(point) && has_tap_to_be_seen(point, false);
}

bool is_attenuator(const Point& point) {
    return point.kind == PointKind::attenuator && is_fitted(point);
}

// ---- links to other systems ----

struct Links {
    std::optional<InterfaceKind> kind;
    std::string tested;  // the day; empty: not tested
    std::vector<std::string> amplifiers;
};

// Those of one kind and one day together, tested ones first.
std::vector<Links> links_of(const View& view) {
    std::map<std::tuple<bool, std::optional<InterfaceKind>, std::string>, std::vector<std::string>> alike;
    for (const Interface& link : view.job.all<Interface>()) {
        auto& amplifiers = alike[{!link.tested, link.kind, link.tested ? link.tested->text : std::string()}];
        if (link.amplifier) amplifiers.push_back(name_of(view.job, link.amplifier));
    }
    std::vector<Links> all;
    for (auto& [of, amplifiers] : alike) all.push_back({std::get<1>(of), std::get<2>(of), std::move(amplifiers)});
    return all;
}

// With the amplifiers, unless it is all there are.
Message name_of_links(const View& view, const Links& links, bool alone) {
    Message what = links.kind ? Message(*links.kind) : Message("something not recorded");
    if (alone) what = as_title(std::move(what));
    if (!links.amplifiers.empty() && links.amplifiers.size() == view.job.all<Amplifier>().size()) return what;
    return Message("{what} ({amplifiers})",
                   {{"what", what},
                    {"amplifiers",
                     links.amplifiers.empty() ? Message("amplifier not recorded") : names_in_words(links.amplifiers)}});
}

// ---- not tested ----

// The link to the fire alarm by itself, as something is to be arranged; the others in one line.
void untested_links(const View& view, Bullets& gaps) {
    Series others;
    for (const Links& links : links_of(view)) {
        if (!links.tested.empty()) continue;
        if (links.kind != InterfaceKind::fire_mute)
            others.items.emplace_back(name_of_links(view, links, false));
        else
            gaps.items.push_back(
                Message("No test recorded: {what}. Arrange one with whoever is responsible for the "
                        "fire alarm.",
                        {{"what", name_of_links(view, links, false)}}));
    }
    if (!others.items.empty()) gaps.items.push_back(Message("No test recorded: {what}.", {{"what", others}}));
}

void untested_overrides(const View& view, Bullets& gaps) {
    Series untested;
    for (const std::uint32_t at : pick(view, is_attenuator))
        if (const Point& point = view.point(at); has_override(view, point) && !point.override_tested)
            untested.items.emplace_back(in_context(
                "a control and its room", "{control} ({room})",
                {{"control", entered(name_of(view.job, point.id))}, {"room", room_name(view.job, point.room)}}));
    if (!untested.items.empty())
        gaps.items.push_back(Message("{controls}: announcements with it down.", {{"controls", untested}}));
}

void unmeasured_lines(const View& view, Bullets& gaps) {
    const auto zones = view.job.all<Zone>();
    std::vector<std::string> unmeasured;
    for (std::size_t i = 0; i < zones.size(); ++i)  // nothing of an emergency line is measured for this record
        if (!view.derived.zones[i].emergency && view.zone_ohms[i] == nowhere)
            unmeasured.push_back(name_of(view.job, zones[i].id));
    if (!unmeasured.empty())
        gaps.items.push_back(Message("Line not measured: {zones}.", {{"zones", names_in_words(unmeasured)}}));
}

void unheard(const View& view, Bullets& gaps) {
    const auto not_heard = pick(view, is_unheard);
    if (!not_heard.empty())
        gaps.items.push_back(Message("Not yet listened to: {points}.", {{"points", labels(view, not_heard)}}));
    std::vector<std::uint32_t> lost;
    for (const std::uint32_t at : view.not_traced)
        if (is_fitted(view.point(at))) lost.push_back(at);
    if (!lost.empty()) gaps.items.push_back(Message("Feed not known: {points}.", {{"points", labels(view, lost)}}));
}

// ---- tested ----

void add_row(Table& table, Message what, Cell result, Message who, Message day) {
    table.rows.push_back({{std::move(what)}, std::move(result), {std::move(who)}, {std::move(day)}});
}

// One row a day.
void tested_links(const View& view, Table& table) {
    std::map<std::string, Series> days;
    for (const Links& links : links_of(view))
        if (!links.tested.empty()) {
            Series& names = days[links.tested];
            names.items.emplace_back(name_of_links(view, links, names.items.empty()));
        }
    for (const auto& [day, names] : days)
        add_row(table, names, {Message("seen to work"), Tone::good}, people_of(view.job, {day}), Day{day});
}

void measured_lines(const View& view, Table& table) {
    const auto zones = view.job.all<Zone>();
    Days days;
    std::int64_t measured = 0, asked = 0;
    std::vector<std::string> otherwise;
    for (std::size_t i = 0; i < zones.size(); ++i) {
        if (view.derived.zones[i].emergency) continue;
        ++asked;
        if (view.zone_ohms[i] == nowhere) continue;
        ++measured;
        days.add(day_taken(view.job, view.job.all<Reading>()[view.zone_ohms[i]]));
        if (view.derived.readings[view.zone_ohms[i]].verdict != Verdict::agrees)
            otherwise.push_back(name_of(view.job, zones[i].id));
    }
    if (measured == 0) return;
    const Message count = Message("{some} of {all}", {{"some", measured}, {"all", asked}});
    add_row(table, Message("Lines measured"),
            otherwise.empty()
                ? Cell{Message("{count}, as recorded", {{"count", count}}), measured == asked ? Tone::good : Tone::note}
                : Cell{Message("{count}; differing: {zones}", {{"count", count}, {"zones", names_in_words(otherwise)}}),
                       Tone::note},
            days.people(view.job), days.in_words());
}

void heard_speakers(const View& view, Table& table) {
    std::int64_t fine = 0, all = 0;
    std::vector<std::string> faulty;
    std::vector<std::uint32_t> heard;
    for (const std::uint32_t at : pick(view, is_fitted_speaker)) {
        const Point& point = view.point(at);
        if (point.heard) heard.push_back(at);
        ++all;
        fine += point.heard == Heard::ok ? 1 : 0;
        if (point.heard && *point.heard != Heard::ok) faulty.push_back(name_of(view.job, point.id));
    }
    if (fine == 0 && faulty.empty()) return;
    const Message count = Message("{some} of {all} fine", {{"some", fine}, {"all", all}});
    ByWhom who = by_whom(view, "heard", heard, view.job.info().walk_tested);
    add_row(table, Message("Loudspeakers listened to"),
            faulty.empty()
                ? Cell{count, fine == all ? Tone::good : Tone::note}
                : Cell{Message("{count}; not: {points}", {{"count", count}, {"points", names_in_words(faulty)}}),
                       Tone::note},
            std::move(who.people), std::move(who.days));
}

void tested_overrides(const View& view, Table& table) {
    Days days;
    std::int64_t tested = 0, all = 0;
    for (const std::uint32_t at : pick(view, is_attenuator)) {
        const Point& point = view.point(at);
        if (!has_override(view, point)) continue;
        ++all;
        if (!point.override_tested) continue;
        ++tested;
        days.add(point.override_tested->text);
    }
    if (tested == 0) return;
    add_row(table, Message("Announcements, control down"),
            {plural("{some} of {count} control", "{some} of {count} controls", all, {{"some", tested}}),
             tested == all ? Tone::good : Tone::note},
            days.people(view.job), days.in_words());
}

// ---- open ----

void open_snags(const View& view, Table& table) {
    for (const Snag& snag : view.job.all<Snag>()) {
        if (snag.share != Share::owner || snag.state == SnagState::closed || !snag.text) continue;
        table.rows.push_back({{entered(*snag.text)}, {typed_or(snag.who, not_recorded())}, {day_or(snag.opened, {})}});
    }
}

void open_row(Table& table, Message what) {
    table.rows.push_back({{std::move(what)}, {not_recorded()}, {}});
}

// Loudspeakers of one room that are not known to be there.
void not_fitted(const View& view, const Message& room, const std::vector<std::uint32_t>& points, Table& table) {
    std::int64_t planned = 0;
    std::int64_t unsure = 0;
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        if (point.kind == PointKind::speaker && !is_fitted(point)) ++(point.state ? planned : unsure);
    }
    if (planned > 0)
        open_row(table, plural("{room}: {count} loudspeaker planned, not fitted.",
                               "{room}: {count} loudspeakers planned, not fitted.", planned, {{"room", room}}));
    if (unsure > 0)
        open_row(table, plural("{room}: {count} loudspeaker recorded, but not whether it is fitted.",
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

// A snag that the owner sees says it already.
bool is_told(const View& view, const Point& point) {
    const auto snags = view.job.all<Snag>();
    return std::any_of(snags.begin(), snags.end(), [&](const Snag& snag) {
        return snag.about == point.id && snag.share == Share::owner && snag.state != SnagState::closed && snag.text;
    });
}

void open_in_the_record(const View& view, Table& table) {
    for (const std::uint32_t at : pick(view, [](const Point& point) {
             return is_fitted_speaker(point) && point.heard && *point.heard != Heard::ok;
         }))
        if (!is_told(view, view.point(at))) open_row(table, fault_of(view, view.point(at)));
    for (const std::uint32_t room : view.rooms)
        not_fitted(view, room_called(view, room), view.room_points[room], table);
    not_fitted(view, Message("Room not recorded"), view.no_room, table);
    const auto no_tap = pick(view, is_without_tap);
    if (!no_tap.empty()) open_row(table, Message("Tap not recorded: {points}.", {{"points", labels(view, no_tap)}}));
    const auto zones = view.job.all<Zone>();
    for (std::size_t i = 0; i < zones.size(); ++i)
        if (const Watts more = view.derived.zones[i].margin.unrecorded;
            more.value() > 0 && !view.derived.zones[i].emergency)
            open_row(table, Message("{zone}: {watts} more measured than recorded. Not found yet.",
                                    {{"zone", entered(name_of(view.job, zones[i].id))}, {"watts", more}}));
}

}  // namespace

void owner_untested(const View& view, Blocks& blocks) {
    Bullets gaps;
    untested_overrides(view, gaps);
    untested_links(view, gaps);
    unmeasured_lines(view, gaps);
    unheard(view, gaps);
    if (gaps.items.empty()) return;
    blocks.push_back(Heading{2, Message("Not tested")});
    blocks.push_back(std::move(gaps));
}

void owner_tests(const View& view, Blocks& blocks) {
    Table table;
    table.columns = {{Message("What"), Align::start, 9},
                     {Message("Result"), Align::start, 5},
                     {Message("By"), Align::start, 3},
                     {Message("Date"), Align::start, 6}};
    measured_lines(view, table);
    heard_speakers(view, table);
    tested_overrides(view, table);
    tested_links(view, table);
    if (table.rows.empty()) return;
    blocks.push_back(Heading{2, Message("What was tested")});
    blocks.push_back(std::move(table));
}

void owner_open(const View& view, Blocks& blocks) {
    Table table;
    table.columns = {{Message("What"), Align::start, 8},
                     {Message("Who does it"), Align::start, 3},
                     {Message("Since"), Align::start, 2}};
    open_snags(view, table);
    open_in_the_record(view, table);
    if (table.rows.empty()) return;
    blocks.push_back(Heading{2, Message("Still to be done")});
    blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
