// Expected ohms said as what they are: exact, a bound, or beside what is still planned.
#include "core/words/expected_text.h"

#include <doctest/doctest.h>

#include "core/words/readings_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

std::string expected(const Job& job) {
    const Derived derived = derive(job);
    return in_english(expected_of(derived.zones[0]));
}
std::string why(const Job& job) {
    const Derived derived = derive(job);
    return in_english(bound_reason(derived.zones[0].not_recorded));
}

JobBuilder cabled() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"awg", 18.0}});
    return job.chain("p", 4, "z", 5, {{"cable", "c"}, {"length_m", 0.0}});
}

}  // namespace

TEST_CASE("what_is_not_recorded_makes_expected_ohms_a_bound_and_says_which_way") {
    JobBuilder job = cabled();
    CHECK(expected(job) == "250 Ω");
    CHECK(why(job).empty());
    job.set("point", "p2", "length_m", Value()).set("point", "p3", "cable", Value());
    CHECK(expected(job) == "at least 250 Ω");
    CHECK(why(job) == "2 runs have no cable or length.");
    // A loudspeaker there of which nobody knows the tap, and one of which nobody knows the feed.
    job.set("point", "p4", "tap_w", Value()).set("point", "p4", "state", "fitted");
    CHECK(expected(job) == "about 333 Ω");
    JobBuilder near = cabled();
    near.add("room", "hall").set("point", "p1", "room", "hall");
    near.add("point", "lost", {{"kind", "speaker"}, {"room", "hall"}});
    CHECK(expected(near) == "at most 250 Ω");
    CHECK(why(near) == "1 loudspeaker nearby is not traced and may be on this line.");
    // In a room of no zone it may be on any.
    near.add("room", "yard").set("point", "lost", "room", "yard");
    CHECK(expected(near) == "at most 250 Ω");
}

TEST_CASE("check_said_at_least_and_the_reading_beside_it_an_exact_figure") {
    JobBuilder job = cabled();
    job.read("r", "z", 260.0, {{"isolated", true}});
    const auto said = [&] { return in_english(statement_of(job, derive(job), 0).text); };
    CHECK(said() == "z: 260 Ω read, 250 Ω expected (+4 %): matches the record within ±20 %.");
    job.set("point", "p3", "cable", Value());
    CHECK(said() == "z: 260 Ω read, at least 250 Ω expected (+4 %): matches the record within ±20 %.");
}

TEST_CASE("a_reading_at_a_point_or_an_output_was_expected_exactly_where_one_at_the_zone_is_a_bound") {
    JobBuilder job = cabled();
    job.read("p", "p2", 340.0, {{"isolated", true}}).read("o", "out", 260.0, {{"isolated", true}});
    const auto said = [&](std::size_t reading) { return in_english(statement_of(job, derive(job), reading).text); };
    CHECK(said(0) == "p2: 340 Ω read, 333 Ω expected (+2 %): matches the record within ±20 %.");
    // Its own run lies before it, what is not known of another branch elsewhere.
    job.set("point", "p2", "cable", Value());
    CHECK(said(0) == "p2: 340 Ω read, 333 Ω expected (+2 %): matches the record within ±20 %.");
    CHECK(said(1) == "out: 260 Ω read, at least 250 Ω expected (+4 %): matches the record within ±20 %.");
    job.set("point", "p4", "length_m", Value());
    CHECK(said(0) == "p2: 340 Ω read, at least 333 Ω expected (+2 %): matches the record within ±20 %.");
    // A loudspeaker of its zone may hang behind it.
    job.set("point", "p2", "cable", "c").set("point", "p4", "length_m", 0.0);
    job.add("room", "hall").set("point", "p1", "room", "hall");
    job.add("point", "lost", {{"kind", "speaker"}, {"room", "hall"}});
    CHECK(said(0) == "p2: 340 Ω read, at most 333 Ω expected (+2 %): matches the record within ±20 %.");
    // A planned one behind it makes a bound of what is expected once all is connected, and of that alone.
    JobBuilder planned = cabled();
    planned.set("point", "p4", "state", "planned").set("point", "p4", "tap_w", Value());
    planned.read("p", "p2", 500.0, {{"isolated", true}});
    const Derived derived = derive(planned);
    const Reading& reading = planned.job().all<Reading>()[0];
    CHECK_FALSE(missing_for(planned, derived, reading).may_be_lower());
    CHECK(missing_of_all_for(planned, derived, reading).may_be_lower());
}

