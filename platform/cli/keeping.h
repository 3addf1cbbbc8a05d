// What survey, trial and fit keep when asked to: one batch through the session, so that one undo takes it back.
#pragma once

#include "platform/cli/command.h"

namespace tapwright::cli {

// How a job is opened: for writing only where something is to be kept.
Access access_for(const Call& call);

// Writes changes as one batch, as the person and during the visit of the call. Returns the ids of the changes.
Result<std::vector<Id>> keep_changes(const Call& call, Session& session, const ChangeList& changes);

// Keeps changes as a trial under the name that --keep gives. Returns its id.
Result<Id> keep_trial(const Call& call, Session& session, const ChangeList& changes);

// Says it to people.
void say_trial_kept(const Call& call, const Words& words, const Id& trial);

}  // namespace tapwright::cli
