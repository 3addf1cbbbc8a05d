// The columns and cells of a table of points. Private to points_table.cpp.
#pragma once

#include <string>
#include <string_view>

#include "core/job/field_table.h"
#include "core/job/job.h"
#include "core/words/words.h"
#include "platform/cli/command.h"

namespace tapwright::cli {

struct PointColumn {
    enum class Holds : std::uint8_t { field, id, nothing, unknown };
    Holds holds = Holds::unknown;
    bool is_left_out = false;          // nothing, though it has a name
    const FieldInfo* field = nullptr;  // of fields(Kind::point)
    std::string unit;                  // in brackets behind the name
    LengthUnits lengths = LengthUnits::metric;

    bool is_figure() const;
};

// What a cell of the first row names. `lengths`: as the job's people read them.
PointColumn column_named(std::string_view header, const Words& words, LengthUnits lengths);

// Whether the comma in a figure can be nothing but the decimal mark: "7,5", "0,125", but not "1,250".
bool has_certain_decimal_comma(std::string_view text);

// Makes values of cells.
struct PointCells {
    const Job& job;  // with the points of the table
    const NameIndex& names;
    const Words& words;
    bool comma_is_decimal = false;
    mutable std::size_t missed = 0;  // references to nothing so far

    // Null where the cell is blank. Errors: without a place.
    Result<Value> value(const PointColumn& column, std::string_view text) const;

private:
    Result<Value> reference(const FieldInfo& field, std::string_view text) const;
    Result<Value> choice(const FieldInfo& field, std::string_view text) const;
    Result<std::string> figure(const PointColumn& column, std::string_view text) const;
};

}  // namespace tapwright::cli
