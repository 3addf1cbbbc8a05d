// One zone as the search for faults sees it: its line under each of the conditions it was read in, what was read and
// heard of it, and all that could be wrong with it.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "core/base/result.h"
#include "core/calc/wiring.h"
#include "core/faults/cause.h"
#include "core/faults/weights.h"
#include "core/job/job.h"
#include "core/readings/judgement.h"

namespace tapwright {

struct HeardNow {
    Id point;
    Heard heard = Heard::ok;
};

// A tap somebody looked at.
struct TapSeen {
    Id point;
    Watts tap{0};  // 0: on its low-impedance setting
};

// What a loudspeaker draws, found by reading one place with it and without it (core/readings/with_without.h).
struct LoadSeen {
    Id point;
    Watts watts{0};
    Watts error{0};  // as far as the meter may be off
};

struct FaultQuestion {
    Id zone;
    // What else was read or heard, not in the job. It holds instead of what the job says of the same place.
    std::vector<Reading> with;
    std::vector<HeardNow> heard;
    std::vector<TapSeen> taps;
    std::vector<LoadSeen> loads;
    FaultWeights weights{};
    FaultSpreads spreads{};
};

// The line as it stood while something was read.
struct Condition {
    std::unique_ptr<LineEffects> effects;
    bool is_dc = false;
    KnobMap knobs;  // as given with the reading
    std::vector<LineTree<double>::Special> networks;
};

// One reading of ohms, at 1 kHz or d.c., in terms of rows.
struct Look {
    std::optional<std::uint32_t> reading;  // in job.all<Reading>(); absent: of FaultQuestion::with
    std::uint32_t taken = 0;               // so many were before it, by MomentsTaken; what is not in the job is last
    Id at;
    Measured quantity = Measured::ohms;
    double ohms = 0;
    bool is_over_range = false;
    double range = 0;
    double meter = 0.01;     // standard deviation, a share
    bool is_before = false;  // taken while all was as recorded: a baseline
    std::uint32_t condition = 0;
    WatchedRow row;
};

// Volts under a tone, as a share of those at the zone where these were read on the same stay.
struct VoltsLook {
    std::optional<std::uint32_t> reading;
    Id at;
    double volts = 0;
    std::optional<double> source;
    double meter = 0.01;
    WatchedRow row;
};

struct FaultLine {
    Wiring wiring;
    std::uint32_t zone = nowhere;
    Id zone_id;
    Volts line_v{0};
    FaultSpreads spreads;
    FaultWeights weights;
    std::vector<LineRow> rows;  // by position in wiring.order from the zone's first: incoming terminals
    // Attenuators of which nobody noted where they stand: the position that what was read and heard speaks for most, of
    // then and of now. What is noted with a reading goes before it.
    KnobMap assumed;
    std::vector<Condition> conditions;  // the first: as left
    // Of each attenuator that is not off: the condition with it switched off, else turned down as far as it goes.
    std::vector<std::pair<std::uint32_t, std::uint32_t>> turned;
    std::vector<Look> looks;  // those of before first
    double meter_times = 1;   // how far meters stray, times what is said of them, as all causes have it
    std::vector<VoltsLook> volts;
    std::vector<std::pair<std::uint32_t, Watts>> taps;      // by point: as it was seen now
    std::vector<std::pair<std::uint32_t, LoadSeen>> loads;  // by point
    std::optional<bool> insulated;  // by the latest reading: above or below what is said to be low
    std::optional<bool> parted;     // the same to other lines
    std::optional<std::uint32_t> insulation_reading;
    std::optional<std::uint32_t> parting_reading;
    std::vector<std::optional<Heard>> heard;    // by position from the zone's first, of what is connected
    std::vector<std::uint32_t> playing_before;  // sums of them over positions before
    std::vector<std::uint32_t> silent_before;
    std::vector<Cause> causes;  // the first: none
    std::uint32_t places = 0;
    std::uint32_t unknown_taps = 0;

    std::vector<std::optional<Watts>> tap_w;  // by position from the zone's first, as recorded

    std::optional<Watts> recorded_tap(std::uint32_t point) const {
        return tap_w[wiring.position[point] - wiring.zones[zone].first];
    }
    LineRow row_of(std::uint32_t point) const { return rows[wiring.position[point] - wiring.zones[zone].first]; }
};

// Errors: the zone is not one of the job, is a fire or emergency line, has nothing connected, no tap is known, or
// nothing was read or heard of it.
Result<FaultLine> fault_line(const Job& job, const Judged& judged, const FaultQuestion& question);

// The condition of an attenuator standing otherwise; made where there is none like it.
std::uint32_t condition_for(const Job& job, FaultLine& line, const KnobMap& knobs, bool override_active, bool is_dc);

// The weights as the job has them: "joint=3, dead=0.5" in its settings makes joints three times likelier and dead
// loudspeakers half as likely. Errors: a part of it is no kind, or no number from 0.01 to 100.
Result<FaultWeights> weights_for(const Job& job, FaultWeights weights);

// ---- used by fault_line() ----
// Attenuators whose position is neither recorded nor fixed, those with the most watts behind them first.
std::vector<std::uint32_t> unnoted_attenuators(const Job& job, const FaultLine& line);
// Logarithm of how likely all that was read and heard is, whatever is wrong.
double log_evidence(const FaultLine& line);
void add_evidence(const Job& job, const Judged& judged, const FaultQuestion& question, FaultLine& line);
void add_causes(const Job& job, FaultLine& line);
void add_turned(const Job& job, FaultLine& line);

}  // namespace tapwright
