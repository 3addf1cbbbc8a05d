// One reading thought through: the steps between a reading and its Judgement.
#pragma once

#include "core/readings/newest.h"
#include "core/readings/outlook.h"
#include "core/readings/readings.h"

namespace tapwright {

// Between these frequencies a loudspeaker line is taken as its nominal impedance (common practice, no single source).
inline constexpr Hertz lowest_plain_hz{300};
inline constexpr Hertz highest_plain_hz{1500};
// Off its baseline under other conditions (meter, frequency, positions, override): a wider allowance.
inline constexpr Percent other_conditions_pct{10};

struct Assessment {
    std::optional<Outlook> outlook;  // nothing where `at` names no place on a line
    SolveOptions options;            // how the attenuators stood, and the frequency
    // What the record expects, siemens: of what is connected and whose tap is known, and of all, absent where some tap
    // is not known.
    double known_s = 0;
    std::optional<double> expected_s;
    double measured_s = 0;        // infinite for a reading of 0 ohm
    bool plain_frequency = true;  // the reading's frequency is one the record can speak for
    double drift = 0;             // off its baseline, as a ratio; where judgement.baseline is there
    double drift_allowed = 0;
    Judgement judgement;
};

// How the line stood while it was read.
SolveOptions conditions_of(const Job& job, const Reading& reading);

// How many points were in the record before reading `place` of the job.
std::uint32_t points_before(const Job& job, std::uint32_t reading);

// Whether a reading is one that is judged at all: ohms, a place, and a value or "over range".
bool is_judged(const Reading& reading);
bool is_over_range(const Reading& reading);
// Why a reading is not even held against the record: it is not judged, or its place is not on a line.
Unjudged why_not_compared(const Reading& reading);
// What was expected when it was taken, in siemens, where that was written down.
std::optional<double> expected_then(const Reading& reading);
// Whether later readings are compared with it: marked so, and valid.
bool is_baseline(const Reading& reading, const Judgement& judgement);

// What to compare a reading with, and what was expected of that.
struct BaselineGiven {
    std::size_t reading = 0;
    std::optional<Ohms> expected;
};

// A reading thought through in two halves. In between, set what the record expects (set_expected) and what is known of
// stray volts (judgement.stray). Requires: is_judged(reading).
Assessment begin_assessment(const Job& job, const Reading& reading, Outlook outlook);
void finish_assessment(const Job& job, const Reading& reading, const std::optional<BaselineGiven>& baseline,
                       Assessment& assessment);
// `known_s`: what is connected and known now, or was when the reading was taken.
void set_expected(double known_s, Assessment& assessment);

}  // namespace tapwright
