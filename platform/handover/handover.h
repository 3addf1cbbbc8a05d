// Making a handover sheet of an open job: the state it shows, the changes since the last handover, the photos, the
// file's bytes; and the record in the job that it was made.
//
// The sheet itself is core/sheet's, its PDF platform/print's, its page core/html's. This puts them together
// for the command line and the window alike. It writes no file.
#pragma once

#include <string>

#include "core/journal/states.h"
#include "core/session/session.h"
#include "core/sheet/sheet.h"

namespace tapwright {

enum class SheetMedium : std::uint8_t { pdf, html };

struct SheetRequest {
    SheetReader reader = SheetReader::technician;
    document::Paper paper = document::Paper::a4;
    SheetMedium medium = SheetMedium::pdf;
    Words words = Words();  // its language; lengths are in the job's units
};

struct MadeSheet {
    std::string bytes;
    int pages = 0;  // of a PDF; 0 for HTML
    Digest sha256{};
    StateMark state;
    SheetReader reader = SheetReader::technician;
    std::size_t missing_photos = 0;  // photos of the job that are not in its file, or whose copy cannot be shown
};

// The same bytes for the same state, request, day of `stamp` and version of the program.
Result<MadeSheet> make_sheet(const Session& session, const SheetRequest& request, const Stamp& stamp);

// Labels for both ends of every cable, of the middle size.
Result<std::string> make_labels(const Session& session, SheetMedium medium, const Words& words, const Stamp& stamp);

// Keeps in the job that the sheet was made, unless an equal record is there: same reader, state, file, day and version.
// Call it after the file was written. Returns: whether a record stands in the job; false when the job file can only be
// read.
Result<bool> record_sheet(Session& session, const MadeSheet& sheet, const Author& author, const Stamp& stamp);

// All states of the job's file.
Result<States> states_of(const Session& session);

}  // namespace tapwright
