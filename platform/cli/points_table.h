// A table of points as people copy it out of a spreadsheet, made changes to a job: the first row names fields, every
// other row is a point.
//
// A column is named by a field's key or by its title, in English or in the person's language; capitals, blanks and
// hyphens do not matter, and a unit may follow in brackets: "Cable length (ft)". Lengths without a unit are metres
// below a key, as exports write them, and as the job's people read them below a title. What refers to a record may call
// it by its id, label or name; that may be a point of the same table, further up or down.
//
// The program's own export of points is such a table. Its watts found and the reading behind them are worked out for
// each job anew, so those columns are left out.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/exchange/csv_text.h"
#include "core/job/job.h"
#include "core/session/stamp.h"
#include "core/words/words.h"

namespace tapwright::cli {

// What cannot be taken: "Line 4, Tap: “5 V” is in volts. Write watts, for example 7.5 W."
struct TableProblem {
    std::size_t line = 0;
    Message text;
};

struct PointsTable {
    ChangeList changes;                  // one for each point, with its id
    std::vector<std::size_t> lines;      // of each change
    std::vector<Entered> left_out;       // columns, as the table names them
    std::vector<Message> places;         // of each column of fields(Kind::point): as the table names it, else its title
    std::vector<TableProblem> problems;  // all of them, by line; the changes are to be made only where there are none
    Message remedy;                      // what holds for the whole table; may say nothing

    // "Line 4, Tap": where a field of a change stands.
    Message place_of(std::size_t change, std::string_view field) const;
};

// Reads a table. Besides form, references and labels, what the points would break in the job is among the problems.
// Errors: the text is no table at all.
Result<PointsTable> read_points(const Job& job, std::string_view text, const Words& words, IdMaker& ids);

}  // namespace tapwright::cli
