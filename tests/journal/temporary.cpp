#include "tests/journal/temporary.h"

#include <atomic>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace tapwright::test {

namespace fs = std::filesystem;

TemporaryFolder::TemporaryFolder() {
    static std::atomic<unsigned> count = 0;
    const auto now = std::chrono::steady_clock::now().time_since_epoch().count();
    do {
        folder_ =
            (fs::temp_directory_path() / ("tapwright-" + std::to_string(now) + "-" + std::to_string(++count))).string();
    } while (!fs::create_directory(folder_));
}

TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
}

std::size_t TemporaryFolder::file_count() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()));
}

std::string read_file(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

void write_file(const std::string& path, std::string_view bytes) {
    std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

FilePort plain_files() {
    FilePort files;
    files.exists = [](const std::string& path) { return fs::exists(fs::symlink_status(path)); };
    files.part = [](const std::string& path) { return path + ".part"; };
    files.remove = [](const std::string& path) { return fs::remove(path); };
    files.sync_folder = [](const std::string&) { return true; };
    files.rename = [](const std::string& from, const std::string& to) {
        std::error_code error;
        fs::rename(from, to, error);
        return !error;
    };
    return files;
}

}  // namespace tapwright::test
