#include "core/journal/journal.h"

#include <doctest/doctest.h>

#include <filesystem>

#include "core/journal/replica.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

Batch first_batch() {
    return draft(0xa, {op("job", "job", "", "true"), op("job", "job", "name", "\"Site\"")});
}

}  // namespace

TEST_CASE("What was kept is what opening hands over, in order and with its hashes") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    std::vector<Batch> kept;
    {
        auto created = Journal::create(path, first_batch());
        REQUIRE(created.ok());
        kept.push_back(created->first);
        CHECK(created->journal.job() == created->first.hash);
        for (int i = 0; i < 3; ++i) {
            Batch next = draft(0xa, {op("point", "s" + std::to_string(i), "", "true")}, "Bjørn", 10 + i);
            next.visit = "v1";
            auto appended = created->journal.append(next);
            REQUIRE(appended.ok());
            kept.push_back(*appended);
        }
        CHECK(created->journal.last_clock() == 12);
    }
    CHECK(kept[1].n == 2);
    CHECK(kept[1].prev == std::vector<Digest>{kept[0].hash});
    CHECK(folder.file_count() == 1);  // nothing in a sidecar

    std::vector<Batch> read;
    auto journal = Journal::open(path, Access::read, [&](const Batch& batch) {
        read.push_back(batch);
        return done();
    });
    REQUIRE(journal.ok());
    CHECK(read == kept);
    CHECK(journal->job() == kept[0].hash);
    CHECK(journal->batch_count() == 4);
    CHECK(*journal->batch(kept[2].address()) == kept[2]);
    CHECK(*journal->op(kept[0].op_address(1)) == kept[0].ops[1]);
    CHECK_FALSE(journal->op(kept[0].op_address(2)).ok());
    CHECK_FALSE(journal->batch({0xb, 1}).ok());
    const auto history = journal->history(2);
    REQUIRE(history.ok());
    REQUIRE(history->size() == 2);
    CHECK((*history)[0].batch.address() == kept[3].address());
    CHECK((*history)[1].batch.person == "Bjørn");
    CHECK((*history)[0].op_count == 1);
    read.clear();
    CHECK(journal->for_each_batch([&](const Batch& batch) { return read.push_back(batch), done(); }).ok());
    CHECK(read == kept);
    const auto verified = journal->verify();
    REQUIRE(verified.ok());
    CHECK(verified->batches == 4);
    CHECK(verified->ops == 5);
    CHECK(verified->blobs == 0);
    CHECK(verified->job == kept[0].hash);
}

TEST_CASE("Opening for reading changes no byte, and neither does opening for writing alone") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    REQUIRE(Journal::create(path, first_batch()).ok());
    const std::string before = read_file(path);
    for (const Access access : {Access::read, Access::write}) {
        CHECK(Journal::open(path, access, look_away).ok());
        CHECK(read_file(path) == before);
        CHECK(folder.file_count() == 1);
    }
}

TEST_CASE("Each opening that writes has a writer of its own") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    REQUIRE(Journal::create(path, first_batch()).ok());
    auto journal = Journal::open(path, Access::write, look_away);
    REQUIRE(journal.ok());
    const auto refused = journal->append(draft(0xa, {op("point", "s1", "", "true")}));
    REQUIRE_FALSE(refused.ok());
    CHECK(in_english(refused.refusal()).find("in an earlier opening") != std::string::npos);
    CHECK(journal->append(draft(0xb, {op("point", "s1", "", "true")})).ok());
    CHECK(journal->append(draft(0xb, {op("point", "s2", "", "true")}))->n == 2);
    CHECK(journal->batch_count() == 3);
}

TEST_CASE("A draft that cannot be is refused and nothing is kept") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    auto created = Journal::create(path, first_batch());
    REQUIRE(created.ok());
    CHECK_FALSE(created->journal.append(draft(0xa, {})).ok());
    CHECK_FALSE(created->journal.append(draft(0xa, {op("point", "s 1", "", "true")})).ok());
    CHECK_FALSE(created->journal.append(draft(0xa, {op("point", "s1", "", "null", {{0xb, 1, 0}})})).ok());
    CHECK(created->journal.batch_count() == 1);
    CHECK(created->journal.append(draft(0xa, {op("point", "s1", "", "true")}))->n == 2);
    // Parents may come in any order and twice; kept is the one form.
    const auto sorted =
        created->journal.append(draft(0xa, {op("job", "job", "", "null", {{0xa, 1, 1}, {0xa, 1, 0}, {0xa, 1, 1}})}));
    REQUIRE(sorted.ok());
    CHECK(sorted->ops[0].parents == std::vector<OpAddress>{{0xa, 1, 0}, {0xa, 1, 1}});

    const std::string other = folder.path("b.tapjob");
    CHECK_FALSE(Journal::create(other, draft(0xa, {})).ok());
    CHECK_FALSE(Journal::create(other, draft(0xa, {op("job", "job", "", "null", {{0xb, 1, 0}})})).ok());
    CHECK_FALSE(std::filesystem::exists(other));
}

