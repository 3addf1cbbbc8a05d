// The five examples the whole trade arithmetic is checked by, worked by hand (common practice, no single source), and
// the examples of docs/calculations.md.
#include <doctest/doctest.h>

#include "core/calc/drawn.h"
#include "core/findings/findings.h"
#include "core/readings/readings.h"
#include "core/words/readings_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"
#include "tests/line/worked_examples.h"
#include "tests/plan/retrofit_examples.h"

using namespace tapwright;

namespace {

doctest::Approx near(double value, double relative = 1e-9) {
    return doctest::Approx(value).epsilon(relative);
}

Reading draft(std::string_view at, double ohms) {
    Reading reading;
    reading.at = Id(at);
    reading.quantity = Measured::ohms;
    reading.value = ohms;
    reading.isolated = true;
    return reading;
}

}  // namespace

TEST_CASE("A: five zones within their limits, the amplifier already in its reserve") {
    JobBuilder job = one_zone(70.7, 100);
    for (const char* id : {"z2", "z3", "z4", "z5"}) job.add("zone", id, {{"channel", "out"}, {"limit_w", 100.0}});
    job.chain("a", 8, "z", 5)
        .chain("b", 12, "z2", 5)
        .chain("c", 3, "z3", 7.5)
        .chain("d", 1, "z4", 30)
        .chain("e", 1, "z5", 15);
    const Derived derived = derive(job);

    const double loads[] = {40, 60, 22.5, 30, 15};
    const double headrooms[] = {40, 20, 57.5, 50, 65};
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(derived.zones[i].margin.load == Watts(loads[i]));
        CHECK(derived.zones[i].margin.headroom == Watts(headrooms[i]));
        CHECK(derived.zones[i].can_add == Watts(0));
        CHECK(derived.zones[i].margin.basis == Basis::as_built);
    }
    CHECK(derived.amplifiers[0].margin.load == Watts(167.5));
    CHECK(derived.amplifiers[0].margin.headroom->value() == near(-23.5));
    // Not over its rating: a warning, and `check` does not end with 1.
    CHECK(has_finding(derived, "amplifier_into_reserve"));
    CHECK_FALSE(derived.has_stop());
}

TEST_CASE("two loudspeakers at 60 W break a zone of 100 W") {
    const JobBuilder job = one_zone(70.7, 100).chain("p", 2, "z", 60);
    const Derived derived = derive(job);
    CHECK(derived.zones[0].margin.load == Watts(120));
    CHECK(has_finding(derived, "zone_over_limit"));
    CHECK(derived.has_stop());
}

TEST_CASE("B: a reading within the band, taken as baseline, then one loudspeaker dies") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 12, "z", 5);
    CHECK(derive(job).zones[0].ohms.value() == near(83.31, 1e-4));

    job.read("r1", "z", 69.0, {{"baseline", true}});
    Derived derived = derive(job);
    const Judgement first = reading_of(job, derived, "r1");
    CHECK(first.expected->value() == near(70.7 * 70.7 / 60));
    CHECK((69.0 / first.expected->value() - 1) * 100 == near(-17.2, 2e-3));
    CHECK(first.verdict == Verdict::agrees);
    CHECK(first.measured->value() == near(72.4, 1e-3));
    CHECK(first.limit == LimitState::ok);
    CHECK(derived.zones[0].margin.unrecorded == Watts(0));

    job.read("r2", "z", 75.27);
    derived = derive(job);
    CHECK(reading_of(job, derived, "r2").verdict == Verdict::drifted);
    CHECK((75.27 / 69.0 - 1) * 100 == near(9.1, 2e-3));
    // The reading is 69.0 with one of twelve loudspeakers gone.
    CHECK(69.0 * 12 / 11 == near(75.27, 1e-4));
    CHECK(has_finding(derived, "reading_drifted"));

    const Statement drifted = statement_of(job, derived, 1);
    CHECK(in_english(drifted.text) ==
          "z: 75.3 Ω read, at least 83.3 Ω expected (\u22129.6 %): within ±20 % of the record, but 9.1 % above its "
          "baseline. "
          "Next: find the fault.");
    CHECK(in_english(drifted.why).find("About 8 % of the load is missing: 1 of 12 loudspeakers.") != std::string::npos);
    const Statement agrees = statement_of(job, derived, 0);
    CHECK(in_english(agrees.text) == "z: 69 Ω read, 83.3 Ω expected (\u221217.2 %): matches the record within ±20 %.");
    CHECK(in_english(agrees.why).find("±20 % cannot show it") != std::string::npos);
}

TEST_CASE("B: with another meter 10 % are allowed") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 12, "z", 5);
    job.read("r1", "z", 69.0, {{"baseline", true}, {"instrument", "one"}});
    job.read("r2", "z", 75.27, {{"instrument", "other"}});
    CHECK(derive(job).readings[1].verdict == Verdict::agrees);
}

