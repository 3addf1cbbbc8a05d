#include "tests/journal/failing_disk.h"

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <filesystem>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct Disk {
    TemporaryFolder folder;
    std::string path = folder.path("a.tapjob");
    Trouble& trouble = disk_trouble();

    Disk() { trouble = {}; }
    ~Disk() { trouble = {}; }
    Journal make() {
        auto created = Journal::create(path, draft(0xa, {op("job", "job", "", "true")}), failing_disk);
        REQUIRE(created.ok());
        return std::move(created->journal);
    }
    std::size_t batches_on_disk() const {
        auto journal = Journal::open(path, Access::read, [](const Batch&) { return done(); });
        REQUIRE(journal.ok());
        return journal->verify()->batches;
    }
};

Batch point(int number) {
    return draft(0xa, {op("point", "s" + std::to_string(number), "", "true")});
}

}  // namespace

TEST_CASE("Whichever single write or sync of a commit fails, it is kept or it is not, and the answer is true") {
    int kept_after_all = 0;
    int refused = 0;
    for (int at = 0;; ++at) {
        Disk disk;
        Journal journal = disk.make();
        disk.trouble.count = 0;
        disk.trouble = {at, SQLITE_IOERR_FSYNC, false, 0};
        const auto appended = journal.append(point(1));
        const bool was_hit = disk.trouble.count > at;
        disk.trouble = {};
        if (appended.ok()) {
            kept_after_all += was_hit ? 1 : 0;
        } else {
            ++refused;
            CHECK(in_english(appended.refusal()).find("The file is as it was before") != std::string::npos);
        }
        CHECK(journal.batch_count() == (appended.ok() ? 2u : 1u));
        // The same journal goes on, under the same writer.
        CHECK(journal.append(point(2)).ok());
        const std::size_t expected = journal.batch_count();
        { const Journal gone = std::move(journal); }
        CHECK(disk.batches_on_disk() == expected);
        if (!was_hit) break;
    }
    MESSAGE(refused << " refused, " << kept_after_all << " found to be kept");
    CHECK(refused >= 3);
}

TEST_CASE("A full disk is named, and what was there is there") {
    Disk disk;
    Journal journal = disk.make();
    REQUIRE(journal.append(point(1)).ok());
    disk.trouble = {0, SQLITE_FULL, false, 0};
    const auto refused = journal.append(point(2));
    REQUIRE_FALSE(refused.ok());
    CHECK(in_english(refused.refusal()) == "This could not be saved in " + disk.path +
                                               ". The disk is full. The file is as it was before; fix that and try "
                                               "again.");
    CHECK(journal.append(point(3)).ok());
    disk.trouble = {3, SQLITE_FULL, false, 0};
    const auto photo = journal.put_blob({std::string(1'000'000, 'p'), ""});
    REQUIRE_FALSE(photo.ok());
    CHECK(in_english(photo.refusal()).find("The photo could not be saved") != std::string::npos);
    CHECK(journal.put_blob({std::string(1'000'000, 'p'), ""}).ok());
    CHECK(journal.verify()->batches == 3);
}

TEST_CASE("A disk that stays broken closes the journal, and every later call says so") {
    for (int at = 0; at < 8; ++at) {
        Disk disk;
        {
            Journal journal = disk.make();
            REQUIRE(journal.append(point(1)).ok());
            disk.trouble = {at, SQLITE_IOERR_WRITE, true, 0};
            const auto refused = journal.append(point(2));
            if (!refused) {
                CHECK_FALSE(journal.append(point(3)).ok());
                const auto later = journal.verify();
                if (!later) CHECK(in_english(later.refusal()).find("was closed after an error") != std::string::npos);
            }
        }
        disk.trouble = {};
        CHECK(disk.batches_on_disk() >= 2);
    }
}

TEST_CASE("A job that cannot be made leaves nothing") {
    for (int at = 0; at < 10; ++at) {
        Disk disk;
        disk.trouble = {at, SQLITE_FULL, true, 0};
        const auto created = Journal::create(disk.path, draft(0xa, {op("job", "job", "", "true")}), failing_disk);
        disk.trouble = {};
        if (created.ok()) continue;
        CHECK(in_english(created.refusal()).find("cannot be made. The disk is full.") != std::string::npos);
        CHECK(disk.folder.file_count() == 0);
    }
}
