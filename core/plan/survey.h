// Survey: from a room's sizes and noise and one type of loudspeaker to how many, where, on which tap and how many
// watts.
//
// It is arithmetic for direct sound from loudspeakers that look straight down (coverage.h, level_map.h). What it leaves
// out it says in words: reverberation, shadows, aim. It is not a design for emergency or fire systems, and says that
// too. Definitions and sources: docs/calculations.md, "Survey".
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/derive/derived.h"
#include "core/plan/level_map.h"

namespace tapwright {

struct SurveyRequest {
    Grid grid = Grid::square;
    LayoutRule rule = LayoutRule::gapless;
    // The level wanted at the ears; absent: the room's wanted_dba, else its noise_dba and this margin over it (paging
    // is set 10 to 15 dB over the noise, background music about 6: common practice, no single source).
    std::optional<SoundLevel> wanted{};
    Decibels margin{10};
    // For its line voltage; absent: the zone that serves the room already, else the job's line voltage.
    std::optional<Id> zone{};
};

struct SurveyLayout {
    Grid grid = Grid::square;
    LayoutRule rule = LayoutRule::touching;
    Metres spacing{0};  // the widest this rule allows
    double count = 0;   // loudspeakers over the room's floor; a whole number
    // The share of the floor in no circle, 0 to 1; absent: more loudspeakers than a room ever holds.
    std::optional<double> uncovered{};
};

struct SurveyTap {
    Watts tap{0};         // as marked
    Watts drawn{0};       // from the line, by one loudspeaker
    SoundLevel one{0};    // direct level of one loudspeaker at the ears straight below it
    SoundLevel room{0};   // of all of the chosen layout: the mean of the energy over the floor
    bool allowed = true;  // within the type's max_w
};

// A zone that could carry them.
struct SurveyZone {
    Id zone;
    Watts keeps{0};  // what may still be added there afterwards; negative: so much is missing
    bool serves_room = false;
};

// Where none of them can: the one that comes nearest, and what it lacks.
struct ClosestZone {
    Id zone;
    Watts short_by{0};
};

struct Survey {
    Id room;
    Id type;
    SurveyRequest request;
    Volts line_v{0};
    Metres ears{0};
    bool ears_assumed = false;          // the room does not say: standing people are taken
    Metres drop{0};                     // from the loudspeakers down to the ears
    Metres diameter{0};                 // of the circle one loudspeaker covers there
    std::vector<SurveyLayout> layouts;  // square then staggered, each touching, gapless, double
    Rows chosen;
    std::vector<Spot> spots;         // in the room's plan, in the order a cable goes
    Gaps gaps;                       // what of the floor no circle reaches
    std::size_t fitted_already = 0;  // loudspeakers of the room in the record; the answer does not count on them
    LevelMap one_watt;               // of the chosen layout with 1 W into each; a tap lifts all of it alike
    Decibels endless{0};             // the spread far from walls; one_watt.spread() counts the corners
    std::vector<SurveyTap> taps;     // ascending
    std::optional<SoundLevel> wanted;
    std::optional<std::size_t> tap;      // in `taps`: the smallest that reaches the wanted level
    std::optional<std::size_t> highest;  // in `taps`: the highest that is allowed
    std::optional<Decibels> over;   // the level on `tap`, else on `highest`, over what is wanted; negative: too quiet
    std::optional<Watts> watts;     // for the room, on `tap`
    std::vector<SurveyZone> zones;  // for these watts; those that serve the room first, then by what they keep
    std::optional<ClosestZone> closest;  // where no zone can carry them
    // Why a zone is not proposed though it serves the room, or none is: its headroom is not known. A whole sentence
    // that says what to record.
    std::optional<Message> unknown;
    // What is more than this over the wanted level is too loud: two steps of common taps.
    static constexpr Decibels much{6};
    bool is_too_loud() const { return tap && over && *over > much; }
};

// Requires: `derived` is derive(job).
// Errors: a room or type that is not there, lacks a figure, or that this arithmetic does not fit; a floor that would
// take more than 2000 loudspeakers.
Result<Survey> survey(const Job& job, const Derived& derived, const Id& room, const Id& type,
                      const SurveyRequest& request = {});

// The level map with every loudspeaker on that tap. Requires: tap < survey.taps.size().
LevelMap map_on_tap(const Survey& survey, std::size_t tap);

// ---- the answer as planned points ----

struct PlanRequest {
    Watts tap{0};                // one of the type's
    std::optional<Id> fed_from;  // a zone or a point; absent: where they are fed from is not known yet
    // Makes an id that is not in use; each point is then fed from the one before. Absent, or without fed_from: all from
    // fed_from, and the records get their ids when they are made.
    std::function<Id()> new_id{};
    std::string prefix = "C-";  // of the labels; they go on after the highest number in use
};
// The zone they are proposed for: of those that can carry them the one asked for, else the first.
std::optional<Id> zone_for(const Survey& survey);

// Errors: fed_from is no zone or point; the type has no such tap.
Result<ChangeList> planned_points(const Job& job, const Survey& survey, const PlanRequest& request);

// ---- a room as it is recorded ----

// The loudspeakers of a room whose place, tap and type's level and cone are known, with the watts they get at the
// positions as left (each 1 W instead where `one_watt` is set). `left_out`: how many loudspeakers of the room are not
// among them.
struct RoomSources {
    Floor floor;
    std::vector<Source> sources;
    std::size_t left_out = 0;
};
// Errors: no such room, or one without sizes.
Result<RoomSources> sources_of_room(const Job& job, const Derived& derived, const Id& room, bool one_watt = false);

// The height of the listeners' ears where the room does not say: standing (common practice; on the safe side, because
// circles are smaller up there).
inline constexpr Metres standing_ears{1.6};

}  // namespace tapwright
