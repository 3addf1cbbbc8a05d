// derive() over whole jobs: who hangs on whom, and that nothing in a job can bring it down.
#include <doctest/doctest.h>

#include "core/calc/wiring.h"
#include "core/findings/findings.h"
#include "core/words/findings_text.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

TEST_CASE("an empty job") {
    const JobBuilder job;
    const Derived derived = derive(job);
    CHECK(derived.zones.empty());
    CHECK_FALSE(has_finding(derived, "zone_without_reading"));
}

TEST_CASE("a zone without points draws nothing and shows an open line") {
    const JobBuilder job = one_zone(70.7, 100);
    const Derived derived = derive(job);
    CHECK(std::isinf(derived.zones[0].ohms.value()));
    CHECK(derived.lines[0].watts == Watts(0));
    CHECK(derived.zones[0].can_add == Watts(80));
}

TEST_CASE("each branch stands together, and every feed before what it feeds") {
    JobBuilder job = one_zone(70.7, 100);
    // Recorded back to front, with a branch in the middle.
    job.speaker("d", "c", 5).speaker("e", "b", 5).speaker("c", "b", 5).speaker("b", "a", 5).speaker("a", "z", 5);
    const Wiring wiring = wire(job);
    std::vector<std::string> order;
    for (const std::uint32_t place : wiring.order) order.push_back(job.job().all<Point>()[place].id.text());
    CHECK(order == std::vector<std::string>{"a", "b", "e", "c", "d"});
    CHECK(wiring.branch_end == std::vector<std::uint32_t>{5, 5, 3, 5, 5});
}

TEST_CASE("circles, dangling feeds and chains that end nowhere are not traced, and nothing falls over") {
    JobBuilder job = one_zone(70.7, 100);
    job.speaker("self", "self", 5).speaker("x", "y", 5).speaker("y", "x", 5).speaker("on_x", "x", 5);
    job.speaker("lost", "gone", 5).speaker("on_lost", "lost", 5).speaker("fine", "z", 5);
    job.add("point", "free", {{"kind", "speaker"}, {"tap_w", 5.0}});
    const Derived derived = derive(job);
    for (const char* id : {"self", "x", "y", "on_x", "lost", "on_lost", "free"}) {
        CAPTURE(id);
        CHECK_FALSE(point_of(job, derived, id).traced);
        CHECK(point_of(job, derived, id).zone == nowhere);
        CHECK(point_of(job, derived, id).volts == Volts(0));
    }
    CHECK(point_of(job, derived, "fine").traced);
    CHECK(derived.zones[0].margin.load == Watts(5));
    CHECK(derived.has_stop());
    for (const Finding& finding : derived.findings) CHECK_FALSE(statement_of(job, derived, finding).text.empty());
}

TEST_CASE("a chain of 100,000 loudspeakers: no recursion, no stack") {
    JobBuilder job = one_zone(100, 1e6, 1e6);
    job.add("cable_type", "c", {{"area_mm2", 2.5}});
    job.chain("p", 100000, "z", 1, {{"cable", "c"}, {"length_m", 0.01}});
    const Derived derived = derive(job);
    CHECK(derived.zones[0].margin.load == Watts(100000));
    CHECK(point_of(job, derived, "p100000").volts > Volts(0));
    CHECK(point_of(job, derived, "p100000").volts < point_of(job, derived, "p1").volts);
    const ZoneLine& line = derived.lines[0];
    CHECK(line.watts.value() == doctest::Approx((line.delivered + line.cable + line.attenuator).value()).epsilon(1e-9));
}

TEST_CASE("an L-pad with nothing behind it") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"steps_db", List{0.0, -6.0}}, {"build", "l_pad"}, {"pad_ohm", 250.0}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"knob_db", -6.0}});
    // What its own parts draw: series 250 (k - 1)/k and shunt 250/(k - 1), k = 10^(6/20).
    CHECK(derive(job).zones[0].margin.load.value() == doctest::Approx(70.7 * 70.7 / (124.70 + 251.19)).epsilon(1e-4));
}

TEST_CASE("a point without kind is what its type says") {
    JobBuilder job = one_zone(70.7, 100).speaker("p", "z", 5);
    job.set("point", "p", "kind", Value());
    const Derived derived = derive(job);
    CHECK(derived.zones[0].margin.load == Watts(5));
    CHECK(has_finding(derived, "missing_field"));
}

TEST_CASE("the words of files and commands") {
    CHECK(word(Basis::at_least) == "at_least");
    CHECK(word(Verdict::shorted) == "short");
    CHECK(word(Verdict::agrees) == "agrees");
    CHECK(word(LimitState::stop) == "stop");
    CHECK(word(Severity::warn) == "warn");
}
