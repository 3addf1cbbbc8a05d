// Making a handover sheet of an open job where there is a PDF: what platform/sheets puts together, printed by
// platform/print or as core/html's page, with photos reduced by platform/photos. For the command line and the window
// alike. It writes no file.
#pragma once

#include <string>

#include "platform/sheets/sheets.h"

namespace tapwright {

enum class SheetMedium : std::uint8_t { pdf, html };

struct SheetRequest {
    SheetReader reader = SheetReader::technician;
    document::Paper paper = document::Paper::a4;
    SheetMedium medium = SheetMedium::pdf;
    Words words = Words();  // its language; lengths are in the job's units
};

// The same bytes for the same state, request, day of `stamp` and version of the program.
Result<MadeSheet> make_sheet(const Session& session, const SheetRequest& request, const Stamp& stamp);

// Labels for both ends of every cable, of the middle size.
Result<std::string> make_labels(const Session& session, SheetMedium medium, const Words& words, const Stamp& stamp);

}  // namespace tapwright
