// Making a handover sheet of an open job on any platform: the state it shows, the changes since the last handover, the
// photos; and the record in the job that it was made.
//
// The sheet itself is core/sheet's. This puts together what it tells; a Render makes its bytes: the page of core/html
// here, the PDF of platform/print in platform/handover. It writes no file and decodes no picture.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "core/journal/states.h"
#include "core/session/session.h"
#include "core/sheet/sheet.h"

namespace tapwright {

struct SheetChoice {
    SheetReader reader = SheetReader::technician;
    document::Paper paper = document::Paper::a4;
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

// A photo's copy as the sheet shows it; nothing where it cannot be decoded.
using ReducePhoto = std::function<std::optional<document::Picture>(const std::string& copy)>;
// Sets `bytes` and `pages`.
using RenderSheet = std::function<Result<void>(const Session&, const SheetOptions&, const Words&, MadeSheet& made)>;

// The same bytes for the same state, choice, day of `stamp` and version of the program.
Result<MadeSheet> render_sheet(const Session& session, const SheetChoice& choice, const ReducePhoto& reduce,
                               const RenderSheet& render, const Stamp& stamp);
// A RenderSheet: one page of HTML that needs nothing beside it.
Result<void> render_html(const Session& session, const SheetOptions& options, const Words& words, MadeSheet& made);

// Labels for both ends of every cable, of the middle size.
document::Document labels_of(const Session& session, const Words& words, const Stamp& stamp);

// Keeps in the job that the sheet was made, unless an equal record is there: same reader, state, file, day and version.
// Call it after the file was written. Returns: whether a record stands in the job; false when the job file can only be
// read.
Result<bool> record_sheet(Session& session, const MadeSheet& sheet, const Author& author, const Stamp& stamp);

// All states of the job's file.
Result<States> states_of(const Session& session);

}  // namespace tapwright
