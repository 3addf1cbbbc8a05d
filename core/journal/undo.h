// Undo as a batch like any other: it restores what a batch replaced, where that batch is still what counts.
//
// What was restored by an undo stands for what it restored. So a person may undo one action after another, and redo
// (which is undoing the undo) and undo again, and each step finds its own value on top.
//
//   a field                       the value or values it replaced; with several, all become heads again
//   a field that had no value     "null"
//   a record made                 removed again, if no other batch has left anything in it; else it stays
//   a record removed              `true`, naming the removal; its fields were never cleared
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/journal/log.h"
#include "core/journal/replica.h"

namespace tapwright {

// Something the undo leaves as it is, because it was changed since.
struct NotRestored {
    std::string kind;
    std::string id;
    std::string field;   // "" when it is about the whole record
    std::string person;  // who changed it since
};

struct UndoPlan {
    std::vector<Op> ops;  // parents filled in; empty when nothing can be restored
    std::vector<NotRestored> kept;
};

// Fetches an op of a batch that the replica knows, as Journal::op does.
using OpLookup = std::function<Result<Op>(OpAddress)>;

// The ops that undo `mine`. The batch made of them must name it in `undoes`. Errors: those of the lookup.
// Requires: the replica has absorbed `mine`.
Result<UndoPlan> plan_undo(const Replica& replica, const Batch& mine, const OpLookup& lookup);

}  // namespace tapwright
