// Parts of the page that finds a fault: where it may be on the line, a tap that somebody looks at, what is heard.
#pragma once

#include <string_view>
#include <vector>

#include "core/faults/next_measurement.h"
#include "ui/screens/common/shared.h"
#include "ui/screens/common/zone_line.h"

namespace tapwright::ui {

// Where the first `shown` causes are, the likeliest first: each point once, with the chance of all that is at it.
std::vector<Suspect> suspects_of(const Job& job, const Diagnosis& diagnosis, std::size_t shown);

// The taps of that loudspeaker's type as keys, and its bypass setting: which was found. Recorded as found and as it is,
// one step. Marks NAME.0 ..., NAME.bypass. Requires: the point is in the job. Returns: whether one was touched.
bool found_tap(Context& context, Shared& shared, std::string_view name, const Id& point);

// How a loudspeaker was heard, in one step.
void set_heard(Context& context, Shared& shared, const Id& point, Heard heard);

// The two answers to what is to be heard next, as keys of the foot: marks fault.plays and fault.silent; of several
// fault.all_play, and fault.some_silent, which opens the walk test. Requires: next.asked is heard.
void heard_keys(Context& context, Shared& shared, const Measurement& next);

}  // namespace tapwright::ui
