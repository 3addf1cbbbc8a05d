// What cannot be answered is refused in a sentence, and what nobody can explain is said to be so.
#include <doctest/doctest.h>

#include <cmath>

#include "core/faults/next_measurement.h"
#include "core/readings/readings.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

Result<Diagnosis> diagnosed(const Job& job, const FaultQuestion& question) {
    return Diagnosis::of(job, derive(job), question);
}

std::string refused(const Job& job, std::string_view zone = "z") {
    FaultQuestion question;
    question.zone = Id(std::string(zone));
    const Result<Diagnosis> diagnosis = diagnosed(job, question);
    REQUIRE_FALSE(diagnosis.ok());
    const Message& message = diagnosis.refusal().message;
    const Argument* problem = message.find("problem");
    const auto* inner = problem ? std::get_if<Message>(&problem->value()) : nullptr;
    return inner ? inner->pattern().text : message.pattern().text;
}

JobBuilder six() {
    JobBuilder job = one_zone(100, 100);
    job.chain("p", 6, "z", 6, {{"state", "tested"}});
    return job;
}

Reading read(std::string_view at, double value, Measured quantity = Measured::ohms) {
    Reading reading;
    reading.at = Id(std::string(at));
    reading.quantity = quantity;
    reading.value = value;
    reading.isolated = true;
    return reading;
}

FaultQuestion about_z(std::vector<Reading> with) {
    FaultQuestion question;
    question.zone = Id("z");
    question.with = std::move(with);
    return question;
}

const Cause& likeliest(const Diagnosis& diagnosis) {
    return diagnosis.causes().front();
}

}  // namespace

TEST_CASE("what_cannot_be_answered_is_refused") {
    CHECK_FALSE(refused(six()).empty());               // no reading
    CHECK_FALSE(refused(six(), "nowhere").empty());    // no such zone
    CHECK_FALSE(refused(one_zone(100, 100)).empty());  // nothing recorded
    JobBuilder planned = one_zone(100, 100);
    planned.chain("p", 3, "z", 6, {{"state", "planned"}}).read("r", "z", 200);
    CHECK_FALSE(refused(planned).empty());
    JobBuilder unknown = one_zone(100, 100);
    for (const char* id : {"a", "b"})
        unknown.add("point", id, {{"kind", "speaker"}, {"fed_from", "z"}, {"type", "s"}, {"state", "tested"}});
    unknown.read("r", "z", 200);
    CHECK_FALSE(refused(unknown).empty());
    JobBuilder emergency = six();
    emergency.set("zone", "z", "emergency", "yes").read("r", "z", 280);
    CHECK_FALSE(refused(emergency).empty());
}

TEST_CASE("a_line_that_reads_as_recorded_is_called_right") {
    JobBuilder job = six();
    job.read("r", "z", 278);
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({}));
    REQUIRE(diagnosis.ok());
    CHECK(likeliest(*diagnosis).faults.empty());
}

TEST_CASE("contradictory_readings_leave_it_unexplained") {
    // The zone draws less than the only thing behind it, and that less than what is behind that.
    JobBuilder job = six();
    job.read("base", "z", 278, {{"baseline", true}});
    const Result<Diagnosis> diagnosis =
        diagnosed(job, about_z({read("z", 900), read("p2", 90), read("p3", 700), read("p5", 60)}));
    REQUIRE(diagnosis.ok());
    CHECK(diagnosis->unexplained() > 0.9);
    CHECK(diagnosis->is_sure());
    NextMeasurement next(job, *diagnosis, {});
    while (next.step()) {
    }
    CHECK(next.best().empty());
}

TEST_CASE("a_run_that_closes_a_ring_and_a_loop_of_feeds_do_no_harm") {
    JobBuilder job = six();
    job.set("point", "p6", "ring_to", "z");
    job.add("point", "a", {{"kind", "splice"}, {"fed_from", "b"}})
        .add("point", "b", {{"kind", "splice"}, {"fed_from", "a"}});
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 340)}));
    REQUIRE(diagnosis.ok());
    CHECK_FALSE(diagnosis->causes().empty());
}

