// What helps against too much cable loss, each enough by itself: a thicker cable, a thicker home run, or how long the
// longest run may be. Exact: the zone
// is solved again with the thicker cable; the run's length follows from two solutions (core/line/loss.h).
// In words: core/words/loss_cure_text.h.
#pragma once

#include <optional>

#include "core/calc/wiring.h"
#include "core/units/parse.h"

namespace tapwright {

// The cable that the run with the most resistance is of, everywhere one or more sizes thicker.
struct ThickerCable {
    ConductorSize from;
    ConductorSize to;  // the first that keeps the limit
    Decibels loss{0};  // then
};

// The run with the most resistance on the way, all else as it is.
struct ShorterRun {
    Id to;  // the point it feeds
    Metres length{0};
    std::optional<Metres> allowed;  // absent: shortening this run alone does not help enough
};

struct LossCure {
    // Absent: the cable's size is not known, or no thicker one keeps the limit.
    std::optional<ThickerCable> thicker;
    // The home run, from the amplifier to the first point on the way, thicker by itself; absent also where no other run
    // is of that cable, because then it is the same cure.
    std::optional<ThickerCable> home_run;
    Id home_run_to;
    ShorterRun shorter;
};

// For the loudspeaker at `point`; nothing where no run on the way has a resistance. Requires: point is traced.
std::optional<LossCure> loss_cure(const Job& job, const Wiring& wiring, std::uint32_t point, Decibels limit);

}  // namespace tapwright
