// The direct level over the floors of rooms whose loudspeakers' places are recorded, as maps.
#include "core/plan/survey.h"
#include "core/sheet/parts.h"
#include "core/sheet/people.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Figure;
using outline::Shades;

static_assert(Shades::most == level_steps);

// Whole decibels; the unit stands in the sentence, once for several.
tapwright::Figure whole(double level) {
    return {level, Unit::none, 0};
}

Message levels_of(const Room& room, const LevelMap& map, const RoomSources& heard) {
    const std::vector<Named> named = {{"least", whole(map.least.value())},
                                      {"greatest", whole(map.greatest.value())},
                                      {"mean", whole(map.mean.value())},
                                      {"wanted", room.wanted_dba ? Message(*room.wanted_dba) : Message()}};
    const auto count = static_cast<std::int64_t>(heard.sources.size());
    return room.wanted_dba
               ? plural("{least} to {greatest} dB(A), mean {mean} dB(A), from {count} loudspeaker; wanted {wanted}.",
                        "{least} to {greatest} dB(A), mean {mean} dB(A), from {count} loudspeakers; wanted {wanted}.",
                        count, named)
               : plural("{least} to {greatest} dB(A), mean {mean} dB(A), from {count} loudspeaker.",
                        "{least} to {greatest} dB(A), mean {mean} dB(A), from {count} loudspeakers.", count, named);
}

Message caption_of(const View& view, const Room& room, const LevelMap& map, const RoomSources& heard) {
    Message levels = in_context("level map", "{room}, {length} × {width}: {levels}",
                                {{"room", entered(name_of(view.job, room.id))},
                                 {"length", *room.length_m},
                                 {"width", *room.width_m},
                                 {"levels", levels_of(room, map, heard)}});
    if (heard.left_out == 0) return levels;
    return sentences(
        {std::move(levels), plural("{count} loudspeaker is left out.", "{count} loudspeakers are left out.",
                                   static_cast<std::int64_t>(heard.left_out))});
}

// The latest level measured there: "Measured: 71 dB(A), 8 Apr 2025."
Message measured_in(const View& view, const Room& room) {
    const Reading* latest = nullptr;
    for (const Reading& reading : view.job.all<Reading>())
        if (reading.at == room.id && reading.quantity == Measured::level_dba && reading.value) latest = &reading;
    if (!latest) return Message("No level measured.");
    const std::string day = day_taken(view.job, *latest);
    if (day.empty()) return Message("Measured: {level}.", {{"level", SoundLevel(*latest->value)}});
    return Message("Measured: {level}, {day}.", {{"level", SoundLevel(*latest->value)}, {"day", Day{day}}});
}

}  // namespace

std::optional<Figure> level_map_of(const View& view, std::uint32_t place) {
    const Room& room = view.room(place);
    const Result<RoomSources> heard = sources_of_room(view.job, view.derived, room.id);
    if (!heard || heard->sources.empty()) return std::nullopt;
    const LevelMap map = level_map(heard->sources, heard->floor);
    LevelSteps steps = steps_of(map);
    Shades shades{.length = map.floor.length.value(),
                  .width = map.floor.width.value(),
                  .columns = map.columns,
                  .rows = map.rows,
                  .cells = {},
                  .spots = {},
                  .key = std::move(steps.key)};
    shades.cells = std::move(steps.cells);
    for (const Source& source : heard->sources) shades.spots.push_back({source.at.x.value(), source.at.y.value()});
    const Message caption = sentences({caption_of(view, room, map, *heard), measured_in(view, room)});
    return Figure{std::move(shades), caption, Message("Level over the floor of {room}", {{"room", caption}})};
}

}  // namespace tapwright::sheet
