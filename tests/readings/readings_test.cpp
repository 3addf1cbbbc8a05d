// Readings and their verdicts. Definitions: docs/calculations.md, "Readings".
#include "core/readings/readings.h"

#include <doctest/doctest.h>

#include "tests/readings/reading_jobs.h"

using namespace tapwright;

namespace {

struct Case {
    const char* what;
    double ohms;
    Map more;
    Verdict verdict;
    LimitState limit;
};

}  // namespace

TEST_CASE("verdicts, the first that fits") {
    const Case cases[] = {
        {"d.c.", 7.4, {{"quantity", "dc_ohms"}}, Verdict::not_judged, LimitState::ok},
        {"too low a frequency", 83.3, {{"hz", 50.0}}, Verdict::not_judged, LimitState::ok},
        {"too high a frequency", 83.3, {{"hz", 10000.0}}, Verdict::not_judged, LimitState::ok},
        {"the lowest frequency", 83.3, {{"hz", 300.0}}, Verdict::agrees, LimitState::ok},
        {"the highest frequency", 83.3, {{"hz", 1500.0}}, Verdict::agrees, LimitState::ok},
        {"less than a quarter of the smallest tap", 4010, {}, Verdict::open, LimitState::ok},
        {"just a quarter of the smallest tap", 3990, {}, Verdict::less_load, LimitState::ok},
        {"a short", 4, {}, Verdict::shorted, LimitState::stop},
        {"nothing at all", 0, {}, Verdict::shorted, LimitState::stop},
        {"just below the band", 66.6, {}, Verdict::more_load, LimitState::ok},
        {"just inside the band", 66.7, {}, Verdict::agrees, LimitState::ok},
        {"just inside above", 99.9, {}, Verdict::agrees, LimitState::ok},
        {"just above the band", 100.0, {}, Verdict::less_load, LimitState::ok},
        {"above the limit", 49, {}, Verdict::more_load, LimitState::warn},
        {"above 1.25 times the limit", 39, {}, Verdict::more_load, LimitState::stop},
    };
    for (const Case& c : cases) {
        CAPTURE(c.what);
        JobBuilder job = twelve();
        job.read("r", "z", c.ohms, c.more);
        CHECK(newest(job).verdict == c.verdict);
        CHECK(newest(job).limit == c.limit);
        CHECK(faults_of(job, text_of(job), 2) == std::vector<std::string>{});
        CHECK(faults_of(job, why_of(job), 0) == std::vector<std::string>{});
    }
}

TEST_CASE("a quarter of what was expected is no short while the limit bears it") {
    JobBuilder job = one_zone(70.7, 100).speaker("p", "z", 5);
    job.read("r", "z", 70.7 * 70.7 / 25);  // five times the load, 25 W of 100 W
    CHECK(newest(job).verdict == Verdict::more_load);
    job.set("zone", "z", "limit_w", 20.0);
    CHECK(newest(job).verdict == Verdict::shorted);
    // Where no limit is known, the quarter alone decides.
    job.set("zone", "z", "limit_w", Value()).set("amplifier", "amp", "rated_w", Value());
    CHECK(newest(job).verdict == Verdict::shorted);
}

TEST_CASE("below the channel's least impedance is a stop, whatever the verdict") {
    JobBuilder job = twelve();
    job.set("channel", "out", "min_ohm", 90.0).read("r", "z", 83.3);
    CHECK(newest(job).verdict == Verdict::agrees);
    CHECK(newest(job).limit == LimitState::stop);
    CHECK(newest(job).against_limit.is_below_min_ohm);
    CHECK(text_of(job) ==
          "z: 83.3 Ω read, at least 83.3 Ω expected (0 %): matches the record within ±20 %. Its output may not be "
          "loaded below "
          "90 Ω: keep the amplifier off, take load off first.");
}

TEST_CASE("expected open and open: agrees") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0}}, {"has_off", true}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"knob_db", "off"}});
    job.speaker("p", "w", 5);
    job.over_range("r", "z", 20000);
    CHECK(newest(job).verdict == Verdict::agrees);
    job.read("r2", "z", 50000);
    CHECK(newest(job).verdict == Verdict::agrees);
    job.read("r3", "z", 1000);
    CHECK(newest(job).verdict == Verdict::more_load);
    job.read("r4", "z", 1000, {{"knobs", Map{{"w", 0.0}}}});
    CHECK(newest(job).verdict == Verdict::agrees);
    job.over_range("r5", "z", 20000, {{"knobs", Map{{"w", 0.0}}}});
    CHECK(newest(job).verdict == Verdict::open);
}

