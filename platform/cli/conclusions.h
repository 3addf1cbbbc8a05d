// What a reading or a finding leads to, as data for `--json`: the same that the sentences phrase. Numbers carry their
// unit in the key; what is not known is left out, what is not finite is null.
#pragma once

#include <map>
#include <vector>

#include "core/derive/derived.h"
#include "core/faults/next_measurement.h"
#include "core/job/value.h"

namespace tapwright::cli {

// What `faults` says to measure next, worked out once for each line.
class FaultAdvice {
public:
    // Neither is owned. Requires: `derived` is derive(job).
    FaultAdvice(const Job& job, const Derived& derived) : job_(job), derived_(derived) {}
    // The best first of the line that place is on, with nothing given besides the job; nothing once one place is sure.
    const std::vector<Measurement>& next_at(const Id& place);

private:
    const Job& job_;
    const Derived& derived_;
    std::map<std::string, std::vector<Measurement>> known_;  // by zone
};

// One measurement as `faults` lists it: {at, quantity, isolate, expected, bits, minutes, text}.
Map measurement_json(const Job& job, const Measurement& measurement);

// {line_v, speakers, without_tap, positions, limit_w, over_w, min_ohm, below_min_ohm, baseline, drift_share, sight,
// hidden_marks, next} of a reading of the job. `advice`: where the next measurement is asked for.
// Requires: reading < number of readings.
Map conclusions_json(const Job& job, const Derived& derived, std::uint32_t reading, FaultAdvice* advice);

// Whether there is a fault to be sought: the newest reading at some place does not fit.
bool any_to_seek(const Job& job, const Derived& derived);

// {id, at, verdict, limit, expected_ohms, measured_w, ...} of each reading that is judged; the newest one at each place
// also says where to measure next. Linear in the readings.
List readings_json(const Job& job, const Derived& derived);

// {load_w, basis, limit_w, reserve_w, unrecorded_w, over_w, into_reserve_w}, or null where the finding is about no
// limit.
Value against_limit_json(const Job& job, const Derived& derived, const Finding& finding);

}  // namespace tapwright::cli
