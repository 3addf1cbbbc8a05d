// What lies beside a job file. A job comes by mail from somebody else, and so may what is in the folder with it; SQLite
// would believe all of it.
#include <doctest/doctest.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <functional>
#include <thread>

#include "core/journal/beside.h"
#include "core/journal/guard.h"
#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/forge.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

std::string outcome(const std::string& path, Access access) {
    const auto opened = Journal::open(path, access, look_away);
    return opened ? "opened" : in_english(opened.refusal());
}

std::string good_job(const TemporaryFolder& folder, const char* name = "good.tapjob") {
    const std::string path = folder.path(name);
    auto created = Journal::create(path, draft(0xa, {op("job", "job", "name", "\"Mill House\"")}));
    REQUIRE(created.ok());
    REQUIRE(created->journal.append(draft(0xa, {op("point", "s1", "", "true")})).ok());
    return path;
}

bool has(const std::string& sentence, const std::string& part) {
    const bool found = sentence.find(part) != std::string::npos;
    if (!found) MESSAGE(sentence);
    return found;
}

}  // namespace

TEST_CASE("a_rollback_file_that_names_another_file_is_refused_and_that_file_stays") {
    const TemporaryFolder folder;
    const std::string job = good_job(folder);
    const std::string victim = folder.path("victim.txt");
    write_file(victim, "mine");
    const std::string before = read_file(job);
    const std::string rollback = rollback_file_naming(victim, before.size());
    write_file(job + "-journal", rollback);
    for (const Access access : {Access::read, Access::write}) {
        CHECK(outcome(job, access) ==
              job + "-journal names another file, which opening " + job +
                  " would delete; Tapwright writes nothing of the kind. Ask whoever sent it for "
                  "a sealed copy; nothing was changed.");
        CHECK(read_file(victim) == "mine");
        CHECK(read_file(job) == before);
        CHECK(read_file(job + "-journal") == rollback);
    }
    // By way of a link, SQLite looks beside the file that the link leads to.
    fs::create_symlink(job, folder.path("link.tapjob"));
    CHECK(has(outcome(folder.path("link.tapjob"), Access::write), "names another file"));
    CHECK(read_file(victim) == "mine");
}

TEST_CASE("a_rollback_file_whose_name_has_a_wrong_sum_or_length_names_nothing_to_SQLite_and_harms_nothing") {
    const TemporaryFolder folder;
    const std::string victim = folder.path("victim.txt");
    write_file(victim, "mine");
    for (const std::size_t from_end : {std::size_t{9}, std::size_t{13}, std::size_t{1}}) {
        const std::string job = good_job(folder, ("good" + std::to_string(from_end) + ".tapjob").c_str());
        std::string rollback = rollback_file_naming(victim, read_file(job).size());
        char& byte = rollback[rollback.size() - from_end];
        byte = static_cast<char>(byte + 1);
        write_file(job + "-journal", rollback);
        CHECK(outcome(job, Access::write) == "opened");
        CHECK(read_file(victim) == "mine");
    }
}

TEST_CASE("a_rollback_file_of_an_interrupted_commit_is_taken_back_as_ever") {
    const TemporaryFolder folder;
    const std::string job = good_job(folder);
    for (const Access access : {Access::read, Access::write}) {
        const std::string made = folder.path(access == Access::read ? "read.tapjob" : "written.tapjob");
        cut_off_commit(job, made);
        REQUIRE(outcome(made, access) == "opened");
        CHECK(read_file(made) == read_file(job));
        CHECK_FALSE(fs::exists(made + "-journal"));
    }
}

TEST_CASE("a_change_hidden_in_a_wal_is_not_read_in") {
    const TemporaryFolder folder;
    const std::string job = good_job(folder);
    const std::string made = folder.path("hidden.tapjob");
    hide_in_wal(job, made);
    const std::string before = read_file(made);
    const std::string wal = read_file(made + "-wal");
    for (const Access access : {Access::read, Access::write}) {
        CHECK(outcome(made, access) == made + "-wal lies beside " + made +
                                           ", which keeps no changes there: another program put it there. Move it to "
                                           "another folder and open the job again; nothing was changed.");
        CHECK(read_file(made) == before);
        CHECK(read_file(made + "-wal") == wal);
    }
    fs::rename(made + "-wal", folder.path("elsewhere"));
    CHECK(outcome(made, Access::read) == "opened");
    write_file(made + "-shm", "");
    CHECK(has(outcome(made, Access::read), made + "-shm lies beside "));
}

