// What was changed, in words a technician reads: "C-101: tap 7.5 W (was 5 W)". For the handover sheet and for the
// question what changed since a state.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/session/session.h"

namespace tapwright {

// One batch in words.
struct ChangeLine {
    std::string time;  // RFC 3339
    std::string person;
    std::vector<std::string> what;  // one part for each record
};

// Of which batch, and the number it has in the file, from 0.
using WantsBatch = std::function<bool(const Batch& batch, std::size_t number)>;

// The wanted batches in the order they came into the file. Left out: records of sheets, drawn signatures, and all that
// is about a private photo or snag.
Result<std::vector<ChangeLine>> changes_in_words(const Session& session, const WantsBatch& wants);

// One batch for the person who made it, as undo and redo say it: "C-101: tap 5 W (was 2.5 W)"; of many "8 changes, the
// first C-101: tap 5 W (was 2.5 W)".
std::string own_change_in_words(const Session& session, const Batch& batch);

// "tap" for tap_w, "fed from" for fed_from: the figure behind it says its unit.
std::string field_in_words(const FieldInfo& field);

}  // namespace tapwright
