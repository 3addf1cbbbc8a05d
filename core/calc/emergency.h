// Whether a place may be part of a fire, voice-alarm or emergency system: what was recorded when somebody was asked.
#pragma once

#include <optional>

#include "core/calc/figures.h"
#include "core/calc/wiring.h"
#include "core/job/job.h"

namespace tapwright {

// The answer for a zone, an output or a point: yes where it, what feeds it, or anything on the zone or output is part
// of such a system; no where that was said of it or of its zone (of an output: of all its zones). Absent: ask.
// `figures`: of this job. Linear in the points.
std::optional<Answer> emergency_of(const Job& job, const Figures& figures, const Id& at);

// Whether that answer is yes, where only the wiring is known.
bool is_emergency(const Job& job, const Wiring& wiring, const Id& at);

// Whether the question has to come before loudspeakers are added to the zone: it was there before, and nobody has
// answered. A line that we laid ourselves is known.
bool must_ask_before_adding(const Job& job, const Figures& figures, const Id& zone);

}  // namespace tapwright