TEST_CASE("an_attenuator_without_a_position_makes_it_at_least") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"awg", 18.0}}).add("attenuator_type", "a", {{"steps_db", List{0.0, -6.0}}});
    job.add("point", "w",
            {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"cable", "c"}, {"length_m", 0.0}});
    job.chain("p", 4, "w", 5, {{"cable", "c"}, {"length_m", 0.0}});
    CHECK(expected(job) == "at least 250 Ω");
    job.set("point", "w", "knob_db", -6.0);
    CHECK(expected(job) == "995 Ω; 250 Ω with attenuators full");
}

TEST_CASE("attenuators_full_stand_beside_attenuators_as_left_where_that_is_another_figure") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"awg", 18.0}}).add("attenuator_type", "a", {{"steps_db", List{0.0, -6.0}}});
    job.add("point", "w",
            {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"cable", "c"}, {"length_m", 0.0}});
    job.chain("p", 4, "w", 5, {{"cable", "c"}, {"length_m", 0.0}});
    job.set("point", "w", "knob_db", 0.0);
    CHECK(expected(job) == "250 Ω");
    job.set("point", "w", "knob_db", -6.0).set("point", "p4", "state", "planned");
    CHECK(expected(job) == "1.33 kΩ; 333 Ω with attenuators full; 995 Ω once all is connected");
    // Where the positions alone are a bound, the figure with all of them full is none.
    job.set("point", "p4", "state", "fitted").set("point", "p2", "length_m", Value());
    CHECK(expected(job) == "at least 995 Ω; at least 250 Ω with attenuators full");
}

TEST_CASE("what_is_planned_stands_beside_what_is_connected") {
    JobBuilder job = cabled();
    job.set("point", "p3", "state", "planned").set("point", "p4", "state", "cabled");
    CHECK(expected(job) == "500 Ω; 250 Ω once all is connected");
    for (const char* id : {"p1", "p2"}) job.set("point", id, "state", "planned");
    CHECK(expected(job) == "open; 250 Ω once all is connected");
    job.set("zone", "z", "emergency", "yes");
    CHECK(expected(job) == "not calculated");
}

TEST_CASE("what_is_expected_once_all_is_connected_is_a_bound_where_something_on_the_way_is_not_recorded") {
    JobBuilder job = cabled();
    job.set("point", "p3", "state", "planned").set("point", "p4", "state", "planned");
    job.set("point", "p4", "tap_w", Value());
    CHECK(expected(job) == "500 Ω; at most 333 Ω once all is connected");
    job.set("point", "p2", "length_m", Value());
    CHECK(expected(job) == "at least 500 Ω; about 333 Ω once all is connected");
}

TEST_CASE("an_output_said_an_exact_figure_where_its_zone_said_at_least") {
    JobBuilder job = cabled();
    const auto said = [&] { return in_english(expected_of(derive(job), 0)); };
    CHECK(said() == "250 Ω");
    job.set("point", "p3", "length_m", Value());
    CHECK(said() == "at least 250 Ω");
    job.set("point", "p4", "state", "planned");
    CHECK(said() == "at least 333 Ω; at least 250 Ω once all is connected");
}

TEST_CASE("loss_and_level_behind_an_unrecorded_run_are_unknown") {
    JobBuilder job = cabled();
    job.set("point", "p2", "length_m", Value());
    const Derived derived = derive(job);
    const auto said = [&](const char* id) {
        const PointOnLine& point = point_of(job, derived, id);
        return in_english(known_along(point, *point.level));
    };
    CHECK(said("p1") == "0 dB");
    CHECK(said("p2") == "unknown");
    CHECK(said("p4") == "unknown");
}
