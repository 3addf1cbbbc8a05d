// Fit: tap settings that make room in a zone for what is to be added.
//
// It promises watts, so it refuses where the headroom is not known, and says what to record. Loudspeakers without a tap
// that a valid reading covers are inside what it shows beyond the record: they stay as they are.
//
// The best there is, not a good guess: every aim is solved exactly, unless too many different taps make that take too
// long; then it is the best found, and says so (fit_solve.h). What holds: the limits of zone,
// output and amplifier less their reserve and less what a reading shows beyond the record, the rating of every
// attenuator on the way, the taps each type has, and the most it may be given. Levels count every attenuator at 0 dB
// and leave the cable out, so a tap's level is 10 lg of its watts. Definitions: docs/calculations.md, "Making room".
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/derive/derived.h"

namespace tapwright {

// fewest: re-tap the fewest loudspeakers (a plan that is not fitted yet is changed on paper); among these the least
//         worst change in dB, then the least sum of squared dB.
//
// level:  the least worst change of any loudspeaker's level from today's, then the least sum of squared dB.
//
// wanted: the same, from the level wanted in each loudspeaker's room.
enum class Aim : std::uint8_t { fewest, level, wanted };
// The key of the command line and of `--json`; words for people: core/words/choices.h.
std::string_view word(Aim aim);
inline Argument as_argument(Aim aim) {
    return Choice{"Aim", word(aim)};
}

struct FitAddition {
    Id type;
    std::size_t count = 1;         // equal ones: all get the same tap
    std::optional<Watts> tap{};    // as marked; absent: any tap of the type
    std::optional<Id> room{};      // for the aim "wanted"
    std::optional<Id> fed_from{};  // a point of the zone; absent: the zone itself, before every attenuator
};

struct FitRequest {
    Id zone;
    std::vector<FitAddition> add{};
    std::vector<Aim> aims{Aim::fewest, Aim::level, Aim::wanted};
    Decibels margin{10};      // over a room's noise where its wanted_dba is absent
    std::vector<Id> leave{};  // loudspeakers of the zone that keep their taps
};

struct FitChange {
    Id point;
    Watts from{0};
    Watts to{0};
    Decibels change{0};
};

struct FitAdded {
    std::size_t addition = 0;  // in FitRequest::add
    Watts tap{0};
};

struct FitOption {
    Aim aim = Aim::fewest;
    std::vector<FitChange> changes;  // in record order
    std::vector<FitAdded> added;
    bool is_proven = true;          // false: the best found, but a better one may exist
    Watts load{0};                  // of the zone, afterwards, as recorded
    Watts unrecorded{0};            // drawn beside it, according to a reading
    std::optional<Watts> headroom;  // of the zone, afterwards
    Watts can_add{0};               // the least on the way to the amplifier, afterwards
    std::size_t visits = 0;         // loudspeakers that are fitted and have to be re-tapped
    Decibels worst{0};              // the farthest any loudspeaker is from what the aim holds to; negative: quieter
    std::optional<Id> worst_at;     // that loudspeaker; absent where none is off, or it is an added one
    bool worst_is_given = false;    // no tap it has would bring it closer: not the choice decides, but what is fitted
    // Its level wanted is out of reach: worst_is_given, and `worst` is more than a step of taps. Taps go in steps of
    // about 3 dB, so up to half of one is what choosing among them costs.
    bool is_out_of_reach = false;
};

// Why there is no option.
enum class Misfit : std::uint8_t { none, zone_limit, attenuator_rating };

// Fewer watts for what is to be added, so that it does fit: as many on the highest tap that leaves room, else as many
// on the tap asked for as there is room for.
struct FitOffer {
    std::size_t addition = 0;  // in FitRequest::add
    std::size_t count = 0;
    Watts tap{0};
};

struct Fit {
    std::vector<FitOption> options;  // one for each aim asked for; empty: it cannot be done
    Misfit misfit = Misfit::none;    // then: what is too small
    // By so much, with every loudspeaker that may be changed on its lowest tap, and new ones on the tap asked for.
    std::optional<Watts> missing;
    std::optional<Id> missing_at;   // the zone, or the attenuator
    std::optional<FitOffer> offer;  // where a tap is asked for: what would fit instead
    std::vector<Message> remarks;   // what was taken as it is, or could not be counted; whole sentences
};

// Requires: `derived` is derive(job).
// Errors: no such zone, type or room; a low-impedance zone; a fire or emergency line; a limit, or a tap that no reading
// covers, unknown on the way to the amplifier; a tap the type does not have or may not be given; a place to feed from
// that is not in the zone, or a loudspeaker to leave as it is that is not.
Result<Fit> fit(const Job& job, const Derived& derived, const FitRequest& request);

// An option as changes to the job: taps set (tap_w, or planned_tap_w where only that is recorded), and planned
// loudspeakers without a place in the plan. They are labelled as the one they are fed from and go on after the highest
// number in use: "C-134" behind "C-133"; where that has no such label, as "new 1".
// `new_id` makes an id that is not in use; each new one of an addition is then fed from the one before. Absent: all are
// fed from the same, and get their ids when the records are made.
ChangeList changes_of(const Job& job, const FitRequest& request, const FitOption& option,
                      const std::function<Id()>& new_id = {});

// Where one more loudspeaker of a room is fed from with the least cable to pull: the last of the room's points on the
// zone's line that feeds nothing yet. Nothing where the room has none there. Requires: `derived` is derive(job).
std::optional<Id> branch_end(const Job& job, const Derived& derived, const Id& zone, const Id& room);

}  // namespace tapwright
