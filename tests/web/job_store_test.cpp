// Jobs in a browser's private folder, without the browser.
#include "platform/web/store/job_store.h"

#include <doctest/doctest.h>

#include "core/exchange/job_json.h"
#include "tests/web/disk.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

Stamp stamp(std::uint64_t seed) {
    return {"2026-05-04T09:00:00Z", 1777885200000, seed};
}

// One visit of the page.
struct PageVisit {
    explicit PageVisit(Bytes bytes = {}) {
        disk.bytes = std::move(bytes);
        jobs.set_hooks(
            {.show = [this](Session* session) { shown = session; }, .remark = [this](const Message&) { ++remarks; }});
        jobs.start([this](const Result<void>& done) { started = done.ok(); });
    }
    bool create(const std::string& name, std::uint64_t seed) {
        bool made = false;
        jobs.create({name, "100", "Ada Quill"}, stamp(seed), [&](const Result<void>& done) { made = done.ok(); });
        return made;
    }
    bool open(const std::string& file) {
        bool opened = false;
        jobs.open(file, [&](const Result<void>& done) { opened = done.ok(); });
        return opened;
    }
    std::vector<std::string> names() const {
        std::vector<std::string> all;
        for (const JobStore::Stored& job : jobs.stored()) all.push_back(job.name);
        return all;
    }

    OpenFiles& files = fresh_files();
    Disk disk{files};
    JobStore jobs{disk, files};
    Session* shown = nullptr;
    int remarks = 0;
    bool started = false;
};

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("the first visit finds nothing; a job made then is open at the next") {
    Bytes left;
    {
        PageVisit visit;
        CHECK(visit.started);
        CHECK(visit.shown == nullptr);
        REQUIRE(visit.create("Mill House", 1));
        REQUIRE(visit.shown != nullptr);
        CHECK(visit.shown->job().info().line_v == Volts(100));
        left = visit.disk.bytes;  // killed here
    }
    PageVisit visit(left);
    REQUIRE(visit.shown != nullptr);
    CHECK(visit.shown->job().info().name == "Mill House");
    CHECK(visit.jobs.author().person == "Ada Quill");
    CHECK(visit.remarks == 0);
}

TEST_CASE("jobs are listed with the latest first, and one of the same name gets a number") {
    PageVisit visit;
    REQUIRE(visit.create("Mill House", 1));
    REQUIRE(visit.create("Mill House", 2));
    REQUIRE(visit.create("Barn", 3));
    CHECK(visit.names() == Names{"Barn", "Mill House 2", "Mill House"});
    REQUIRE(visit.open("Mill House.tapjob"));
    CHECK(visit.names() == Names{"Mill House", "Barn", "Mill House 2"});
    CHECK(visit.jobs.stored().front().is_open);
    // Only the open job, the settings and the library have open handles.
    CHECK(visit.disk.open_names.size() == 6);
}

TEST_CASE("what cannot be opened leaves the open job open") {
    PageVisit visit;
    REQUIRE(visit.create("Mill House", 1));
    visit.disk.bytes["Damaged.tapjob"] = "no job at all";
    CHECK_FALSE(visit.open("Damaged.tapjob"));
    visit.disk.is_held = true;
    CHECK_FALSE(visit.open("Barn.tapjob"));
    CHECK(visit.jobs.file() == "Mill House.tapjob");
    REQUIRE(visit.shown != nullptr);
    CHECK(visit.shown->job().info().name == "Mill House");
}

TEST_CASE("a job file from outside is copied in; one that is none leaves nothing") {
    Bytes left;
    {
        PageVisit visit;
        REQUIRE(visit.create("Mill House", 1));
        left = visit.disk.bytes;
    }
    PageVisit visit;
    visit.disk.bytes["chosen/1/Mill House.tapjob"] = left["Mill House.tapjob"];
    REQUIRE(visit.open("chosen/1/Mill House.tapjob"));
    CHECK(visit.jobs.file() == "Mill House.tapjob");
    visit.disk.bytes["chosen/2/Photo.tapjob"] = "\xff\xd8 a picture";
    CHECK_FALSE(visit.open("chosen/2/Photo.tapjob"));
    CHECK(visit.disk.bytes.count("Photo.tapjob") == 0);
    CHECK(visit.jobs.file() == "Mill House.tapjob");
}

TEST_CASE("a job comes in as JSON, and a bad one is refused") {
    PageVisit visit;
    REQUIRE(visit.create("Mill House", 1));
    visit.disk.bytes["chosen/1/barn.json"] = write_job(visit.shown->job());
    bool done = false;
    visit.jobs.import("chosen/1/barn.json", stamp(4), [&](const Result<void>& made) { done = made.ok(); });
    CHECK(done);
    CHECK(visit.jobs.file() == "barn.tapjob");
    visit.disk.bytes["chosen/2/bad.json"] = "{";
    visit.jobs.import("chosen/2/bad.json", stamp(5), [&](const Result<void>& made) { done = made.ok(); });
    CHECK_FALSE(done);
    CHECK(visit.names() == Names{"barn", "Mill House"});
}

TEST_CASE("where another tab has the program open, nothing starts") {
    OpenFiles& files = fresh_files();
    Disk disk(files);
    disk.is_held = true;
    JobStore jobs(disk, files);
    bool refused = false;
    jobs.start([&](const Result<void>& done) { refused = !done.ok(); });
    CHECK(refused);
}