TEST_CASE("over_range_on_a_small_range_says_nothing") {
    JobBuilder job = twelve();  // 83.3 ohm
    const auto after = [&](const Map& more) {
        JobBuilder with = job;
        Map fields{{"at", "z"}, {"quantity", "ohms"}, {"over_range", true}, {"isolated", true}};
        fields.insert(fields.end(), more.begin(), more.end());
        return newest(with.add("reading", "r", fields));
    };
    CHECK(after({}).verdict == Verdict::not_judged);
    CHECK(after({}).unjudged == Unjudged::range_too_small);
    CHECK(after({{"range_ohm", 9.0}}).unjudged == Unjudged::range_too_small);
    CHECK(after({{"range_ohm", 249.0}}).unjudged == Unjudged::range_too_small);
    CHECK(after({{"range_ohm", 250.0}}).verdict == Verdict::open);
    CHECK(after({{"range_ohm", 9.0}}).least_range->value() == doctest::Approx(3 * 70.7 * 70.7 / 60));
    CHECK_FALSE(after({{"range_ohm", 9.0}}).is_valid);
    // Nothing connected: no range is too small to show nothing.
    JobBuilder planned = one_zone(70.7, 100);
    planned.speaker("p", "z", 5, {{"state", "planned"}});
    planned.add("reading", "r", {{"at", "z"}, {"quantity", "ohms"}, {"over_range", true}});
    CHECK(newest(planned).verdict == Verdict::agrees);
}

TEST_CASE("over range taken when an open line was expected must have shown what is connected now") {
    const Map open_then{{"expected_ohm", 1e9}};
    JobBuilder job = one_zone(100, 100);
    job.speaker("p", "z", 5);  // 2 kohm
    JobBuilder small = job, enough = job;
    small.over_range("r", "z", 5999, open_then);
    CHECK(newest(small).unjudged == Unjudged::range_too_small);
    CHECK(newest(small).least_range->value() == doctest::Approx(6000));
    // It fits what was expected, and asks to be read again: no green sign.
    enough.over_range("r", "z", 6000, open_then);
    CHECK(newest(enough).verdict == Verdict::agrees);
    CHECK(newest(enough).expected_now);
    // One tap known, one not: what is known is drawn at the least.
    job.speaker("q", "z", 5).set("point", "q", "tap_w", Value()).set("point", "q", "state", "fitted");
    JobBuilder mixed = job;
    mixed.over_range("r", "z", 6000, open_then);
    CHECK(newest(mixed).verdict == Verdict::open);
}

TEST_CASE("over range beside a loudspeaker without tap and type must have shown the smallest there is") {
    JobBuilder job = one_zone(100, 100);
    job.add("point", "p", {{"kind", "speaker"}, {"fed_from", "z"}, {"state", "fitted"}});
    JobBuilder small = job;
    small.over_range("r", "z", 119000);
    CHECK(newest(small).unjudged == Unjudged::range_too_small);
    job.over_range("r", "z", 120000);  // three times 100 V on 0.25 W
    CHECK(newest(job).verdict == Verdict::open);
}

TEST_CASE("a system of one zone and one reading, nothing else") {
    JobBuilder job;
    job.add("zone", "z").read("r", "z", 92.5);
    const Derived derived = derive(job);
    CHECK(derived.readings[0].verdict == Verdict::more_load);
    CHECK(derived.zones[0].margin.unrecorded.value() == doctest::Approx(70.7 * 70.7 / 92.5));
    CHECK_FALSE(derived.zones[0].can_add);
    CHECK(newest(job).speakers == 0);
    CHECK(text_of(job).starts_with("z: 92.5 Ω read, nothing recorded there: more load than recorded."));
}

TEST_CASE("where a tap is unknown nothing is expected, but an open line still shows") {
    JobBuilder job = twelve();
    job.set("point", "p3", "tap_w", Value()).set("point", "p3", "state", "fitted").read("r", "z", 83.3);
    CHECK(newest(job).verdict == Verdict::not_judged);
    CHECK(newest(job).is_valid);
    CHECK_FALSE(newest(job).expected);
    CHECK(newest(job).unjudged == Unjudged::taps_unknown);
    CHECK(newest(job).without_tap == 1);
    CHECK(
        text_of(job) ==
        "z: 83.3 Ω read, not judged: 1 loudspeaker has no tap recorded. Amplifier off, look, record, then read again.");
    job.over_range("r2", "z", 2000);
    CHECK(newest(job).verdict == Verdict::open);
}

TEST_CASE("a transformer model carries a reading beyond the plain frequencies") {
    JobBuilder job = twelve();
    for (const auto& [key, value] :
         {std::pair("primary_ohm", 60.0), {"secondary_ohm", 50.0}, {"leak_h", 0.012}, {"mag_h", 1.6}})
        job.set("speaker_type", "s", key, value);
    job.read("r", "z", 39.5, {{"hz", 50.0}});
    const Judgement judgement = newest(job);
    CHECK(judgement.verdict == Verdict::agrees);
    CHECK(judgement.expected->value() < 60);
}

