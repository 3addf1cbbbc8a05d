// Which reading is the newest, for readings that were not entered in the order they were taken.
#include "core/readings/newest.h"

#include <doctest/doctest.h>

#include "core/readings/order.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

JobBuilder read_out_of_order() {
    JobBuilder job = one_zone(70.7, 100);
    job.chain("p", 2, "z", 5);
    job.read("noon", "p1", 510.0, {{"time", "2030-05-01T12:00:00Z"}});
    job.read("paper", "p1", 505.0, {{"time", "2029-01-10T09:00:00Z"}});
    return job;
}

std::string newest_at_p1(const Job& job) {
    const auto found = newest_reading(job, Id("p1"), [](std::uint32_t) { return true; });
    return found ? job.all<Reading>()[*found].id.text() : "none";
}

std::string in_order(const Job& job) {
    std::string order;
    for (const std::uint32_t place : readings_at(job, Id("p1")))
        order += (order.empty() ? "" : ", ") + job.all<Reading>()[place].id.text();
    return order;
}

}  // namespace

TEST_CASE("a reading typed in from paper is older than one that was taken later, though it was entered last") {
    JobBuilder job = read_out_of_order();
    CHECK(newest_at_p1(job) == "noon");
    CHECK(in_order(job) == "noon, paper");
}

TEST_CASE("a_reading_without_a_time_was_the_newest_by_one_rule_and_not_by_the_other") {
    // Without a time it counts as taken when it was entered: after all that were entered before it, and so after one
    // entered later whose time is before those.
    JobBuilder job = read_out_of_order();
    job.read("undated", "p1", 500.0, {{"time", Value()}});
    job.read("older", "p1", 499.0, {{"time", "2028-01-10T09:00:00Z"}});
    CHECK(newest_at_p1(job) == "undated");
    CHECK(in_order(job) == "undated, noon, paper, older");
    CHECK(job.job().all<Reading>()[in_order_taken(job).back()].id == Id("undated"));
    job.read("next", "p1", 498.0, {{"time", "2030-05-02T12:00:00Z"}});
    CHECK(newest_at_p1(job) == "next");
    CHECK(in_order(job) == "next, undated, noon, paper, older");
}

TEST_CASE("of two readings at the same moment the one entered later is the newer") {
    JobBuilder job = read_out_of_order();
    job.read("again", "p1", 511.0, {{"time", "2030-05-01T12:00:00Z"}});
    CHECK(newest_at_p1(job) == "again");
    CHECK(in_order(job) == "again, noon, paper");
    job.read("elsewhere", "z", 250.0, {{"time", "2030-05-03T12:00:00Z"}});
    CHECK(newest_at_p1(job) == "again");
}
