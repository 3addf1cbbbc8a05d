// What a reading proves and what it cannot, as data, and where to measure next.
#include <doctest/doctest.h>

#include "tests/readings/reading_jobs.h"

using namespace tapwright;

TEST_CASE("what one reading cannot see: N equal taps, one of them open") {
    // moves by 1/(N - 1): a band of 20 % sees it up to N = 5, a baseline of 5 % up to N = 20.
    const auto job_with = [](int count) {
        JobBuilder job = one_zone(70.7, 1000, 2000).chain("p", count, "z", 5);
        job.read("r", "z", 70.7 * 70.7 / (5 * count), {{"baseline", true}});
        return job;
    };
    const auto sight = [&](int count) { return *newest(job_with(count)).sight; };
    CHECK(sight(5).moves.value() == doctest::Approx(25));
    CHECK(sight(5).band_shows);
    CHECK(sight(6).moves.value() == doctest::Approx(20));
    CHECK_FALSE(sight(6).band_shows);
    CHECK(sight(20).baseline_shows);
    CHECK_FALSE(sight(21).baseline_shows);
    CHECK_FALSE(sight(20).has_baseline);
    CHECK(sight(20).is_equal);
    CHECK(says(why_of(job_with(5)), "One open loudspeaker of 5 equal taps moves this by 25 %. ±20 % would show it"));
    CHECK(says(why_of(job_with(6)), "±20 % cannot show it; a baseline with the same meter (±5 %) can."));
    CHECK(says(why_of(job_with(21)), "Neither ±20 % nor a baseline (±5 %) can show it."));
    // The verdicts keep to the same numbers.
    const auto one_open = [](int count) {
        JobBuilder job = one_zone(70.7, 1000, 2000).chain("p", count, "z", 5);
        job.read("r", "z", 70.7 * 70.7 / (5 * count), {{"baseline", true}});
        job.read("r2", "z", 70.7 * 70.7 / (5 * (count - 1)) * (1 - 1e-12));
        return newest(job).verdict;
    };
    CHECK(one_open(5) == Verdict::less_load);
    CHECK(one_open(6) == Verdict::drifted);
    CHECK(one_open(20) == Verdict::drifted);
    CHECK(one_open(21) == Verdict::agrees);
}

TEST_CASE("why a reading is not judged") {
    JobBuilder job = twelve();
    job.add("room", "room");
    const auto why = [&](const Map& fields) {
        JobBuilder with = job;
        return newest(with.add("reading", "r", fields)).unjudged;
    };
    CHECK(why({{"at", "z"}, {"quantity", "volts"}, {"value", 68.0}}) == Unjudged::not_compared);
    CHECK(why({{"at", "z"}, {"quantity", "ohms"}}) == Unjudged::not_compared);
    CHECK(why({{"at", "room"}, {"quantity", "ohms"}, {"value", 68.0}}) == Unjudged::no_place);
    CHECK(why({{"quantity", "ohms"}, {"value", 68.0}}) == Unjudged::no_place);
    CHECK(why({{"at", "z"}, {"quantity", "ohms"}, {"value", 68.0}, {"hz", 50.0}}) == Unjudged::frequency);
}

TEST_CASE("what a drift stands for") {
    JobBuilder job = twelve();
    job.read("r", "z", 69.0, {{"baseline", true}}).read("r2", "z", 75.27);
    const Judgement gone = newest(job);
    CHECK(gone.baseline->reading == 0);
    CHECK(gone.baseline->drift.value() == doctest::Approx(9.087).epsilon(1e-3));
    CHECK(gone.baseline->allowed == Percent(5));
    CHECK(gone.baseline->same_conditions);
    CHECK_FALSE(gone.baseline->is_rescaled);
    CHECK(gone.drift_share->is_gone);
    CHECK(gone.drift_share->of_load.value() == doctest::Approx(100.0 / 12).epsilon(1e-3));
    CHECK(gone.drift_share->loudspeakers == 1U);
    JobBuilder more = twelve();
    more.read("r", "z", 80.0, {{"baseline", true}}).read("r2", "z", 74.0);
    CHECK_FALSE(newest(more).drift_share->is_gone);
    CHECK(newest(more).drift_share->of_load.value() == doctest::Approx(6.0 / 74 * 100));
    CHECK_FALSE(newest(more).drift_share->loudspeakers);
    CHECK(says(why_of(more), "About 8 % more load is connected than at the baseline."));
    // Another meter, and another load expected.
    job.chain("n", 4, "p12", 5, {{"origin", "new"}}).read("r4", "z", 70.0, {{"instrument", "other"}});
    CHECK(newest(job).baseline->allowed == Percent(10));
    CHECK_FALSE(newest(job).baseline->same_conditions);
    CHECK(newest(job).baseline->is_rescaled);
    CHECK(says(why_of(job), "Baseline 69 Ω. Allowing for changes since, this is"));
    CHECK(says(why_of(job), "Limit 10 % (different conditions)."));
}

TEST_CASE("how far a reading is over the limit") {
    JobBuilder job = twelve();
    job.read("r", "z", 49);
    CHECK(newest(job).against_limit.limit == Watts(100));
    CHECK(newest(job).against_limit.over->value() == doctest::Approx(70.7 * 70.7 / 49 - 100));
    CHECK_FALSE(newest(job).against_limit.is_below_min_ohm);
    job.read("r2", "z", 83.3);
    CHECK_FALSE(newest(job).against_limit.over);
}

TEST_CASE("marks of another line voltage are hidden from any meter") {
    JobBuilder job = twelve();
    job.read("r", "z", 83.3);
    CHECK_FALSE(newest(job).hidden_marks);
    job.set("speaker_type", "s", "taps_v", 100.0);
    const HiddenMarks marks = *newest(job).hidden_marks;
    CHECK(marks.type == 0);
    CHECK(marks.marked == Volts(100));
    CHECK(marks.line == Volts(70.7));
    CHECK(marks.drawn_ratio == doctest::Approx(0.707 * 0.707));
}
