// The table of arrows (platform/cmake/arrows.txt), and the search for includes that break it and for circles in it.
#pragma once

#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "tests/layers/source_tree.h"

// A folder and those that it may include from.
using ArrowTable = std::map<std::string, std::set<std::string>, std::less<>>;
ArrowTable read_arrow_table(std::string_view text);

// "a -> b -> a" for each; also a folder that is named and has no row.
std::vector<std::string> circles_in(const ArrowTable& table);

struct Arrows {
    std::size_t files = 0;                // sources and headers of core/, ui/ and platform/ that were read
    std::size_t includes = 0;             // #include lines in them
    std::vector<std::string> violations;  // "core/job/id.h:12 includes ui/frame/theme.h: ..." one for each broken rule
};

Arrows follow_arrows(const ArrowTable& table, const SourceTree& tree);
