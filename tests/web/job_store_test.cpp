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

TEST_CASE("a_job_closed_after_an_error_could_not_be_opened_again_without_leaving_the_page") {
    int closed = 0;
    for (int writes = 0; writes < 12; ++writes) {
        PageVisit visit;
        REQUIRE(visit.create("Mill House", 1));
        visit.disk.writes_left = writes;
        const Command rename{
            .changes = {{ChangeOp::set, Kind::job, job_id(), {{"name", "Barn"}}}}, .fill_in = false, .place = {}};
        const bool is_kept = visit.shown->request(rename, {"Ada Quill", {}}, stamp(2)).ok();
        const bool is_closed = visit.shown->is_closed();
        CHECK(visit.jobs.stored().front().is_open != is_closed);
        closed += is_closed ? 1 : 0;
        visit.disk.writes_left = -1;
        REQUIRE(visit.open("Mill House.tapjob"));
        REQUIRE(visit.shown != nullptr);
        CHECK_FALSE(visit.shown->is_closed());
        CHECK((visit.shown->job().info().name == "Barn") == is_kept);
        CHECK(visit.shown->request(rename, {"Ada Quill", {}}, stamp(3)).ok());
    }
    CHECK(closed > 0);
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

TEST_CASE("a job is duplicated, open or not, and the copy opens with the same content") {
    PageVisit visit;
    REQUIRE(visit.create("Mill House", 1));
    bool done = false;
    const auto note = [&](const Result<void>& made) { done = made.ok(); };
    visit.jobs.duplicate("Mill House.tapjob", note);  // open
    CHECK(done);
    REQUIRE(visit.create("Barn", 2));
    visit.jobs.duplicate("Mill House.tapjob", note);  // not open
    CHECK(done);
    CHECK(visit.jobs.file() == "Barn.tapjob");
    for (const char* copy : {"Mill House 2.tapjob", "Mill House 3.tapjob"}) {
        REQUIRE(visit.open(copy));
        CHECK(visit.shown->job().info().name == "Mill House");
        CHECK(visit.shown->verify().ok());
    }
}

TEST_CASE("where there is no room for a duplicate, nothing is left of it") {
    PageVisit visit;
    REQUIRE(visit.create("Mill House", 1));
    visit.disk.writes_left = 0;
    bool done = true;
    visit.jobs.duplicate("Mill House.tapjob", [&](const Result<void>& made) { done = made.ok(); });
    CHECK_FALSE(done);
    CHECK(visit.disk.bytes.count("Mill House 2.tapjob") == 0);
    CHECK(visit.names() == Names{"Mill House"});
}

TEST_CASE("a deleted job is gone, the open one too, and the rest stays") {
    PageVisit visit;
    REQUIRE(visit.create("Mill House", 1));
    REQUIRE(visit.create("Barn", 2));
    const auto nothing = [](const Result<void>&) {};
    visit.jobs.remove("Mill House.tapjob", nothing);
    CHECK(visit.names() == Names{"Barn"});
    CHECK(visit.shown != nullptr);
    visit.jobs.remove("Barn.tapjob", nothing);
    CHECK(visit.names().empty());
    CHECK(visit.shown == nullptr);
    CHECK(visit.jobs.session() == nullptr);
    CHECK(visit.disk.open_names.size() == 4);
    REQUIRE(visit.create("Barn", 3));
    CHECK(visit.names() == Names{"Barn"});
}

TEST_CASE("changes that no copy holds are counted, over visits of the page too") {
    Bytes left;
    {
        PageVisit visit;
        REQUIRE(visit.create("Mill House", 1));
        CHECK(visit.jobs.stored().front().not_given_out == 1);
        const Result<std::string> sealed = visit.jobs.sealed();
        REQUIRE(sealed.ok());
        CHECK(sealed->starts_with("SQLite format 3"));
        visit.jobs.given_out("Mill House.tapjob", visit.shown->batch_count());
        CHECK(visit.jobs.stored().front().not_given_out == 0);
        for (std::uint64_t seed = 2; seed < 5; ++seed) {
            const Command naming{
                .changes = {{ChangeOp::set, Kind::job, job_id(), {{"name", "Mill " + std::to_string(seed)}}}},
                .fill_in = true,
                .place = {}};
            REQUIRE(visit.shown->request(naming, {"Ada Quill", {}}, stamp(seed)).ok());
        }
        CHECK(visit.jobs.stored().front().not_given_out == 3);
        REQUIRE(visit.create("Barn", 9));
        CHECK(visit.jobs.stored().back().not_given_out == 3);
        left = visit.disk.bytes;
    }
    PageVisit visit(left);
    CHECK(visit.jobs.stored().back().not_given_out == 3);
    // What comes in as a copy has one outside.
    visit.disk.bytes["chosen/1/Mill.tapjob"] = left["Mill House.tapjob"];
    REQUIRE(visit.open("chosen/1/Mill.tapjob"));
    CHECK(visit.jobs.stored().front().not_given_out == 0);
}
