// The files the window makes: each under a name of its own, so that what was handed over before stays as it was.
#include "platform/shell/made_files.h"

#include <doctest/doctest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "platform/system/stamps.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using ui::HandoverFile;

namespace fs = std::filesystem;

TEST_CASE("a sheet, labels or a copy made once more lies beside the first, which stays byte for byte") {
    const test::TemporaryFolder folder;
    ::setenv("XDG_CONFIG_HOME", folder.file("settings").c_str(), 1);
    ::setenv("HOME", folder.path().c_str(), 1);
    Jobs jobs;
    REQUIRE(jobs.create({.name = "Mill House", .line_v = "", .person = "Ada Quill"}, make_stamp()).ok());
    const std::string day = make_stamp().date();
    std::set<std::string> names;
    for (const HandoverFile which : {HandoverFile::owner_sheet, HandoverFile::technician_sheet, HandoverFile::labels,
                                     HandoverFile::sealed_copy, HandoverFile::json, HandoverFile::csv}) {
        const auto first = desktop::make_files(jobs, which, Words());
        REQUIRE(first.ok());
        REQUIRE(!first->empty());
        std::vector<std::string> before;
        const auto bytes_of = [](const std::string& path) {
            std::ifstream in(path, std::ios::binary);
            REQUIRE_MESSAGE(in.good(), path);
            return std::string(std::istreambuf_iterator<char>(in), {});
        };
        for (const std::string& path : *first) before.push_back(bytes_of(path));
        const auto second = desktop::make_files(jobs, which, Words());
        REQUIRE(second.ok());
        REQUIRE(second->size() == first->size());
        for (const auto& made : {*first, *second})
            for (const std::string& path : made) {
                CHECK(names.insert(path).second);
                CHECK(path.find(day) != std::string::npos);
            }
        for (std::size_t i = 0; i < first->size(); ++i) CHECK(bytes_of((*first)[i]) == before[i]);
        // A sheet and its page go by one name.
        if (second->size() == 2 && which != HandoverFile::csv)
            CHECK(fs::path((*second)[0]).stem() == fs::path((*second)[1]).stem());
    }
}
