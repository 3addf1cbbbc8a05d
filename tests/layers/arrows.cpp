#include "tests/layers/arrows.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <regex>
#include <set>
#include <sstream>
#include <string_view>

namespace {

using Row = ArrowTable::value_type;

// All of the standard library that core and ui may use: no clock, randomness, threads, files or operating system.
// <cstdio> is for formatting numbers, <cstdlib> for ending the program; the calls among them are looked at one by one.
constexpr std::string_view allowed_standard[] = {
    "algorithm",     "array",         "bit",      "bitset",      "cassert",    "cctype",
    "cerrno",        "cfloat",        "charconv", "climits",     "cmath",      "compare",
    "complex",       "concepts",      "cstdarg",  "cstddef",     "cstdint",    "cstdio",
    "cstdlib",       "cstring",       "deque",    "exception",   "functional", "initializer_list",
    "iomanip",       "iterator",      "limits",   "list",        "map",        "memory",
    "new",           "numbers",       "numeric",  "optional",    "ostream",    "queue",
    "ranges",        "set",           "span",     "sstream",     "stack",      "stdexcept",
    "string",        "string_view",   "tuple",    "type_traits", "typeindex",  "typeinfo",
    "unordered_map", "unordered_set", "utility",  "variant",     "vector",     "version"};

// Calls that <cstdio> and <cstdlib> would let through.
const std::regex& forbidden_call() {
    static const std::regex pattern(
        R"((?:^|[^\w.>:])(?:std::|::)?(fopen|freopen|tmpfile|tmpnam|popen|getenv|system|rand|srand)\s*\()");
    return pattern;
}

struct Include {
    std::string target;
    bool quoted = false;
};

std::optional<Include> include_on(std::string_view line) {
    static const std::regex pattern(R"re(^\s*#\s*include\s*([<"])([^>"]+)[>"])re");
    std::match_results<std::string_view::const_iterator> match;
    if (!std::regex_search(line.begin(), line.end(), match, pattern)) return std::nullopt;
    return Include{match[2].str(), match[1].str() == "\""};
}

// The row of the folder that `path` is in.
const Row* row_of(const ArrowTable& table, std::string_view path) {
    const auto found = table.find(path.substr(0, path.rfind('/')));
    return found == table.end() ? nullptr : &*found;
}

bool is_ours(std::string_view target) {
    return target.starts_with("core/") || target.starts_with("ui/") || target.starts_with("platform/") ||
           target.starts_with("tests/");
}

bool is_allowed_standard(std::string_view header) {
    return std::find(std::begin(allowed_standard), std::end(allowed_standard), header) != std::end(allowed_standard);
}

// Returns: why the folder of `row` may not include our own file `target`; empty if it may.
std::string refusal_of_ours(const ArrowTable& table, const Row& row, std::string_view target) {
    const Row* other = row_of(table, target);
    if (other && other->first == row.first) return "";
    if (other && row.second.contains(other->first)) return "";
    return "the arrow points up or sideways; platform/cmake/arrows.txt lets " + row.first +
           " include from itself and from what its row names";
}

// Returns: why the file `path` of core or ui may not include the foreign header `target`; empty if it may.
std::string refusal_of_foreign(std::string_view path, std::string_view target) {
    if (is_allowed_standard(target)) return "";
    if (path.starts_with("ui/")) {
        if (target == "imgui.h" || target == "imgui_internal.h") return "";
        return "ui draws with Dear ImGui and knows nothing else of the outside";
    }
    if (target == "sqlite3.h") {
        return path.starts_with("core/journal/") ? "" : "only core/journal speaks SQL";
    }
    // What lies at a path must be known before SQLite follows it: see the head of that file.
    if (path == "core/journal/beside.cpp" && (target == "fcntl.h" || target == "sys/stat.h" || target == "unistd.h"))
        return "";
    if (target.starts_with("nlohmann/")) {
        const bool may =
            path.starts_with("core/job/") || path.starts_with("core/journal/") || path.starts_with("core/exchange/");
        return may && path.ends_with(".cpp") ? ""
                                             : "nlohmann/json stays inside .cpp files of job, journal and exchange";
    }
    return "core has no clock, randomness, threads, files or operating system, and no library but SQLite and "
           "nlohmann/json";
}

std::string without_comment(std::string_view line) {
    return std::string(line.substr(0, line.find("//")));
}

void follow_file(const ArrowTable& table, const std::string& path, std::string_view text, Arrows& arrows) {
    const Row* row = row_of(table, path);
    int number = 0;
    for (const std::string_view line : lines_of(text)) {
        const std::string where = path + ":" + std::to_string(++number);
        if (const auto include = include_on(line)) {
            ++arrows.includes;
            std::string refusal;
            if (row == nullptr) {
                refusal = "its folder has no row in platform/cmake/arrows.txt";
            } else if (is_ours(include->target)) {
                refusal = refusal_of_ours(table, *row, include->target);
            } else if (!path.starts_with("platform/")) {
                refusal = refusal_of_foreign(path, include->target);
            }
            if (!refusal.empty()) arrows.violations.push_back(where + " includes " + include->target + ": " + refusal);
        }
        std::smatch call;
        const std::string code = without_comment(line);
        if (!path.starts_with("platform/") && std::regex_search(code, call, forbidden_call())) {
            arrows.violations.push_back(where + " calls " + call[1].str() + ": that is for platform");
        }
    }
}

// Goes up from `folder` along the arrows; `way` holds the folders on the way there.
void search_circle(const ArrowTable& table, const std::string& folder, std::vector<std::string>& way,
                   std::set<std::string>& done, std::vector<std::string>& circles) {
    if (done.contains(folder)) return;
    const auto seen = std::find(way.begin(), way.end(), folder);
    if (seen != way.end()) {
        std::string circle;
        for (auto at = seen; at != way.end(); ++at) circle += *at + " -> ";
        circles.push_back(circle + folder);
        return;
    }
    const auto row = table.find(folder);
    if (row == table.end()) {
        circles.push_back(folder + " is named in a row of the table and has none itself");
        return;
    }
    way.push_back(folder);
    for (const std::string& below : row->second) search_circle(table, below, way, done, circles);
    way.pop_back();
    done.insert(folder);
}

}  // namespace

ArrowTable read_arrow_table(std::string_view text) {
    ArrowTable table;
    for (const std::string_view line : lines_of(text)) {
        const std::size_t colon = line.find(':');
        if (line.empty() || line.starts_with('#') || colon == std::string_view::npos) continue;
        std::istringstream below{std::string(line.substr(colon + 1))};
        auto& row = table[std::string(line.substr(0, colon))];
        for (std::string folder; below >> folder;) row.insert(folder);
    }
    return table;
}

std::vector<std::string> circles_in(const ArrowTable& table) {
    std::vector<std::string> circles;
    std::set<std::string> done;
    std::vector<std::string> way;
    for (const auto& [folder, below] : table) search_circle(table, folder, way, done, circles);
    return circles;
}

Arrows follow_arrows(const ArrowTable& table, const SourceTree& tree) {
    Arrows arrows;
    for (const auto& [path, text] : tree) {
        const bool is_program = path.starts_with("core/") || path.starts_with("ui/") || path.starts_with("platform/");
        const bool is_source =
            path.ends_with(".h") || path.ends_with(".cpp") || path.ends_with(".c") || path.ends_with(".def");
        if (!is_program || !is_source) continue;
        ++arrows.files;
        follow_file(table, path, text, arrows);
    }
    return arrows;
}
