// What survey.cpp and fit.cpp ask of a room and a type. Used inside core/calc alone.
#pragma once

#include "core/plan/level_map.h"
#include "core/job/job.h"

namespace tapwright {

// A room's figures, or the sentence that names the one that is missing.
struct RoomFigures {
    Floor floor;
    Metres ears{0};
    bool ears_assumed = false;
    Metres drop{0};
};
Result<RoomFigures> figures_of(const Job& job, const Id& room);

// What a type says of its sound. Errors: the sentence that names what is missing, or why it does not fit.
struct TypeFigures {
    SoundLevel sensitivity{0};
    Degrees cone{0};
};
Result<TypeFigures> figures_of_type(const Job& job, const Id& type);

// The watts that reach the loudspeaker when its tap is marked `marked`: what counts for its level.
Watts delivered_by_tap(Watts marked, const SpeakerType* type, Volts line);

// The highest number that a point's label has behind `prefix`; 0: none.
std::uint32_t highest_number(const Job& job, std::string_view prefix);

// The level wanted in a room: its own, else its noise and the margin.
std::optional<SoundLevel> wanted_in(const Room& room, Decibels margin);

}  // namespace tapwright
