// What a point is fed from, asked for by a list of zones and points.
#pragma once

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// Opens the list; what is picked there is recorded at once. Requires: the point is in the job.
void ask_what_feeds(Context& context, Shared& shared, const Id& point);

}  // namespace tapwright::ui