TEST_CASE("a_planned_loudspeaker_that_is_connected_all_the_same_is_proposed") {
    JobBuilder job = six();
    job.read("base", "z", 277.8, {{"baseline", true}});
    job.speaker("new", "p6", 15, {{"state", "planned"}});
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 10000.0 / 51)}));
    REQUIRE(diagnosis.ok());
    double chance = 0;
    for (const Cause& cause : diagnosis->causes())
        if (cause.faults.size() == 1 && cause.faults.front().kind == FaultKind::missing) chance += cause.chance;
    CHECK(chance > 0.05);
}

TEST_CASE("an_attenuator_elsewhere_than_noted_is_proposed") {
    JobBuilder job = one_zone(100, 200);
    job.add("attenuator_type", "at",
            {{"rated_w", 50.0}, {"steps_db", List{0.0, -3.0, -6.0, -12.0}}, {"has_off", true}});
    job.chain("p", 2, "z", 6, {{"state", "tested"}});
    job.add("point", "v", {{"kind", "attenuator"}, {"fed_from", "p2"}, {"type", "at"}, {"knob_db", 0.0}});
    job.chain("q", 4, "v", 6, {{"state", "tested"}});
    // 12 W before it, 24 W behind it that draw 6 W at -6 dB.
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 10000.0 / 18.03), read("q1", 10000.0 / 24)}));
    REQUIRE(diagnosis.ok());
    double chance = 0;
    for (const Cause& cause : diagnosis->causes())
        if (cause.faults.size() == 1 && cause.faults.front().kind == FaultKind::position) chance += cause.chance;
    CHECK(chance > 0.3);
}

TEST_CASE("an_attenuator_nobody_noted_is_taken_to_stand_where_the_readings_speak_for_it") {
    JobBuilder job = one_zone(100, 200);
    job.add("attenuator_type", "at",
            {{"rated_w", 50.0}, {"steps_db", List{0.0, -3.0, -6.0, -12.0}}, {"has_off", true}});
    job.chain("p", 2, "z", 6, {{"state", "tested"}});
    job.add("point", "v", {{"kind", "attenuator"}, {"fed_from", "p2"}, {"type", "at"}});
    job.chain("q", 4, "v", 6, {{"state", "tested"}});
    // 12 W before it, 24 W behind it that draw 6 W at -6 dB; then one before it is dead.
    job.read("base", "z", 10000.0 / 18.03, {{"baseline", true}});
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 10000.0 / 12.03)}));
    REQUIRE(diagnosis.ok());
    REQUIRE(diagnosis->line().assumed.size() == 1);
    CHECK(diagnosis->line().assumed.front().second.step.value() == -6);
    double before = 0;
    for (const Cause& cause : diagnosis->causes())
        if (!cause.faults.empty() && cause.faults.front().kind == FaultKind::dead)
            before +=
                job.job().all<Point>()[cause.faults.front().points.front()].id.text()[0] == 'p' ? cause.chance : 0;
    CHECK(before > 0.5);
    // What is noted is taken as noted.
    job.set("point", "v", "knob_db", 0.0);
    CHECK(diagnosed(job, about_z({read("z", 10000.0 / 12.03)}))->line().assumed.empty());
}

TEST_CASE("volts_under_a_tone_tell_how_far_a_line_is_whole") {
    JobBuilder job = six();
    job.read("base", "z", 277.8, {{"baseline", true}});
    Reading tone = read("p4", 5, Measured::volts);
    tone.signal = Signal::tone;
    Reading silent = read("p5", 0.01, Measured::volts);
    silent.signal = Signal::tone;
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 10000.0 / 24), tone, silent}));
    REQUIRE(diagnosis.ok());
    CHECK(likeliest(*diagnosis).faults.front().kind == FaultKind::broken);
    CHECK(job.job().all<Point>()[likeliest(*diagnosis).faults.front().points.front()].id == Id("p5"));
}

