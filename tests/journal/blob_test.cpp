#include <doctest/doctest.h>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/forge.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

TEST_CASE("A photo comes out as it went in, once, and is listed") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    auto created = Journal::create(path, draft(0xa, {op("job", "job", "", "true")}));
    REQUIRE(created.ok());
    Journal& journal = created->journal;
    std::string original(3'000'000, '\0');
    for (std::size_t i = 0; i < original.size(); ++i) original[i] = static_cast<char>(i * i / 7);
    const Blob blob{original, std::string("copy\0with a zero", 16)};

    const auto put = journal.put_blob(blob);
    REQUIRE(put.ok());
    CHECK(*put == sha256(original));
    CHECK(*journal.put_blob(blob) == *put);
    CHECK(*journal.has_blob(*put));
    CHECK_FALSE(*journal.has_blob(sha256("other")));
    const auto got = journal.get_blob(*put);
    REQUIRE(got.ok());
    CHECK(got->original == blob.original);
    CHECK(got->copy == blob.copy);
    REQUIRE(journal.put_blob({"no copy", ""}).ok());
    const auto list = journal.blob_list();
    REQUIRE(list.ok());
    REQUIRE(list->size() == 2);
    const BlobInfo& large = (*list)[0].original_bytes == 3'000'000 ? (*list)[0] : (*list)[1];
    CHECK(large.sha256 == *put);
    CHECK(large.copy_bytes == 16);
    CHECK(journal.verify()->blobs == 2);
    const auto missing = journal.get_blob(sha256("other"));
    REQUIRE_FALSE(missing.ok());
    CHECK(in_english(missing.refusal()).find("holds no photo") != std::string::npos);
}

TEST_CASE("An empty photo and one that is too large are refused") {
    const TemporaryFolder folder;
    auto created = Journal::create(folder.path("a.tapjob"), draft(0xa, {op("job", "job", "", "true")}));
    REQUIRE(created.ok());
    CHECK_FALSE(created->journal.put_blob({"", "copy"}).ok());
    const auto large = created->journal.put_blob({std::string((std::size_t{40} << 20) + 1, 'x'), ""});
    REQUIRE_FALSE(large.ok());
    CHECK(in_english(large.refusal()) == "The photo is too large (40 MiB). Up to 40 MiB can be saved.");
    CHECK_FALSE(created->journal.put_blob({"x", std::string((std::size_t{4} << 20) + 1, 'x')}).ok());
    CHECK(created->journal.put_blob({std::string(std::size_t{40} << 20, 'x'), std::string(std::size_t{4} << 20, 'y')})
              .ok());
    CHECK(created->journal.verify()->blobs == 1);
}

TEST_CASE("A damaged photo opens with the job and is found by verify and by who asks for it") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    Digest digest{};
    {
        auto created = Journal::create(path, draft(0xa, {op("job", "job", "", "true")}));
        REQUIRE(created.ok());
        digest = *created->journal.put_blob({std::string(100'000, 'p') + "end of photo", ""});
    }
    std::string bytes = read_file(path);
    const std::size_t at = bytes.find("end of photo");
    REQUIRE(at != std::string::npos);
    bytes[at] = 'E';
    write_file(path, bytes);
    auto journal = Journal::open(path, Access::read, [](const Batch&) { return done(); });
    REQUIRE(journal.ok());
    CHECK(in_english(journal->get_blob(digest).refusal()).find("does not match its hash") != std::string::npos);
    CHECK(in_english(journal->verify().refusal()).find("Photo " + hex(digest)) != std::string::npos);
}

TEST_CASE("an_index_that_leads_to_another_photo_or_misspells_one_is_damage") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    std::vector<std::string> names;
    {
        auto created = Journal::create(path, draft(0xa, {op("job", "job", "", "true")}));
        REQUIRE(created.ok());
        for (const char* photo : {"first", "second", "third"}) {
            const auto kept = created->journal.put_blob({photo, std::string("small ") + photo});
            REQUIRE(kept.ok());
            names.push_back(hex(*kept));
        }
    }
    const std::string good = read_file(path);
    for (const bool swap : {true, false}) {
        write_file(path, good);
        if (swap)
            swap_in_photo_index(path, names[0], names[1]);
        else
            flip_in_photo_index(path, names[2]);
        REQUIRE(read_file(path) != good);
        for (const Access access : {Access::read, Access::write}) {
            const auto opened = Journal::open(path, access, [](const Batch&) { return done(); });
            REQUIRE_FALSE(opened.ok());
            CHECK(in_english(opened.refusal()).starts_with(path + " is damaged ("));
        }
    }
    write_file(path, good);
    CHECK(Journal::open(path, Access::read, [](const Batch&) { return done(); })->verify().ok());
}
