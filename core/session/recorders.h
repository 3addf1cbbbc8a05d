// Who saw to it that a field says what it says, and on which day: a loudspeaker that was heard, a tap that was looked
// at. Read from the log, for the sheet's "by whom and when".
#pragma once

#include <map>
#include <string>
#include <vector>

#include "core/session/session.h"

namespace tapwright {

struct Recorder {
    std::string person;
    std::string day;  // YYYY-MM-DD; as the person's clock had it
    friend bool operator==(const Recorder&, const Recorder&) = default;
};

// Of each of some fields of points: by the point's id.
using RecordersOfField = std::map<std::string, Recorder, std::less<>>;
using Recorders = std::map<std::string, RecordersOfField, std::less<>>;

// Who last gave each field of `fields` the value it has now. Left out: fields without a value, and values that came
// with the point itself, from an imported file or a table, for nobody knows who looked there, or when. Undo and redo
// give a value back to whom it came from. Errors: a file that cannot be read. Reads the whole file once more.
Result<Recorders> recorders_of(const Session& session, const std::vector<std::string>& fields);

}  // namespace tapwright
