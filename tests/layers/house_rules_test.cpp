// Rules that hold for every file: what a stranger may rely on when opening any of them.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>

#include "tests/layers/source_tree.h"

namespace {

constexpr std::size_t most_lines = 450;

bool is_code(const std::string& path) {
    return path.ends_with(".h") || path.ends_with(".cpp") || path.ends_with(".c") || path.ends_with(".js") ||
           path.ends_with(".cmake") || path.ends_with("CMakeLists.txt") || path.find('.') == std::string::npos;
}

// Words that mark unfinished work, spelled apart so that this file does not hold them.
const char* const unfinished[] = {
    "TO"
    "DO",
    "FIX"
    "ME"};

}  // namespace

TEST_CASE("every header guards itself with #pragma once") {
    std::size_t headers = 0;
    for (const auto& [path, text] : read_source_tree()) {
        if (!path.ends_with(".h")) continue;
        ++headers;
        const auto lines = lines_of(text);
        CHECK_MESSAGE(std::find(lines.begin(), lines.end(), "#pragma once") != lines.end(), path);
    }
    CHECK(headers >= 15);
}

TEST_CASE("no source file is longer than one can hold in mind") {
    std::size_t files = 0;
    for (const auto& [path, text] : read_source_tree()) {
        if (!is_code(path)) continue;
        ++files;
        CHECK_MESSAGE(lines_of(text).size() <= most_lines, path);
    }
    CHECK(files >= 60);
}

TEST_CASE("no file holds a note about work left undone") {
    for (const auto& [path, text] : read_source_tree()) {
        for (const char* word : unfinished)
            CHECK_MESSAGE(text.find(word) == std::string::npos, path << " holds " << word);
    }
}

TEST_CASE("the top of the repository holds what the map names and nothing else") {
    const std::set<std::string> map = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "core", "ui",
                                       "platform",       "tests",     "assets",        "docs"};
    for (const auto& entry : std::filesystem::directory_iterator(TAPWRIGHT_SOURCE_DIR)) {
        const std::string name = entry.path().filename().string();
        CHECK_MESSAGE((name.starts_with('.') || map.contains(name)), name);
    }
}
