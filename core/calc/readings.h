// What a reading means: measured impedance against the line's physics. Verdicts, bands and limits are defined in
// docs/calculations.md, "Readings"; the thresholds are common practice, no single source, except that a loudspeaker may
// fall to 80 % of its rated impedance and so draw 1.25 times its tap (IEC 60268-5, from memory).
#pragma once

#include <span>
#include <string>

#include "core/calc/line_state.h"

namespace tapwright {

// Judges a reading that is not in the job, against all of the record: a dry run, or figures while they are typed.
Judgement judge(const Job& job, const Reading& draft);

// What a careful technician would write beside it: the figure, what was expected and why, what it proves and what it
// cannot, and where to measure next. Whole sentences, one line.
std::string sentence(const Job& job, const Reading& draft, const Judgement& judgement);
// The same for a reading of the job, against the record as it stood then. Requires: reading < number of readings.
std::string sentence(const Job& job, const Derived& derived, std::size_t reading);

// What to do before measuring, in order: "Switch the amplifier off", ...
std::span<const std::string_view> measuring_cautions();

// ---- used by derive() ----

// Frequency at which transformer models count when nothing else is said.
Hertz test_frequency(const Job& job);

// Fills Derived::readings and each zone's `unrecorded`. `as_left`: the lines solved at test_frequency().
// Linear in the readings; a reading under other conditions than as_left costs one more solution of its zone.
void judge_readings(const Job& job, const Wiring& wiring, const LineState& as_left, Derived& derived);

}  // namespace tapwright
