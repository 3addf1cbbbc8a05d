// The library's file, where there are files.
#include <filesystem>

#include "core/exchange/job_json.h"
#include "platform/jobs/library.h"
#include "platform/system/files.h"
#include "platform/system/settings.h"

namespace tapwright {
namespace {

constexpr std::size_t most_library_bytes = std::size_t{64} << 20;

}  // namespace

std::string Library::path() {
    return (std::filesystem::path(settings_path()).parent_path() / "library.json").string();
}

Result<Library> Library::load() {
    Library library;
    if (!file_exists(path())) return library;
    if (const Result<int> read = library.import(path()); !read) return read.refusal();
    return library;
}

Result<void> Library::write(const std::string& file) const {
    TAPWRIGHT_PASS(make_folder(std::filesystem::path(file).parent_path().string()));
    return write_file(file, write_job(types_));
}

Result<int> Library::import(const std::string& file) {
    TAPWRIGHT_TAKE(text, read_file(file, most_library_bytes));
    return import_text(text, file);
}

}  // namespace tapwright
