// A folder of its own for a test, gone afterwards, and files in it.
#pragma once

#include <string>
#include <string_view>

#include "core/journal/journal.h"

namespace tapwright::test {

class TemporaryFolder {
public:
    TemporaryFolder();
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    std::string path(std::string_view name) const { return folder_ + "/" + std::string(name); }
    std::size_t file_count() const;

private:
    std::string folder_;
};

std::string read_file(const std::string& path);
void write_file(const std::string& path, std::string_view bytes);

// What platform gives to seal(), from the standard library.
FilePort plain_files();

}  // namespace tapwright::test
