// Cautions: what to mind before somebody touches a line, at the moment it matters and in the order of the work. One
// table for the window, the command line and the sheets. Prompts, never an approval; each names its source, and says
// "from memory" where the source was not at hand.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "core/derive/derived.h"
#include "core/words/statement.h"

namespace tapwright {

enum class CautionMoment : std::uint8_t {
    dead_reading,     // before an impedance or DC reading
    live_reading,     // volts, stray voltage
    tone,             // a level under tone or pink noise
    insulation,       // a 500 V test
    taking_off,       // a second reading: one loudspeaker is taken off a line that was measured with it
    after_measuring,  // the line is still disconnected
    opening,          // a loudspeaker, or its tap
    adding,           // loudspeakers or cable
    existing_system,  // tracing a line or fitting into one that others made
    walk_test,        // announcements are off meanwhile
    fire_link,        // a link to the fire alarm
    lower_marks,      // taps marked for a lower line voltage
    work_alone,
    owner,
};
inline constexpr std::size_t caution_moment_count = static_cast<std::size_t>(CautionMoment::owner) + 1;

// Whether a caution is something to do, which is ticked off before the work goes on, or only to be known.
enum class CautionStep : std::uint8_t {
    none,        // read, not done
    done,        // to be done
    disconnect,  // done, the line is off the amplifier
    positions,   // done in one of two ways: every attenuator full, or as noted
};

struct Caution {
    std::string_view code;  // "amplifier_off": one for each sentence, for machines
    Message text;
    Message source;
    CautionStep step = CautionStep::none;
};

// In the order of the work. `places`: the zones, outputs, points or rooms that are touched; their rooms' access and
// plenum, wiring class, line voltage and the answer about fire lines decide what is said. No place: the job's line
// voltage, and nothing about rooms.
// Requires: `derived` is derive(job).
std::vector<Caution> cautions_for(CautionMoment moment, const Job& job, const Derived& derived,
                                  std::span<const Id> places);
std::vector<Caution> cautions_for(CautionMoment moment, const Job& job, const Derived& derived, const Id& place);

// The moment before that is measured; nothing for what touches no line.
std::optional<CautionMoment> moment_before(Measured quantity);

// All of them at once, their sources behind "Why".
Statement in_one(std::span<const Caution> cautions);

// "Could this be a fire, voice-alarm or emergency line?", and what then holds.
Message emergency_question();
Statement leave_to_qualified(const Job& job, const Id& place);

}  // namespace tapwright
