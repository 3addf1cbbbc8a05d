// The contract's examples A to I, each but the last step by step through a Session. Every step is held against the
// figures worked by hand, against the oracle, and against the same job exported and imported again.
#include <doctest/doctest.h>

#include <cmath>

#include "core/readings/readings.h"
#include "core/readings/with_without.h"
#include "tests/oracle/story.h"

using namespace tapwright;
using namespace tapwright::oracle;

namespace {

ChangeList joined(ChangeList changes, const ChangeList& more) {
    changes.insert(changes.end(), more.begin(), more.end());
    return changes;
}

// What the program says of a zone, once it is the same everywhere.
double say(const Story& story, const char* key, const std::string& zone = "z") {
    CHECK(story.differences() == "");
    CHECK(story.differences_imported() == "");
    return zone_figure(story.session(), zone, key);
}

std::string verdict_of(const Story& story, const std::string& id) {
    const Json said = checked(story.session());
    for (const Json& reading : said["readings"])
        if (reading["id"] == id) return reading["verdict"];
    return "";
}

}  // namespace

TEST_CASE("A: five zones within their limits, the amplifier into its reserve") {
    ChangeList changes = one_zone(100, 70.7, 180);
    changes[3] = test::add(Kind::channel, "out", {{"name", "Output"}, {"amplifier", "amp"}});
    const std::pair<int, double> loudspeakers[] = {{8, 5}, {12, 5}, {3, 7.5}, {1, 30}, {1, 15}};
    for (int i = 0; i < 5; ++i) {
        const std::string zone = i == 0 ? "z" : "z" + std::to_string(i + 1);
        if (i > 0)
            changes.push_back(test::add(Kind::zone, zone, {{"name", zone}, {"channel", "out"}, {"limit_w", 100.0}}));
        changes =
            joined(changes, fitted("p" + std::to_string(i) + "-", loudspeakers[i].first, loudspeakers[i].second, zone));
    }
    const Story story(changes);
    const double headroom[] = {40, 20, 57.5, 50, 65};
    const char* zones[] = {"z", "z2", "z3", "z4", "z5"};
    for (int i = 0; i < 5; ++i) {
        CHECK(say(story, "headroom_w", zones[i]) == near(headroom[i]));
        CHECK(say(story, "can_add_w", zones[i]) == 0);
    }
    CHECK(checked(story.session())["amplifiers"][0]["headroom_w"].get<double>() == near(-23.5));
}

TEST_CASE("B: a reading that agrees leaves nothing unrecorded; as a baseline it shows one that dies") {
    Story story(joined(one_zone(100, 70.7, 180), fitted("p", 12, 5)));
    CHECK(say(story, "ohms") == near(83.31, 1e-4));
    REQUIRE(story.read("r1", "z", 69.0, {{"isolated", true}, {"baseline", true}}));
    CHECK(verdict_of(story, "r1") == "agrees");
    CHECK(say(story, "unrecorded_w") == 0);
    REQUIRE(story.read("r2", "z", 75.27));
    CHECK(verdict_of(story, "r2") == "drifted");
    CHECK(say(story, "headroom_w") == near(20));
}

TEST_CASE("C: what a reading shows beyond the record, and what is found of it") {
    Story story(joined(one_zone(100), fitted("p", 6, 6)));
    CHECK(say(story, "ohms") == near(277.8, 1e-3));
    REQUIRE(story.read("r1", "z", 185.2));
    CHECK(verdict_of(story, "r1") == "more_load");
    CHECK(say(story, "unrecorded_w") == near(18.0, 1e-3));
    CHECK(say(story, "headroom_w") == near(26.0, 1e-3));
    CHECK(say(story, "headroom_recorded_w") == near(44));
    REQUIRE(story.speaker("n1", "z", {{"tap_w", 6.0}, {"origin", "new"}}));
    REQUIRE(story.speaker("n2", "z", {{"tap_w", 6.0}}));
    CHECK(say(story, "headroom_w") == near(14.0, 1e-3));
    REQUIRE(story.speaker("old", "z", {{"tap_w", 6.0}, {"origin", "existing"}}));
    CHECK(say(story, "unrecorded_w") == near(12.0, 1e-3));
    CHECK(say(story, "headroom_w") == near(14.0, 1e-3));
    REQUIRE(story.read("r2", "z", 151.5));
    CHECK(verdict_of(story, "r2") == "agrees");
    CHECK(say(story, "headroom_w") == near(14.0, 1e-3));
    REQUIRE(story.set(Kind::point, "old", {{"tap_w", 10.0}}));
    CHECK(say(story, "headroom_w") == near(10.0, 1e-3));
}

