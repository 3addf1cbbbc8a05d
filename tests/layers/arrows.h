// Which layer may include what, as one table, and the search for includes that break it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "tests/layers/source_tree.h"

struct Arrows {
    std::size_t files = 0;                // sources and headers of core/, ui/ and platform/ that were read
    std::size_t includes = 0;             // #include lines in them
    std::vector<std::string> violations;  // "core/job/id.h:12 includes ui/frame/theme.h: ..." one for each broken rule
};

Arrows follow_arrows(const SourceTree& tree);
