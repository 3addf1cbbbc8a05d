// What is wrong with a line, perhaps, and what to measure next, in words.
#pragma once

#include "core/faults/next_measurement.h"
#include "core/words/statement.h"

namespace tapwright {

// "C-104 draws nothing: dead, or disconnected."
Message text_of(const Job& job, const Diagnosis& diagnosis, const Cause& cause);
// "Disconnect the cable into J-110 and measure the far side."
Message text_of(const Job& job, const Measurement& measurement);
// What one answer would mean: "200 Ω" , "over range", "silent".
Message text_of(const Measurement& measurement, const ExpectedShown& shown);
// The likeliest, how sure, and the next step.
Statement statement_of(const Job& job, const Diagnosis& diagnosis, const std::vector<Measurement>& next);

}  // namespace tapwright