TEST_CASE("C: what a reading shows beyond the record, and how found loudspeakers use it up") {
    JobBuilder job = one_zone(100, 100, 500).chain("p", 6, "z", 6);
    CHECK(derive(job).zones[0].ohms.value() == near(277.8, 1e-3));

    job.read("r1", "z", 185.2);
    Derived derived = derive(job);
    CHECK(derived.readings[0].verdict == Verdict::more_load);
    CHECK(derived.zones[0].margin.unrecorded.value() == near(18.0, 1e-3));
    CHECK(derived.zones[0].margin.headroom_recorded == Watts(44));
    CHECK(derived.zones[0].margin.headroom->value() == near(26.0, 1e-3));
    CHECK(derived.zones[0].can_add->value() == near(26.0, 1e-3));
    CHECK(has_finding(derived, "reading_more_load"));

    job.speaker("n1", "p6", 6, {{"origin", "new"}}).speaker("n2", "n1", 6, {{"origin", "new"}});
    derived = derive(job);
    CHECK(derived.zones[0].margin.unrecorded.value() == near(18.0, 1e-3));
    CHECK(derived.zones[0].margin.headroom->value() == near(14.0, 1e-3));

    job.speaker("old", "p3", 6, {{"origin", "existing"}, {"found_w", 6.0}, {"found_by", "r1"}});
    derived = derive(job);
    CHECK(derived.readings[0].verdict == Verdict::more_load);
    CHECK(derived.zones[0].margin.unrecorded.value() == near(12.0, 1e-3));
    CHECK(derived.zones[0].margin.headroom->value() == near(14.0, 1e-3));
    CHECK(derived.zones[0].can_add->value() == near(14.0, 1e-3));

    // The next reading is expected to show everything that is there: what is recorded and what was not.
    CHECK(100.0 * 100.0 / (54 + 12) == near(151.5, 1e-3));
    const Judgement next = judge(job, derive(job), draft("z", 151.5));
    CHECK(next.expected->value() == near(100.0 * 100.0 / 54));
    CHECK(next.measured->value() == near(66.0, 1e-3));
    CHECK(next.difference->value() == near(12.0, 1e-2));
}

TEST_CASE("D: three autotransformers looped through") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0, -3.0, -6.0}}, {"has_off", true}});
    std::string feed = "z";
    for (const char* wall : {"w1", "w2", "w3"}) {
        job.add("point", wall, {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", feed}, {"feed_side", "in"}});
        job.chain(std::string(wall) + "p", 4, wall, 5);
        feed = wall;
    }
    Derived derived = derive(job);
    CHECK(derived.zones[0].ohms.value() == near(83.31, 1e-4));
    CHECK(derived.zones[0].margin.load == Watts(60));
    for (const char* code : {"attenuator_over_rating", "attenuator_behind_attenuator"})
        CHECK_FALSE(has_finding(derived, code));
    CHECK(point_of(job, derived, "w2").behind == Watts(20));

    SUBCASE("the second at -6 dB") {
        job.set("point", "w2", "knob_db", -6.0);
        derived = derive(job);
        CHECK(derived.lines[0].watts.value() == near(45.02, 1e-4));
        CHECK(derived.zones[0].ohms.value() == near(111.0, 1e-3));
        CHECK(derived.zones[0].margin.load == Watts(60));  // loads count every attenuator at 0 dB
        CHECK(point_of(job, derived, "w2p1").level->value() == near(-6));
        CHECK(point_of(job, derived, "w2p1").cable->value() == near(0));
        CHECK(point_of(job, derived, "w3p1").level->value() == near(0));
    }
    SUBCASE("the second off") {
        job.set("point", "w2", "knob_db", "off");
        derived = derive(job);
        CHECK(derived.zones[0].ohms.value() == near(124.96, 1e-4));
        CHECK_FALSE(point_of(job, derived, "w2p1").level);
        CHECK(point_of(job, derived, "w2p1").volts == Volts(0));
        CHECK(point_of(job, derived, "w3p1").volts == Volts(70.7));
    }
    SUBCASE("all full, 0.5 dB insertion loss") {
        job.set("attenuator_type", "a", "insertion_db", 0.5);
        derived = derive(job);
        CHECK(derived.lines[0].watts.value() == near(60));
        CHECK(derived.lines[0].delivered.value() == near(53.48, 1e-4));
        CHECK(derived.lines[0].attenuator.value() == near(6.52, 1e-3));
    }
}

TEST_CASE("E: taps marked for 70.7 V on 100 V") {
    JobBuilder job = one_zone(100, 100);
    job.set("speaker_type", "s", "taps_v", 70.7).set("speaker_type", "s", "max_w", 5.0);
    job.chain("p", 8, "z", 5);
    const Derived derived = derive(job);
    CHECK(derived.zones[0].margin.load.value() == near(80.02, 1e-4));
    CHECK(derived.zones[0].margin.headroom->value() == near(-0.02, 0.25));
    CHECK(has_finding(derived, "drawn_above_max"));
    CHECK(has_finding(derived, "type_for_other_voltage"));
    CHECK(has_finding(derived, "zone_into_reserve"));
    CHECK(derived.has_stop());
    CHECK(derived.zones[0].ohms.value() == near(124.96, 1e-4));

    JobBuilder as_marked = one_zone(70.7, 100).chain("p", 8, "z", 5);
    CHECK(derive(as_marked).zones[0].ohms.value() == near(derived.zones[0].ohms.value()));

    const Reading reading = draft("z", 125);
    const Judgement judgement = judge(job, derive(job), reading);
    CHECK(judgement.verdict == Verdict::agrees);
    CHECK(judgement.hidden_marks->drawn_ratio == near(2.001, 1e-3));
    CHECK(in_english(statement_of(job, derived, reading, judgement).why).find("No impedance reading can show that") !=
          std::string::npos);
}

namespace {

SpeakerType type_marked_for(double volts) {
    SpeakerType type;
    type.taps_v = Volts(volts);
    return type;
}

double delivered_tap() {
    SpeakerType type;
    type.tap_means = TapMeans::delivered;
    type.xfmr_loss_db = Decibels(1);
    return drawn_by_tap(Watts(10), &type, Volts(70.7)).value();
}

double low_z_on_line() {
    JobBuilder job = one_zone(70.7, 100).speaker("p", "z", 5);
    job.set("speaker_type", "s", "low_z_ohm", 8.0).set("point", "p", "wired", "low_z");
    return derive(job).zones[0].margin.load.value();
}

double half_loaded_pad() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"steps_db", List{0.0, -6.0, -20.0}}, {"build", "l_pad"}, {"pad_ohm", 249.9245}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}});
    return derive(job.chain("p", 2, "w", 5)).zones[0].margin.load.value();
}

