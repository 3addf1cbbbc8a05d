#include "core/plan/survey_room.h"

#include "core/calc/drawn.h"
#include "core/plan/survey.h"
#include "core/units/unit.h"

namespace tapwright {
namespace {

// What is nearer than a centimetre is at the ears: a level would only be a division by almost nothing.
constexpr Metres least_drop{0.01};

Argument named(const Job& job, const Id& id) {
    return entered(name_of(job, id));
}

}  // namespace

Result<RoomFigures> figures_of(const Job& job, const Id& id) {
    const Room* room = job.find<Room>(id);
    if (!room) return no_room(id);
    const std::vector<Named> here{{"room", named(job, id)}};
    if (!room->length_m)
        return Refusal{Message(Pattern("{room} has no length recorded. Enter it, for example 8 m."), here)};
    if (!room->width_m)
        return Refusal{Message(Pattern("{room} has no width recorded. Enter it, for example 5 m."), here)};
    if (!room->height_m)
        return Refusal{Message(Pattern("{room} has no ceiling height recorded. Enter it, for example 2.8 m."), here)};
    RoomFigures figures{.floor = {*room->length_m, *room->width_m}};
    figures.ears_assumed = !room->ear_height_m;
    figures.ears = room->ear_height_m.value_or(standing_ears);
    figures.drop = *room->height_m - figures.ears;
    if (figures.drop >= least_drop) return figures;
    const std::vector<Named> heights{
        {"room", named(job, id)}, {"loudspeakers", *room->height_m}, {"ears", figures.ears}};
    return Refusal{
        figures.ears_assumed
            ? Message(Pattern("{room} has its loudspeakers at {loudspeakers}, not above the ears of people standing "
                              "({ears}). Correct the height, or enter the height of the ears."),
                      heights)
            : Message(
                  Pattern("{room} has its loudspeakers at {loudspeakers}, not above the ears at {ears}. Correct one "
                          "or the other."),
                  heights)};
}

Result<TypeFigures> figures_of_type(const Job& job, const Id& id) {
    const SpeakerType* type = job.find<SpeakerType>(id);
    if (!type) return no_type(id);
    const std::vector<Named> here{{"type", named(job, id)}};
    if (type->mount == Mount::wall)
        return Refusal{Message(Pattern("{type} is for walls and looks along the room. A survey needs one that looks "
                                       "straight down: choose a ceiling or pendant type."),
                               here)};
    if (type->mount == Mount::horn)
        return Refusal{Message(Pattern("{type} is a horn and looks along the room. A survey needs one that looks "
                                       "straight down: choose a ceiling or pendant type."),
                               here)};
    if (!type->sens_db)
        return Refusal{
            Message(Pattern("{type} has no level for 1 W at 1 m recorded. Enter it, for example 90 dB."), here)};
    if (!type->cone_deg)
        return Refusal{Message(Pattern("{type} has no coverage angle recorded. Enter it, for example 90°."), here)};
    return TypeFigures{SoundLevel(type->sens_db->value()), *type->cone_deg};
}

Refusal no_room(const Id& id) {
    return {Message("There is no room with the id {id} in this job.", {{"id", code(id.text())}})};
}

Refusal no_zone(const Id& id) {
    return {Message("There is no zone with the id {id} in this job.", {{"id", code(id.text())}})};
}

Refusal no_type(const Id& id) {
    return {Message("There is no loudspeaker type with the id {id} in this job.", {{"id", code(id.text())}})};
}

Refusal no_taps(const Job& job, const Id& type) {
    return {Message("{type} has no taps recorded. Enter them with the type, for example 1.25, 2.5 and 5 W.",
                    {{"type", named(job, type)}})};
}

Refusal no_such_tap(const Job& job, const SpeakerType& type, Watts tap) {
    return {Message("{type} has no tap of {tap}. Choose one of its taps: {taps}.",
                    {{"type", named(job, type.id)},
                     {"tap", tap},
                     {"taps", series(type.taps_w.value_or(std::vector<Watts>()), Series::Last::with_or)}})};
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
