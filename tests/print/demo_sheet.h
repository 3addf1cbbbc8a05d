// A sheet of a job with everything that stands in the footer of one, for the tests of the demo job's.
#pragma once

#include <string>

#include "tests/sheet/samples.h"

namespace tapwright::outside {

inline document::Document real_sheet(const Job& job, SheetReader reader, document::Paper paper) {
    SheetOptions options;
    options.reader = reader;
    options.paper = paper;
    options.time = "2026-11-28T10:00:00+01:00";
    options.code = "7f3a-91c2-04de";
    options.position = 128;
    options.state = std::string(64, '7');
    options.version = "0.1.0";
    return samples::sheet_of(job, options);
}

inline double height_of(document::Paper paper) {
    return paper == document::Paper::a4 ? 841.89 : 792;
}

}  // namespace tapwright::outside
