// The worked examples of docs/calculations.md: lines of the form "Example: folder.name = value unit".
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <regex>
#include <string>
#include <utility>

namespace tapwright {

struct WorkedExample {
    std::function<double()> value;
    std::string unit;
};

// Recomputes every example of `folder` and compares it to the last digit written. Fails on an example that `known`
// lacks, on one in `known` that the page lacks, and on a folder that has no test to recompute its examples.
inline void check_worked_examples(const std::string& folder, const std::map<std::string, WorkedExample>& known) {
    const std::string source_folder = TAPWRIGHT_SOURCE_DIR;
    std::ifstream page(source_folder + "/docs/calculations.md");
    REQUIRE(page);
    const std::regex form("- Example: ([a-z0-9_]+)\\.([a-z0-9_]+) = (-?[0-9]+(\\.([0-9]+))?) (\\S+)");
    std::map<std::string, int> seen;
    for (std::string line; std::getline(page, line);) {
        if (!line.starts_with("- Example:")) continue;
        CAPTURE(line);
        std::smatch parts;
        REQUIRE(std::regex_match(line, parts, form));
        CHECK(std::filesystem::exists(source_folder + "/tests/" + parts[1].str() + "/worked_examples_test.cpp"));
        if (parts[1] != folder) continue;
        const std::string name = parts[2];
        REQUIRE(known.contains(name));
        CHECK(++seen[name] == 1);
        CHECK(parts[6] == known.at(name).unit);
        const double half_of_last_digit = 0.5 * std::pow(10, -static_cast<double>(parts[5].length()));
        const double value = known.at(name).value();
        CHECK(std::abs(value - std::stod(parts[3])) <= half_of_last_digit * 1.000001);
    }
    for (const auto& example : known) {
        CAPTURE(example.first);
        CHECK(seen[example.first] == 1);
    }
}

}  // namespace tapwright
