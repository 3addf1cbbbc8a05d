#include "platform/jobs/file_name.h"

#include <string_view>

namespace tapwright {
namespace {

constexpr std::size_t longest_file_name = 200;  // bytes; file systems take 255

}  // namespace

std::string file_name_of(const std::string& job_name) {
    std::string name;
    for (const char letter : job_name) {
        const auto byte = static_cast<unsigned char>(letter);
        constexpr std::string_view forbidden = "/\\:*?\"<>|";  // on one system or another
        name += byte < ' ' || byte == 0x7F || forbidden.find(letter) != std::string_view::npos ? '-' : letter;
    }
    if (name.size() > longest_file_name) {
        std::size_t end = longest_file_name;
        while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0) == 0x80) --end;
        name.resize(end);
    }
    const std::size_t first = name.find_first_not_of(" .");
    if (first == std::string::npos) return "job";
    return name.substr(first, name.find_last_not_of(" .") - first + 1);
}

}  // namespace tapwright
