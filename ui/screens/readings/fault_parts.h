// Parts of the page that finds a fault: where it may be on the line, and a tap that somebody looks at.
#pragma once

#include <string_view>
#include <vector>

#include "core/faults/diagnosis.h"
#include "ui/screens/common/shared.h"
#include "ui/screens/common/zone_line.h"

namespace tapwright::ui {

// Where the first `shown` causes are, the likeliest first: each point once, with the chance of all that is at it.
std::vector<Suspect> suspects_of(const Job& job, const Diagnosis& diagnosis, std::size_t shown);

// The taps of that loudspeaker's type as keys, and its bypass setting: which was found. Recorded as found and as it is,
// one step. Marks NAME.0 ..., NAME.bypass. Requires: the point is in the job. Returns: whether one was touched.
bool found_tap(Context& context, Shared& shared, std::string_view name, const Id& point);

}  // namespace tapwright::ui