TEST_CASE("only_an_ordinary_file_may_be_in_the_place_of_the_rollback_file") {
    const TemporaryFolder folder;
    const std::string job = good_job(folder);
    const std::string before = read_file(job);
    const std::string place = job + "-journal";
    write_file(folder.path("other"), "mine");
    const std::function<void()> ways[] = {
        [&] { fs::create_symlink(folder.path("other"), place); },
        [&] { fs::create_symlink(folder.path("nowhere"), place); },
        [&] { REQUIRE(::mkfifo(place.c_str(), 0600) == 0); },
        [&] { fs::create_directory(place); },
    };
    for (const auto& lay : ways) {
        lay();
        for (const Access access : {Access::read, Access::write})
            CHECK(outcome(job, access) ==
                  place + " is a link, a folder, a device or a pipe; only a file of " + job +
                      " itself may be there. Take it away and open the job again; nothing was changed.");
        CHECK(read_file(job) == before);
        CHECK(read_file(folder.path("other")) == "mine");
        CHECK_FALSE(fs::exists(folder.path("nowhere")));
        fs::remove(place);
    }
    for (const char* end : {"-wal", "-shm"}) {
        fs::create_symlink(folder.path("nowhere"), job + end);
        CHECK(has(outcome(job, Access::read), job + end + " lies beside "));
        fs::remove(job + end);
    }
    CHECK(outcome(job, Access::write) == "opened");
}

TEST_CASE("a_pipe_named_as_a_job_is_refused_without_waiting_for_it") {
    const TemporaryFolder folder;
    const std::string pipe = folder.path("pipe.tapjob");
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(outcome(pipe, Access::read) == pipe + " is no job file but a device or a pipe. Choose a job file (.tapjob).");
}

TEST_CASE("a_reader_of_a_job_that_is_open_elsewhere_looks_beside_it_too") {
    const TemporaryFolder folder;
    const std::string job = good_job(folder);
    const auto writer = Journal::open(job, Access::write, look_away);
    REQUIRE(writer.ok());
    CHECK(outcome(job, Access::read) == "opened");
    write_file(job + "-wal", "x");
    CHECK(has(outcome(job, Access::read), job + "-wal lies beside "));
    fs::remove(job + "-wal");
    const std::string victim = folder.path("victim.txt");
    write_file(victim, "mine");
    write_file(job + "-journal", rollback_file_naming(victim, read_file(job).size()));
    CHECK(has(outcome(job, Access::read), "names another file"));
    CHECK(read_file(victim) == "mine");
}

