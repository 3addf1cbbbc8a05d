// Files on their way: what a killed program left is taken away, and nobody else's file is.
#include <doctest/doctest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>

#include "core/words/words.h"
#include "platform/system/files.h"
#include "platform/system/parts.h"
#include "tests/system/other_process.h"
#include "tests/system/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

std::string said(const Result<void>& result) {
    return result ? "" : in_english(result.refusal());
}

// A part as a process leaves it that is no more: by a child that has ended.
std::string left_part(const std::string& path) {
    int ends[2] = {};
    REQUIRE(::pipe(ends) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        std::string part;
        const int file = open_part(path, part);
        const bool is_told = file >= 0 && ::write(ends[1], part.data(), part.size()) > 0;
        ::_exit(is_told ? 0 : 1);
    }
    ::close(ends[1]);
    char name[4096];
    const ssize_t got = ::read(ends[0], name, sizeof name);
    ::close(ends[0]);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    REQUIRE(status == 0);
    REQUIRE(got > 0);
    return {name, static_cast<std::size_t>(got)};
}

}  // namespace

TEST_CASE("the_part_of_a_process_that_is_no_more_is_taken_away_by_the_next") {
    const TemporaryFolder folder;
    const std::string path = folder.file("a.pdf");
    const std::string left = left_part(path);
    REQUIRE(fs::exists(left));
    put(left + "-journal", "its rollback file");
    CHECK(write_file(path, "a sheet").ok());
    CHECK(folder.count() == 1);
    CHECK(bytes_of(path) == "a sheet");
}

TEST_CASE("what_only_resembles_a_left_part_stays") {
    const TemporaryFolder folder;
    const std::string path = folder.file("a.pdf");
    const std::string left = left_part(path);
    fs::remove(left);
    const std::string name = fs::path(left).filename().string();  // .tapwright-part-MACHINE-PROCESS-NUMBER
    const std::string of_another_machine =
        std::string(name).replace(16, 8, name.substr(16, 8) == "00000000" ? "1" : "0");
    const std::string parent = name.substr(0, 25) + std::to_string(::getppid()) + "-1";
    for (const std::string& other :
         {of_another_machine, parent, name + "x", name + "-wal", "x" + name, name.substr(0, 25)})
        put(folder.file(other), "somebody's");
    fs::create_symlink(folder.file("nowhere"), left);
    CHECK(write_file(path, "a sheet").ok());
    CHECK(folder.count() == 8);
    CHECK(fs::is_symlink(left));
}

TEST_CASE("a_file_is_moved_only_to_where_nothing_is") {
    const TemporaryFolder folder;
    put(folder.file("from"), "new");
    put(folder.file("there"), "old");
    fs::create_symlink(folder.file("nowhere"), folder.file("link"));
    CHECK_FALSE(move_without_replacing(folder.file("from"), folder.file("there")));
    CHECK_FALSE(move_without_replacing(folder.file("from"), folder.file("link")));
    CHECK(bytes_of(folder.file("there")) == "old");
    CHECK(fs::is_symlink(folder.file("link")));
    CHECK(move_without_replacing(folder.file("from"), folder.file("to")));
    CHECK(bytes_of(folder.file("to")) == "new");
    CHECK_FALSE(fs::exists(folder.file("from")));
}

TEST_CASE("files_wanted_together_are_there_all_or_not_at_all") {
    const TemporaryFolder folder;
    put(folder.file("old"), "old");
    {
        FilesTogether files;
        REQUIRE(files.folder(folder.file("photos"), FilesTogether::Folder::own).ok());
        REQUIRE(files.add(folder.file("photos/1"), "photo").ok());
        REQUIRE(files.add(folder.file("old"), "new").ok());
        CHECK_FALSE(fs::exists(folder.file("photos/1")));
        CHECK(bytes_of(folder.file("old")) == "old");
    }
    CHECK(folder.count() == 1);
    CHECK(bytes_of(folder.file("old")) == "old");
    {
        FilesTogether files;
        REQUIRE(files.folder(folder.file("photos"), FilesTogether::Folder::own).ok());
        REQUIRE(files.add(folder.file("photos/1"), "photo").ok());
        REQUIRE(files.add(folder.file("old"), "new").ok());
        REQUIRE(files.keep().ok());
    }
    CHECK(bytes_of(folder.file("photos/1")) == "photo");
    CHECK(bytes_of(folder.file("old")) == "new");
    CHECK(folder.count() == 2);
}

