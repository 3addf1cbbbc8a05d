// What is wrong with a line, perhaps, and what to measure next, in words.
#pragma once

#include "core/faults/next_measurement.h"
#include "core/words/statement.h"

namespace tapwright {

// "C-104 draws nothing: dead, or disconnected."
Message text_of(const Job& job, const Diagnosis& diagnosis, const Cause& cause);
// The same in a few words, for a key or among others: "C-104 dead", "run to C-104 open".
Message short_text_of(const Job& job, const Diagnosis& diagnosis, const Cause& cause);
// "63 %", never rounded up to certain.
Message chance_in_words(double chance);
// What was read, with its baseline: "Read: Foyer 138 Ω (baseline 121 Ω)."
Message what_was_read(const Job& job, const Diagnosis& diagnosis);
// What was heard: "Silent: C-104. Playing: 11."
Message what_was_heard(const Job& job, const Diagnosis& diagnosis);
// "Disconnect the cable into J-110 and measure the far side."
Message text_of(const Job& job, const Measurement& measurement);
// What one answer would mean: "200 Ω" , "over range", "silent".
Message text_of(const Job& job, const Measurement& measurement, const ExpectedShown& shown);
// The same with how far a reading may stray: "190 Ω to 211 Ω".
Message band_of(const Job& job, const Measurement& measurement, const ExpectedShown& shown);
// The measurement, and behind it its minutes and why it is this one.
Statement statement_of(const Job& job, const Measurement& measurement);
// The likeliest and how sure; once it is sure, what is left to do there. In short without the chance of what is sure,
// which stands elsewhere.
enum class Verbosity : std::uint8_t { whole, in_short };
Message verdict_of(const Job& job, const Diagnosis& diagnosis, Verbosity verbosity = Verbosity::whole);
// What no reading can show.
Message limits_of_faults();
// The likeliest, how sure, and the next step.
Statement statement_of(const Job& job, const Diagnosis& diagnosis, const std::vector<Measurement>& next);

}  // namespace tapwright
