// Example I, by hand (common practice, no single source): 70.7 V, 60.0 ohm with a loudspeaker and 65.0 ohm without.
#include <doctest/doctest.h>

#include <limits>

#include "core/readings/with_without.h"
#include "core/words/between_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"
#include "tests/findings/plain_words.h"

using namespace tapwright;

namespace {

JobBuilder with_speaker() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("speaker_type", "t", {{"taps_w", List{2.5, 5.0, 10.0}}});
    job.add("point", "S-1", {{"kind", "speaker"}, {"label", "S-1"}, {"fed_from", "z"}, {"type", "t"}});
    return job;
}

LoadBetween example(const Job& job, double meter) {
    return load_between(Volts(70.7), Ohms(60), Ohms(65), Percent(meter), job.find<SpeakerType>(Id("t")));
}

std::vector<bool> within(const LoadBetween& between) {
    std::vector<bool> list;
    for (const TapBetween& tap : between.taps) list.push_back(tap.within);
    return list;
}

std::string text(const Job& job, const LoadBetween& between) {
    const Statement statement = statement_of(job, Id("S-1"), between, Ohms(60), Ohms(65));
    CHECK(faults_of(job, in_english(statement.text), 2) == std::vector<std::string>{});
    return in_english(statement.text);
}

}  // namespace

TEST_CASE("example I: a meter of 1 % proposes the 5 W tap, one of 3 % names all three and proposes none") {
    const JobBuilder job = with_speaker();
    const LoadBetween fine = example(job, 1);
    CHECK(fine.watts.value() == doctest::Approx(6.41).epsilon(0.001));
    CHECK(fine.error.value() == doctest::Approx(1.13).epsilon(0.005));
    CHECK(within(fine) == std::vector<bool>{false, true, false});
    CHECK(fine.proposed == std::size_t{1});
    CHECK(text(job, fine) ==
          "S-1 draws 6.41 W ± 1.13 W: 60 Ω with it, 65 Ω without. Of its taps only 5 W fits: record it.");
    const LoadBetween coarse = example(job, 3);
    CHECK(coarse.watts == fine.watts);
    CHECK(coarse.error.value() == doctest::Approx(3.40).epsilon(0.005));
    CHECK(within(coarse) == std::vector<bool>{true, true, true});
    CHECK_FALSE(coarse.proposed);
    CHECK(text(job, coarse) ==
          "S-1 draws 6.41 W ± 3.4 W: 60 Ω with it, 65 Ω without. 2.5 W, 5 W and 10 W fit; read closer to it or with "
          "a better meter.");
}

TEST_CASE("taps marked for another line are held against what they draw on this one") {
    JobBuilder job = with_speaker();
    job.add("speaker_type", "hundred", {{"taps_w", List{6.0, 12.0}}, {"taps_v", 100.0}});
    const Job& built = job;
    const LoadBetween made =
        load_between(Volts(70.7), Ohms(60), Ohms(65), Percent(1), built.find<SpeakerType>(Id("hundred")));
    CHECK(made.taps[1].drawn.value() == doctest::Approx(12 * 0.707 * 0.707));
    CHECK(within(made) == std::vector<bool>{false, true});  // 3 W and 6 W
    CHECK(made.proposed == std::size_t{1});
}

TEST_CASE("the only loudspeaker of a line leaves it open; none of the taps, or no type, proposes nothing") {
    const JobBuilder builder = with_speaker();
    const Job& job = builder;
    const SpeakerType* type = job.find<SpeakerType>(Id("t"));
    const Ohms open(std::numeric_limits<double>::infinity());
    const LoadBetween alone = load_between(Volts(70.7), Ohms(1000), open, Percent(3), type);
    CHECK(alone.watts.value() == doctest::Approx(5).epsilon(0.001));
    CHECK(alone.error.value() == doctest::Approx(0.15).epsilon(0.001));
    CHECK(alone.proposed == std::size_t{1});
    const LoadBetween same = load_between(Volts(70.7), Ohms(600), Ohms(600), Percent(1), type);
    CHECK(same.watts == Watts(0));
    CHECK_FALSE(same.proposed);
    CHECK(
        text(job, same).ends_with("None of its taps fits; check that nothing else changed between the two readings."));
    const LoadBetween unknown = load_between(Volts(70.7), Ohms(60), Ohms(65), Percent(1), nullptr);
    CHECK(unknown.taps.empty());
    CHECK(text(job, unknown).ends_with("Its type has no taps in the record, so none can be named."));
}

