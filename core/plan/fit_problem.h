// A zone's loudspeakers and limits as plain numbers to choose among. Used inside core/plan alone.
//
// Watts are whole nanowatts: decimals like 0.63, 1.25 and 2.5 add up exactly, so equal sums are equal.
#pragma once

#include <cstdint>

#include "core/calc/wiring.h"
#include "core/plan/fit.h"

namespace tapwright {

using Nanowatts = std::int64_t;
inline constexpr Nanowatts no_end = INT64_MAX / 4;
Nanowatts nanowatts_of(double watts);
// Marks of the same tap may differ by their rounding: 0.63 and 0.625 W.
bool is_same_tap(Watts a, Watts b);

struct FitChoice {
    Watts marked{0};
    Nanowatts draws = 0;   // all of the slot's together
    double today_db = 0;   // from today's level; of an added one from the tap it should have
    double wanted_db = 0;  // from the level wanted in its room; the same as today_db where none is known
    bool touches = false;  // somebody has to climb up and change it; false also for a plan that nothing hangs by yet
};

// How far a choice is from what the aim holds to, in decibels.
inline double off_of(const FitChoice& choice, Aim aim) {
    return aim == Aim::wanted ? choice.wanted_db : choice.today_db;
}

// One loudspeaker whose tap can be chosen, or all of an addition, which get the same.
struct FitSlot {
    std::uint32_t point = nowhere;   // in job.all<Point>(); nowhere: added ones
    std::size_t addition = 0;        // of added ones
    std::size_t count = 1;           // how many they are
    std::vector<FitChoice> choices;  // by ascending draws; never empty
    bool has_wanted = false;         // what level is wanted of it is known
};

// The zone (node 0) or an attenuator: what hangs behind it before the next attenuator.
struct FitNode {
    std::uint32_t parent = nowhere;
    std::uint32_t point = nowhere;        // the attenuator; nowhere: the zone
    const AttenuatorType* pad = nullptr;  // an L-pad draws more than hangs behind it
    Nanowatts fixed = 0;                  // what hangs here and cannot be chosen
    Nanowatts most = no_end;              // that may hang here, with `rounding`
    Nanowatts rounding = 0;               // by which a sum may come out above its limit (core/units/limit.h)
    std::vector<std::uint32_t> slots;
};

struct FitProblem {
    Volts line_v{0};
    std::vector<FitNode> nodes;    // each after its parent
    std::vector<FitSlot> slots;    // in record order, then the added ones
    std::vector<Message> remarks;  // see Fit
};

// The taps of a type that may be used on that line, by ascending draws; `current`, where there is one, is one of them
// and stays as written, and every other one touches it where it `hangs`. Requires: the type has taps.
std::vector<FitChoice> fit_choices(const SpeakerType& type, Volts line, std::optional<Watts> current, bool hangs);

// What hangs behind a node, as its feed sees it.
Nanowatts load_through(const FitProblem& problem, const FitNode& node, Nanowatts behind);

Result<FitProblem> fit_problem(const Job& job, const Derived& derived, const FitRequest& request);

}  // namespace tapwright
