// Whole or not at all: import, seal and export that are killed, meet a full disk, or find links and pipes in their way.
#include <doctest/doctest.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <random>
#include <thread>

#include "core/base/sha256.h"
#include "tests/cli/program.h"
#include "tests/photos/made_pictures.h"
#include "tests/session/temporary.h"
#include "tests/system/small_files.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

constexpr int photo_count = 5;

// A JSON job with photos beside it in a folder of its own.
class Sent {
public:
    Sent() {
        fs::create_directory(folder_.path() / "photos");
        std::string records;
        for (int i = 0; i < photo_count; ++i) {
            const std::string photo = made::camera_jpeg(400, 300, static_cast<std::uint32_t>(i + 1));
            digests_.push_back(hex(sha256(photo)));
            write_bytes(photo_path(i), photo);
            records += std::string(i == 0 ? "" : ",") + "{\"id\":\"f" + std::to_string(i) +
                       "\",\"about\":\"r1\",\"sha256\":\"" + digests_.back() + "\"}";
        }
        write_bytes(json(),
                    "{\"tapwright_job\":1,\"job\":{\"name\":\"Mill House\"},\"rooms\":[{\"id\":\"r1\",\"name\":"
                    "\"Hall\"}],\"photos\":[" +
                        records + "]}");
    }
    std::string json() const { return folder_.file("job.json"); }
    std::string photo_path(int i) const {
        return folder_.file("photos/" + digests_[static_cast<std::size_t>(i)] + ".jpg");
    }

private:
    TemporaryFolder folder_;
    std::vector<std::string> digests_;
};

class Place {
public:
    std::string in(const std::string& name) const { return folder_.file(name); }
    Ran run(const std::vector<std::string>& arguments) const {
        return tapwright::test::tapwright(settings_.path().string(), arguments);
    }
    std::vector<std::string> names() const {
        std::vector<std::string> names;
        for (const auto& entry : fs::directory_iterator(folder_.path()))
            names.push_back(entry.path().filename().string());
        std::sort(names.begin(), names.end());
        return names;
    }

private:
    TemporaryFolder folder_;
    TemporaryFolder settings_;  // beside nothing that is counted
};

// Starts the program and kills it after a while. Returns: whether it was still running.
bool killed_after(const std::vector<std::string>& arguments, std::chrono::microseconds while_running) {
    std::fflush(nullptr);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        if (!std::freopen("/dev/null", "w", stdout) || !std::freopen("/dev/null", "w", stderr)) ::_exit(126);
        std::vector<char*> words{const_cast<char*>(TAPWRIGHT_PROGRAM)};
        for (const std::string& argument : arguments) words.push_back(const_cast<char*>(argument.c_str()));
        words.push_back(nullptr);
        ::execv(TAPWRIGHT_PROGRAM, words.data());
        ::_exit(127);
    }
    std::this_thread::sleep_for(while_running);
    ::kill(child, SIGKILL);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    return WIFSIGNALED(status);
}

// Kills the command at moments spread over its whole run. After each kill there is nothing under the wanted name or
// what is whole; the same command then works, and leaves what it makes and nothing else.
void check_kills(const Place& place, const std::vector<std::string>& arguments, const std::string& made, int kills) {
    const auto start = std::chrono::steady_clock::now();
    REQUIRE(place.run(arguments).status == 0);
    const auto whole = std::chrono::steady_clock::now() - start;
    fs::remove(made);
    const std::vector<std::string> before = place.names();
    int cut_off = 0;
    for (int i = 0; i < kills; ++i) {
        CAPTURE(i);
        const auto moment = whole * (i + 1) / (kills + 1);
        cut_off += killed_after(arguments, std::chrono::duration_cast<std::chrono::microseconds>(moment)) ? 1 : 0;
        if (fs::exists(made)) {
            const Ran verified = place.run({"verify", made});
            CHECK_MESSAGE(verified.out.find(std::to_string(photo_count) + " photos match") != std::string::npos,
                          (verified.out + verified.err));
            fs::remove(made);
        }
        const Ran again = place.run(arguments);
        REQUIRE_MESSAGE(again.status == 0, again.err);
        CHECK(place.run({"verify", made}).out.find(std::to_string(photo_count) + " photos match") != std::string::npos);
        fs::remove(made);
        CHECK(place.names() == before);
    }
    CHECK(cut_off > 0);
}

}  // namespace

