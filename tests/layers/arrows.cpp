#include "tests/layers/arrows.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <regex>
#include <string_view>

namespace {

// A layer is a folder, or a pair of files by the start of their path. It may include from itself and from `below`.
struct Layer {
    std::string_view path;
    std::vector<std::string_view> below;
};

const std::vector<Layer>& layers() {
    static const std::vector<Layer> table = {
        {"core/base/", {}},
        {"core/units/", {"core/base/"}},
        {"core/line/", {"core/base/", "core/units/"}},
        {"core/job/", {"core/base/", "core/units/"}},
        {"core/journal/", {"core/base/", "core/units/", "core/job/"}},
        {"core/calc/", {"core/base/", "core/units/", "core/line/", "core/job/"}},
        {"core/exchange/", {"core/base/", "core/units/", "core/line/", "core/job/", "core/calc/"}},
        {"core/session",
         {"core/base/", "core/units/", "core/line/", "core/job/", "core/journal/", "core/calc/", "core/exchange/"}},
        // Screens ask the session and read Job and Derived; the journal is none of their business.
        {"ui/",
         {"core/base/", "core/units/", "core/line/", "core/job/", "core/calc/", "core/exchange/", "core/session"}},
        {"platform/", {"core/", "ui/"}},
    };
    return table;
}

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

const Layer* layer_of(std::string_view path) {
    for (const Layer& layer : layers()) {
        if (path.starts_with(layer.path)) return &layer;
    }
    return nullptr;
}

bool is_ours(std::string_view target) {
    return target.starts_with("core/") || target.starts_with("ui/") || target.starts_with("platform/") ||
           target.starts_with("tests/");
}

bool is_allowed_standard(std::string_view header) {
    return std::find(std::begin(allowed_standard), std::end(allowed_standard), header) != std::end(allowed_standard);
}

// Returns: why `layer` may not include our own file `target`; empty if it may.
std::string refusal_of_ours(const Layer& layer, std::string_view target) {
    if (target.starts_with(layer.path)) return "";
    for (const std::string_view below : layer.below) {
        if (target.starts_with(below)) return "";
    }
    return "the arrow points up or sideways; " + std::string(layer.path) +
           " may include from itself and from what the " + "table in tests/layers lists for it";
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

void follow_file(const std::string& path, std::string_view text, Arrows& arrows) {
    const Layer* layer = layer_of(path);
    int number = 0;
    for (const std::string_view line : lines_of(text)) {
        const std::string where = path + ":" + std::to_string(++number);
        if (const auto include = include_on(line)) {
            ++arrows.includes;
            std::string refusal;
            if (layer == nullptr) {
                refusal = "the file belongs to no layer of the table in tests/layers";
            } else if (is_ours(include->target)) {
                refusal = refusal_of_ours(*layer, include->target);
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

}  // namespace

Arrows follow_arrows(const SourceTree& tree) {
    Arrows arrows;
    for (const auto& [path, text] : tree) {
        const bool is_program = path.starts_with("core/") || path.starts_with("ui/") || path.starts_with("platform/");
        const bool is_source =
            path.ends_with(".h") || path.ends_with(".cpp") || path.ends_with(".c") || path.ends_with(".def");
        if (!is_program || !is_source) continue;
        ++arrows.files;
        follow_file(path, text, arrows);
    }
    return arrows;
}
