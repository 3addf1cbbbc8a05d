#include "core/plan/survey_room.h"

#include "core/base/text.h"
#include "core/calc/drawn.h"
#include "core/plan/survey.h"
#include "core/job/field_text.h"
#include "core/units/show.h"

namespace tapwright {
namespace {

std::string named(const Job& job, const Id& id) {
    return cited(name_of(job, id));
}

Refusal lacks(const Job& job, const Id& id, std::string_view what, std::string_view example) {
    return {named(job, id) + " has no " + std::string(what) + " in the record; record it, for example " +
            std::string(example) + "."};
}

}  // namespace

Result<RoomFigures> figures_of(const Job& job, const Id& id) {
    const Room* room = job.find<Room>(id);
    if (!room) return Refusal{"There is no room with the id " + id.text() + " in this job."};
    if (!room->length_m) return lacks(job, id, "length", "8 m");
    if (!room->width_m) return lacks(job, id, "width", "5 m");
    if (!room->height_m) return lacks(job, id, "height of the loudspeakers", "2.8 m");
    RoomFigures figures{.floor = {*room->length_m, *room->width_m}};
    figures.ears_assumed = !room->ear_height_m;
    figures.ears = room->ear_height_m.value_or(standing_ears);
    figures.drop = *room->height_m - figures.ears;
    if (!(figures.drop > Metres(0))) {
        const LengthUnits units = length_units(job);
        return Refusal{named(job, id) + " has its loudspeakers at " + show(*room->height_m, units) +
                       " and the listeners' ears at " + show(figures.ears, units) +
                       (figures.ears_assumed ? " (standing, because no other height is recorded)" : "") +
                       "; the loudspeakers must hang above the ears."};
    }
    return figures;
}

Result<TypeFigures> figures_of_type(const Job& job, const Id& id) {
    const SpeakerType* type = job.find<SpeakerType>(id);
    if (!type) return Refusal{"There is no loudspeaker type with the id " + id.text() + " in this job."};
    if (type->mount == Mount::wall || type->mount == Mount::horn)
        return Refusal{
            named(job, id) + " is mounted as " + std::string(word(*type->mount)) +
            " and looks along the room; this survey is for loudspeakers that look straight down, so choose a "
            "ceiling or pendant type."};
    if (!type->sens_db) return lacks(job, id, "level for 1 W at 1 m", "90 dB");
    if (!type->cone_deg) return lacks(job, id, "coverage angle", "90 degrees");
    return TypeFigures{*type->sens_db, *type->cone_deg};
}

Watts delivered_by_tap(Watts marked, const SpeakerType* type, Volts line) {
    if (!type || !type->taps_v) return marked;
    const double ratio = line / *type->taps_v;
    return Watts(std::min(marked.value() * ratio * ratio, largest_watts));
}

std::optional<SoundLevel> wanted_in(const Room& room, Decibels margin) {
    if (room.wanted_dba) return room.wanted_dba;
    if (room.noise_dba) return *room.noise_dba + margin;
    return std::nullopt;
}

}  // namespace tapwright
