// A job as comma-separated values (RFC 4180): one file for each kind of records, for a spreadsheet or another program.
//
// The first row names the columns: id and the kind's fields in table order. Lines end in CRLF. Numbers are plain, lists
// and maps are JSON in one cell. A text that a spreadsheet would take for a formula gets an apostrophe in front. Read
// again by csv_text.h.
#pragma once

#include <string>
#include <vector>

#include "core/job/job.h"

namespace tapwright {

struct CsvFile {
    std::string name;  // "points.csv"
    std::string text;
};

// "points.csv".
std::string csv_name(Kind kind);

// One file for each kind that has records; the job itself always.
std::vector<CsvFile> write_csv(const Job& job);

}  // namespace tapwright
