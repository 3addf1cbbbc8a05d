// The demo job's two open questions, as the people there have them.
#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "core/derive/derived.h"
#include "core/exchange/job_json.h"
#include "core/faults/next_measurement.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

Job demo() {
    std::ifstream file(TAPWRIGHT_SOURCE_DIR "/assets/demo.json");
    std::stringstream text;
    text << file.rdbuf();
    const Result<JobText> read = read_job(text.str(), "demo.json");
    REQUIRE(read.ok());
    JobBuilder job;
    for (const Change& change : read->changes) {
        const std::string kind(singular(change.kind));
        if (change.op == ChangeOp::add) job.add(kind, change.id.text());
        for (const auto& [key, value] : change.fields) job.set(kind, change.id.text(), key, value);
    }
    return job.job();
}

std::string at_of(const Job& job, const Cause& cause) {
    if (cause.faults.empty()) return "none";
    return cause.faults.front().points.empty() ? "line" : *job.all<Point>()[cause.faults.front().points.front()].label;
}

double chance_at(const Job& job, const Diagnosis& diagnosis, std::string_view label) {
    double sum = 0;
    for (const Cause& cause : diagnosis.causes())
        if (cause.faults.size() == 1 && at_of(job, cause) == label) sum += cause.chance;
    return sum;
}

Diagnosis found_in(const Job& job, const FaultQuestion& question) {
    Result<Diagnosis> diagnosis = Diagnosis::of(job, derive(job), question);
    REQUIRE(diagnosis.ok());
    return std::move(*diagnosis);
}

std::vector<Measurement> next_of(const Job& job, const Diagnosis& diagnosis, const NextOptions& options = {}) {
    NextMeasurement next(job, diagnosis, options);
    while (next.step()) {
    }
    return next.best();
}

// As if nobody had walked through with the music on.
Job without_walk_test(const Job& demo) {
    Job job = demo;
    for (const Point& point : demo.all<Point>())
        REQUIRE(job.set(Kind::point, point.id, *find_field(Kind::point, "heard"), Value()).ok());
    for (const Snag& snag : demo.all<Snag>()) job.remove(Kind::snag, snag.id);
    return job;
}

Reading ohms_at(std::string_view at, double ohms) {
    Reading reading;
    reading.at = Id(std::string(at));
    reading.quantity = Measured::ohms;
    reading.value = ohms;
    reading.isolated = true;
    return reading;
}

}  // namespace

TEST_CASE("foyer_c_104_explains_what_was_read_and_heard") {
    const Job job = demo();
    FaultQuestion question;
    question.zone = Id("z-1");
    const Diagnosis diagnosis = found_in(job, question);
    const Cause& first = diagnosis.causes().front();
    CHECK(at_of(job, first) == "C-104");
    CHECK(first.faults.front().kind == FaultKind::dead);
    CHECK(chance_at(job, diagnosis, "C-104") > 0.9);
    CHECK(diagnosis.is_sure());
    const std::vector<Explained> explained = diagnosis.explains(first);
    REQUIRE(explained.size() == 1);
    CHECK(explained.front().predicted.value() == doctest::Approx(137.5).epsilon(0.02));
}

TEST_CASE("foyer_without_the_walk_test_the_loudspeakers_of_5_w_and_the_break_share_the_chance") {
    const Job job = without_walk_test(demo());
    FaultQuestion question;
    question.zone = Id("z-1");
    const Diagnosis diagnosis = found_in(job, question);
    double shared = 0;
    for (const char* label : {"C-101", "C-102", "C-104", "C-105", "C-106", "C-107", "C-110"}) {
        const double chance = chance_at(job, diagnosis, label);
        CHECK(chance > 0.04);
        CHECK(chance < 0.5);
        shared += chance;
    }
    CHECK(shared > 0.7);
    CHECK_FALSE(diagnosis.is_sure());
    NextOptions ohms;
    ohms.only = Asked::ohms;
    const std::vector<Measurement> next = next_of(job, diagnosis, ohms);
    REQUIRE_FALSE(next.empty());
    CHECK(next.front().bits > 0.8);
    CHECK(next.front().expected.size() >= 2);
}

