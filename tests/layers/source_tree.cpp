#include "tests/layers/source_tree.h"

#include <filesystem>
#include <fstream>
#include <iterator>

namespace {

namespace fs = std::filesystem;

bool is_text(const fs::path& path) {
    static const char* const endings[] = {".h",    ".cpp", ".c",   ".def",   ".js", ".css",
                                          ".html", ".md",  ".txt", ".cmake", ""};
    for (const char* ending : endings) {
        if (path.extension() == ending) return true;
    }
    return false;
}

std::string read_file(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace

SourceTree read_source_tree() {
    const fs::path root = TAPWRIGHT_SOURCE_DIR;
    SourceTree tree;
    for (auto at = fs::recursive_directory_iterator(root); at != fs::recursive_directory_iterator(); ++at) {
        const fs::path relative = at->path().lexically_relative(root);
        const bool is_dotted = relative.filename().string().starts_with('.');
        if (at->is_directory() && is_dotted) at.disable_recursion_pending();
        if (!at->is_regular_file() || is_dotted || !is_text(relative)) continue;
        tree[relative.generic_string()] = read_file(at->path());
    }
    return tree;
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const auto end = text.find('\n');
        lines.push_back(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return lines;
}
