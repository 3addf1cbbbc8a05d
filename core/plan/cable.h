// Cable: what a pair of copper costs before any record exists. All the load stands at the far end, at its nominal
// impedance V^2/W, fed by an ideal source: the worst there is for that length. Formulas and sources: core/line/loss.h,
// core/line/conductor.h; docs/calculations.md, "Cable before any record".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job/records.h"
#include "core/line/loss.h"
#include "core/units/parse.h"

namespace tapwright {

// A cable type of a job, with the conductor it is recorded with.
struct RecordedCable {
    Id id;
    std::string name;
    OhmsPerKm conductor{0};             // one of them, at the question's temperature
    std::optional<ConductorSize> size;  // tells which sizes to list beside it; absent: both kinds
};

struct CableQuestion {
    Watts load{0};                        // tap watts at the far end
    Metres length{0};                     // one way
    Volts volts{0};                       // of the line
    std::optional<ConductorSize> size{};  // solid AWG, or IEC 60228 class 2; absent: only the sizes are asked for
    Decibels limit{1};                    // of loss
    Celsius celsius{20};
    std::optional<RecordedCable> recorded{};  // asked for in place of a size
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
    std::optional<CableOfSize> asked;       // of the size or the recorded cable asked for
    std::vector<CableSize> sizes;           // of the same kind (both where none is asked for), thinnest first
    std::optional<ConductorSize> smallest;  // the first that keeps the limit; of both kinds the mm2
};

// The type's conductor by its resistance, size, strands and metal, as the solver of lines takes it.
// Errors: nothing of these is recorded; the sentence says what to record.
Result<RecordedCable> recorded_cable(const CableType& type, Celsius celsius);

// Errors: a figure that is not above 0, or beyond any line; a size that is not known.
Result<CableAnswer> cable_answer(const CableQuestion& question);

}  // namespace tapwright
