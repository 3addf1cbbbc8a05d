// Files that are not what they seem. Each is opened for writing: it must be refused and stay as it is.
#include <doctest/doctest.h>
#include <sqlite3.h>

#include <functional>

#include "core/journal/chain.h"
#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Opens the file for writing. Returns: why not; or "opened". The file must stay as it is.
std::string outcome(const std::string& path) {
    const std::string before = read_file(path);
    const auto opened = Journal::open(path, Access::write, [](const Batch&) { return done(); });
    CHECK(read_file(path) == before);
    return opened ? "opened" : in_english(opened.refusal());
}

bool says(const std::string& sentence, const char* part) {
    const bool found = sentence.find(part) != std::string::npos;
    if (!found) MESSAGE(sentence);
    return found;
}

// A good job of three batches, then altered with SQL as another program could.
std::string altered_with(const TemporaryFolder& folder, const char* sql) {
    static int count = 0;
    const std::string path = folder.path("altered" + std::to_string(++count) + ".tapjob");
    {
        Copy copy(0xa);
        copy.make("s1", "tap_w", "5");
        auto created = Journal::create(path, copy.last());
        REQUIRE(created.ok());
        copy.set("s1", "tap_w", "7.5");
        REQUIRE(created->journal.append(copy.last()).ok());
        copy.set("s1", "tap_w", "10");
        REQUIRE(created->journal.append(copy.last()).ok());
        REQUIRE(created->journal.put_blob({"photo", ""}).ok());
    }
    sqlite3* connection = nullptr;
    REQUIRE(sqlite3_open(path.c_str(), &connection) == SQLITE_OK);
    char* message = nullptr;
    const int result = sqlite3_exec(connection, sql, nullptr, nullptr, &message);
    CHECK_MESSAGE(result == SQLITE_OK, (message ? message : ""));
    sqlite3_free(message);
    sqlite3_close(connection);
    return path;
}

}  // namespace

TEST_CASE("Foreign and cut files") {
    const TemporaryFolder folder;
    const std::string path = folder.path("x.tapjob");
    const std::string good = read_file(altered_with(folder, "SELECT 1"));
    const auto refused = [&](const std::string& bytes) {
        write_file(path, bytes);
        return outcome(path);
    };
    CHECK(refused(good) == "opened");
    CHECK(says(refused(""), "is empty"));
    CHECK(says(refused("%PDF-1.4 ..."), "a PDF document"));
    CHECK(says(refused("\xff\xd8\xff\xe0 JFIF"), "a JPEG picture"));
    CHECK(says(refused(std::string(1 << 20, '[')), "is no job file"));
    CHECK(says(refused(good.substr(0, 50)), "cut short"));
    CHECK(says(refused(good.substr(0, 100)), "cut short"));
    CHECK(says(refused(good.substr(0, 16384)), "cut short"));
    CHECK(says(refused(good.substr(0, good.size() - 16384)), "cut short"));
    CHECK(says(refused(good.substr(0, good.size() - 1)), "cut short"));
    CHECK(says(refused(std::string(good).replace(16384, 16384, 16384, '\0')), "damaged"));
}

TEST_CASE("Another program's database, and ours from the future") {
    const TemporaryFolder folder;
    const std::string path = folder.path("other.db");
    sqlite3* connection = nullptr;
    REQUIRE(sqlite3_open(path.c_str(), &connection) == SQLITE_OK);
    REQUIRE(sqlite3_exec(connection, "CREATE TABLE t(a)", nullptr, nullptr, nullptr) == SQLITE_OK);
    sqlite3_close(connection);
    CHECK(says(outcome(path), "another program's database"));
    CHECK(says(outcome(altered_with(folder, "PRAGMA user_version=2")),
               "made by a newer Tapwright: it has file version 2, this program reads up to 1."));
}

TEST_CASE("Other tables than ours") {
    const TemporaryFolder folder;
    for (const char* sql :
         {"CREATE TABLE extra(a)", "CREATE INDEX i ON op(id)", "CREATE VIEW v AS SELECT 1", "DROP TABLE blob",
          "CREATE TRIGGER t AFTER INSERT ON op BEGIN DELETE FROM batch; END", "ALTER TABLE batch ADD COLUMN more TEXT",
          ("PRAGMA writable_schema=ON; UPDATE sqlite_schema SET sql=replace(sql, 'person', 'persom') WHERE "
           "name='batch'")})
        CHECK_MESSAGE(says(outcome(altered_with(folder, sql)), "has other tables than a job file"), sql);
    CHECK(says(outcome(altered_with(folder, "PRAGMA journal_mode=WAL")), "another program altered it"));
}

