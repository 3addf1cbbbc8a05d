// What is still to be done at a loudspeaker, on every screen and sheet alike. `emergency`: it is on a fire or emergency
// line, which is left alone.
#pragma once

#include "core/job/job.h"

namespace tapwright {

// Recorded as planned, or with its cable only.
bool is_to_be_fitted(const Point& point, bool emergency);

// Connected, and nobody listened to it yet.
bool is_to_be_heard(const Point& point, bool emergency);

// On a line, and nobody has seen its tap.
bool has_tap_to_be_seen(const Point& point, bool emergency);

}  // namespace tapwright
