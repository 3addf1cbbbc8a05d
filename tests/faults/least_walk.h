// The least that anybody could do on a simulated line, however the measurements are chosen: what a way of choosing is
// held against before more is asked of it than there is.
#pragma once

#include "tests/faults/walk.h"

namespace tapwright::test {

// Whether any measurements that cost less than `minutes` make a place sure, and not only those that somebody would
// choose who does not know yet: all answers are known before, and whoever listens to one loudspeaker has heard all of
// them. DC ohms are read at the zone, readings, taps and ladders are those of walk_to_fault().
// Requires: a line without rooms and attenuators.
bool could_be_sure_within(const SimulatedLine& line, double minutes);

}  // namespace tapwright::test
