// Which readings are believed, and what they may do to a zone's account. Worked examples C, G and H of the trade
// arithmetic (common practice, no single source) are followed through a session in tests/session.
#include <doctest/doctest.h>

#include <cmath>

#include "tests/readings/reading_jobs.h"

using namespace tapwright;

namespace {

constexpr const char* morning = "2024-05-01T09:00:00Z";
constexpr const char* noon = "2024-05-01T12:00:00Z";
constexpr const char* next_day = "2024-05-02T09:00:00Z";

JobBuilder& stray(JobBuilder& job, std::string_view id, std::string_view at, double volts, const Map& more = {}) {
    Map fields{{"at", std::string(at)}, {"quantity", "stray_v"}, {"value", volts}};
    fields.insert(fields.end(), more.begin(), more.end());
    return job.add("reading", id, fields);
}

Watts unrecorded(const Job& job) {
    return derive(job).zones[0].margin.unrecorded;
}

}  // namespace

TEST_CASE("isolated_no_raised_what_may_be_added: a reading with the amplifier connected does nothing") {
    JobBuilder job = twelve();
    job.read("r", "z", 60.0);  // 83.3 W, 23.3 more than recorded
    const Derived before = derive(job);
    CHECK(before.zones[0].margin.unrecorded.value() == doctest::Approx(70.7 * 70.7 / 60 - 60));
    job.read("r2", "z", 83.3, {{"isolated", false}});
    const Derived after = derive(job);
    CHECK(newest(job).verdict == Verdict::not_judged);
    CHECK(newest(job).unjudged == Unjudged::amplifier_connected);
    CHECK_FALSE(newest(job).is_valid);
    CHECK(after.zones[0].margin.unrecorded == before.zones[0].margin.unrecorded);
    CHECK(after.zones[0].can_add == before.zones[0].can_add);
    // It is said beside what the good one showed.
    CHECK(has_finding(after, "reading_not_valid"));
    CHECK(has_finding(after, "reading_more_load"));
}

TEST_CASE("where nobody noted the isolation a reading may raise what is unrecorded, and never lower it") {
    JobBuilder job = twelve();
    job.read("r", "z", 60.0, {{"isolated", Value()}});
    CHECK(newest(job).verdict == Verdict::more_load);
    CHECK_FALSE(newest(job).is_valid);
    CHECK(has_finding(derive(job), "reading_unproven"));
    const Watts raised = unrecorded(job);
    CHECK(raised > Watts(23));
    job.read("r2", "z", 83.3, {{"isolated", Value()}});
    CHECK(newest(job).verdict == Verdict::agrees);
    CHECK(unrecorded(job) == raised);
    job.read("r3", "z", 83.3);
    CHECK(unrecorded(job) < Watts(0.1));
}

TEST_CASE("a signal on the line speaks against a reading of ohms") {
    for (const char* signal : {"tone", "pink", "programme"}) {
        JobBuilder job = twelve();
        job.read("r", "z", 60.0, {{"signal", signal}});
        CHECK(newest(job).unjudged == Unjudged::signal_present);
        CHECK(newest(job).limit == LimitState::ok);
        CHECK(unrecorded(job) == Watts(0));
    }
    JobBuilder silent = twelve();
    silent.read("r", "z", 83.3, {{"signal", "none"}});
    CHECK(newest(silent).is_valid);
}

TEST_CASE("twelve_volts_stray_unmentioned: stray voltage speaks against a reading of the same line and stay") {
    const auto verdict = [](const std::function<void(JobBuilder&)>& prepare, const Map& more) {
        JobBuilder job = twelve();
        job.add("visit", "v1", {{"purpose", "service"}}).add("visit", "v2", {{"purpose", "service"}});
        job.add("zone", "other", {{"channel", "out"}});
        prepare(job);
        job.read("r", "z", 83.3, more);
        return newest(job);
    };
    const Map at_noon{{"time", noon}};
    const auto before = [](double volts, const char* at, const char* time) {
        return [=](JobBuilder& job) { stray(job, "s", at, volts, {{"time", time}}); };
    };
    CHECK(verdict(before(12, "z", morning), at_noon).unjudged == Unjudged::stray_voltage);
    CHECK(verdict(before(12, "p5", morning), at_noon).unjudged == Unjudged::stray_voltage);
    CHECK(verdict(before(1, "z", morning), at_noon).verdict == Verdict::not_judged);
    CHECK(verdict(before(0.9, "z", morning), at_noon).is_valid);
    CHECK(verdict(before(12, "other", morning), at_noon).is_valid);
    CHECK(verdict(before(12, "z", next_day), at_noon).is_valid);                       // taken after it
    CHECK(verdict(before(12, "z", morning), {{"time", next_day}}).is_valid);           // another day
    CHECK(verdict(before(12, "z", morning), {}).unjudged == Unjudged::stray_voltage);  // nobody knows when
    const auto visit = [](JobBuilder& job) { stray(job, "s", "z", 12, {{"time", morning}, {"visit", "v1"}}); };
    CHECK(verdict(visit, {{"time", next_day}, {"visit", "v1"}}).unjudged == Unjudged::stray_voltage);
    CHECK(verdict(visit, {{"time", next_day}, {"visit", "v2"}}).is_valid);
    // The last one speaks.
    const auto cleared = [](JobBuilder& job) {
        stray(job, "s", "z", 12, {{"time", morning}});
        stray(job, "s2", "z", 0.1, {{"time", "2024-05-01T10:00:00Z"}});
    };
    CHECK(verdict(cleared, at_noon).is_valid);
    const JobBuilder dirty = [] {
        JobBuilder job = twelve();
        stray(job, "s", "z", 12);
        return job.read("r", "z", 83.3);
    }();
    CHECK(
        text_of(dirty) ==
        "z: 83.3 Ω read, but 12 V stray on the line: not judged. Treat the line as live; find where the voltage comes "
        "from, then read again.");
}

