// What survey.cpp and fit.cpp ask of a room and a type. Used inside core/plan alone.
#pragma once

#include "core/job/job.h"
#include "core/plan/level_map.h"

namespace tapwright {

// A room's figures, or the message that names the one that is missing.
struct RoomFigures {
    Floor floor;
    Metres ears{0};
    bool ears_assumed = false;
    Metres drop{0};
};
Result<RoomFigures> figures_of(const Job& job, const Id& room);

// What a type says of its sound. Errors: the message that names what is missing, or why it does not fit.
struct TypeFigures {
    SoundLevel sensitivity{0};
    Degrees cone{0};
};
Result<TypeFigures> figures_of_type(const Job& job, const Id& type);

// What both refuse in the same words.
Refusal no_room(const Id& id);
Refusal no_zone(const Id& id);
Refusal no_type(const Id& id);
Refusal no_taps(const Job& job, const Id& type);
Refusal no_such_tap(const Job& job, const SpeakerType& type, Watts tap);

// The watts that reach the loudspeaker when its tap is marked `marked`: what counts for its level.
Watts delivered_by_tap(Watts marked, const SpeakerType* type, Volts line);

// The highest number that a point's label has behind `prefix`; 0: none.
std::uint32_t highest_number(const Job& job, std::string_view prefix);

// The level wanted in a room: its own, else its noise and the margin.
std::optional<SoundLevel> wanted_in(const Room& room, Decibels margin);

}  // namespace tapwright
