// The repository's own text files, for tests that read them.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

// Path from the root, with '/', to content. Dotfolders such as .git and .build are left out.
using SourceTree = std::map<std::string, std::string>;

// Requires: the repository this test was built from still stands where it was.
SourceTree read_source_tree();

// The lines of `text`, without their ends.
std::vector<std::string_view> lines_of(std::string_view text);
