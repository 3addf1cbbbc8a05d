// The grid of a table: at which size it is set, and where its columns stand.
#pragma once

#include <vector>

#include "platform/print/compose.h"

namespace tapwright::print {

// One of the sizes a table tries.
struct TableStyle {
    Style header;
    Style first;
    Style cell;
    Style strong;
    double cost = 1;  // so many times fewer lines are what a smaller size has to lead to, being harder to read
};
// For a cell of that column and tone.
const Style& style_of(const TableStyle& style, std::size_t column, document::Tone tone);
// The room that the shape of a tone takes before the text.
double indent_of(document::Tone tone);

struct Grid {
    TableStyle style;
    std::vector<double> left;
    std::vector<double> width;
};
// The size that leads to the fewest lines, a smaller one only where it saves enough of them, and widths by what the
// columns ask for (columns.h). Requires: at least one column.
Grid plan(Composer& composer, const document::Table& table);

}  // namespace tapwright::print