TEST_CASE("dc_ohms_tell_the_distance_to_a_short") {
    JobBuilder job = one_zone(100, 100);
    job.add("cable_type", "c", {{"ohm_per_km", 21.0}});
    job.chain("p", 8, "z", 6, {{"state", "tested"}, {"cable", "c"}, {"length_m", 30.0}});
    job.read("base", "z", 215, {{"baseline", true}});
    // 1.26 ohm a run: 5.5 ohm is the fourth loudspeaker's terminals and the short's own half ohm.
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 5.5), read("z", 5.4, Measured::dc_ohms)}));
    REQUIRE(diagnosis.ok());
    CHECK(likeliest(*diagnosis).faults.front().kind == FaultKind::shorted);
    CHECK(job.job().all<Point>()[likeliest(*diagnosis).faults.front().points.front()].id == Id("p4"));
}

TEST_CASE("low_insulation_is_a_cause_of_its_own") {
    JobBuilder job = six();
    job.read("r", "z", 278);
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 2e5, Measured::earth_ohms)}));
    REQUIRE(diagnosis.ok());
    CHECK(likeliest(*diagnosis).faults.front().kind == FaultKind::earth);
    CHECK(diagnosis->is_sure());
}

TEST_CASE("what_was_heard_outweighs_what_was_likelier") {
    JobBuilder job = six();
    job.read("base", "z", 277.8, {{"baseline", true}});
    FaultQuestion question = about_z({read("z", 10000.0 / 30)});
    question.heard = {{Id("p3"), Heard::silent}};
    const Result<Diagnosis> diagnosis = diagnosed(job, question);
    REQUIRE(diagnosis.ok());
    CHECK(job.job().all<Point>()[likeliest(*diagnosis).faults.front().points.front()].id == Id("p3"));
    CHECK(likeliest(*diagnosis).faults.front().kind == FaultKind::dead);
}

TEST_CASE("a_tap_that_was_looked_at_settles_it") {
    JobBuilder job = six();
    job.read("base", "z", 277.8, {{"baseline", true}});
    FaultQuestion question = about_z({read("z", 10000.0 / 40)});
    question.taps = {{Id("p2"), Watts(10)}};
    const Result<Diagnosis> diagnosis = diagnosed(job, question);
    REQUIRE(diagnosis.ok());
    CHECK(likeliest(*diagnosis).faults.front().kind == FaultKind::tap);
    CHECK(likeliest(*diagnosis).faults.front().value == 10);
    CHECK(likeliest(*diagnosis).chance > 0.8);
}

TEST_CASE("a_job_says_which_faults_are_likelier_in_its_house") {
    JobBuilder job = six();
    job.read("base", "z", 277.8, {{"baseline", true}});
    const auto chance_of = [&](FaultKind kind) {
        const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 10000.0 / 30)}));
        REQUIRE(diagnosis.ok());
        double chance = 0;
        for (const Cause& cause : diagnosis->causes())
            if (cause.faults.size() == 1 && cause.faults.front().kind == kind) chance += cause.chance;
        return chance;
    };
    const double dead = chance_of(FaultKind::dead);
    const double joint = chance_of(FaultKind::joint);
    job.info("fault_weights", "joint = 10, dead=0.1");
    CHECK(chance_of(FaultKind::dead) < dead);
    CHECK(chance_of(FaultKind::joint) > 5 * joint);
    job.read("r", "z", 10000.0 / 30);
    for (const char* wrong : {"joint", "joint=", "=3", "bones=3", "joint=0", "joint=1e9", "joint=-1", "joint=nan"}) {
        job.info("fault_weights", wrong);
        CHECK(refused(job) ==
              "Job settings, fault weights: \"{part}\" is not KIND=NUMBER with a number from 0.01 to 100. Write for "
              "example {example}; kinds are {kinds}.");
    }
}

