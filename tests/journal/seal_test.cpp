#include <doctest/doctest.h>

#include <filesystem>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

Journal made_with_photo(const std::string& path) {
    auto created = Journal::create(path, draft(0xa, {op("job", "job", "", "true")}));
    REQUIRE(created.ok());
    for (int i = 0; i < 50; ++i)
        REQUIRE(created->journal.append(draft(0xa, {op("point", "s" + std::to_string(i), "", "true")})).ok());
    REQUIRE(created->journal.put_blob({"photo", "small"}).ok());
    return std::move(created->journal);
}

}  // namespace

TEST_CASE("A sealed copy holds the same and nothing lies beside it") {
    const TemporaryFolder folder;
    Journal journal = made_with_photo(folder.path("a.tapjob"));
    for (const bool reading : {false, true}) {
        const std::string copy = folder.path(reading ? "from-reading.tapjob" : "copy.tapjob");
        Result<Sealed> sealed = Refusal{};
        if (reading) {
            auto source = Journal::open(folder.path("copy.tapjob"), Access::read, look_away);
            REQUIRE(source.ok());
            sealed = source->seal(copy, plain_files());
        } else {
            sealed = journal.seal(copy, plain_files());
        }
        REQUIRE_MESSAGE(sealed.ok(), (sealed.ok() ? "" : in_english(sealed.refusal())));
        CHECK(sealed->content.content == journal.verify()->content);
        CHECK(sealed->content.blobs == 1);
        CHECK(sealed->sha256 == sha256(read_file(copy)));
        CHECK(sealed->bytes == read_file(copy).size());
        CHECK_FALSE(std::filesystem::exists(copy + ".part"));
        auto opened = Journal::open(copy, Access::write, look_away);
        REQUIRE(opened.ok());
        CHECK(opened->job() == journal.job());
        CHECK(opened->verify().ok());
    }
}

TEST_CASE("Sealing replaces nothing and leaves nothing when it fails") {
    const TemporaryFolder folder;
    Journal journal = made_with_photo(folder.path("a.tapjob"));
    write_file(folder.path("there"), "mine");
    CHECK(in_english(journal.seal(folder.path("there"), plain_files()).refusal()).find("exists already") !=
          std::string::npos);
    CHECK(read_file(folder.path("there")) == "mine");
    CHECK_FALSE(journal.seal("", plain_files()).ok());
    CHECK(in_english(journal.seal(folder.path("no/folder/x"), plain_files()).refusal()).find("cannot be written") !=
          std::string::npos);

    FilePort no_rename = plain_files();
    no_rename.rename = [](const std::string&, const std::string&) { return false; };
    CHECK(in_english(journal.seal(folder.path("b"), no_rename).refusal()).find("cannot be named") != std::string::npos);
    CHECK_FALSE(std::filesystem::exists(folder.path("b.part")));

    FilePort no_sync = plain_files();
    no_sync.sync_folder = [](const std::string&) { return false; };
    CHECK(in_english(journal.seal(folder.path("c"), no_sync).refusal()).find("did not confirm") != std::string::npos);

    // Whatever is called like its part by now is neither written through nor taken away.
    std::filesystem::create_symlink(folder.path("elsewhere"), folder.path("d.part"));
    CHECK(in_english(journal.seal(folder.path("d"), plain_files()).refusal()).find("Nothing can be written beside") !=
          std::string::npos);
    CHECK(std::filesystem::is_symlink(folder.path("d.part")));
    CHECK_FALSE(std::filesystem::exists(folder.path("elsewhere")));
    CHECK_FALSE(std::filesystem::exists(std::filesystem::symlink_status(folder.path("d"))));
    std::filesystem::create_symlink(folder.path("elsewhere"), folder.path("e"));
    CHECK(in_english(journal.seal(folder.path("e"), plain_files()).refusal()).find("exists already") !=
          std::string::npos);
    write_file(folder.path("f-journal"), "mine");
    CHECK(in_english(journal.seal(folder.path("f"), plain_files()).refusal()).find("is in the way") !=
          std::string::npos);
    CHECK(read_file(folder.path("f-journal")) == "mine");
    FilePort no_part = plain_files();
    no_part.part = [](const std::string&) { return std::string(); };
    CHECK(in_english(journal.seal(folder.path("g"), no_part).refusal()).find("Nothing can be written beside") !=
          std::string::npos);
    CHECK(journal.append(draft(0xa, {op("point", "after", "", "true")})).ok());
}
