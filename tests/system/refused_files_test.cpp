// What is not read and not written over, and what is said then. An open job keeps its lock through all of it.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/stat.h>

#include <filesystem>
#include <string>

#include "core/journal/journal.h"
#include "core/session/session.h"
#include "core/words/words.h"
#include "platform/system/files.h"
#include "tests/system/other_process.h"
#include "tests/system/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

std::string refusal_of_writing(const std::string& path) {
    const Result<void> written = write_file(path, "x");
    return written ? "" : in_english(written.refusal());
}

std::string refusal_of_reading(const std::string& path) {
    const Result<std::string> read = read_file(path, 1 << 20);
    return read ? "" : in_english(read.refusal());
}

Result<Session> make_job(const std::string& path) {
    const Command content{
        .changes = {{ChangeOp::set, Kind::job, Id("job"), {{"name", "Mill House"}}}}, .fill_in = true, .place = {}};
    return Session::create(path, content, {"Ada", ""}, {"2026-03-02T08:00:00Z", 1772438400000, 7});
}

// What the system itself says of the file's lock: SQLite in a forked child would go by its copy of this one's notes.
std::string lock_seen_by_another_process(const std::string& path) {
    return said_by_child([&]() -> std::string {
        const int file = ::open(path.c_str(), O_RDWR);
        struct flock wanted {};
        wanted.l_type = F_WRLCK;
        wanted.l_whence = SEEK_SET;  // from the first byte to the last there may ever be
        if (file < 0 || ::fcntl(file, F_GETLK, &wanted) != 0) return "unknown";
        return wanted.l_type == F_UNLCK ? "free" : "held";
    });
}

}  // namespace

TEST_CASE("what is not there, is a folder or lies below a file is refused in a sentence that names it") {
    const TemporaryFolder folder;
    put(folder.file("file"), "x");
    const std::string missing = folder.file("missing");
    CHECK(refusal_of_reading(missing) == missing + " cannot be read: No such file or directory.");
    CHECK(refusal_of_reading(folder.path()) == folder.path().string() + " is a folder; choose a file.");
    CHECK(refusal_of_reading(folder.file("file/below")).starts_with(folder.file("file/below") + " cannot be read: "));

    CHECK(refusal_of_writing(folder.path()) == folder.path().string() + " is a folder; choose a file name.");
    CHECK(refusal_of_writing(folder.file("no/sheet.pdf")) == folder.file("no/sheet.pdf") +
                                                                 " cannot be written: there is no folder " +
                                                                 folder.file("no") + ". Make it, or choose another.");
    CHECK(refusal_of_writing(folder.file("file/sheet.pdf")) ==
          folder.file("file/sheet.pdf") + " cannot be written: there is no folder " + folder.file("file") +
              ". Make it, or choose another.");
    CHECK(folder.count() == 1);
}

TEST_CASE("names no system can follow are refused, not thrown") {
    const TemporaryFolder folder;
    fs::create_symlink(folder.file("round"), folder.file("about"));
    fs::create_symlink(folder.file("about"), folder.file("round"));
    for (const std::string& path :
         {folder.file("round"), folder.file("round/sheet.pdf"), folder.file("") + std::string(300, 'n'),
          folder.file(std::string(300, 'n') + "/sheet.pdf")}) {
        CAPTURE(path);
        CHECK(refusal_of_writing(path).starts_with(path + " cannot be written: "));
        CHECK(refusal_of_reading(path).starts_with(path + " cannot be read: "));
        CHECK_FALSE(file_exists(path));
        CHECK_FALSE(make_folder(path).ok());
    }
}

TEST_CASE("a device or a pipe is never replaced by a file") {
    const TemporaryFolder folder;
    const std::string pipe = folder.file("pipe");
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(refusal_of_writing(pipe) == pipe + " is a device or a pipe; choose a file name.");
    CHECK(fs::is_fifo(pipe));
    // By way of a link, so that a mistake here costs the link and not the machine's device.
    fs::create_symlink("/dev/full", folder.file("full"));
    CHECK(refusal_of_writing(folder.file("full")) ==
          folder.file("full") + " is a device or a pipe; choose a file name.");
    CHECK(fs::is_character_file(folder.file("full")));
    CHECK(folder.count() == 2);
}

TEST_CASE("a file one may not read, and a folder one may not write to, stay as they are") {
    const TemporaryFolder folder;
    const std::string locked = folder.file("locked");
    put(locked, "mine");
    fs::permissions(locked, fs::perms::none);
    fs::permissions(folder.path(), fs::perms::all);  // anybody may put files here, or a rename could not do harm
    CHECK(said_without_rights([&] { return refusal_of_reading(locked); }) ==
          locked + " cannot be read: Permission denied.");
    // It may be a job file for all one can tell.
    CHECK(said_without_rights([&] { return refusal_of_writing(locked); }) ==
          locked + " exists and cannot be read, so it is not replaced; choose another file name.");
    fs::permissions(folder.path(), static_cast<fs::perms>(0555));
    CHECK(said_without_rights([&] { return refusal_of_writing(folder.file("new")); }) ==
          folder.file("new") + " cannot be written: Permission denied. Choose a folder where you may write.");
    fs::permissions(folder.path(), fs::perms::all);
    fs::permissions(locked, fs::perms::all);
    CHECK(bytes_of(locked) == "mine");
    CHECK(folder.count() == 1);
}

TEST_CASE("a job file is written over under none of its names, and read by nothing but its journal") {
    const TemporaryFolder folder;
    const std::string job = folder.file("mill.tapjob");
    REQUIRE(make_job(job).ok());
    const std::string before = bytes_of(job);
    fs::create_symlink(job, folder.file("link.pdf"));
    fs::create_hard_link(job, folder.file("other name.pdf"));
    for (const char* name : {"mill.tapjob", "link.pdf", "other name.pdf"}) {
        CAPTURE(name);
        CHECK(refusal_of_writing(folder.file(name)) ==
              folder.file(name) + " is a job file and is never replaced; choose another file name.");
        CHECK(refusal_of_reading(folder.file(name)) == folder.file(name) + " is a job file; choose another file.");
    }
    CHECK(bytes_of(job) == before);
    CHECK(fs::is_symlink(folder.file("link.pdf")));
    CHECK(folder.count() == 3);
}

TEST_CASE("what only resembles a job file is an ordinary file: too short, or another program's database") {
    const TemporaryFolder folder;
    REQUIRE(make_job(folder.file("mill.tapjob")).ok());
    const std::string job = bytes_of(folder.file("mill.tapjob"));
    std::string other = job;
    other[68] = 'X';  // its application id
    for (const std::string& bytes : {job.substr(0, 99), other, std::string()}) {
        put(folder.file("a"), bytes);
        CHECK(refusal_of_reading(folder.file("a")) == "");
        CHECK(refusal_of_writing(folder.file("a")) == "");
    }
}

TEST_CASE("a mistaken name does not open the lock of the job that is open in this process") {
    // Linux drops all locks a process has on a file as soon as the process closes any descriptor of it.
    const TemporaryFolder folder;
    const std::string job = folder.file("mill.tapjob");
    const Result<Session> session = make_job(job);
    REQUIRE(session.ok());
    REQUIRE(lock_seen_by_another_process(job) == "held");
    CHECK(refusal_of_writing(job) != "");
    CHECK(lock_seen_by_another_process(job) == "held");
    CHECK(refusal_of_reading(job) != "");
    CHECK(lock_seen_by_another_process(job) == "held");
}