TEST_CASE("what_a_loudspeaker_draws_by_readings_with_and_without_it_settles_its_tap") {
    JobBuilder job = six();
    job.read("base", "z", 277.8, {{"baseline", true}});
    FaultQuestion question = about_z({read("z", 10000.0 / 40)});
    const Result<Diagnosis> before = diagnosed(job, question);
    REQUIRE(before.ok());
    CHECK(likeliest(*before).chance < 0.5);
    // 10 W on a tap of 6; then 6 W as recorded, which speaks against that loudspeaker.
    question.loads = {{Id("p2"), Watts(10), Watts(1)}};
    const Result<Diagnosis> found = diagnosed(job, question);
    REQUIRE(found.ok());
    REQUIRE(likeliest(*found).faults.size() == 1);
    CHECK(likeliest(*found).faults.front().kind == FaultKind::tap);
    CHECK(likeliest(*found).faults.front().value == 10);
    CHECK(job.job().all<Point>()[likeliest(*found).faults.front().points.front()].id == Id("p2"));
    CHECK(likeliest(*found).chance > 0.8);
    question.loads = {{Id("p2"), Watts(6), Watts(1)}};
    const Result<Diagnosis> cleared = diagnosed(job, question);
    REQUIRE(cleared.ok());
    const auto chance_of_tap_at = [&](const Diagnosis& diagnosis, std::string_view at) {
        double chance = 0;
        for (const Cause& cause : diagnosis.causes())
            if (cause.faults.size() == 1 && cause.faults.front().kind == FaultKind::tap &&
                job.job().all<Point>()[cause.faults.front().points.front()].id.text() == at)
                chance += cause.chance;
        return chance;
    };
    CHECK(chance_of_tap_at(*cleared, "p2") < 0.2 * chance_of_tap_at(*before, "p2"));
    CHECK(chance_of_tap_at(*cleared, "p3") > chance_of_tap_at(*before, "p3"));
}

TEST_CASE("transformer_models_are_taken_out_of_a_reading_before_it_is_held_against_plain_loads") {
    JobBuilder job = one_zone(100, 100);
    job.add("speaker_type", "modelled",
            {{"taps_w", List{2.5, 6.0, 10.0}},
             {"primary_ohm", 60.0},
             {"secondary_ohm", 50.0},
             {"leak_h", 0.012},
             {"mag_h", 0.4},
             {"low_z_ohm", 8.0}});
    for (int i = 1; i <= 6; ++i)
        job.add("point", "m" + std::to_string(i),
                {{"kind", "speaker"}, {"fed_from", "z"}, {"type", "modelled"}, {"tap_w", 6.0}, {"state", "tested"}});
    const std::optional<Ohms> expected = expected_of(job, read("z", 1));
    REQUIRE(expected);
    CHECK(std::abs(expected->value() / (10000.0 / 36) - 1) > 0.01);  // so there is something to take out
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", expected->value())}));
    REQUIRE(diagnosis.ok());
    CHECK(diagnosis->line().looks.front().ohms == doctest::Approx(10000.0 / 36));
    CHECK(likeliest(*diagnosis).faults.empty());
}

TEST_CASE("an_open_snag_makes_what_is_wrong_there_likelier") {
    JobBuilder job = six();
    job.read("base", "z", 277.8, {{"baseline", true}});
    job.add("snag", "n", {{"about", "p4"}, {"text", "hums"}});
    const Result<Diagnosis> diagnosis = diagnosed(job, about_z({read("z", 10000.0 / 30)}));
    REQUIRE(diagnosis.ok());
    CHECK(job.job().all<Point>()[likeliest(*diagnosis).faults.front().points.front()].id == Id("p4"));
}