Derived five_zones() {
    JobBuilder job = one_zone(70.7, 100).chain("p", 8, "z", 5);
    const double watts[] = {60, 15, 30, 7.5};
    const int count[] = {1, 1, 1, 3};
    for (std::size_t i = 0; i < 4; ++i) {
        const std::string zone = "z" + std::to_string(i + 2);
        job.add("zone", zone, {{"channel", "out"}, {"limit_w", 100.0}});
        job.chain(zone + "p", count[i], zone, watts[i]);
    }
    return derive(job);
}

Derived twelve_by_records() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"ohm_per_km", 20.95}});
    job.chain("p", 12, "z", 5, {{"cable", "c"}, {"length_m", 5.0}}).set("point", "p1", "length_m", 40.0);
    return derive(job);
}

// The story of example C, up to its `chapter`.
ZoneState story(int chapter) {
    JobBuilder job = one_zone(100, 100, 500).chain("p", 6, "z", 6);
    if (chapter > 0) job.read("r", "z", 185.2);
    if (chapter > 1) job.chain("n", 2, "p6", 6, {{"origin", "new"}});
    if (chapter > 2) job.speaker("old", "p3", 6, {{"origin", "existing"}, {"found_w", 6.0}, {"found_by", "r"}});
    return derive(job).zones[0];
}

double one_open_of_12() {
    const auto ohms = [](int count) { return derive(one_zone(70.7, 100).chain("p", count, "z", 5)).zones[0].ohms; };
    return (ohms(11) / ohms(12) - 1) * 100;
}

}  // namespace

TEST_CASE("the worked examples of docs/calculations.md are what the program computes") {
    const SpeakerType marked = type_marked_for(70.7);
    std::map<std::string, WorkedExample> known = {
        {"tap_70_v_on_100_v", {[&] { return drawn_by_tap(Watts(5), &marked, Volts(100)).value(); }, "W"}},
        {"tap_delivered_1_db", {delivered_tap, "W"}},
        {"low_z_8_ohm_on_line", {low_z_on_line, "W"}},
        {"l_pad_half_loaded", {half_loaded_pad, "W"}},
        {"amplifier_headroom", {[] { return five_zones().amplifiers[0].margin.headroom->value(); }, "W"}},
        {"second_zone_headroom", {[] { return five_zones().zones[1].margin.headroom->value(); }, "W"}},
        {"second_zone_can_add", {[] { return five_zones().zones[1].can_add->value(); }, "W"}},
        {"twelve_by_records", {[] { return twelve_by_records().zones[0].ohms.value(); }, "ohm"}},
        {"twelve_by_records_far", {[] { return twelve_by_records().points.back().cable->value(); }, "dB"}},
        {"story_expected", {[] { return story(0).ohms.value(); }, "ohm"}},
        {"story_unrecorded", {[] { return story(1).margin.unrecorded.value(); }, "W"}},
        {"story_headroom", {[] { return story(1).margin.headroom->value(); }, "W"}},
        {"story_two_added", {[] { return story(2).margin.headroom->value(); }, "W"}},
        {"story_one_found", {[] { return story(3).margin.headroom->value(); }, "W"}},
        {"story_still_unrecorded", {[] { return story(3).margin.unrecorded.value(); }, "W"}},
        {"one_open_of_12", {one_open_of_12, "%"}}};
    known.merge(retrofit_examples());
    check_worked_examples("derive", known);
}