TEST_CASE("a point looks into its own branch, a channel into all its zones") {
    JobBuilder job = twelve();
    job.add("zone", "z2", {{"channel", "out"}}).chain("q", 12, "z2", 5);
    job.read("at_point", "p7", 70.7 * 70.7 / 30).read("at_channel", "out", 70.7 * 70.7 / 120);
    const Derived derived = derive(job);
    CHECK(derived.readings[0].verdict == Verdict::agrees);
    CHECK(derived.readings[0].expected_w->value() == doctest::Approx(30));
    CHECK(derived.readings[1].verdict == Verdict::agrees);
    CHECK(derived.readings[1].expected_w->value() == doctest::Approx(120));
}

TEST_CASE("drift is measured against what the record expected then and expects now") {
    JobBuilder job = twelve();
    job.read("r", "z", 83.0, {{"baseline", true}});
    job.chain("n", 4, "p12", 5, {{"origin", "new"}});
    job.read("r2", "z", 83.0 * 12 / 16);
    CHECK(newest(job).verdict == Verdict::agrees);
    job.read("r3", "z", 83.0 * 12 / 16 * 1.06);
    CHECK(newest(job).verdict == Verdict::drifted);
}

TEST_CASE("other conditions allow 10 % of drift") {
    for (const auto& [more, verdict] : {std::pair<Map, Verdict>{{}, Verdict::drifted},
                                        {{{"instrument", "other"}}, Verdict::agrees},
                                        {{{"hz", 400.0}}, Verdict::agrees},
                                        {{{"override", true}}, Verdict::agrees}}) {
        JobBuilder job = twelve();
        job.read("r", "z", 83.0, {{"baseline", true}}).read("r2", "z", 83.0 * 1.08, more);
        CHECK(newest(job).verdict == verdict);
        JobBuilder far = twelve();
        far.read("r", "z", 83.0, {{"baseline", true}}).read("r2", "z", 83.0 * 1.11, more);
        CHECK(newest(far).verdict == Verdict::drifted);
    }
}

TEST_CASE("only the latest reading says what is not recorded") {
    JobBuilder job = twelve();
    job.read("r", "z", 50.0);
    CHECK(derive(job).zones[0].margin.unrecorded.value() == doctest::Approx(70.7 * 70.7 / 50 - 60));
    SUBCASE("a newer one that agrees") {
        job.read("r2", "z", 83.0);
        CHECK(derive(job).zones[0].margin.unrecorded.value() == doctest::Approx(70.7 * 70.7 / 83 - 60));
    }
    SUBCASE("one entered later but taken before") {
        job.set("reading", "r", "time", "2024-05-02T10:00:00Z");
        job.read("r2", "z", 83.0, {{"time", "2024-05-01T10:00:00Z"}});
        CHECK(derive(job).zones[0].margin.unrecorded > Watts(0));
    }
    SUBCASE("one that says nothing") {
        job.read("r2", "z", 83.0, {{"hz", 50.0}});
        CHECK(derive(job).zones[0].margin.unrecorded > Watts(0));
    }
    SUBCASE("everything found since") {
        job.chain("old", 9, "p12", 5, {{"origin", "existing"}, {"found_w", 5.0}, {"found_by", "r"}});
        const Derived derived = derive(job);
        CHECK(derived.zones[0].margin.unrecorded == Watts(0));
        CHECK_FALSE(has_finding(derived, "reading_more_load"));
    }
    SUBCASE("found, but of unknown origin: counts as added") {
        job.chain("old", 2, "p12", 5);
        CHECK(derive(job).zones[0].margin.unrecorded.value() == doctest::Approx(70.7 * 70.7 / 50 - 60));
    }
}

TEST_CASE("a draft is judged like a reading that is kept") {
    JobBuilder job = twelve();
    job.read("r", "z", 69.0, {{"baseline", true}});
    Reading draft;
    draft.at = Id("z");
    draft.quantity = Measured::ohms;
    draft.value = 75.27;
    draft.isolated = true;
    const Judgement judged = judge(job, derive(job), draft);
    CHECK(judged.verdict == Verdict::drifted);
    const Statement said = statement_of(job, derive(job), draft, judged);
    job.read("r2", "z", 75.27);
    CHECK(newest(job).verdict == judged.verdict);
    CHECK(newest(job).expected == judged.expected);
    CHECK(text_of(job) == in_english(said.text));
    CHECK(why_of(job) == in_english(said.why));
}
