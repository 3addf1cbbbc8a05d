// How wide the columns of a table become.
#pragma once

#include <vector>

namespace tapwright::print {

// All in points, padding included.
struct ColumnDemand {
    double natural = 0;  // everything on one line
    double easy = 0;     // nothing breaks that reads badly when broken: words, short texts, numbers
    double word = 0;     // no word breaks
    double weight = 1;   // its share of what is left, against the other columns; <= 0 counts as a small share
};

// Returns: one width a column, together `available`. Columns get what they need on one line where there is room for
// all; else what reads easily (and one line after all, for those that lack least), else whole words; where even that
// does not fit, the greedy ones are cut to a common level in proportion to their weights, and their words break.
std::vector<double> column_widths(const std::vector<ColumnDemand>& demands, double available);

}  // namespace tapwright::print
