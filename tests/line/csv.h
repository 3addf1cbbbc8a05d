// Reading the comma-separated tables beside the tests. Quotes enclose a cell that holds a comma.
#pragma once

#include <fstream>
#include <string>
#include <vector>

namespace tapwright {

using CsvRow = std::vector<std::string>;

inline CsvRow split_csv(const std::string& line) {
    CsvRow cells(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
        } else if (c == ',' && !quoted) {
            cells.emplace_back();
        } else {
            cells.back() += c;
        }
    }
    return cells;
}

// All rows but the first, which names the columns. Empty when there is no such file.
inline std::vector<CsvRow> read_csv(const std::string& path) {
    std::ifstream file(path);
    std::vector<CsvRow> rows;
    std::string line;
    std::getline(file, line);
    while (std::getline(file, line)) rows.push_back(split_csv(line));
    return rows;
}

}  // namespace tapwright
