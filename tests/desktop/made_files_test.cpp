// The files the window makes: each under a name of its own, so that what was handed over before stays as it was.
#include "platform/shell/made_files.h"

#include <doctest/doctest.h>
#include <signal.h>
#include <stdlib.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "core/words/words.h"
#include "platform/system/stamps.h"
#include "tests/session/temporary.h"
#include "tests/system/small_files.h"

using namespace tapwright;
using ui::HandoverFile;

namespace fs = std::filesystem;

namespace {

// All files and settings of whoever runs this are in `folder` from now on.
void live_in(const test::TemporaryFolder& folder) {
    ::setenv("XDG_CONFIG_HOME", folder.file("settings").c_str(), 1);
    ::setenv("HOME", folder.path().c_str(), 1);
}

const Jobs::Start mill_house{.name = "Mill House", .line_v = "", .person = "Ada Quill"};

}  // namespace

TEST_CASE("a sheet, labels or a copy made once more lies beside the first, which stays byte for byte") {
    const test::TemporaryFolder folder;
    live_in(folder);
    Jobs jobs;
    REQUIRE(jobs.create(mill_house, make_stamp()).ok());
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

TEST_CASE("the window did not say which sheet was written where the job could not record it") {
    const test::TemporaryFolder folder;
    live_in(folder);
    Jobs jobs;
    REQUIRE(jobs.create(mill_house, make_stamp()).ok());
    const auto sheets = desktop::make_files(jobs, HandoverFile::owner_sheet, Words());
    REQUIRE(sheets.ok());
    const auto longest = std::max(fs::file_size((*sheets)[0]), fs::file_size((*sheets)[1]));
    // A history whose end lies behind where a sheet ends.
    const std::string notes(4000, 'n');
    for (int i = 0; i < 100; ++i) {
        const Value text(notes + std::to_string(i));
        const Command command{
            .changes = {{ChangeOp::set, Kind::job, Id("job"), {{"notes", text}}}}, .fill_in = false, .place = {}};
        REQUIRE(jobs.session()->request(command, jobs.author(), make_stamp()).ok());
    }
    const auto half = fs::file_size(jobs.path()) / 2;
    REQUIRE(longest + notes.size() < half);
    ::signal(SIGXFSZ, SIG_IGN);  // as the program does: a write then fails
    {
        const test::SmallFiles limit(half);
        const auto refused = desktop::make_files(jobs, HandoverFile::owner_sheet, Words());
        REQUIRE(!refused.ok());
        const std::string words = in_english(refused.refusal());
        const auto end = words.find(" was written, but the job does not record it. ");
        REQUIRE_MESSAGE(end != std::string::npos, words);
        CHECK_MESSAGE(fs::exists(words.substr(0, end)), words);
    }
    // A commit that cannot be taken back closes the job, as the sentence says; it opens with all that was saved.
    REQUIRE(jobs.open(jobs.path()).ok());
    CHECK(jobs.session()->verify().ok());
    CHECK(jobs.session()->job().all<SheetRecord>().size() == sheets->size());
}
