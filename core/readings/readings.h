// What a reading means: measured impedance against the line's physics. Verdicts, bands and limits are defined in
// docs/calculations.md, "Readings"; the thresholds are common practice, no single source, except that a loudspeaker may
// fall to 80 % of its rated impedance and so draw 1.25 times its tap (IEC 60268-5, from memory).
#pragma once

#include "core/calc/line_state.h"
#include "core/readings/judgement.h"

namespace tapwright {

// Judges a reading that is not in the job, against all of the record: a dry run, or figures while they are typed.
// `judged`: of this job. Linear in points and readings.
Judgement judge(const Job& job, const Judged& judged, const Reading& draft);

// What the record expects where and as a draft is taken, of what is connected and whose tap is known: infinite where
// that is nothing, absent where `at` is no place on a line.
std::optional<Ohms> expected_of(const Job& job, const Reading& draft);

// Insulation below which something is said: common practice, no single source.
inline constexpr double least_insulation_ohms = 1e6;

// ---- used by derive() ----

// Frequency at which transformer models count when nothing else is said.
Hertz test_frequency(const Job& job);

// Fills `readings`, and of each zone what is unrecorded, by which reading, and whether some tap is in no reading.
// `as_left`: the lines solved at test_frequency(). Linear in the readings; a reading under other conditions than
// as_left costs one more solution of its zone.
void judge_readings(const Job& job, const Wiring& wiring, const LineState& as_left, Judged& judged);

}  // namespace tapwright