TEST_CASE("D: three attenuators looped through, four loudspeakers behind each") {
    ChangeList changes = one_zone(100, 70.7, 180);
    changes.push_back(
        test::add(Kind::attenuator_type, "a",
                  {{"name", "Wall"}, {"rated_w", 50.0}, {"steps_db", List{0.0, -3.0, -6.0}}, {"has_off", true}}));
    for (int i = 1; i <= 3; ++i) {
        const std::string id = "a" + std::to_string(i);
        changes.push_back(test::add(Kind::point, id,
                                    {{"kind", "attenuator"},
                                     {"label", id},
                                     {"fed_from", i == 1 ? "z" : "a" + std::to_string(i - 1)},
                                     {"feed_side", "in"},
                                     {"type", "a"},
                                     {"knob_db", 0.0}}));
        changes = joined(changes, fitted("p" + std::to_string(i) + "-", 4, 5, id));
    }
    Story story(changes);
    CHECK(say(story, "ohms") == near(83.31, 1e-4));
    REQUIRE(story.set(Kind::point, "a2", {{"knob_db", -6.0}}));
    CHECK(say(story, "ohms") == near(111.0, 1e-3));
    CHECK(4998.49 / say(story, "ohms") == near(45.02, 1e-3));
    CHECK(say(story, "ohms_full") == near(83.31, 1e-4));
    CHECK(say(story, "load_w") == near(60));  // loads count every attenuator at 0 dB
    REQUIRE(story.set(Kind::point, "a2", {{"knob_db", "off"}}));
    CHECK(say(story, "ohms") == near(124.96, 1e-4));
    // What a reading is held against is how they stood when it was taken.
    REQUIRE(story.read("r1", "z", 83.3, {{"isolated", true}, {"knobs", Map{{"a2", 0.0}}}}));
    CHECK(verdict_of(story, "r1") == "agrees");
    REQUIRE(story.read("r2", "z", 83.3));
    CHECK(verdict_of(story, "r2") == "more_load");
    CHECK(say(story, "unrecorded_w") == near(60.006 - 40, 1e-3));
}

TEST_CASE("E: marked for another line voltage") {
    ChangeList changes = one_zone(100);
    changes[1] = test::add(Kind::speaker_type, "s",
                           {{"name", "Ceiling"}, {"taps_w", List{5.0}}, {"taps_v", 70.7}, {"max_w", 5.0}});
    const Story story(joined(changes, fitted("p", 8, 5)));
    CHECK(say(story, "load_w") == near(80.02, 1e-4));
    CHECK(say(story, "headroom_w") == near(-0.0242, 1e-2));
    CHECK(say(story, "can_add_w") == 0);
    CHECK(say(story, "ohms") == near(124.96, 1e-4));
}

