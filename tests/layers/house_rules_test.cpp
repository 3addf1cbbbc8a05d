// Rules that hold for every file: what a stranger may rely on when opening any of them.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "tests/layers/source_tree.h"

namespace {

constexpr std::size_t most_lines = 450, most_function_lines = 80;

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

// The first lines of functions with too many: as clang-format leaves them, a function's last line is a brace as far to
// the right as its first, at the edge in a namespace and four blanks from it in a class.
std::vector<std::string> long_functions(const std::string& text) {
    static const std::regex head(R"(\)( const)?( noexcept)?( override)? \{$)");
    std::vector<std::string> found;
    for (const std::string edge : {"", "    "}) {
        std::string function;
        std::size_t number = 0, begun = 0;
        for (const auto& each : lines_of(text)) {
            const std::string line(each);
            ++number;
            const bool at_edge = line.size() > edge.size() && line.starts_with(edge) && line[edge.size()] != ' ';
            if (at_edge && line[edge.size()] != '}' && std::regex_search(line, head)) {
                function = line;
                begun = number;
            } else if ((line == edge + "}" || line == edge + "};") && begun > 0) {
                if (number - begun + 1 > most_function_lines) found.push_back(function);
                begun = 0;
            }
        }
    }
    return found;
}

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

TEST_CASE("a long function is found, in a namespace and in a class") {
    const std::string body(most_function_lines, '\n');
    CHECK(long_functions("int a(int b) {" + body + "}\n").size() == 1);
    CHECK(long_functions("class A {\n    int a() const override {" + body + "    }\n};\n").size() == 1);
    CHECK(long_functions("int a(int b) {" + body.substr(2) + "}\n").empty());
}

TEST_CASE("no function is longer than one can hold in mind") {
    for (const auto& [path, text] : read_source_tree()) {
        if (!path.ends_with(".h") && !path.ends_with(".cpp")) continue;
        for (const std::string& head : long_functions(text)) FAIL_CHECK(path << ": " << head);
    }
}

TEST_CASE("no file holds a note about work left undone") {
    for (const auto& [path, text] : read_source_tree()) {
        for (const char* word : unfinished)
            CHECK_MESSAGE(text.find(word) == std::string::npos, path << " holds " << word);
    }
}

TEST_CASE("nothing is used that the library of an old compiler does not have") {
    // Of libc++ 14, with which the app for browsers is compiled.
    const std::regex missing(R"(std::(ranges::|views::|format\(|expected<|jthread|source_location))");
    CHECK(std::regex_search(std::string("std::") + "ranges::any_of(texts, is_it)", missing));
    for (const auto& [path, text] : read_source_tree())
        if (path.ends_with(".h") || path.ends_with(".cpp")) CHECK_MESSAGE(!std::regex_search(text, missing), path);
}

TEST_CASE("the top of the repository holds what the map names and nothing else") {
    const std::set<std::string> map = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "core", "ui",
                                       "platform",       "tests",     "assets",        "docs"};
    for (const auto& entry : std::filesystem::directory_iterator(TAPWRIGHT_SOURCE_DIR)) {
        const std::string name = entry.path().filename().string();
        CHECK_MESSAGE((name.starts_with('.') || map.contains(name)), name);
    }
}
