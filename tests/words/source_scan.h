// Finds in C++ source what translators would never see: patterns that xgettext cannot extract, and places without their
// arguments. A scanner of tokens, no parser: it knows comments, literals (adjacent and raw ones too) and brackets.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

struct Scan {
    std::size_t patterns = 0;           // calls with a pattern as a literal
    std::size_t checked = 0;            // of them, those whose arguments stand beside it
    std::vector<std::string> problems;  // "NAME:12: ..."
};

// `name` is the file's, for problems.
Scan scan_source(std::string_view source, std::string_view name);
