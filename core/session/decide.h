// decide(): from a wish to facts, or to the sentences why not. Pure: it sees a job and a stamp and writes nothing.
//
// Everything that changes a job goes through here: a line of the command line, a touch on a screen, an import, a trial
// made real. Form, required fields, dangling ids, feed loops and taps are refused here; what a merge or an undo brings
// about is not (that is a finding, see core/job/relations.h).
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/readings/judgement.h"
#include "core/session/stamp.h"

namespace tapwright {

struct Command {
    ChangeList changes;
    // Fill in what a person on site need not type: the time and visit of a reading, the day of a snag or visit, that a
    // loudspeaker whose tap is recorded is fitted, and what keeps the accounts of zones true (account_facts.h). Not for
    // imports, where absent means unknown.
    bool fill_in = true;
    // Where change number `change`, field `field` stands in the input, for sentences: "/points/3/tap_w". Empty: the
    // record is named instead.
    std::function<std::string(std::size_t change, std::string_view field)> place;
};

// One register gets one value. `field` null: the record's existence, `true` made, null removed.
struct Fact {
    Kind kind = Kind::job;
    Id id;
    const FieldInfo* field = nullptr;
    Value value;
};

struct Decided {
    std::vector<Fact> facts;  // empty when the job is already as wished
    std::vector<Id> ids;      // of each change, in order: those made here too
    Job after;                // the job as it will be
};

// Whether an id has ever been used in the job's history, removed records included.
using IdWasUsed = std::function<bool(const Id&)>;

// Errors: a sentence for everything that is wrong with the command, at most 20 and how many more there are.
// `was_used`: null where the job is being made by this command, which then has to name it.
// `judged`: of `job`, by who has it; where null and needed it is worked out.
Result<Decided> decide(const Job& job, const Command& command, const Author& author, const Stamp& stamp,
                       const IdWasUsed& was_used, const Judged* judged = nullptr);

// The changes that remove `id`: where it is a point, what hangs on it is fed from its feed instead, and the lengths of
// the two runs are added where both are of the same cable.
ChangeList removal(const Job& job, Kind kind, const Id& id);

}  // namespace tapwright
