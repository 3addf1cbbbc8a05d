// What a reading with and one without a loudspeaker say about its tap, and what to do next.
#pragma once

#include "core/readings/with_without.h"
#include "core/words/statement.h"

namespace tapwright {

// `with`, `without`: what was read, infinite for an open line. Requires: `between` is load_between() of them.
Statement statement_of(const Job& job, const Id& speaker, const LoadBetween& between, Ohms with, Ohms without);

// The same of a pair; where it is at fault, why, and what to do instead. `now`: the reading without the loudspeaker,
// `said`: what that one says by itself.
Statement statement_of(const Job& job, const Id& speaker, const ReadingPair& pair, const Reading& now,
                       const Message& said);

}  // namespace tapwright
