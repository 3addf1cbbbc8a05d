// What was changed, as a technician reads it: "C-101: Tap 7.5 W (was 5 W)". For the handover sheet, for the question
// what changed since a state, and for undo and redo.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/session/session.h"

namespace tapwright {

// One batch.
struct ChangeLine {
    std::string time;  // RFC 3339
    std::string person;
    std::vector<Message> what;  // one for each record
};

// Of which batch, and the number it has in the file, from 0.
using WantsBatch = std::function<bool(const Batch& batch, std::size_t number)>;

// The wanted batches in the order they came into the file. Left out: records of sheets, drawn signatures, and all that
// is about a private photo or snag.
Result<std::vector<ChangeLine>> changes_of(const Session& session, const WantsBatch& wants);

// Those after the last handover: after the last batch made during that visit, else on later days. What was taken back
// again since is no change; taking back something older is one. Empty where there was no handover.
Result<std::vector<ChangeLine>> changes_since_handover(const Session& session);

// One batch for the person who made it, who knows what is private and needs it short: "C-101: Tap 5 W (was 2.5 W)"; of
// many "8 changes, the first: C-101: Tap 5 W (was 2.5 W)". Errors: the file cannot be read.
Result<Message> own_change(const Session& session, const Batch& batch);

// What undo and redo say of a batch: "Undone: C-101: Tap 2.5 W.", or what they had to leave. Errors: the file cannot be
// read; the sentence says that what was asked is done all the same.
Result<Message> undone(const Session& session, const Batch& batch, const Outcome& outcome);
Result<Message> redone(const Session& session, const Batch& batch, const Outcome& outcome);

}  // namespace tapwright