// Bad input: each is answered in a sentence or by a diagnosis, never by nothing.
TEST_CASE("no_reading_is_refused_in_a_sentence") {
    CHECK(refused(six()).starts_with("Nothing was read or heard here yet."));
}

TEST_CASE("a_zone_without_points_is_refused_in_a_sentence") {
    JobBuilder job = one_zone(100, 100);
    job.read("r", "z", 200);
    CHECK(refused(job).starts_with("Nothing is recorded on this line"));
}

TEST_CASE("unknown_taps_everywhere_are_refused_in_a_sentence") {
    JobBuilder job = one_zone(100, 100);
    for (const char* id : {"a", "b", "c"})
        job.add("point", id, {{"kind", "speaker"}, {"fed_from", "z"}, {"type", "s"}, {"state", "tested"}});
    job.read("r", "z", 200);
    CHECK(refused(job).starts_with("No tap is recorded here"));
}

TEST_CASE("a_zone_whose_points_feed_each_other_in_a_loop_is_refused_in_a_sentence") {
    JobBuilder job = one_zone(100, 100);
    job.speaker("a", "b", 6, {{"state", "tested"}}).speaker("b", "a", 6, {{"state", "tested"}}).read("r", "z", 200);
    CHECK(refused(job).starts_with("Nothing is recorded on this line"));
}

TEST_CASE("a_reading_of_nought_or_less_and_one_at_another_line_are_no_evidence") {
    JobBuilder job = six();
    job.add("zone", "other", {{"emergency", "no"}}).speaker("o", "other", 6, {{"state", "tested"}});
    FaultQuestion question = about_z({read("o", 50), read("other", 50)});
    CHECK_FALSE(diagnosed(job, question).ok());
    question.with = {read("z", 0), read("p2", -5)};
    CHECK_FALSE(diagnosed(job, question).ok());
}

TEST_CASE("two_stored_readings_that_differ_by_one_loudspeaker_tell_what_it_draws") {
    // p3 alone is on 10 W; it was off the line for one of the two, and draws 5 W in truth.
    JobBuilder job = one_zone(100, 100);
    job.speaker("p1", "z", 5).speaker("p2", "p1", 5).speaker("p3", "p2", 10).speaker("p4", "p3", 5);
    job.read("whole", "z", 10000 / 20.0, {{"time", "2026-11-02T10:00:00Z"}});
    FaultQuestion question;
    question.zone = Id("z");
    const auto line_of = [&] {
        const Derived derived = derive(job);
        Result<FaultLine> line = fault_line(job, derived, question);
        REQUIRE(line.ok());
        return std::move(*line);
    };
    CHECK(line_of().loads.empty());
    job.read("off", "z", 10000 / 15.0, {{"time", "2026-11-02T10:05:00Z"}, {"expected_ohm", 10000 / 15.0}});
    const FaultLine line = line_of();
    REQUIRE(line.loads.size() == 1);
    CHECK(line.loads.front().second.point == Id("p3"));
    CHECK(line.loads.front().second.watts.value() == doctest::Approx(5));
    const Derived derived = derive(job);
    const Result<Diagnosis> diagnosis = Diagnosis::of(job, derived, question);
    REQUIRE(diagnosis.ok());
    const Cause& first = diagnosis->causes().front();
    REQUIRE(first.faults.size() == 1);
    CHECK(first.faults.front().kind == FaultKind::tap);
    CHECK(first.faults.front().value == doctest::Approx(5));
    CHECK(job.job().all<Point>()[first.faults.front().points.front()].id == Id("p3"));
    // Of another day, or where several would do, it tells nothing.
    job.set("reading", "off", "time", "2026-11-05T10:05:00Z");
    CHECK(line_of().loads.empty());
    job.set("reading", "off", "time", "2026-11-02T10:05:00Z").set("reading", "off", "expected_ohm", 10000 / 20.0);
    CHECK(line_of().loads.empty());
}