TEST_CASE("only a valid reading is a baseline") {
    for (const Map& more : {Map{{"isolated", Value()}}, Map{{"isolated", false}}, Map{{"signal", "tone"}}}) {
        JobBuilder job = twelve();
        Map fields = more;
        fields.emplace_back("baseline", true);
        job.read("r", "z", 69.0, fields).read("r2", "z", 75.27);
        CHECK_FALSE(newest(job).baseline);
        CHECK(newest(job).verdict == Verdict::agrees);
    }
}

TEST_CASE("four_planned_loudspeakers_made_a_correct_reading_drift: what is planned is not expected") {
    JobBuilder job = twelve();
    job.chain("n", 4, "p12", 5, {{"state", "planned"}});
    job.read("r", "z", 83.3);
    CHECK(newest(job).verdict == Verdict::agrees);
    CHECK(newest(job).expected->value() == doctest::Approx(70.7 * 70.7 / 60));
    CHECK(newest(job).expected_all->value() == doctest::Approx(70.7 * 70.7 / 80));
    CHECK(newest(job).planned == 4);
    CHECK(derive(job).zones[0].margin.load == Watts(80));
}

TEST_CASE("a fire or emergency line is not judged, and leaves what feeds it unknown") {
    JobBuilder job = twelve();
    job.add("zone", "z2", {{"channel", "out"}, {"limit_w", 50.0}});
    CHECK(derive(job).zones[1].can_add);
    job.set("zone", "z", "emergency", "yes").read("r", "z", 60.0);
    const Derived derived = derive(job);
    CHECK(newest(job).unjudged == Unjudged::emergency);
    CHECK_FALSE(derived.zones[0].margin.headroom);
    CHECK_FALSE(derived.zones[0].can_add);
    CHECK_FALSE(derived.zones[1].can_add);
    // One point of it: what hangs behind it goes with it.
    JobBuilder part = twelve();
    part.set("point", "p7", "emergency", "yes");
    const Derived partly = derive(part);
    CHECK(partly.zones[0].connected == 6);
    CHECK_FALSE(partly.zones[0].can_add);
}

TEST_CASE("where nothing is connected a load above the limit is more load, not a short") {
    JobBuilder job = one_zone(100, 60, 200);
    job.read("r", "z", 100);  // 100 W
    CHECK(newest(job).verdict == Verdict::more_load);
    CHECK(newest(job).limit == LimitState::stop);
}

TEST_CASE("a resistance far above any tap is an open line also where nothing is connected") {
    JobBuilder job = one_zone(70.7, 100);
    job.read("r", "z", 1e6);
    CHECK(newest(job).verdict == Verdict::agrees);
    CHECK(unrecorded(job) == Watts(0));
}

TEST_CASE("what was found behind an attenuator that is off is no part of what an older reading still shows") {
    JobBuilder job = one_zone(100, 200);
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0, -6.0}}, {"has_off", true}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"knob_db", "off"}});
    job.read("r1", "z", 100, {{"expected_ohm", 1e9}});  // 100 W that nobody recorded
    job.speaker("old", "w", 6, {{"origin", "existing"}, {"found_w", 6.0}, {"found_by", "r1"}});
    CHECK(unrecorded(job).value() == doctest::Approx(94));
    // 96 W without the one that was found: 2 W more than r1 leaves, and not 4 W less than it showed.
    JobBuilder off = job;
    off.read("r2", "z", 10000 / 96.0, {{"isolated", Value()}, {"expected_ohm", 1e9}});
    CHECK(unrecorded(off).value() == doctest::Approx(96));
    // At -6 dB the line draws 1.5 W of it: it is in the record all the same.
    job.set("point", "w", "knob_db", -6.0);
    const double expected_w = 6 * std::pow(10, -0.6);
    job.read("r2", "z", 10000 / (expected_w + 96.0), {{"isolated", Value()}, {"expected_ohm", 10000 / expected_w}});
    CHECK(unrecorded(job).value() == doctest::Approx(96));
}
