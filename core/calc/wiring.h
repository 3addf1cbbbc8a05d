// Wiring: a job's records compiled once into plain arrays: who hangs on whom, in an order in which every feed comes
// before what it feeds. Loads, the line solution and readings all walk these arrays; only wire() looks up ids.
//
// Places are positions in job.all<...>(), `nowhere` where there is none. A Wiring is made for one state of a job and
// is worth nothing after the next change.
#pragma once

#include <cstdint>
#include <vector>

#include "core/calc/drawn.h"
#include "core/calc/figures.h"
#include "core/job/job.h"

namespace tapwright {

struct WiredZone {
    Volts line_v{0};
    bool low_impedance = false;  // its output or its channel is set to low_z
    bool emergency = false;
    std::uint32_t channel = nowhere;
    std::uint32_t amplifier = nowhere;
    std::uint32_t first = 0;  // its points are order[first] .. order[last - 1]
    std::uint32_t last = 0;
};

// What findings ask of a point, so that they need not visit the records again.
struct PointMarks {
    bool polarity_reversed : 1 = false;
    bool heard_badly : 1 = false;
    bool fitted : 1 = false;    // or tested
    bool off_plan : 1 = false;  // its tap is not the planned one (more than 1 % off)
    bool override_tested : 1 = false;
    bool disconnected : 1 = false;
    bool without_position : 1 = false;  // an attenuator of which nobody wrote down where it was left
};

struct WiredPoint {
    std::uint32_t zone = nowhere;  // nowhere: not traced (its chain ends nowhere, dangles or runs in a circle)
    std::uint32_t feed = nowhere;  // the point it is fed from; nowhere: fed from the zone itself, or not traced
    PointKind kind = PointKind::other;
    bool feed_in = false;                  // looped through at its feed's input
    std::uint32_t speaker_type = nowhere;  // one of the two at most, and only where it fits the kind
    std::uint32_t attenuator_type = nowhere;
    Draw draw;                         // of a loudspeaker
    bool connected = false;            // a loudspeaker on the line now: fitted there, wired, traced
    bool emergency = false;            // itself, or a point or zone it is fed through: not computed
    std::uint32_t found_by = nowhere;  // the last reading taken before it came into the record
    double found_w = 0;
    double run_ohm = 0;  // of the pair that feeds it; 0 where its cable or length is not known
    bool run_known = false;
    PointMarks marks;

    // Summed over what hangs behind (branches.h).
    double behind_w = 0;  // tap watts behind an attenuator's output, every attenuator at 0 dB
    Basis behind_basis = Basis::as_built;
    double behind_load_w = 0;  // what it asks of the line for that; more than behind_w only for an L-pad
    double load_w = 0;         // of all that hangs here, itself included: what it adds to its feed's load
    Basis load_basis = Basis::as_built;
    double pad_ohm = 0;  // of an L-pad: as recorded, else the nominal impedance behind; 0: none
};

struct Wiring {
    std::vector<WiredZone> zones;    // parallel to job.all<Zone>()
    std::vector<WiredPoint> points;  // parallel to job.all<Point>()
    // The traced points, zone by zone; each follows its feed, and a whole branch stands together: what hangs on
    // order[i], however far down, is order[i + 1] .. order[branch_end[i] - 1].
    std::vector<std::uint32_t> order;
    std::vector<std::uint32_t> branch_end;
    std::vector<std::uint32_t> position;  // of each point in `order`; nowhere: not traced
    std::vector<double> zone_load_w;      // tap watts with every attenuator at 0 dB
    std::vector<Basis> zone_basis;
    std::vector<std::optional<OhmsPerKm>> cables;  // parallel to job.all<CableType>(): one conductor at cable_c
    std::vector<std::uint32_t> cable_runs;         // parallel to it: the points whose run is of that cable
    bool has_models = false;                       // some traced loudspeaker's type has a transformer model
    bool has_attenuators = false;                  // some traced point is an attenuator
    bool has_planned = false;                      // some traced loudspeaker counts without being connected
};

// Whether a point came into the record after a reading that had not been taken yet (SolveOptions::taken; null: never).
inline bool is_found_later(const WiredPoint& point, const std::vector<bool>* taken) {
    return taken && point.found_by != nowhere && !(*taken)[point.found_by];
}

// Linear in the records, no recursion. Survives loops, dangling ids and whatever else a merge leaves behind.
Wiring wire(const Job& job);

// Whether a type says anything of its transformer (mag_h, leak_h, primary_ohm, secondary_ohm).
bool has_model(const SpeakerType& type);

// One conductor of a cable type at `celsius`: its ohm_per_km, else by its area, else by its gauge; nothing where none
// is recorded, or where the size has no published resistance.
std::optional<OhmsPerKm> conductor_of(const CableType& cable, Celsius celsius);

}  // namespace tapwright
