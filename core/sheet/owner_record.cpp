// The owner's sheet: what is installed, what may be added, how it was left.
#include <algorithm>

#include "core/sheet/owner_parts.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Facts;
using outline::Heading;
using outline::Paragraph;
using outline::Table;
using outline::Tone;

// "Classroom 1: 4" for each room with fitted loudspeakers, by floor in the order of the walk.
class ByFloor {
public:
    explicit ByFloor(const View& view) : view_(view) {}

    void add(const Message& room, const std::optional<std::string>& floor, const std::vector<std::uint32_t>& points) {
        const auto count = std::count_if(points.begin(), points.end(),
                                         [&](std::uint32_t at) { return is_fitted_speaker(view_.point(at)); });
        if (count == 0) return;
        auto held = std::find_if(floors_.begin(), floors_.end(), [&](const Floor& each) { return each.name == floor; });
        if (held == floors_.end()) held = floors_.insert(floors_.end(), Floor{floor, {}});
        held->rooms.items.emplace_back(in_context("a room and how many loudspeakers it has", "{room}: {count}",
                                                  {{"room", room}, {"count", static_cast<std::int64_t>(count)}}));
    }

    Facts facts() const {
        Facts facts;
        for (const Floor& floor : floors_)
            facts.facts.push_back({typed_or(floor.name, Message("Floor not recorded")), floor.rooms});
        return facts;
    }

private:
    struct Floor {
        std::optional<std::string> name;
        Series rooms;
    };
    const View& view_;
    std::vector<Floor> floors_;
};

// Whether fitted loudspeakers in one of the zone's rooms are not traced, so that some may be on this line.
bool may_carry_more(const View& view, std::uint32_t zone) {
    return std::any_of(view.not_traced.begin(), view.not_traced.end(), [&](std::uint32_t lost) {
        const Point& point = view.point(lost);
        return is_fitted_speaker(point) && point.room &&
               std::any_of(view.zone_points[zone].begin(), view.zone_points[zone].end(),
                           [&](std::uint32_t at) { return view.point(at).room == point.room; });
    });
}

// One short line: what may be added, and why to ask first.
outline::Cell spare(const View& view, std::uint32_t at) {
    const ZoneState& state = view.derived.zones[at];
    if (state.emergency) return {Message("fire or emergency line: nothing may be added"), Tone::stop};
    if (state.margin.unrecorded.value() > 0)
        return {Message("ask first: {watts} on this line is not accounted for", {{"watts", state.margin.unrecorded}}),
                Tone::note};
    if (may_carry_more(view, at)) return {Message("ask first: not every loudspeaker here is traced"), Tone::note};
    if (!state.can_add) return {Message("ask first: {reason}", {{"reason", why_unknown(state)}}), Tone::note};
    if (!(may_add(*state.can_add) > Watts(0))) return {Message("full: nothing more may be added")};
    return {room_for(state)};
}

}  // namespace

void owner_installed(const View& view, Blocks& blocks) {
    ByFloor floors(view);
    for (const std::uint32_t room : view.rooms)
        floors.add(room_called(view, room), view.room(room).floor, view.room_points[room]);
    floors.add(Message("Room not recorded"), std::nullopt, view.no_room);
    const auto points = view.job.all<Point>();
    const auto all = std::count_if(points.begin(), points.end(), is_fitted_speaker);
    blocks.push_back(Heading{2, Message("What is installed")});
    const auto lines = std::count_if(view.zone_points.begin(), view.zone_points.end(), [&](const auto& on_it) {
        return std::any_of(on_it.begin(), on_it.end(),
                           [&](std::uint32_t at) { return is_fitted_speaker(view.point(at)); });
    });
    const Message fitted = plural("{count} loudspeaker", "{count} loudspeakers", all);
    blocks.push_back(
        Paragraph{all == 0     ? Message("No loudspeaker is recorded as fitted yet.")
                  : lines == 0 ? Message("Fitted: {loudspeakers}.", {{"loudspeakers", fitted}})
                               : Message("Fitted: {loudspeakers} on {lines}.",
                                         {{"loudspeakers", fitted},
                                          {"lines", plural("{count} line (zone)", "{count} lines (zones)", lines)}}),
                  Tone::plain});
    if (Facts facts = floors.facts(); !facts.facts.empty()) blocks.push_back(std::move(facts));
}

void owner_spare_watts(const View& view, Blocks& blocks) {
    const auto zones = view.job.all<Zone>();
    if (zones.empty()) return;
    blocks.push_back(Heading{2, Message("Spare watts, for your installer")});
    Table table;
    table.columns = {{Message("Line (zone)"), Align::start, 3}, {Message("Spare"), Align::start, 5}};
    for (std::uint32_t i = 0; i < zones.size(); ++i)
        table.rows.push_back({{entered(name_of(view.job, zones[i].id))}, spare(view, i)});
    blocks.push_back(std::move(table));
    if (zones.size() > 1)
        blocks.push_back(Paragraph{Message("Shared on one amplifier: never add these up."), Tone::plain});
}

void owner_as_left(const View& view, Blocks& blocks) {
    Series controls;
    const auto add = [&](const Message& name, Message position) {
        controls.items.emplace_back(in_context("an attenuator and its position", "{attenuator} {position}",
                                               {{"attenuator", name}, {"position", std::move(position)}}));
    };
    for (const auto& points : view.zone_points)
        for (const std::uint32_t at : points) {
            const Point& control = view.point(at);
            if (control.kind == PointKind::attenuator && is_fitted(control) && control.knob_db)
                add(entered(name_of(view.job, control.id)), position_in_sentence(*control.knob_db));
        }
    for (const Zone& zone : view.job.all<Zone>())
        if (zone.knob_db)
            add(Message("level of {zone}", {{"zone", entered(name_of(view.job, zone.id))}}),
                position_in_sentence({*zone.knob_db, false}));
    for (const Control& control : view.job.all<Control>())
        if (control.normal) add(entered(name_of(view.job, control.id)), entered(*control.normal));
    if (controls.items.empty()) return;
    blocks.push_back(Heading{2, Message("Volume controls as left")});
    blocks.push_back(Paragraph{Message("{controls}.", {{"controls", controls}}), Tone::plain});
}

}  // namespace tapwright::sheet