TEST_CASE("a_rollback_file_that_a_writer_grows_empties_and_takes_away_meanwhile_is_no_unreadable_one") {
    const TemporaryFolder folder;
    const std::string job = good_job(folder);
    const std::string beside = job + "-journal";
    std::atomic<bool> ends{false};
    std::thread writer([&] {
        const std::string bytes(3000, 'x');
        while (!ends) {
            write_file(beside, bytes);
            fs::resize_file(beside, 0);
            fs::remove(beside);
        }
    });
    int refused = 0;
    for (int i = 0; i < 20'000; ++i)
        if (const auto looked = check_beside("", job, job); !looked) {
            if (refused++ == 0) MESSAGE(in_english(looked.refusal()));
        }
    ends = true;
    writer.join();
    CHECK(refused == 0);
}

TEST_CASE("a_job_is_made_neither_through_a_link_nor_beside_what_SQLite_would_take_for_its_own") {
    const TemporaryFolder folder;
    const std::string path = folder.path("new.tapjob");
    const auto refused = [&] {
        const auto created = Journal::create(path, draft(0xa, {op("job", "job", "", "true")}));
        return created ? std::string("made") : in_english(created.refusal());
    };
    fs::create_symlink(folder.path("elsewhere"), path);
    CHECK(has(refused(), path + " exists already"));
    CHECK(fs::is_symlink(path));
    CHECK_FALSE(fs::exists(folder.path("elsewhere")));
    fs::remove(path);
    for (const char* end : {"-journal", "-wal", "-shm"}) {
        write_file(path + end, "somebody's");
        CHECK(refused() == path + end + " is in the way of " + path +
                               ". Take it away, or choose another name; nothing was changed.");
        CHECK(read_file(path + end) == "somebody's");
        CHECK_FALSE(fs::exists(path));
        fs::remove(path + end);
    }
    CHECK(refused() == "made");
}

TEST_CASE("should_it_come_there_after_the_look_SQLite_is_kept_from_it_by_the_guard") {
    const TemporaryFolder folder;
    const std::string victim = folder.path("victim.tapjob-journal");
    write_file(victim, "mine");
    const auto run = [](const std::string& path, const char* sql) {
        sqlite3* connection = nullptr;
        const int opened = sqlite3_open_v2(path.c_str(), &connection, SQLITE_OPEN_READWRITE, guarded("")->zName);
        const int result =
            opened == SQLITE_OK ? sqlite3_exec(connection, sql, nullptr, nullptr, nullptr) : SQLITE_CANTOPEN;
        sqlite3_close(connection);
        return result;
    };
    const std::string job = good_job(folder);
    CHECK(run(job, "SELECT * FROM batch") == SQLITE_OK);
    write_file(job + "-journal", rollback_file_naming(victim, read_file(job).size()));
    CHECK(run(job, "SELECT * FROM batch") == SQLITE_CANTOPEN);
    CHECK(read_file(victim) == "mine");
    fs::remove(job + "-journal");

    const std::string hidden = folder.path("hidden.tapjob");
    hide_in_wal(job, hidden);
    const std::string before = read_file(hidden);
    CHECK(run(hidden, "SELECT * FROM batch") != SQLITE_OK);
    CHECK(read_file(hidden) == before);

    fs::create_symlink(folder.path("elsewhere"), folder.path("copy"));
    CHECK(run(job, ("VACUUM INTO '" + folder.path("copy") + "'").c_str()) == SQLITE_CANTOPEN);
    CHECK_FALSE(fs::exists(folder.path("elsewhere")));
}

TEST_CASE("a_job_is_made_and_sealed_in_a_folder_that_is_reached_through_a_link") {
    const TemporaryFolder folder;
    fs::create_directory(folder.path("stick"));
    fs::create_directory_symlink(folder.path("stick"), folder.path("jobs"));
    const std::string made = good_job(folder, "jobs/a.tapjob");
    CHECK(fs::exists(folder.path("stick/a.tapjob")));
    const auto opened = Journal::open(made, Access::read, look_away);
    REQUIRE(opened.ok());
    const auto sealed = opened->seal(folder.path("jobs/sealed.tapjob"), plain_files());
    CHECK_MESSAGE(sealed.ok(), (sealed.ok() ? "" : in_english(sealed.refusal())));
    CHECK(outcome(folder.path("stick/sealed.tapjob"), Access::read) == "opened");
    // A link in the place of the job itself is refused there too.
    fs::create_symlink(folder.path("elsewhere"), folder.path("stick/b.tapjob"));
    const auto refused = Journal::create(folder.path("jobs/b.tapjob"), draft(0xa, {op("job", "job", "", "true")}));
    REQUIRE_FALSE(refused.ok());
    CHECK(has(in_english(refused.refusal()), "b.tapjob exists already"));
    CHECK_FALSE(fs::exists(folder.path("elsewhere")));
}

TEST_CASE("what_the_system_does_not_let_us_look_at_is_called_neither_missing_nor_there") {
    const TemporaryFolder folder;
    fs::create_symlink(folder.path("round"), folder.path("round"));
    const std::string too_long = folder.path(std::string(300, 'n') + ".tapjob");
    for (const auto& [path, reason] :
         {std::pair(folder.path("round/a.tapjob"), std::string(": Too many levels of symbolic links.")),
          std::pair(too_long, std::string(": File name too long."))}) {
        CHECK(has(outcome(path, Access::read), " cannot be looked at" + reason));
        const auto refused = Journal::create(path, draft(0xa, {op("job", "job", "", "true")}));
        REQUIRE_FALSE(refused.ok());
        CHECK(has(in_english(refused.refusal()), " cannot be made" + reason));
    }
    // Its own name is short enough, that of the file beside it while it changes is not.
    const std::string no_room = folder.path(std::string(244, 'n') + ".tapjob");
    const auto refused = Journal::create(no_room, draft(0xa, {op("job", "job", "", "true")}));
    REQUIRE_FALSE(refused.ok());
    CHECK(has(in_english(refused.refusal()), " cannot be made: File name too long."));
    CHECK(has(outcome(folder.path("none/a.tapjob"), Access::read), "does not exist"));
}
