// A job as comma-separated values (RFC 4180): one file for each kind of records, for a spreadsheet or another program.
//
// The first row names the columns: id and the kind's fields in table order. Lines end in CRLF. Numbers are plain, lists
// and maps are JSON in one cell. A cell that holds a comma, semicolon, tab, bar, quote or line end, or a blank at its
// edge, is quoted, so that no dialect splits it.
//
// A text that a spreadsheet would take for a formula gets an apostrophe in front, and so does a part of it behind a
// semicolon, bar, tab or line end, where another dialect would begin a cell. Formulas begin with = + - @, their
// full-width forms, a tab or a carriage return, blanks and quotes in front of them passed over. Numbers are no texts:
// −6 dB stays -6.
// Read again by csv_text.h.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/job/job.h"

namespace tapwright {

struct CsvFile {
    std::string name;  // "points.csv"
    std::string text;
};

// A text as it stands in a cell, before quotes; and the text of a cell, which is what was written: the apostrophe is
// taken away exactly where one was put.
std::string csv_text(std::string_view text);
std::string text_of_csv(std::string_view cell);

// "points.csv".
std::string csv_name(Kind kind);

// One file for each kind that has records; the job itself always.
std::vector<CsvFile> write_csv(const Job& job);

}  // namespace tapwright
