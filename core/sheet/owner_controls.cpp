// The owner's sheet, room by room: which control, where it normally is, which amplifier and breaker, and whether
// announcements are heard with the control down.
#include <algorithm>
#include <tuple>

#include "core/base/text.h"
#include "core/sheet/owner_parts.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Cell;
using outline::Heading;
using outline::Table;
using outline::Tone;

// What turns loudspeakers up and down: an attenuator in the line, a remote control, the level of a zone, or nothing.
enum class By : std::uint8_t { attenuator, control, zone_level, nothing, not_traced, emergency };

// One row: rooms that have all of it in common share it.
struct Governed {
    By by = By::nothing;
    std::uint32_t place = nowhere;      // among the records of that kind
    std::uint32_t amplifier = nowhere;  // in job.all<Amplifier>()
    bool operator==(const Governed&) const = default;
};

struct Row {
    Governed governed;
    std::vector<std::uint32_t> rooms;  // in job.all<Room>(); nowhere: not recorded
};

bool governs(const Control& control, const std::optional<Id>& id) {
    return id && control.governs &&
           std::find(control.governs->begin(), control.governs->end(), *id) != control.governs->end();
}

class Rows {
public:
    explicit Rows(const View& view) : view_(view) {}

    std::vector<Row> all() {
        for (const std::uint32_t room : view_.rooms) add_room(room, view_.room_points[room]);
        add_room(nowhere, view_.no_room);
        return std::move(rows_);
    }

private:
    void add_room(std::uint32_t room, const std::vector<std::uint32_t>& points) {
        for (const std::uint32_t at : points)
            if (is_fitted_speaker(view_.point(at))) add_speaker(room, at);
    }

    void add_speaker(std::uint32_t room, std::uint32_t at) {
        const PointOnLine& line = view_.on_line(at);
        if (!line.traced || line.zone == nowhere) return add({By::not_traced, nowhere, nowhere}, room);
        const std::uint32_t amplifier = view_.derived.zones[line.zone].amplifier.value_or(nowhere);
        if (line.emergency) return add({By::emergency, nowhere, amplifier}, room);
        bool any = false;
        const auto with = [&](By by, std::uint32_t place) {
            add({by, place, amplifier}, room);
            any = true;
        };
        constexpr int longest_chain = 8;  // a longer one is a mistake of the record, not of the house
        int steps = 0;
        for (std::uint32_t control = view_.governor[at]; control != nowhere && steps < longest_chain;
             control = view_.governor[control], ++steps)
            with(By::attenuator, control);
        const auto controls = view_.job.all<Control>();
        for (std::uint32_t i = 0; i < controls.size(); ++i)
            if (acts_on(controls[i], at, line)) with(By::control, i);
        if (view_.job.all<Zone>()[line.zone].knob_db) with(By::zone_level, line.zone);
        if (!any) with(By::nothing, nowhere);
    }

    bool acts_on(const Control& control, std::uint32_t at, const PointOnLine& line) const {
        const Point& point = view_.point(at);
        const Zone& zone = view_.job.all<Zone>()[line.zone];
        const std::uint32_t amplifier = view_.derived.zones[line.zone].amplifier.value_or(nowhere);
        return governs(control, point.id) || governs(control, point.room) || governs(control, zone.id) ||
               governs(control, zone.channel) ||
               (amplifier != nowhere && governs(control, view_.job.all<Amplifier>()[amplifier].id));
    }

    void add(const Governed& governed, std::uint32_t room) {
        auto row = std::find_if(rows_.begin(), rows_.end(), [&](const Row& each) { return each.governed == governed; });
        if (row == rows_.end()) row = rows_.insert(rows_.end(), Row{governed, {}});
        if (std::find(row->rooms.begin(), row->rooms.end(), room) == row->rooms.end()) row->rooms.push_back(room);
    }

    const View& view_;
    std::vector<Row> rows_;
};

// ---- in words ----

Message with_place(const Message& control, Message place) {
    return in_context("a control and its room", "{control} ({room})",
                      {{"control", control}, {"room", std::move(place)}});
}

Message rooms_in_words(const View& view, const Row& row) {
    constexpr std::size_t most = 12;
    Series named;
    for (std::size_t i = 0; i < std::min(row.rooms.size(), most); ++i)
        named.items.emplace_back(room_called(view, row.rooms[i]));
    if (row.rooms.size() > most)
        named.items.emplace_back(Message("{count} more", {{"count", row.rooms.size() - most}}));
    return named;
}

Message amplifier_of(const View& view, const Row& row) {
    if (row.governed.by == By::not_traced) return Message("not known");
    if (row.governed.amplifier == nowhere) return not_recorded();
    const Amplifier& amplifier = view.job.all<Amplifier>()[row.governed.amplifier];
    return entered(name_of(view.job, amplifier.id));
}

Message breaker_of(const View& view, const Row& row) {
    if (row.governed.amplifier == nowhere) return {};
    return typed_or(view.job.all<Amplifier>()[row.governed.amplifier].breaker, not_recorded());
}

