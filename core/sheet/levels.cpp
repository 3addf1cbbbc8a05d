// The direct level over the floors of rooms whose loudspeakers' places are recorded, as maps, two side by side.
#include "core/plan/survey.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright::sheet {
namespace {

using outline::Figure;
using outline::Heading;
using outline::Paragraph;
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

std::optional<Figure> map_of(const View& view, std::uint32_t place) {
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
    const Message caption = caption_of(view, room, map, *heard);
    return Figure{std::move(shades), caption, Message("Level over the floor of {room}", {{"room", caption}})};
}

}  // namespace

void level_section(const View& view, Blocks& blocks) {
    std::vector<Figure> figures;
    for (const std::uint32_t room : view.rooms)
        if (std::optional<Figure> figure = map_of(view, room)) figures.push_back(std::move(*figure));
    if (figures.empty()) return;
    blocks.push_back(Heading{2, Message("Direct level over the floors")});
    add_in_pairs(std::move(figures), blocks);
    blocks.push_back(Paragraph{
        Message("The level at listeners' ears at full line voltage: taps as recorded or planned, attenuators as left. "
                "Counted: loudspeakers that look straight down and whose place, tap and type are known. Left out: "
                "reverberation, shadows and the music itself. Not a design for an emergency or fire system."),
        document::Tone::plain});
}

}  // namespace tapwright::sheet
