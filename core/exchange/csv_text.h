// Comma-separated values (RFC 4180) as spreadsheets of several languages write and copy them, taken apart into cells.
//
// The separator is what the first row has most of outside quotes: a tab (what is copied out of a spreadsheet), a
// semicolon (where the comma is the decimal mark) or a comma. A row ends in LF, CRLF or CR; a byte order mark and rows
// without any text are skipped. A cell in quotes may hold separators, line breaks (as LF) and doubled quotes; a quote
// within another cell is a plain one (6"). The apostrophe that write_csv() puts in front of a formula is taken off.
//
// What this is not: the meaning of a cell. Whether its text is a figure or a name, who knows the column says.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"

namespace tapwright {

struct CsvRow {
    std::size_t line = 0;  // where it starts in the text, from 1, as editors count
    std::vector<std::string> cells;
};

struct CsvText {
    char separator = ',';
    std::vector<CsvRow> rows;  // none of them blank
};

inline constexpr std::size_t most_csv_rows = 100'000;
inline constexpr std::size_t most_csv_cells = 1'000;  // of a row

// Errors: with its line: text that is not UTF-8, a quote that is never closed or followed by more text, too many rows
// or cells.
Result<CsvText> read_csv(std::string_view text);

// "Line 4": where in the text, for sentences.
Message csv_line(std::size_t line);

}  // namespace tapwright
