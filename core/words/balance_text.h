// What a zone balance says: how much room there is and what to do next; behind "Why" what was measured and recorded.
#pragma once

#include "core/readings/zone_balance.h"
#include "core/words/statement.h"

namespace tapwright {

Statement statement_of(const Job& job, const ZoneBalance& balance);

}  // namespace tapwright