TEST_CASE("Rows altered by a program that knows SQL but not the hashes") {
    const TemporaryFolder folder;
    for (const char* sql : {"UPDATE op SET value='11' WHERE place=3",
                            "UPDATE op SET parents='' WHERE place=2",
                            "DELETE FROM op WHERE place=2",
                            "DELETE FROM op WHERE place=1 AND position=0",
                            "DELETE FROM batch WHERE place=3",
                            "DELETE FROM batch WHERE place=1",
                            "DELETE FROM batch",
                            "DELETE FROM batch; DELETE FROM op",
                            "DELETE FROM batch WHERE place=2; DELETE FROM op WHERE place=2",
                            "UPDATE batch SET person='Eve' WHERE place=2",
                            "UPDATE batch SET n=3 WHERE place=2",
                            "UPDATE batch SET clock=-1",
                            "UPDATE batch SET n=4294967297 WHERE place=1",
                            "UPDATE batch SET writer='A' WHERE place=1",
                            "UPDATE batch SET prev=x'00' WHERE place=2",
                            "UPDATE batch SET hash=x'' WHERE place=2",
                            "UPDATE batch SET undoes='x' WHERE place=2",
                            "UPDATE batch SET place=9 WHERE place=3; UPDATE op SET place=9 WHERE place=3",
                            "INSERT INTO op VALUES(4,0,'point','s1','','true','')",
                            "INSERT INTO op VALUES(0,0,'point','s1','','true','')",
                            "INSERT INTO op VALUES(2,1,'point','s1','','true','')",
                            "UPDATE op SET position=5 WHERE place=3",
                            "UPDATE op SET id=CAST(x'ff' AS TEXT) WHERE place=3",
                            "UPDATE op SET value='' WHERE place=3",
                            ("INSERT INTO batch SELECT 4, writer, n, clock, person, visit, time, undoes, prev, hash "
                             "FROM batch WHERE place=3")})
        CHECK_MESSAGE(says(outcome(altered_with(folder, sql)), "is damaged"), sql);
}

TEST_CASE("Batches hashed anew, but that follow nothing") {
    const auto file_of = [](const TemporaryFolder& folder, const std::function<void(Batch&)>& change) {
        // The third batch is replaced by one with a right hash and something else wrong.
        const std::string path = altered_with(folder, "DELETE FROM batch WHERE place=3; DELETE FROM op WHERE place=3");
        Batch third;
        const auto remember = [&](const Batch& batch) { return third = batch, done(); };
        REQUIRE(Journal::open(path, Access::read, remember).ok());
        third.prev = {third.hash};
        third.n = 3;
        change(third);
        third.hash = hash_of(third);
        sqlite3* connection = nullptr;
        REQUIRE(sqlite3_open(path.c_str(), &connection) == SQLITE_OK);
        std::string prev;
        for (const Digest& hash : third.prev) prev += hex(hash);
        const std::string sql = "INSERT INTO batch SELECT 3, writer, " + std::to_string(third.n) +
                                ", clock, person, visit, time, '" + (third.undoes ? address_text(*third.undoes) : "") +
                                "', x'" + prev + "', x'" + hex(third.hash) + "' FROM batch WHERE place=2; " +
                                "INSERT INTO op SELECT 3, 0, kind, id, field, value, '" +
                                addresses_text(third.ops[0].parents) + "' FROM op WHERE place=2";
        REQUIRE(sqlite3_exec(connection, sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK);
        sqlite3_close(connection);
        return path;
    };
    const TemporaryFolder folder;
    CHECK(outcome(file_of(folder, [](Batch&) {})) == "opened");
    CHECK(says(outcome(file_of(folder, [](Batch& b) { b.prev.clear(); })), "starts another job"));
    CHECK(says(outcome(file_of(folder, [](Batch& b) { b.prev = {sha256("?")}; })), "which is not here"));
    CHECK(says(outcome(file_of(folder, [](Batch& b) { b.n = 4; })), "without the change before it"));
    CHECK(says(outcome(file_of(folder, [](Batch& b) { b.undoes = BatchAddress{0xa, 3}; })), "which is not here"));
    CHECK(says(outcome(file_of(folder, [](Batch& b) { b.ops[0].parents = {{0xa, 1, 9}}; })), "which is not here"));
}