TEST_CASE("foyer_without_the_walk_test_one_walk_past_the_suspects_comes_before_any_ladder") {
    const Job job = without_walk_test(demo());
    FaultQuestion question;
    question.zone = Id("z-1");
    const Diagnosis diagnosis = found_in(job, question);
    const std::vector<Measurement> next = next_of(job, diagnosis);
    REQUIRE_FALSE(next.empty());
    const Measurement& walk = next.front();
    REQUIRE(walk.heard.size() > 1);
    CHECK(walk.asked == Asked::heard);
    CHECK(walk.minutes < 5);
    // Each of the five alone is one answer, all of them playing another.
    CHECK(walk.expected.size() == walk.heard.size() + 1);
    for (const ExpectedShown& shown : walk.expected) CHECK(shown.silent.size() <= 1);
    CHECK(std::count_if(walk.expected.begin(), walk.expected.end(), [](const ExpectedShown& shown) {
              return shown.is_silent;
          }) == static_cast<std::ptrdiff_t>(walk.heard.size()));
    // What was heard of all of them counts as what was heard of each.
    for (const std::uint32_t point : walk.heard)
        question.heard.push_back(
            {job.all<Point>()[point].id, job.all<Point>()[point].label == "C-104" ? Heard::silent : Heard::ok});
    CHECK(chance_at(job, found_in(job, question), "C-104") > 0.9);
}

TEST_CASE("the_tap_of_a_loudspeaker_just_read_is_looked_at_from_the_same_ladder") {
    JobBuilder job = one_zone(100, 100);
    job.chain("p", 6, "z", 5).read("base", "z", 10000 / 30.0, {{"baseline", true}});
    FaultQuestion question;
    question.zone = Id("z");
    question.with = {ohms_at("z", 10000 / 27.5), ohms_at("p5", 10000 / 7.5)};
    const Diagnosis diagnosis = found_in(job, question);
    double there = 0;
    double elsewhere = 0;
    NextMeasurement search(job, diagnosis, {});
    while (search.step()) {
    }
    for (const Measurement& measurement : search.best(100)) {
        if (measurement.asked != Asked::tap_w) continue;
        (measurement.at == Id("p5") ? there : elsewhere) = measurement.minutes;
    }
    CHECK(there == 1);
    CHECK(elsewhere == 9);
}

TEST_CASE("foyer_once_j_110_reads_as_it_should_nothing_behind_it_is_suspected") {
    const Job job = without_walk_test(demo());
    FaultQuestion question;
    question.zone = Id("z-1");
    question.with = {ohms_at("j-110", 200.1 * 121 / 118.4)};
    const Diagnosis diagnosis = found_in(job, question);
    double behind = 0;
    for (const char* label : {"J-110", "C-105", "C-106", "C-107", "C-108", "C-109", "C-110", "C-111", "C-112"})
        behind += chance_at(job, diagnosis, label);
    for (const char* label : {"C-105", "C-106", "C-107", "C-108", "C-109", "C-110", "C-111", "C-112"})
        CHECK(chance_at(job, diagnosis, label) <= 0.01);
    CHECK(behind < 0.1);
    for (const Measurement& measurement : next_of(job, diagnosis))
        for (const char* behind_it : {"s-105", "s-106", "s-107", "s-108", "s-109", "s-110", "s-111", "s-112"})
            CHECK(measurement.at != Id(behind_it));
}

TEST_CASE("old_wing_the_three_untraced_loudspeakers_are_proposed") {
    const Job job = demo();
    FaultQuestion question;
    question.zone = Id("z-7");
    const Diagnosis diagnosis = found_in(job, question);
    const Cause& first = diagnosis.causes().front();
    REQUIRE(first.faults.size() == 1);
    CHECK(first.faults.front().kind == FaultKind::wrong_feed);
    CHECK(first.faults.front().points.size() == 3);
    CHECK(first.faults.front().value == doctest::Approx(15));
}

TEST_CASE("every_zone_of_the_demo_is_either_answered_or_refused_in_a_sentence") {
    const Job job = demo();
    for (const Zone& zone : job.all<Zone>()) {
        FaultQuestion question;
        question.zone = zone.id;
        const Result<Diagnosis> diagnosis = Diagnosis::of(job, derive(job), question);
        if (!diagnosis) continue;
        double sum = diagnosis->unexplained();
        for (const Cause& cause : diagnosis->causes()) sum += cause.chance;
        CHECK(sum == doctest::Approx(1).epsilon(1e-6));
    }
}
