// SQLite on handles that are open already: a job made, changed and opened again, killed between any two steps, and on a
// full disk.
#include "platform/web/store/vfs.h"

#include <doctest/doctest.h>

#include "core/session/session.h"
#include "tests/web/disk.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

const std::string file = "Mill House.tapjob";
const std::vector<std::string> both = {file, file + "-journal"};

Stamp seeded_stamp(std::uint64_t seed) {
    return {"2026-05-04T09:00:00Z", 1777885200000, seed};
}

Command naming(const std::string& name) {
    return {.changes = {{ChangeOp::set, Kind::job, job_id(), {{"name", name}}}}, .fill_in = true, .place = {}};
}

Result<Session> a_job() {
    return Session::create(file, naming("Mill House"), {"Ada Quill", {}}, seeded_stamp(1), open_files_vfs);
}

Result<Session> again() {
    return Session::open(file, Access::write, open_files_vfs);
}

void open_on(Disk& disk) {
    disk.open(both, [](const Result<void>& opened) { REQUIRE(opened.ok()); });
}

}  // namespace

TEST_CASE("a job is made on open handles, changed, and opened again") {
    Disk disk(fresh_files());
    open_on(disk);
    {
        Result<Session> job = a_job();
        REQUIRE(job.ok());
        REQUIRE(job->request(naming("Mill Barn"), {"Ada Quill", {}}, seeded_stamp(2)).ok());
    }
    CHECK(disk.bytes[file + "-journal"].empty());
    const Result<Session> job = again();
    REQUIRE(job.ok());
    CHECK(job->job().info().name == "Mill Barn");
    CHECK(job->batch_count() == 2);
}

TEST_CASE("an open handle with nothing in it is no job, and one with a job is never made anew") {
    Disk disk(fresh_files());
    CHECK_FALSE(a_job().ok());  // no handle
    open_on(disk);
    CHECK_FALSE(again().ok());
    REQUIRE(a_job().ok());
    CHECK_FALSE(a_job().ok());
    CHECK(again().ok());
}

TEST_CASE("a page that is killed between any two steps has the change or has it not, and what was said to be kept") {
    Disk disk(fresh_files());
    open_on(disk);
    {
        Result<Session> job = a_job();
        REQUIRE(job.ok());
        disk.keeps_pictures = true;
        REQUIRE(job->request(naming("Mill Barn"), {"Ada Quill", {}}, seeded_stamp(2)).ok());
        disk.pictures.push_back(disk.bytes);
    }
    REQUIRE(disk.pictures.size() > 5);
    int before = 0, after = 0;
    for (std::size_t i = 0; i < disk.pictures.size(); ++i) {
        Disk left(fresh_files());
        left.bytes = disk.pictures[i];
        open_on(left);
        const Result<Session> job = again();
        REQUIRE(job.ok());
        REQUIRE(job->verify().ok());
        (job->batch_count() == 1 ? before : after) += 1;
        if (i + 1 == disk.pictures.size()) CHECK(job->batch_count() == 2);
    }
    CHECK(before > 0);
    CHECK(after > 0);
}

TEST_CASE("the journal of a change grows in one piece, and is on the device before the job is written") {
    Disk disk(fresh_files());
    open_on(disk);
    Result<Session> job = a_job();
    REQUIRE(job.ok());
    disk.keeps_pictures = true;
    const std::string before = disk.bytes[file];
    REQUIRE(job->request(naming("Mill Barn"), {"Ada Quill", {}}, seeded_stamp(2)).ok());
    int grown = 0;
    std::size_t journal = 0;
    for (Bytes& picture : disk.pictures) {
        const std::size_t now = picture[file + "-journal"].size();
        if (now > journal) ++grown;
        if (grown == 0) CHECK(picture[file] == before);
        journal = now;
    }
    CHECK(grown == 1);
    CHECK(journal == 0);
}

TEST_CASE("on a disk that is full at any step a change is refused in words and the job stays as it was") {
    int refused = 0;
    for (int room = 0; room < 40; ++room) {
        Disk disk(fresh_files());
        open_on(disk);
        Result<Session> job = a_job();
        REQUIRE(job.ok());
        disk.writes_left = room;
        const Result<Outcome> changed = job->request(naming("Mill Barn"), {"Ada Quill", {}}, seeded_stamp(2));
        disk.writes_left = -1;
        if (changed.ok()) {
            CHECK(job->job().info().name == "Mill Barn");
            continue;
        }
        ++refused;
        CHECK_FALSE(changed.refusal().message.empty());
        CHECK(job->job().info().name == "Mill House");
        // Once there is room again: at the latest when the job is opened anew.
        if (job->request(naming("Mill Yard"), {"Ada Quill", {}}, seeded_stamp(3)).ok()) continue;
        job = again();
        REQUIRE(job.ok());
        CHECK(job->job().info().name == "Mill House");
    }
    CHECK(refused > 0);
    CHECK(refused < 40);
}

TEST_CASE("a sealed copy goes to handles of its own") {
    Disk disk(fresh_files());
    open_on(disk);
    const Result<Session> job = a_job();
    REQUIRE(job.ok());
    disk.open({"copy.part", "copy.part-journal", "copy"}, [](const Result<void>& opened) { REQUIRE(opened.ok()); });
    const FilePort port{
        [&](const std::string& from, const std::string& to) {
            disk.bytes[to] = disk.bytes[from];
            disk.bytes[from].clear();
            return true;
        },
        [](const std::string&) { return true; },
        [&](const std::string& name) { return disk.bytes[name].clear(), true; },
        [&](const std::string& name) { return !disk.bytes[name].empty(); },
        [](const std::string& name) { return name + ".part"; },
    };
    const Result<Sealed> sealed = job->seal("copy", port);
    REQUIRE(sealed.ok());
    CHECK(sealed->content.batches == 1);
    CHECK(sealed->bytes == disk.bytes["copy"].size());
}
