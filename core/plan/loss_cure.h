// What helps against too much cable loss: the next cable size up, or how long the longest run may be. Exact: the zone
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
    ConductorSize to;  // the first that keeps the limit, else the thickest there is
    Decibels loss{0};  // then
};

// The run with the most resistance on the way, all else as it is.
struct ShorterRun {
    Id to;  // the point it feeds
    Metres length{0};
    std::optional<Metres> allowed;  // absent: shortening this run alone does not help enough
};

struct LossCure {
    std::optional<ThickerCable> thicker;  // absent: the cable's size is not known, or the last
    ShorterRun shorter;
};

// For the loudspeaker at `point`; nothing where no run on the way has a resistance. Requires: point is traced.
std::optional<LossCure> loss_cure(const Job& job, const Wiring& wiring, std::uint32_t point, Decibels limit);

}  // namespace tapwright
