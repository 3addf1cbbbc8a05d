// Standard input and output, and files that are not written over unasked.
#include <doctest/doctest.h>

#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct Desk {
    TemporaryFolder folder;
    std::string file = folder.file("a.tapjob");
    Desk() {
        REQUIRE(run({"new", file, "--name", "Inn"}).status == 0);
        REQUIRE(run({"add", file, "room", "id=r1", "name=Hall"}).status == 0);
    }
    Ran run(const std::vector<std::string>& arguments) const {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    }
    Ran piped(const std::vector<std::string>& arguments, const std::string& in, const std::string& out = "") const {
        return tapwright_piped(folder.path().string(), arguments, in, out);
    }
    std::string in(const std::string& name) const { return folder.file(name); }
};

}  // namespace

TEST_CASE("check_into_a_full_disk_is_no_success") {
    const Desk desk;
    for (const std::vector<std::string>& call : {std::vector<std::string>{"check", desk.file},
                                                 {"check", desk.file, "--json"},
                                                 {"export", desk.file, "-"},
                                                 {"sheet", desk.file, "-"},
                                                 {"help"},
                                                 {"--version"}}) {
        CAPTURE(call[0]);
        const Ran ran = desk.piped(call, "", "/dev/full");
        CHECK(ran.status == 2);
        CHECK(has(ran.err, "Standard output cannot be written"));
    }
    const Ran history = desk.run({"history", desk.file, "--json"});
    CHECK(json_of(history).find("history").list()->size() == 2);  // no sheet is recorded that did not arrive
}

TEST_CASE("a_change_that_is_kept_is_not_called_refused_when_its_answer_cannot_be_written") {
    const Desk desk;
    const Ran added = desk.piped({"add", desk.file, "room", "id=r2", "name=Bar"}, "", "/dev/full");
    CHECK(added.status == 3);
    CHECK(added.err.starts_with("tapwright: The change is kept in the job file. Standard output cannot be written"));
    CHECK(desk.run({"show", desk.file, "r2"}).status == 0);
    const Ran undone = desk.piped({"undo", desk.file, "--json"}, "", "/dev/full");
    CHECK(undone.status == 3);
    CHECK(undone.err.starts_with("{\"error\":"));
    CHECK(has(undone.err, "The change is kept in the job file."));
    CHECK(desk.run({"show", desk.file, "r2"}).status == 2);
}

TEST_CASE("export_to_dash_makes_no_folder") {
    const Desk desk;
    REQUIRE(desk.run({"export", desk.file, desk.in("a.json")}).status == 0);
    const std::filesystem::path before = std::filesystem::current_path();
    std::filesystem::current_path(desk.folder.path());
    const Ran out = desk.run({"export", desk.file, "-"});
    std::filesystem::current_path(before);
    CHECK(out.status == 0);
    CHECK(out.out == read_bytes(desk.in("a.json")));
    CHECK_FALSE(std::filesystem::exists(desk.in("-")));
}

TEST_CASE("a job goes through a pipe and comes out the same") {
    const Desk desk;
    const std::string json = desk.run({"export", desk.file, "-"}).out;
    write_bytes(desk.in("in.json"), json);
    REQUIRE(desk.piped({"import", "-", desk.in("b.tapjob")}, desk.in("in.json")).status == 0);
    CHECK(desk.run({"export", desk.in("b.tapjob"), "-"}).out == json);
    write_bytes(desk.in("bad.json"), "{");
    const Ran bad = desk.piped({"import", "-", desk.in("c.tapjob")}, desk.in("bad.json"));
    CHECK(bad.status == 2);
    CHECK(has(bad.err, "standard input"));
    CHECK_FALSE(std::filesystem::exists(desk.in("c.tapjob")));
    for (const std::vector<std::string>& call : {std::vector<std::string>{"new", "-", "--name", "x"},
                                                 {"import", desk.in("in.json"), "-"},
                                                 {"seal", desk.file, "-"}}) {
        const Ran ran = desk.run(call);
        CHECK(ran.status == 2);
        CHECK(has(ran.err, "A job file cannot be standard input or output"));
    }
}

TEST_CASE("a sheet and labels to dash are pages; with --json that is refused") {
    const Desk desk;
    for (const char* command : {"sheet", "labels"}) {
        const Ran page = desk.run({command, desk.file, "-"});
        CHECK(page.status == 0);
        CHECK(page.out.starts_with("<!DOCTYPE html>"));
        const Ran both = desk.run({command, desk.file, "-", "--json"});
        CHECK(both.status == 2);
        CHECK(both.out.empty());
        CHECK(has(both.err, "--json and - would both write to standard output"));
    }
}

TEST_CASE("nothing_is_written_over_without_replace") {
    const Desk desk;
    write_bytes(desk.in("mine.json"), "mine");
    write_bytes(desk.in("mine.html"), "mine");
    std::filesystem::create_directory(desk.in("csv"));
    write_bytes(desk.in("csv/rooms.csv"), "mine");
    write_bytes(desk.in("csv/zones.csv"), "of an earlier export");
    for (std::vector<std::string> call : {std::vector<std::string>{"export", desk.file, desk.in("mine.json")},
                                          {"sheet", desk.file, desk.in("mine.html")},
                                          {"labels", desk.file, desk.in("mine.html")},
                                          {"export", desk.file, desk.in("csv")}}) {
        CAPTURE(call[0]);
        const Ran ran = desk.run(call);
        CHECK(ran.status == 2);
        CHECK(has(ran.err, "exists already. Choose another name, or add --replace"));
    }
    CHECK(read_bytes(desk.in("mine.json")) == "mine");
    CHECK(read_bytes(desk.in("mine.html")) == "mine");
    CHECK(read_bytes(desk.in("csv/rooms.csv")) == "mine");
    CHECK_FALSE(std::filesystem::exists(desk.in("csv/job.csv")));
    REQUIRE(desk.run({"export", desk.file, desk.in("mine.json"), "--replace"}).status == 0);
    CHECK(has(read_bytes(desk.in("mine.json")), "\"Hall\""));
    REQUIRE(desk.run({"sheet", desk.file, desk.in("mine.html"), "--replace"}).status == 0);
    CHECK(has(read_bytes(desk.in("mine.html")), "<html"));
    REQUIRE(desk.run({"export", desk.file, desk.in("csv"), "--replace"}).status == 0);
    CHECK(has(read_bytes(desk.in("csv/rooms.csv")), "Hall"));
    CHECK_FALSE(std::filesystem::exists(desk.in("csv/zones.csv")));  // or it would pass for part of this job
    CHECK(desk.run({"export", desk.file, desk.file, "--replace"}).status == 2);  // a job file is never replaced
    CHECK(desk.run({"check", desk.file}).status == 0);
}

TEST_CASE("a trial is read from standard input, kept, and made real by its name") {
    const Desk desk;
    const std::string changes = desk.in("changes.json");
    write_bytes(changes, R"([{"op": "set", "kind": "room", "id": "r1", "fields": {"name": "Ballroom"}}])");
    CHECK(desk.piped({"trial", desk.file, "-", "--keep", "Renamed"}, changes).status == 0);
    CHECK(desk.run({"trial", desk.file, "renamed", "--real", "set"}).status == 0);
    CHECK(has(desk.run({"list", desk.file, "rooms"}).out, "Ballroom"));
    CHECK_FALSE(has(desk.run({"list", desk.file}).out, "Renamed"));
}
