// apply(): brings a Job to what a Replica says of some of its records. The same code serves opening, commands, undo and
// merging, so that a replayed job cannot differ from a live one.
#pragma once

#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/journal/replica.h"
#include "core/session/decide.h"

namespace tapwright {

// Brings the records named by `touched` up to date.
// Errors: a standing value that has no form the field table knows; the job may then be half changed and is not for use.
Result<void> apply(Job& job, const Replica& replica, const std::vector<RecordNumber>& touched);

// The whole job a replica holds.
Result<Job> job_of(const Replica& replica);

// Facts as the ops that state them, naming what they replace.
std::vector<Op> ops_of(const Replica& replica, const std::vector<Fact>& facts);

}  // namespace tapwright
