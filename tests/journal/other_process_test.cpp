// What another process does to the file: holding it, and a limit on file sizes, which is how a full disk looks.
#include <doctest/doctest.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

void make(const std::string& path) {
    REQUIRE(Journal::create(path, draft(0xa, {op("job", "job", "", "true")})).ok());
}

// A child that holds the file open until it is told to let go.
class Holder {
public:
    Holder(const std::string& path, Access access) {
        REQUIRE(pipe(ready_) == 0);
        REQUIRE(pipe(release_) == 0);
        child_ = fork();
        if (child_ == 0) {
            char byte = 0;
            const auto journal = Journal::open(path, access, look_away);
            byte = journal.ok() ? 'y' : 'n';
            if (write(ready_[1], &byte, 1) != 1 || read(release_[0], &byte, 1) != 1) _exit(1);
            _exit(0);  // without closing: the system lets go of the lock
        }
        char byte = 0;
        REQUIRE(read(ready_[0], &byte, 1) == 1);
        REQUIRE(byte == 'y');
    }
    ~Holder() {
        const char byte = 'x';
        CHECK(write(release_[1], &byte, 1) == 1);
        int status = 0;
        waitpid(child_, &status, 0);
        for (const int end : {ready_[0], ready_[1], release_[0], release_[1]}) close(end);
    }
    Holder(const Holder&) = delete;
    Holder& operator=(const Holder&) = delete;

private:
    int ready_[2] = {};
    int release_[2] = {};
    pid_t child_ = 0;
};

std::string outcome_elsewhere(const std::string& path, Access access) {
    const auto opened = Journal::open(path, access, look_away);
    return opened ? "opened" : in_english(opened.refusal());
}

}  // namespace

TEST_CASE("A file that another process writes to can be read but not written, and the sentence says so") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    make(path);
    const std::string held = path + " is open in another program or window; close it there first. Nothing was changed.";
    {
        const Holder holder(path, Access::write);
        CHECK(outcome_elsewhere(path, Access::write) == held);
        CHECK(outcome_elsewhere(path, Access::read) == "opened");
    }
    CHECK(outcome_elsewhere(path, Access::write) == "opened");
}

TEST_CASE("Two may read; who wants to write waits for both to close") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    make(path);
    {
        const Holder holder(path, Access::read);
        CHECK(outcome_elsewhere(path, Access::read) == "opened");
        CHECK(outcome_elsewhere(path, Access::write).find("is open in another program") != std::string::npos);
    }
    CHECK(outcome_elsewhere(path, Access::write) == "opened");
}

TEST_CASE("A second opening in the same process is refused too") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    make(path);
    const auto first = Journal::open(path, Access::write, look_away);
    REQUIRE(first.ok());
    CHECK(outcome_elsewhere(path, Access::write).find("is open in another program") != std::string::npos);
    CHECK(outcome_elsewhere(path, Access::read) == "opened");
}

TEST_CASE("a_reader_beside_a_writer_sees_whole_commits_only") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    make(path);
    int stop[2] = {};
    int ready[2] = {};
    REQUIRE(pipe(stop) == 0);
    REQUIRE(pipe(ready) == 0);
    const pid_t child = fork();
    if (child == 0) {
        close(stop[1]);
        auto journal = Journal::open(path, Access::write, look_away);
        bool fine = journal.ok();
        pollfd end{stop[0], POLLIN | POLLHUP, 0};
        for (int i = 0; fine && poll(&end, 1, 0) == 0; ++i) {
            // Commits of many pages, photos among them, for there is the most to tear.
            const std::string text(static_cast<std::size_t>(1000 + i % 7 * 3000), 'n');
            fine =
                journal->append(draft(0xb, {op("job", "job", "notes", '"' + text + std::to_string(i) + '"')})).ok() &&
                (i > 0 || i % 5 != 0 || journal->put_blob({std::string(200000, 'p') + std::to_string(i), ""}).ok());
            const char byte = 'y';
            usleep(20000);  // many times as often as people save
            if (i == 3) fine = fine && write(ready[1], &byte, 1) == 1;
        }
        _exit(fine ? 0 : 1);
    }
    close(stop[0]);
    char byte = 0;
    REQUIRE(read(ready[0], &byte, 1) == 1);
    std::size_t before = 0;
    for (int i = 0; i < 20; ++i) {
        const auto journal = Journal::open(path, Access::read, look_away);
        REQUIRE_MESSAGE(journal.ok(), (journal.ok() ? std::string() : in_english(journal.refusal())));
        CHECK(journal->access() == Access::read);
        const auto verified = journal->verify();  // photos too
        REQUIRE_MESSAGE(verified.ok(), (verified.ok() ? std::string() : in_english(verified.refusal())));
        CHECK(journal->batch_count() >= before);
        before = journal->batch_count();
    }
    CHECK(before > 4);
    close(stop[1]);
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    CHECK(status == 0);
    for (const int end : {ready[0], ready[1]}) close(end);
    CHECK(Journal::open(path, Access::read, look_away)->batch_count() >= before);
}

