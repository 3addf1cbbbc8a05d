// Zone balance: a zone nobody has records of, or not all of them, summed up from the reading its account rests on: what
// it draws, how sure that is, how much of it is recorded, and what may be added.
//
// A reading of the impedance is no reading of the taps: a loudspeaker's impedance lies within ohms_tol_pct of what its
// tap says, so watts that were measured stand for taps of measured x (1 -/+ tolerance) (IEC 60268-5 allows 20 %, as a
// glossary has it). Definitions: docs/calculations.md, "Unknown systems".
#pragma once

#include "core/job/job.h"
#include "core/readings/judgement.h"

namespace tapwright {

struct ZoneBalance {
    Id zone;
    bool emergency = false;         // a fire or emergency line: nothing below is said
    bool low_impedance = false;     // taps and watts say nothing there; all below is absent
    std::optional<Id> reading;      // the latest that is believed; absent: nobody read it, or none can be believed
    bool is_proven = false;         // that one was taken with the amplifier disconnected
    bool is_whole = true;           // every tap in it is recorded
    std::optional<Ohms> ohms;       // what it says
    std::optional<Watts> measured;  // line_v^2 / ohms
    std::optional<Watts> least;     // of the taps behind such a reading
    std::optional<Watts> most;
    std::optional<Watts> recorded;     // what the record had of it then, of loudspeakers with a tap
    Watts found{0};                    // recorded since as being there before: part of what was measured
    Watts added{0};                    // recorded since as new (or without an origin): on top of it
    Watts unrecorded{0};               // still unaccounted for
    std::optional<Watts> can_add;      // the zone's
    std::optional<Watts> sure_to_add;  // the same if the taps were the most that fits the reading
    bool read_before = false;          // nothing is known before this zone is read: ask for it
    bool read_after = false;           // something was added since: ask for a new reading
};

// Requires: `judged` holds the figures and readings of `job`; the zone is one of the job's.
ZoneBalance balance_of_zone(const Job& job, const Judged& judged, const Id& zone);

}  // namespace tapwright
