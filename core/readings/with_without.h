// With and without: the load between two readings of one place, one with a loudspeaker on the line and one without it.
// That finds a tap nobody can see, as far as the meter is good enough to tell its type's taps apart.
//
// W = V^2 (1/Z1 - 1/Z2), and both readings may be off by the meter's accuracy, each for itself:
// error = V^2 p/100 sqrt(1/Z1^2 + 1/Z2^2). Common practice, no single source.
#pragma once

#include <optional>
#include <vector>

#include "core/job/job.h"
#include "core/readings/judgement.h"

namespace tapwright {

// A tap of the loudspeaker's type: what it is marked, what it draws at the line voltage, and whether that lies within
// twice the error of what was found.
struct TapBetween {
    Watts tap{0};
    Watts drawn{0};
    bool within = false;
};

struct LoadBetween {
    Watts watts{0};  // of what was taken off the line; negative where it drew more without it
    Watts error{0};
    std::vector<TapBetween> taps;         // of its type, as the type has them
    std::optional<std::size_t> proposed;  // in `taps`: the only one within twice the error
};

// `meter`: the accuracy of both, the worse of the two. `type` may be null (unknown). An open line is infinite ohms.
// Requires: line > 0, with > 0, without > 0, meter > 0.
LoadBetween load_between(Volts line, Ohms with, Ohms without, Percent meter, const SpeakerType* type);

// How far the meter of a reading may be off.
Percent meter_accuracy(const Reading& reading);

// The latest valid reading of ohms at that place, in job.all<Reading>(); an open line is none.
std::optional<std::uint32_t> latest_valid_at(const Job& job, const Judged& judged, const Id& at);

// Whether both were taken on one stay: of one visit; without visits, on one day.
bool is_same_stay(const Reading& one, const Reading& other);

// Why two readings say nothing about a loudspeaker.
enum class PairFault : std::uint8_t {
    none,
    without_unusable,  // the one without it shows nothing: not judged, or no figure
    no_reading_with,   // no valid one at the same place before
    without_unproven,  // nobody noted that both conductors were disconnected when the one without it was taken
    record_changed,    // other loudspeakers or positions are recorded now than when the one with it was taken
    other_conditions,  // another frequency, another override, other positions
};

struct ReadingPair {
    PairFault fault = PairFault::none;
    std::optional<std::uint32_t> with;  // in job.all<Reading>(), where there is one
    // Where there is no fault.
    Ohms with_ohms{0};
    Ohms without_ohms{0};  // infinite: over range
    LoadBetween between;
};

// Holds a reading that was taken without `speaker` against the latest valid one of the same place. `job`, `judged`: the
// record, with the loudspeaker on its line. `now`, `judgement`: the reading without it, which is not in the job, judged
// against the record without the loudspeaker.
// Requires: `speaker` is a point of the job.
ReadingPair pair_without(const Job& job, const Judged& judged, const Id& speaker, const Reading& now,
                         const Judgement& judgement);

}  // namespace tapwright
