// What a reading proves and what it cannot, as data: the last step of judging one. Used within core/readings.
#pragma once

#include "core/readings/assessment.h"

namespace tapwright {

// Fills what a Judgement says beside its verdict. Constant time. Requires: outlook, verdict, limit and baseline are
// final.
void add_proof(const Job& job, const Reading& reading, Assessment& assessment);

}  // namespace tapwright
