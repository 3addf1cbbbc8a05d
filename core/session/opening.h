// What a job file must hold besides right hashes: ops that a program of ours can have written, by the field table. Who
// writes a file can hash it anew, so opening looks at every value: not only at those that stand, but at those an undo,
// a redo or the choice of a conflict would bring back. What was accepted here is refused nowhere later.
#pragma once

#include "core/job/kind.h"
#include "core/journal/replica.h"

namespace tapwright {

// The sentence about a record, or a field of it, that no program of ours can have written.
Refusal foreign(std::string_view kind, std::string_view id, std::string_view field, const Message& why);

// The kind of a record, where there is such a kind and it can have this id.
Result<Kind> check_record(std::string_view kind, std::string_view id);

// Refuses an op of a kind, field or value that the field table does not know. Requires: check_form() of
// core/journal/log.h.
Result<void> check_op(const Op& op);

// Looks at each value of a log once, while the log is read and with no second copy of it: a value when it is replaced,
// and what was never replaced at the end. The values that stand are left to job_of(), which reads them anyhow.
//
//   for each batch: PASS(opening.before(batch)); replica.absorb(batch)
//   PASS(opening.at_end()); job_of(replica)
class OpeningCheck {
public:
    explicit OpeningCheck(const Replica& replica) : replica_(replica) {}
    Result<void> before(const Batch& batch) const;
    Result<void> at_end() const;

private:
    Result<void> check_replaced(const Batch& batch, const Op& op) const;
    Result<void> check_heads(RecordNumber record) const;

    const Replica& replica_;
};

}  // namespace tapwright