TEST_CASE("a_disk_that_fills_up_at_the_second_of_two_files_leaves_neither") {
    const TemporaryFolder folder;
    const std::string answer = said_by_child([&]() -> std::string {
        ::signal(SIGXFSZ, SIG_IGN);
        const rlimit little{4096, 4096};
        if (::setrlimit(RLIMIT_FSIZE, &little) != 0) return "no limit";
        FilesTogether files;
        const std::string first = said(files.add(folder.file("a.json"), "{}"));
        return first + said(files.add(folder.file("large.jpg"), std::string(100'000, 'x')));
    });
    CHECK(answer.starts_with(folder.file("large.jpg") + " was not written: "));
    CHECK(folder.count() == 0);
}

TEST_CASE("a_link_in_the_place_of_a_folder_of_ours_is_not_followed") {
    const TemporaryFolder folder;
    const TemporaryFolder elsewhere;
    fs::create_symlink(elsewhere.path(), folder.file("photos"));
    FilesTogether files;
    CHECK(said(files.folder(folder.file("photos"), FilesTogether::Folder::own)) ==
          folder.file("photos") +
              " is a link to another place. Take it away, or choose another folder; nothing was written.");
    CHECK(files.folder(folder.file("photos"), FilesTogether::Folder::named).ok());
}

TEST_CASE("what_is_read_beside_a_file_is_an_ordinary_file_there_and_no_pipe_is_waited_for") {
    const TemporaryFolder folder;
    const TemporaryFolder elsewhere;
    put(elsewhere.file("secret"), "secret");
    fs::create_directory(folder.file("photos"));
    put(folder.file("photos/good"), "good");
    fs::create_symlink(elsewhere.file("secret"), folder.file("photos/link"));
    fs::create_symlink(elsewhere.path(), folder.file("out"));
    REQUIRE(::mkfifo(folder.file("photos/pipe").c_str(), 0600) == 0);
    const auto outcome = [&](const std::string& place) -> std::string {
        const auto read = read_inside(folder.path().string(), place, 100);
        if (!read) return in_english(read.refusal());
        return read->value_or("(nothing)");
    };
    CHECK(outcome("photos/good") == "good");
    CHECK(outcome("photos/none") == "(nothing)");
    CHECK(outcome("none/none") == "(nothing)");
    for (const char* place : {"photos/link", "photos/pipe", "photos"})
        CHECK(outcome(place) ==
              folder.file(place) + " is a link, a folder, a device or a pipe. Put an ordinary file there.");
    CHECK(outcome("out/secret") ==
          folder.file("out") + " is a link, a folder, a device or a pipe. Put an ordinary file there.");
    CHECK(read_inside(folder.path().string(), "photos/good", 3).ok() == false);
}

TEST_CASE("a_job_has_its_name_only_once_it_is_whole") {
    const TemporaryFolder folder;
    const std::string path = folder.file("mill.tapjob");
    const auto fails = [&](const std::string& part) -> Result<void> {
        CHECK_FALSE(is_taken(path));
        CHECK_FALSE(is_taken(part));
        put(part, "half");
        put(part + "-journal", "its rollback file");
        return Refusal{Message("No.")};
    };
    CHECK(said(make_job_file(path, fails)) == "No.");
    CHECK(folder.count() == 0);
    const auto works = [](const std::string& part) { return put(part, "whole"), done(); };
    CHECK(make_job_file(path, works).ok());
    CHECK(bytes_of(path) == "whole");
    CHECK(said(make_job_file(path, works)).find("exists already") != std::string::npos);
    const auto is_overtaken = [&](const std::string& part) {
        put(part, "mine");
        put(folder.file("other.tapjob"), "somebody's");
        return done();
    };
    CHECK(said(make_job_file(folder.file("other.tapjob"), is_overtaken)) ==
          folder.file("other.tapjob") + " cannot be made: File exists. Choose another name or folder.");
    CHECK(bytes_of(folder.file("other.tapjob")) == "somebody's");
    CHECK(folder.count() == 2);
    CHECK(said(make_job_file(folder.file("no/a.tapjob"), works)) ==
          folder.file("no/a.tapjob") + " cannot be made: No such file or directory. Choose another name or folder.");
}

TEST_CASE("folders_made_on_the_way_to_one_go_with_it_when_nothing_comes_of_it") {
    const TemporaryFolder folder;
    fs::create_directory(folder.file("there"));
    for (const bool keeps : {false, true}) {
        FilesTogether files;
        REQUIRE(files.folder(folder.file("there/a/b/c"), FilesTogether::Folder::named).ok());
        REQUIRE(files.add(folder.file("there/a/b/c/job.csv"), "name").ok());
        if (keeps) REQUIRE(files.keep().ok());
    }
    CHECK(bytes_of(folder.file("there/a/b/c/job.csv")) == "name");
    {
        FilesTogether files;
        REQUIRE(files.folder(folder.file("there/x/y/"), FilesTogether::Folder::named).ok());
    }
    CHECK(fs::is_directory(folder.file("there/a")));
    CHECK_FALSE(fs::exists(folder.file("there/x")));
}

TEST_CASE("an_empty_name_is_told_as_one_wherever_a_file_is_named") {
    const char* said = "No file is named: the name that was given is empty. Give the file's path.";
    CHECK(in_english(read_file("", 10).refusal()) == std::string(said));
    CHECK(::said(write_file("", "x")) == said);
    CHECK(::said(make_folder("")) == said);
}