TEST_CASE("A reader's copy can be sealed, and leaves nothing beside the job") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    make(path);
    const Holder holder(path, Access::write);
    {
        const auto journal = Journal::open(path, Access::read, look_away);
        REQUIRE(journal.ok());
        const auto sealed = journal->seal(folder.path("sealed.tapjob"), plain_files());
        REQUIRE_MESSAGE(sealed.ok(), (sealed.ok() ? std::string() : in_english(sealed.refusal())));
    }
    CHECK(outcome_elsewhere(folder.path("sealed.tapjob"), Access::write) == "opened");
}

TEST_CASE("A file system that takes no more bytes: a sentence, and the old content is there") {
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    make(path);
    int answers[2] = {};
    REQUIRE(pipe(answers) == 0);
    const pid_t child = fork();
    if (child == 0) {
        std::signal(SIGXFSZ, SIG_IGN);
        auto journal = Journal::open(path, Access::write, look_away);
        const rlimit small{256 << 10, 256 << 10};
        if (!journal || setrlimit(RLIMIT_FSIZE, &small) != 0) _exit(1);
        const auto large =
            journal->append(draft(0xb, {op("job", "job", "notes", '"' + std::string(1 << 20, 'n') + '"')}));
        const auto photo = journal->put_blob({std::string(1 << 20, 'p'), ""});
        const auto fits = journal->append(draft(0xb, {op("job", "job", "notes", "\"short\"")}));
        const std::string answer = (large ? "kept" : in_english(large.refusal())) + "\n" +
                                   (photo ? "kept" : in_english(photo.refusal())) + "\n" +
                                   (fits ? "kept" : in_english(fits.refusal()));
        const auto size = static_cast<ssize_t>(answer.size());
        _exit(write(answers[1], answer.data(), answer.size()) == size ? 0 : 1);
    }
    close(answers[1]);
    std::string answer;
    char piece[512];
    for (ssize_t got = 0; (got = read(answers[0], piece, sizeof piece)) > 0;)
        answer.append(piece, static_cast<std::size_t>(got));
    close(answers[0]);
    int status = 0;
    waitpid(child, &status, 0);
    REQUIRE(WIFEXITED(status));
    REQUIRE(WEXITSTATUS(status) == 0);
    CHECK_MESSAGE(answer.starts_with("This could not be saved in " + path + "."), answer);
    CHECK(answer.find("The photo could not be saved") != std::string::npos);
    CHECK(answer.ends_with("\nkept"));
    const auto after = Journal::open(path, Access::read, look_away);
    REQUIRE(after.ok());
    CHECK(after->verify()->batches == 2);
}

TEST_CASE("A file whose making was cut off is called empty, however often it is opened") {
    // The state SIGKILL left once: the pages are there, and so is the rollback file that takes them back.
    const TemporaryFolder folder;
    const std::string path = folder.path("a.tapjob");
    const std::string rollback = path + "-journal";
    make(path);
    // A rollback file of a database that had no page: SQLite's file format, "The Rollback Journal".
    std::string start("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
    start += std::string(12, '\0') + std::string("\0\0\x02\0\0\0\x40\0", 8);
    start.resize(512, '\0');
    for (int i = 0; i < 3; ++i) {
        if (i == 0) write_file(rollback, start);
        for (const Access access : {Access::write, Access::read})
            CHECK_MESSAGE(outcome_elsewhere(path, access).find("is empty, so it is no job file") != std::string::npos,
                          outcome_elsewhere(path, access));
        CHECK(read_file(path).empty());
    }
}