bool has_paging(const View& view, std::uint32_t amplifier) {
    const auto links = view.job.all<Interface>();
    return amplifier != nowhere && std::any_of(links.begin(), links.end(), [&](const Interface& link) {
               return link.kind == InterfaceKind::paging && link.amplifier == view.job.all<Amplifier>()[amplifier].id;
           });
}

Cell heard_with(const View& view, const Point& control) {
    if (!view.job.find<AttenuatorType>(control.type)) return {not_recorded(), Tone::note};
    if (!has_override(view, control)) return {Message("silent when off"), Tone::note};
    if (control.override_tested)
        return {Message("heard on {day}", {{"day", Day{control.override_tested->text}}}), Tone::good};
    return {Message("not tested: do not count on it"), Tone::note};
}

// The row behind the room's name: the control, its position, its amplifier and breaker, announcements.
std::vector<Cell> cells_of(const View& view, const Row& row) {
    const std::uint32_t place = row.governed.place;
    const Cell source = {amplifier_of(view, row)};
    const Cell breaker = {breaker_of(view, row)};
    switch (row.governed.by) {
        case By::attenuator: {
            const Point& control = view.point(place);
            const bool in_its_room = row.rooms == std::vector{place_of_room(view, control.room)};
            const Message name = entered(name_of(view.job, control.id));
            return {{in_its_room ? name : with_place(name, room_name(view.job, control.room))},
                    {control.knob_db ? position_of(*control.knob_db) : not_recorded()},
                    source,
                    breaker,
                    heard_with(view, control)};
        }
        case By::control: {
            const Control& control = view.job.all<Control>()[place];
            return {{with_place(entered(name_of(view.job, control.id)), room_name(view.job, control.room))},
                    {typed_or(control.normal, not_recorded())},
                    source,
                    breaker,
                    {not_recorded()}};
        }
        case By::zone_level: {
            const Zone& zone = view.job.all<Zone>()[place];
            return {{Message("Level of {zone}", {{"zone", entered(name_of(view.job, zone.id))}})},
                    {position_of({*zone.knob_db, false})},
                    source,
                    breaker,
                    {not_recorded()}};
        }
        case By::nothing:
            return {{in_context("control", "none")},
                    {},
                    source,
                    breaker,
                    {has_paging(view, row.governed.amplifier) ? Message("never turned down")
                                                              : Message("no announcements recorded")}};
        case By::not_traced:
            return {{Message("not known")}, {}, source, breaker, {Message("not known"), Tone::note}};
        case By::emergency:
            return {{Message("Fire or emergency: leave it alone"), Tone::stop}, {}, source, breaker, {}};
    }
    return {};
}

}  // namespace

bool is_fitted_speaker(const Point& point) {
    return point.kind == PointKind::speaker && is_fitted(point);
}

bool has_override(const View& view, const Point& attenuator) {
    const AttenuatorType* type = view.job.find<AttenuatorType>(attenuator.type);
    return type && type->override.value_or(Override::none) != Override::none;
}

std::uint32_t place_of_room(const View& view, const std::optional<Id>& room) {
    return room ? view.job.place<Room>(*room).value_or(nowhere) : nowhere;
}

Message room_called(const View& view, std::uint32_t place) {
    return place == nowhere ? Message("Room not recorded") : Message(entered(name_of(view.job, view.room(place).id)));
}

bool are_breakers_short(const View& view) {
    constexpr std::size_t longest = 16;  // "DB-2, breaker 7": what a column has room for beside the others
    const auto all = view.job.all<Amplifier>();
    return std::all_of(all.begin(), all.end(), [](const Amplifier& amplifier) {
        return !amplifier.breaker || code_points(*amplifier.breaker) <= longest;
    });
}

void owner_controls(const View& view, Blocks& blocks) {
    blocks.push_back(Heading{2, Message("Room by room")});
    Table table;
    table.columns = {{Message("Room"), Align::start, 6},     {Message("Control"), Align::start, 4},
                     {Message("Normal"), Align::start, 1.4}, {Message("Amplifier"), Align::start, 2},
                     {Message("Breaker"), Align::start, 2},  {Message("Announcements if down"), Align::start, 4}};
    constexpr std::ptrdiff_t breaker = 4;
    for (const Row& row : Rows(view).all()) {
        std::vector<Cell> cells = cells_of(view, row);
        cells.insert(cells.begin(), Cell{rooms_in_words(view, row)});
        table.rows.push_back(std::move(cells));
    }
    if (!are_breakers_short(view)) {
        table.columns.erase(table.columns.begin() + breaker);
        for (auto& cells : table.rows) cells.erase(cells.begin() + breaker);
    }
    if (table.rows.empty()) {
        blocks.push_back(outline::Paragraph{Message("No loudspeaker is recorded as fitted yet."), Tone::plain});
        return;
    }
    blocks.push_back(std::move(table));
}

}  // namespace tapwright::sheet
