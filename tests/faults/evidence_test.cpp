// What of the job's readings the search for faults takes for how the line is now.
#include <doctest/doctest.h>

#include "core/faults/diagnosis.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

JobBuilder six_on_a_line() {
    JobBuilder job = one_zone(100, 100);
    job.chain("p", 6, "z", 6, {{"state", "tested"}});
    return job;
}

std::size_t taps_counted(const JobBuilder& job) {
    FaultQuestion question;
    question.zone = Id("z");
    const Result<Diagnosis> diagnosis = Diagnosis::of(job, derive(job), question);
    REQUIRE(diagnosis.ok());
    return diagnosis->line().taps.size();
}

const char* const first_day = "2026-05-04T09:00:00Z";
const char* const second_day = "2026-05-05T09:00:00Z";

}  // namespace

TEST_CASE("a reading without a time that was entered first was taken for the newest by its place") {
    JobBuilder job = six_on_a_line();
    job.read("undated", "z", 300);
    job.read("dated", "p1", 300, {{"time", second_day}});
    job.add("reading", "looked", {{"at", "p3"}, {"quantity", "tap_w"}, {"value", 6.0}, {"time", first_day}});
    CHECK(taps_counted(job) == 0);  // the tap may have been changed before the second day

    SUBCASE("a look on the day of the newest counts") {
        job.add("reading", "again", {{"at", "p3"}, {"quantity", "tap_w"}, {"value", 6.0}, {"time", second_day}});
        CHECK(taps_counted(job) == 1);
    }
    SUBCASE("the same, entered after all, counts as taken last") {
        job.add("reading", "again", {{"at", "p3"}, {"quantity", "tap_w"}, {"value", 6.0}});
        CHECK(taps_counted(job) == 1);
    }
}
