// What a reading or a finding leads to, as data for `--json`: the same that the sentences phrase. Numbers carry their
// unit in the key; what is not known is left out, what is not finite is null.
#pragma once

#include "core/calc/wiring.h"
#include "core/derive/derived.h"
#include "core/job/value.h"

namespace tapwright::cli {

// {line_v, speakers, without_tap, positions, limit_w, over_w, min_ohm, below_min_ohm, baseline, drift_share, sight,
// hidden_marks, next} of a reading of the job. Where to measure next is worked out here; `wiring` is the job's.
// Requires: reading < number of readings.
Map conclusions_json(const Job& job, const Derived& derived, const Wiring& wiring, std::uint32_t reading,
                     bool with_next);

// {id, at, verdict, limit, expected_ohms, measured_w, ...} of each reading that is judged; the newest one at each place
// also says where to measure next. Linear in the readings.
List readings_json(const Job& job, const Derived& derived);

// {load_w, basis, limit_w, reserve_w, unrecorded_w, over_w, into_reserve_w}, or null where the finding is about no
// limit.
Value against_limit_json(const Job& job, const Derived& derived, const Finding& finding);

}  // namespace tapwright::cli
