// Judgement: what one reading means, as data. core/readings/readings.h makes it; core/words says it.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "core/calc/figures.h"

namespace tapwright {

enum class Verdict : std::uint8_t { not_judged, open, shorted, more_load, less_load, drifted, agrees };
std::string_view word(Verdict verdict);  // "short" for shorted
enum class LimitState : std::uint8_t { ok, warn, stop };
std::string_view word(LimitState state);

// What one reading means. Only readings of ohms at a zone, channel or point are judged.
struct Judgement {
    std::optional<Ohms> expected;  // absent where nothing can be expected (not traced, taps unknown)
    std::optional<Ohms> low;       // the band: expected -/+ ohms_tol_pct
    std::optional<Ohms> high;
    std::optional<Watts> measured;  // V^2/ohms
    std::optional<Watts> expected_w;
    std::optional<Watts> difference;
    // Where the record has changed since the reading so that other ohms are expected under the same conditions: what is
    // expected now. Of the newest reading at a zone alone.
    std::optional<Ohms> expected_now;
    Verdict verdict = Verdict::not_judged;
    LimitState limit = LimitState::ok;
};

// The figures of a job with its readings judged.
struct Judged : Figures {
    std::vector<Judgement> readings;  // one a reading of the job
};

}  // namespace tapwright
