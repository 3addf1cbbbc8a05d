// The direct level over the floors of rooms whose loudspeakers' places are recorded, as maps, two side by side.
#include <algorithm>

#include "core/base/text.h"
#include "core/plan/survey.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"
#include "core/words/words.h"

namespace tapwright::sheet {
namespace {

using document::Figure;
using document::Heading;
using document::Paragraph;
using document::Shades;

static_assert(Shades::most == level_steps);

std::string whole(SoundLevel level) {
    return rounded(level.value(), 0);
}

std::string caption_of(const View& view, const Room& room, const LevelMap& map, const RoomSources& heard) {
    std::string text = name_of(view.job, room.id) + ", " + show(*room.length_m, view.lengths) + " × " +
                       show(*room.width_m, view.lengths) + ": " + whole(map.least) + " to " + whole(map.greatest) +
                       " dB, mean " + whole(map.mean) + " dB, from " + counted(heard.sources.size(), "loudspeaker");
    if (room.wanted_dba) text += "; wanted " + rounded(room.wanted_dba->value(), 1) + " dB(A)";
    if (heard.left_out > 0) text += "; " + std::to_string(heard.left_out) + " more left out";
    return text + ".";
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
                  .cells = std::move(steps.cells),
                  .spots = {},
                  .key = {}};
    // Until shades carry messages.
    std::transform(steps.key.begin(), steps.key.end(), shades.key.begin(),
                   [](const Message& key) { return in_english(key); });
    for (const Source& source : heard->sources) shades.spots.push_back({source.at.x.value(), source.at.y.value()});
    const std::string caption = caption_of(view, room, map, *heard);
    return Figure{std::move(shades), caption, "Level over the floor of " + caption};
}

}  // namespace

void level_section(const View& view, Blocks& blocks) {
    std::vector<Figure> figures;
    for (const std::uint32_t room : view.rooms)
        if (std::optional<Figure> figure = map_of(view, room)) figures.push_back(std::move(*figure));
    if (figures.empty()) return;
    blocks.push_back(Heading{2, "Direct level over the floors"});
    add_in_pairs(std::move(figures), blocks);
    blocks.push_back(Paragraph{
        "The level at the listeners' ears, with full line voltage, taps as recorded (planned ones where nothing hangs "
        "yet) and "
        "knobs as left. Counted are loudspeakers that look straight down and whose place, tap and type are known. Left "
        "out are reverberation, shadows and the music itself. Not a design for an emergency or fire system.",
        document::Tone::plain});
}

}  // namespace tapwright::sheet
