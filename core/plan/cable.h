// Cable: what a pair of copper costs before any record exists. All the load stands at the far end, at its nominal
// impedance V^2/W, fed by an ideal source: the worst there is for that length. Formulas and sources: core/line/loss.h,
// core/line/conductor.h; docs/calculations.md, "Cable before any record".
#pragma once

#include <optional>
#include <vector>

#include "core/line/loss.h"
#include "core/units/parse.h"

namespace tapwright {

struct CableQuestion {
    Watts load{0};                        // tap watts at the far end
    Metres length{0};                     // one way
    Volts volts{0};                       // of the line
    std::optional<ConductorSize> size{};  // solid AWG, or IEC 60228 class 2; absent: only the sizes are asked for
    Decibels limit{1};                    // of loss
    Celsius celsius{20};
};

struct CableSize {
    ConductorSize size;
    Decibels loss{0};  // positive
    bool keeps = false;
};

struct CableOfSize {
    Ohms pair{0};
    Decibels loss{0};  // positive
    Volts volts_end{0};
    Watts watts_end{0};   // of the load
    Watts watts_lost{0};  // in the cable
    Metres longest{0};    // that keeps the limit
    bool keeps = false;
};

struct CableAnswer {
    std::optional<CableOfSize> asked;       // of the size asked for
    std::vector<CableSize> sizes;           // of the same kind (both where none is asked for), thinnest first
    std::optional<ConductorSize> smallest;  // the first that keeps the limit; of both kinds the mm2
};

// Errors: a figure that is not above 0, or beyond any line; a size that is not known.
Result<CableAnswer> cable_answer(const CableQuestion& question);

}  // namespace tapwright
