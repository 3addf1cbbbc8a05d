// Jobs for the tests of the sheet, and ways to read a neutral document.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/sheet/sheet.h"

namespace tapwright::samples {

// The job that assets/demo.json describes.
Job demo_job();
const Job& demo();

// A job from records written as { "points": [...], ... } would be, without the check of relations.
Job job_of(std::string_view json);

document::Document sheet_of(const Job& job, SheetReader reader, const Language& language = english());
document::Document sheet_of(const Job& job, const SheetOptions& options);

// Every text of a document in reading order, one a line: headings, cells, captions, labels in drawings, footer.
std::string text_of(const document::Document& document);
// The same, each by itself; those that say nothing are left out.
std::vector<std::string> texts_of(const document::Document& document);

// All blocks of one type.
template <class Block>
std::vector<Block> blocks_of(const document::Document& document) {
    std::vector<Block> found;
    for (const document::Block& block : document.blocks)
        if (const auto* held = std::get_if<Block>(&block)) found.push_back(*held);
    return found;
}

// The table whose caption, or where it has none the heading above it, begins with `caption`; an empty one when there is
// none.
document::Table table_of(const document::Document& document, std::string_view caption);
// The row whose first cell says so; an empty one when there is none.
std::vector<document::Cell> row_of(const document::Table& table, std::string_view name);
// What stands in the column of that title; nothing where there is no such column.
std::string cell_of(const document::Table& table, const std::vector<document::Cell>& row, std::string_view title);

inline bool has(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}

}  // namespace tapwright::samples