TEST_CASE("F: the plan counts for the load, what hangs for the ohms") {
    ChangeList changes = joined(one_zone(100), fitted("p", 6, 6));
    for (const char* id : {"n1", "n2", "n3", "n4"})
        changes.push_back(test::add(Kind::point, id,
                                    {{"kind", "speaker"},
                                     {"label", id},
                                     {"fed_from", "z"},
                                     {"type", "s"},
                                     {"planned_tap_w", 6.0},
                                     {"state", "planned"}}));
    Story story(changes);
    CHECK(say(story, "load_w") == near(60));
    CHECK(say(story, "headroom_w") == near(20));
    CHECK(say(story, "ohms") == near(277.8, 1e-3));
    CHECK(say(story, "ohms_all") == near(166.7, 1e-3));
    REQUIRE(story.read("r1", "z", 277));
    CHECK(verdict_of(story, "r1") == "agrees");
    CHECK(say(story, "headroom_w") == near(20));
    // Hung as planned, they take from the plan and not from the reading.
    REQUIRE(story.set(Kind::point, "n1", {{"tap_w", 6.0}}));
    CHECK(say(story, "headroom_w") == near(20));
    CHECK(say(story, "ohms") == near(10000 / 42.0));
}

TEST_CASE("G: nothing recorded but a reading") {
    Story story(one_zone(60));
    CHECK(say(story, "can_add_w") == near(48));
    REQUIRE(story.read("r1", "z", 250));
    CHECK(say(story, "unrecorded_w") == near(40));
    CHECK(say(story, "headroom_w") == near(8));
    CHECK(say(story, "can_add_w") == near(8));
    REQUIRE(story.speaker("old", "z", {{"origin", "existing"}}));
    CHECK(say(story, "unrecorded_w") == near(40));
    CHECK(say(story, "can_add_w") == near(8));
    REQUIRE(story.set(Kind::point, "old", {{"tap_w", 6.0}}));
    CHECK(say(story, "unrecorded_w") == near(34));
    CHECK(say(story, "headroom_w") == near(8));
    REQUIRE(story.speaker("new", "z", {{"tap_w", 6.0}}));
    CHECK(say(story, "headroom_w") == near(2));
    CHECK(say(story, "can_add_w") == near(2));
}

TEST_CASE("H: only a proven reading lowers what is unrecorded") {
    Story story(joined(one_zone(100), fitted("p", 6, 6)));
    CHECK(say(story, "headroom_w") == near(44));
    REQUIRE(story.read("r1", "z", 400, {{"isolated", false}}));
    CHECK(verdict_of(story, "r1") == "");  // not judged
    CHECK(say(story, "headroom_w") == near(44));
    REQUIRE(story.read("r2", "z", 185.2));
    CHECK(say(story, "headroom_w") == near(26.0, 1e-3));
    REQUIRE(story.read("r3", "z", 277.8, {}));
    CHECK(verdict_of(story, "r3") == "agrees");
    CHECK(say(story, "headroom_w") == near(26.0, 1e-3));
    REQUIRE(story.read("r4", "z", 277.8));
    CHECK(say(story, "headroom_w") == near(44));
}

TEST_CASE("I: with and without a loudspeaker, and what the meter can tell apart") {
    SpeakerType type;
    type.taps_w = std::vector<Watts>{Watts(2.5), Watts(5), Watts(10)};
    const double drawn_w = 70.7 * 70.7 * (1 / 60.0 - 1 / 65.0);
    CHECK(drawn_w == near(6.41, 1e-3));
    for (const auto& [meter_pct, named] :
         {std::pair(1.0, std::vector{false, true, false}), std::pair(3.0, std::vector{true, true, true})}) {
        const LoadBetween between = load_between(Volts(70.7), Ohms(60), Ohms(65), Percent(meter_pct), &type);
        CHECK(between.watts.value() == near(drawn_w));
        const double error_w = 70.7 * 70.7 * meter_pct / 100 * std::sqrt(1 / 3600.0 + 1 / 4225.0);
        CHECK(between.error.value() == near(error_w));
        CHECK(error_w == near(1.13 * meter_pct, 1e-2));
        for (std::size_t i = 0; i < named.size(); ++i) CHECK(between.taps[i].within == named[i]);
        CHECK(between.proposed.has_value() == (meter_pct == 1));
        if (between.proposed) CHECK(between.taps[*between.proposed].tap == Watts(5));
    }
}
