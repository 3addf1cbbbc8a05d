// What a change writes down beside what was asked for, so that the account of a zone stays true: what was expected when
// its readings were taken, and which loudspeakers were part of what they showed. Used by decide() alone.
#pragma once

#include <vector>

#include "core/job/job.h"
#include "core/readings/judgement.h"

namespace tapwright {

struct AccountFact {
    Kind kind = Kind::point;
    Id id;
    std::string_view field;
    Value value;
};

// `before` with its figures, and the job as the change would leave it. Definition: docs/calculations.md, "Unrecorded".
//
// A reading at a zone that the change touches keeps what was expected of it until now, where that was not written down
// when it was taken.
//
// A loudspeaker whose watts count for the first time after the reading its zone's account rests on gets found_w and
// found_by, where it was there when that was taken: recorded as existing, or connected with a tap nobody knew. What is
// added new counts in full; where its tap is not known, found_w is 0: nothing of it was in the reading.
std::vector<AccountFact> account_facts(const Job& before, const Judged& judged, const Job& after,
                                       const ChangeList& changes);

}  // namespace tapwright