TEST_CASE("the reading with it is the latest valid one of the same place") {
    JobBuilder job = with_speaker();
    CHECK_FALSE(latest_valid_at(job, derive(job), Id("z")));
    job.add("reading", "a", {{"at", "z"}, {"quantity", "ohms"}, {"value", 60.0}, {"isolated", true}});
    job.add("reading", "b", {{"at", "z"}, {"quantity", "ohms"}, {"value", 50.0}, {"isolated", false}});
    job.add("reading", "c", {{"at", "S-1"}, {"quantity", "ohms"}, {"value", 900.0}, {"isolated", true}});
    job.add("reading", "d", {{"at", "z"}, {"quantity", "ohms"}, {"over_range", true}, {"isolated", true}});
    CHECK(latest_valid_at(job, derive(job), Id("z")) == std::uint32_t{0});
    const Job& built = job;
    CHECK(meter_accuracy(built.all<Reading>()[0]) == Percent(3));
}

namespace {

// The reading without S-1, held against the latest one with it.
ReadingPair pair_of(const JobBuilder& with, const Map& fields) {
    JobBuilder without = with;
    without.set("point", "S-1", "wired", "off").add("reading", "now", fields);
    const Derived derived = derive(without);
    const Job& off = without;
    const std::size_t now = *off.place<Reading>(Id("now"));
    return pair_without(with, derive(with), Id("S-1"), off.all<Reading>()[now], derived.readings[now]);
}

Map read_as(double ohms, const Map& more = {}) {
    Map fields = {{"at", "z"}, {"quantity", "ohms"}, {"value", ohms}, {"isolated", true}, {"meter_pct", 1.0}};
    for (const auto& given : more) {
        std::erase_if(fields, [&](const auto& field) { return field.first == given.first; });
        if (!given.second.is_null()) fields.push_back(given);
    }
    return fields;
}

}  // namespace

TEST_CASE("a pair: example I again; what is not valid, or not taken alike, is not compared") {
    JobBuilder job = with_speaker();
    job.speaker("p1", "z", 5).set("point", "p1", "state", "fitted").set("point", "S-1", "state", "fitted");
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0, -6.0}}});
    job.add("point", "v", {{"kind", "attenuator"}, {"label", "V-1"}, {"fed_from", "z"}, {"type", "a"}});
    CHECK(pair_of(job, read_as(65)).fault == PairFault::no_reading_with);
    job.add("reading", "with", read_as(60));
    const ReadingPair made = pair_of(job, read_as(65));
    CHECK(made.fault == PairFault::none);
    CHECK(made.between.watts.value() == doctest::Approx(6.41).epsilon(0.001));
    CHECK(made.between.error.value() == doctest::Approx(1.13).epsilon(0.005));
    CHECK(made.between.proposed == std::size_t{1});
    CHECK(pair_of(job, read_as(65, {{"isolated", Value()}})).fault == PairFault::without_unproven);
    CHECK(pair_of(job, read_as(65, {{"isolated", false}})).fault == PairFault::without_unusable);
    CHECK(pair_of(job, read_as(65, {{"quantity", "dc_ohms"}})).fault == PairFault::without_unusable);
    CHECK(pair_of(job, read_as(65, {{"hz", 330.0}})).fault == PairFault::other_conditions);
    CHECK(pair_of(job, read_as(65, {{"override", true}})).fault == PairFault::other_conditions);
    CHECK(pair_of(job, read_as(65, {{"knobs", Map{{"v", -6.0}}}})).fault == PairFault::other_conditions);
    CHECK(pair_of(job, read_as(65, {{"knobs", Map{{"v", 0.0}}}})).fault == PairFault::none);  // full is as left
    // The worse meter holds for both.
    CHECK(pair_of(job, read_as(65, {{"meter_pct", Value()}})).between.error.value() ==
          doctest::Approx(3.40).epsilon(0.005));
    // Each fault has a sentence.
    for (const PairFault fault : {PairFault::without_unusable, PairFault::no_reading_with, PairFault::without_unproven,
                                  PairFault::record_changed, PairFault::other_conditions}) {
        ReadingPair pair;
        pair.fault = fault;
        const Job& record = job;
        const Statement said = statement_of(record, Id("S-1"), pair, record.all<Reading>()[0], Message("Not judged."));
        CHECK(faults_of(record, in_english(said.text), 3) == std::vector<std::string>{});
        CHECK_FALSE(in_english(said.text).empty());
    }
}

TEST_CASE("a pair whose first reading is older than a change of the record is not compared") {
    JobBuilder job = with_speaker();
    job.speaker("p1", "z", 5).set("point", "p1", "state", "fitted");
    job.set("point", "S-1", "state", "fitted").set("point", "S-1", "tap_w", 5.0);
    Map with = read_as(500);
    with.emplace_back("expected_ohm", 499.8);
    job.add("reading", "with", with);
    CHECK(pair_of(job, read_as(1000)).fault == PairFault::none);
    job.speaker("p2", "z", 10).set("point", "p2", "state", "fitted");
    CHECK(pair_of(job, read_as(1000)).fault == PairFault::record_changed);
}