TEST_CASE("a_killed_import_leaves_no_part_of_a_job_and_can_be_run_again_as_it_is") {
    const Sent sent;
    const Place place;
    check_kills(place, {"import", sent.json(), place.in("a.tapjob")}, place.in("a.tapjob"), 12);
}

TEST_CASE("a_killed_seal_leaves_no_copy_and_can_be_run_again_as_it_is") {
    const Sent sent;
    const Place place;
    REQUIRE(place.run({"import", sent.json(), place.in("a.tapjob")}).status == 0);
    check_kills(place, {"seal", place.in("a.tapjob"), place.in("sealed.tapjob")}, place.in("sealed.tapjob"), 12);
}

TEST_CASE("an_import_follows_no_link_out_of_the_folder_and_waits_for_no_pipe") {
    const TemporaryFolder elsewhere;
    for (const bool is_link : {true, false}) {
        const Sent sent;
        const Place place;
        const std::string photo = sent.photo_path(1);
        if (is_link) {
            fs::rename(photo, elsewhere.file("secret.jpg"));
            fs::create_symlink(elsewhere.file("secret.jpg"), photo);
        } else {
            fs::remove(photo);
            REQUIRE(::mkfifo(photo.c_str(), 0600) == 0);
        }
        const Ran ran = place.run({"import", sent.json(), place.in("a.tapjob")});
        CHECK(ran.status == 2);
        CHECK(ran.err ==
              "tapwright: " + photo + " is a link, a folder, a device or a pipe. Put an ordinary file there.\n");
        CHECK(place.names().empty());
    }
}

TEST_CASE("neither_a_job_nor_a_copy_is_made_through_a_link_and_no_link_is_replaced") {
    const Sent sent;
    const Place place;
    REQUIRE(place.run({"import", sent.json(), place.in("a.tapjob")}).status == 0);
    fs::create_symlink(place.in("nowhere"), place.in("b.tapjob"));
    fs::create_symlink(place.in("nowhere"), place.in("c.tapjob.sealing"));
    fs::create_symlink(place.in("nowhere"), place.in("d.json"));
    for (const std::vector<std::string>& call : {std::vector<std::string>{"import", sent.json(), place.in("b.tapjob")},
                                                 {"new", place.in("b.tapjob"), "--name", "x"},
                                                 {"seal", place.in("a.tapjob"), place.in("b.tapjob")},
                                                 {"export", place.in("a.tapjob"), place.in("d.json")},
                                                 {"sheet", place.in("a.tapjob"), place.in("d.json")}})
        CHECK(place.run(call).status == 2);
    CHECK(place.run({"seal", place.in("a.tapjob"), place.in("c.tapjob")}).status == 0);
    CHECK(place.names() == std::vector<std::string>{"a.tapjob", "b.tapjob", "c.tapjob", "c.tapjob.sealing", "d.json"});
    CHECK_FALSE(fs::exists(place.in("nowhere")));
}

