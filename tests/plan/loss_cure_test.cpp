// The cure for cable loss: what it promises holds when the job is changed accordingly.
#include "core/plan/loss_cure.h"

#include <doctest/doctest.h>

#include "core/words/loss_cure_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

// Four loudspeakers behind 900 m of 18 AWG.
JobBuilder job_with_long_run() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"awg", 18.0}});
    job.speaker("p1", "z", 5, {{"cable", "c"}, {"length_m", 900.0}});
    job.speaker("p2", "p1", 5, {{"cable", "c"}, {"length_m", 2.0}});
    job.chain("q", 2, "p2", 5, {{"cable", "c"}, {"length_m", 2.0}});
    return job;
}

double loss_at_end(const Job& job) {
    return -derive(job).points[*job.place<Point>(Id("q2"))].cable->value();
}

std::optional<LossCure> cure_of(const Job& job, double limit_db = 1) {
    return loss_cure(job, wire(job), *job.place<Point>(Id("q2")), Decibels(limit_db));
}

std::string said(const Job& job, const LossCure& cure) {
    return in_english(message_of(job, cure));
}

}  // namespace

TEST_CASE("a run of the length that is allowed has exactly the loss that is allowed") {
    JobBuilder job = job_with_long_run();
    const auto cure = cure_of(job);
    REQUIRE(cure);
    CHECK(cure->shorter.to == Id("p1"));
    CHECK(cure->shorter.length == Metres(900));
    REQUIRE(cure->shorter.allowed);
    job.set("point", "p1", "length_m", cure->shorter.allowed->value());
    CHECK(loss_at_end(job) == doctest::Approx(1).epsilon(1e-9));
}

TEST_CASE("a run of the length that is said keeps the limit") {
    // Lengths whose last digit would be rounded up.
    for (const double limit_db : {0.37, 0.5, 0.71, 0.83, 0.9, 1.0, 1.07, 1.21}) {
        JobBuilder job = job_with_long_run();
        const auto cure = cure_of(job, limit_db);
        REQUIRE(cure);
        REQUIRE(cure->shorter.allowed);
        const std::string text = said(job, *cure);
        CAPTURE(text);
        const std::size_t at = text.find("from 900 m to ");
        REQUIRE(at != std::string::npos);
        const double length = std::stod(text.substr(at + std::string_view("from 900 m to ").size()));
        job.set("point", "p1", "length_m", length);
        CHECK(loss_at_end(job) <= limit_db);
        CHECK(loss_at_end(job) == doctest::Approx(limit_db).epsilon(0.01));
    }
}

TEST_CASE("the thicker cable is the first that keeps the limit, with the loss it then has") {
    JobBuilder job = job_with_long_run();
    const auto cure = cure_of(job);
    REQUIRE(cure);
    REQUIRE(cure->thicker);
    CHECK(cure->thicker->from == ConductorSize(Gauge{18}));
    const int awg = std::get<Gauge>(cure->thicker->to).awg;
    job.set("cable_type", "c", "awg", static_cast<double>(awg));
    CHECK(loss_at_end(job) == doctest::Approx(cure->thicker->loss.value()).epsilon(1e-9));
    CHECK(loss_at_end(job) <= 1);
    job.set("cable_type", "c", "awg", static_cast<double>(awg + 2));
    CHECK(loss_at_end(job) > 1);
}

TEST_CASE("the home run alone is proposed where that is enough, and nothing is that is not") {
    JobBuilder job = job_with_long_run();
    const auto cure = cure_of(job);
    REQUIRE(cure->home_run);
    CHECK(cure->home_run_to == Id("p1"));
    job.add("cable_type", "h", {{"awg", static_cast<double>(std::get<Gauge>(cure->home_run->to).awg)}});
    job.set("point", "p1", "cable", "h");
    CHECK(loss_at_end(job) == doctest::Approx(cure->home_run->loss.value()).epsilon(1e-9));
    CHECK(loss_at_end(job) <= 1);
    CHECK(in_english(home_run_of(job_with_long_run(), *cure)).find("for the run to p1 alone") != std::string::npos);
    // Its own cable: the same cure twice is none.
    CHECK_FALSE(cure_of(job, loss_at_end(job) / 2)->home_run);
    // No size is enough for a hundredth of a decibel.
    CHECK_FALSE(cure_of(job_with_long_run(), 0.01)->thicker);
    CHECK_FALSE(cure_of(job_with_long_run(), 0.01)->home_run);
}

TEST_CASE("where the longest run is not to blame, shortening it does not help; without resistance there is no cure") {
    JobBuilder job = job_with_long_run();
    for (const char* point : {"p2", "q1", "q2"}) job.set("point", point, "length_m", 890.0);
    CHECK_FALSE(cure_of(job)->shorter.allowed);
    for (const char* point : {"p1", "p2", "q1", "q2"}) job.set("point", point, "length_m", Value());
    CHECK_FALSE(cure_of(job));
}

TEST_CASE("a cure in words") {
    const JobBuilder job = job_with_long_run();
    LossCure cure;
    cure.thicker = ThickerCable{Gauge{18}, Gauge{16}, Decibels(0.7)};
    cure.shorter = {Id("p1"), Metres(900), Metres(640)};
    CHECK(said(job, cure) ==
          "Use 16 AWG instead of 18 AWG (loss then 0.7 dB), shorten the run to p1 from 900 m to 640 m, or lower taps.");
    cure.shorter.allowed.reset();
    CHECK(said(job, cure) ==
          "Use 16 AWG instead of 18 AWG (loss then 0.7 dB), or lower taps; shortening the run to p1 is not enough.");
    cure.thicker.reset();
    CHECK(said(job, cure) == "Use lower taps; shortening the run to p1 is not enough.");
    cure.shorter.allowed = Metres(640);
    CHECK(said(job, cure) == "Shorten the run to p1 from 900 m to 640 m, or lower taps.");
}

TEST_CASE("what other zones there are does not change a cure, except that their runs of the cable count") {
    const JobBuilder alone = job_with_long_run();
    JobBuilder beside = job_with_long_run();
    beside.add("zone", "y", {{"channel", "out"}, {"limit_w", 100.0}});
    beside.chain("x", 5, "y", 2, {{"cable", "c"}, {"length_m", 40.0}});
    const auto one = cure_of(alone);
    const auto two = cure_of(beside);
    REQUIRE(one);
    REQUIRE(two);
    CHECK(one->shorter.allowed == two->shorter.allowed);
    REQUIRE(one->thicker);
    REQUIRE(two->thicker);
    CHECK(one->thicker->loss == two->thicker->loss);
    CHECK(one->home_run.has_value() == two->home_run.has_value());
    // Alone on its cable there is no second cure; a run of it in another zone makes it one.
    JobBuilder single = one_zone(70.7, 100);
    single.add("cable_type", "c", {{"awg", 18.0}});
    single.speaker("p1", "z", 20, {{"cable", "c"}, {"length_m", 900.0}}).speaker("q2", "p1", 20);
    REQUIRE(cure_of(single));
    CHECK_FALSE(cure_of(single)->home_run);
    single.add("zone", "y", {{"channel", "out"}, {"limit_w", 100.0}});
    single.speaker("x1", "y", 2, {{"cable", "c"}, {"length_m", 1.0}});
    CHECK(cure_of(single)->home_run.has_value());
}