TEST_CASE("A path that is taken, missing or no file is said, and left alone") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    write_file(path, "hello");
    const auto taken = Journal::create(path, first_batch());
    REQUIRE_FALSE(taken.ok());
    CHECK(in_english(taken.refusal()).find("exists already; open it, or choose another name.") != std::string::npos);
    CHECK(read_file(path) == "hello");

    const auto missing = Journal::open(folder.path("no.tapjob"), Access::write, look_away);
    REQUIRE_FALSE(missing.ok());
    CHECK(in_english(missing.refusal()).find("does not exist; check the path") != std::string::npos);
    CHECK(folder.file_count() == 1);

    const auto nowhere = Journal::create(folder.path("no/folder/a.tapjob"), first_batch());
    REQUIRE_FALSE(nowhere.ok());
    CHECK(in_english(nowhere.refusal()).find("its folder is missing or may not be written to") != std::string::npos);
    for (const Access access : {Access::read, Access::write}) {
        const auto directory = Journal::open(folder.path(""), access, look_away);
        REQUIRE_FALSE(directory.ok());
        CHECK(in_english(directory.refusal()).find("it is a folder") != std::string::npos);
    }
    CHECK_FALSE(Journal::open("", Access::read, look_away).ok());
    CHECK_FALSE(Journal::create("", first_batch()).ok());
    CHECK_FALSE(Journal::open(std::string(100000, 'x'), Access::read, look_away).ok());
    CHECK_FALSE(Journal::open(path, Access::read, look_away, "no-such-vfs").ok());
}

TEST_CASE("Names that SQLite would take for addresses are names of files") {
    const TemporaryFolder folder;
    const auto before = std::filesystem::current_path();
    std::filesystem::current_path(folder.path(""));
    for (const char* name : {"file:odd.tapjob?mode=memory", ":memory:", "100 % größer?.tapjob"}) {
        CHECK_MESSAGE(Journal::create(name, first_batch()).ok(), name);
        CHECK_MESSAGE(std::filesystem::exists(std::filesystem::path("./") / name), name);
        CHECK_MESSAGE(Journal::open(name, Access::read, look_away).ok(), name);
    }
    std::filesystem::current_path(before);
}

TEST_CASE("What the visitor refuses ends the opening with its sentence") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    REQUIRE(Journal::create(path, first_batch()).ok());
    const auto refused =
        Journal::open(path, Access::read, [](const Batch&) { return Result<void>(Refusal{Message("No.")}); });
    REQUIRE_FALSE(refused.ok());
    CHECK(in_english(refused.refusal()) == "No.");
}

TEST_CASE("A journal open for reading keeps nothing and says so") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    REQUIRE(Journal::create(path, first_batch()).ok());
    auto journal = Journal::open(path, Access::read, look_away);
    REQUIRE(journal.ok());
    const auto refused = journal->append(draft(0xb, {op("point", "s1", "", "true")}));
    REQUIRE_FALSE(refused.ok());
    CHECK(in_english(refused.refusal()).find("is open for reading only") != std::string::npos);
    CHECK_FALSE(journal->take({}).ok());
    CHECK_FALSE(journal->put_blob({"bytes", ""}).ok());
}

TEST_CASE("Replay equals what was live, undo included") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    Copy live(0xa);
    live.make("s1", "tap_w", "5");
    auto created = Journal::create(path, live.last());
    REQUIRE(created.ok());
    CHECK(created->first == live.last());
    live.set("s1", "tap_w", "7.5");
    live.undo(live.last().address());
    live.make("s2", "label", "\"B\"");
    live.remove("s1");
    for (std::size_t i = 1; i < live.log().size(); ++i) {
        const auto kept = created->journal.append(live.log()[i]);
        REQUIRE(kept.ok());
        CHECK(*kept == live.log()[i]);
    }
    Replica replayed;
    CHECK(created->journal
              .for_each_batch([&](const Batch& batch) -> Result<void> {
                  const auto absorbed = replayed.absorb(batch);
                  if (!absorbed) return absorbed.refusal();
                  return done();
              })
              .ok());
    CHECK(Copy::content_of(replayed) == live.content());
}