TEST_CASE("a_sheet_that_was_written_but_not_recorded_was_told_as_nothing_changed") {
    const Place place;
    const std::string job = place.in("a.tapjob"), sheet = place.in("b.html");
    REQUIRE(place.run({"new", job, "--name", "Mill House"}).status == 0);
    REQUIRE(place.run({"sheet", job, sheet}).status == 0);
    const auto bytes = fs::file_size(sheet);
    fs::remove(sheet);
    REQUIRE(bytes < fs::file_size(job));
    REQUIRE(place.run({"set", job, "job", "name=Old Mill"}).status == 0);  // a sheet of another state is another record
    {
        const SmallFiles limit(bytes + 512);  // the sheet fits, the job does not
        const Ran ran = place.run({"sheet", job, sheet});
        CHECK(ran.status == 3);
        CHECK(ran.err.starts_with("tapwright: " + sheet + " was written, but the job does not record it. "));
        CHECK(ran.out.empty());
        const Ran told = place.run({"sheet", job, sheet, "--replace", "--json"});
        CHECK(told.status == 3);
        CHECK(told.err.starts_with("{\"error\""));
    }
    CHECK(fs::exists(sheet));
    CHECK(place.run({"verify", job}).status == 0);
}

TEST_CASE("an_export_that_meets_a_full_disk_leaves_nothing") {
    const Sent sent;
    const Place place;
    REQUIRE(place.run({"import", sent.json(), place.in("a.tapjob")}).status == 0);
    {
        const SmallFiles limit(8 << 10);  // the JSON fits, a photo does not
        const Ran ran = place.run({"export", place.in("a.tapjob"), place.in("b.json")});
        CHECK(ran.status == 2);
        CHECK_MESSAGE(
            ran.err.find("was not written: File too large. What was there before is unchanged.") != std::string::npos,
            ran.err);
    }
    CHECK(place.names() == std::vector<std::string>{"a.tapjob"});
    {
        const SmallFiles limit(64);
        CHECK(place.run({"export", place.in("a.tapjob"), place.in("csv")}).status == 2);
    }
    CHECK(place.names() == std::vector<std::string>{"a.tapjob"});
    CHECK(place.run({"export", place.in("a.tapjob"), place.in("b.json")}).status == 0);
    CHECK(place.names() == std::vector<std::string>{"a.tapjob", "b.json", "photos"});
}

TEST_CASE("an_import_or_seal_that_meets_a_full_disk_leaves_nothing_and_says_so") {
    const Sent sent;
    const Place place;
    REQUIRE(place.run({"import", sent.json(), place.in("a.tapjob")}).status == 0);
    {
        const SmallFiles limit(96 << 10);  // the job fits, its photos do not
        for (const std::vector<std::string>& call :
             {std::vector<std::string>{"import", sent.json(), place.in("b.tapjob")},
              {"seal", place.in("a.tapjob"), place.in("b.tapjob")}}) {
            const Ran ran = place.run(call);
            CHECK(ran.status == 2);
            CHECK_MESSAGE(ran.err.find(place.in("b.tapjob")) != std::string::npos, ran.err);
            CHECK_MESSAGE(ran.err.find(".tapwright-part") == std::string::npos, ran.err);
        }
    }
    CHECK(place.names() == std::vector<std::string>{"a.tapjob"});
}

TEST_CASE("what_lies_beside_a_job_is_refused_by_every_command_that_opens_it_and_stays") {
    const Sent sent;
    const Place place;
    const std::string job = place.in("a.tapjob");
    REQUIRE(place.run({"import", sent.json(), job}).status == 0);
    const std::string before = read_bytes(job);
    for (const char* end : {"-wal", "-shm", "-journal"}) {
        fs::create_symlink(place.in("nowhere"), job + end);
        for (const std::vector<std::string>& call : {std::vector<std::string>{"check", job},
                                                     {"verify", job},
                                                     {"history", job},
                                                     {"set", job, "job", "name=y"},
                                                     {"undo", job},
                                                     {"export", job, place.in("b.json")},
                                                     {"seal", job, place.in("b.tapjob")}}) {
            const Ran ran = place.run(call);
            CHECK(ran.status == 2);
            CHECK_MESSAGE(ran.err.find(job + end) != std::string::npos, ran.err);
        }
        CHECK(fs::is_symlink(job + end));
        fs::remove(job + end);
        CHECK(read_bytes(job) == before);
        CHECK(place.names() == std::vector<std::string>{"a.tapjob"});
    }
}
