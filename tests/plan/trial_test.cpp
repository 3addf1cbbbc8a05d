// Trials: what changes become before they are tried, and what came of them side by side.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "core/findings/findings.h"
#include "core/plan/trial.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

Change gone(std::string_view id) {
    return {ChangeOp::remove, Kind::point, Id(id), {}};
}

Value field_of(const Change& change, std::string_view key) {
    for (const auto& [name, value] : change.fields)
        if (name == key) return value;
    return {};
}

// The changes as a job holds them afterwards; each in the order given, as a command takes them.
JobBuilder changed(JobBuilder job, const ChangeList& changes) {
    for (const Change& change : changes) {
        const std::string kind(singular(change.kind));
        if (change.op == ChangeOp::add) job.add(kind, change.id.text(), change.fields);
        if (change.op == ChangeOp::remove) job.remove(kind, change.id.text());
        if (change.op == ChangeOp::set)
            for (const auto& [key, value] : change.fields) job.set(kind, change.id.text(), key, value);
    }
    return job;
}

Comparison compared(const Job& before, const Job& after) {
    return compare(before, derive(before), after, derive(after));
}

const FindingPair* find_finding(const Comparison& made, Fate fate, std::string_view code) {
    for (const FindingPair& pair : made.findings)
        if (pair.fate == fate && pair.finding.code == code) return &pair;
    return nullptr;
}

template <class Pair>
const Pair& pair_of(const std::vector<Pair>& pairs, std::string_view id) {
    const auto found = std::find_if(pairs.begin(), pairs.end(), [&](const Pair& pair) { return pair.id == Id(id); });
    REQUIRE(found != pairs.end());
    return *found;
}

// z - p1 - p2 - p3 - p4, runs of 10, 20, 30 and 40 m of one cable.
JobBuilder chain_of_four() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"ohm_per_km", 20.0}}).add("cable_type", "d", {{"ohm_per_km", 5.0}});
    job.chain("p", 4, "z", 5, {{"cable", "c"}});
    for (int i = 1; i <= 4; ++i) job.set("point", "p" + std::to_string(i), "length_m", 10.0 * i);
    return job;
}

}  // namespace

TEST_CASE("removing several points of a chain feeds what is left from what stays, and the runs add up") {
    const JobBuilder job = chain_of_four();
    const ChangeList changes = trial_changes(job, {gone("p2"), gone("p3")});
    REQUIRE(changes.size() == 3);
    // What goes, goes last.
    CHECK(changes[0].op == ChangeOp::set);
    CHECK(changes[0].id == Id("p4"));
    CHECK(field_of(changes[0], "fed_from") == Value("p1"));
    CHECK(field_of(changes[0], "length_m") == Value(90.0));  // 40 + 30 + 20
    const Derived derived = derive(changed(job, changes));
    CHECK(derived.zones[0].margin.load == Watts(10));
    CHECK(derived.zones[0].speakers == 2);
    CHECK_FALSE(derived.has_stop());
}

TEST_CASE("removing a chain from its head feeds the rest from the zone; of another cable the length is kept") {
    JobBuilder job = chain_of_four();
    ChangeList changes = trial_changes(job, {gone("p1"), gone("p2"), gone("p3")});
    CHECK(field_of(changes[0], "fed_from") == Value("z"));
    CHECK(field_of(changes[0], "length_m") == Value(100.0));
    job.set("point", "p3", "cable", "d");
    changes = trial_changes(job, {gone("p3")});
    CHECK(field_of(changes[0], "fed_from") == Value("p2"));
    CHECK(field_of(changes[0], "length_m").is_null());
}

TEST_CASE("the side of an attenuator goes along, two branches are both fed, and a feed that is set stands") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0, -6.0}}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}});
    job.speaker("p", "w", 5, {{"feed_side", "in"}}).speaker("q", "p", 5).speaker("r", "p", 5);
    const ChangeList changes =
        trial_changes(job, {gone("p"), {ChangeOp::set, Kind::point, Id("r"), {{"fed_from", "z"}}}});
    const JobBuilder after = changed(job, changes);
    CHECK(after.job().find<Point>(Id("q"))->fed_from == Id("w"));
    CHECK(after.job().find<Point>(Id("q"))->feed_side == FeedSide::in);
    CHECK(after.job().find<Point>(Id("r"))->fed_from == Id("z"));
}

TEST_CASE("feeds that run in a circle end") {
    JobBuilder job = chain_of_four();
    job.set("point", "p1", "fed_from", "p2");
    CHECK(trial_changes(job, {gone("p1"), gone("p2")}).size() == 3);
}

TEST_CASE("making a trial real takes its record along in the same list") {
    JobBuilder job = chain_of_four();
    job.add("trial", "t",
            {{"changes", List{Map{{"op", "remove"}, {"kind", "point"}, {"id", "p2"}},
                              Map{{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap_w", 10.0}}}}}}});
    const Result<ChangeList> changes = make_real(job, Id("t"));
    REQUIRE(changes.ok());
    REQUIRE(changes->size() == 4);
    CHECK(changes->back().op == ChangeOp::remove);
    CHECK(changes->back().kind == Kind::trial);
    CHECK(changes->back().id == Id("t"));
    const JobBuilder after = changed(job, *changes);
    CHECK(after.job().all<Trial>().empty());
    CHECK(derive(after).zones[0].margin.load == Watts(20));
    CHECK_FALSE(make_real(job, Id("q")).ok());
}

TEST_CASE("side by side: loads, headroom, can add and ohms of zone, output and amplifier (70.7 V, by hand)") {
    const JobBuilder before = one_zone(70.7, 100).chain("p", 8, "z", 5);
    const JobBuilder after = JobBuilder(before).speaker("n", "p8", 60);
    const Comparison made = compared(before, after);
    REQUIRE(made.loads.size() == 3);
    const LoadPair& zone = pair_of(made.loads, "z");
    CHECK(zone.before->load == Watts(40));
    CHECK(zone.after->load == Watts(100));
    CHECK(zone.before->headroom == Watts(40));
    CHECK(zone.after->headroom == Watts(-20));
    CHECK(zone.can_add_before == Watts(40));
    CHECK(zone.can_add_after == Watts(0));
    CHECK(zone.ohms_before->value() == doctest::Approx(4998.49 / 40));
    CHECK(zone.ohms_after->value() == doctest::Approx(4998.49 / 100));
    CHECK(pair_of(made.loads, "amp").after->headroom == Watts(44));
    CHECK(pair_of(made.loads, "out").ohms_after->value() == doctest::Approx(4998.49 / 100));
    CHECK_FALSE(pair_of(made.speakers, "n").drawn_before);
    CHECK(pair_of(made.speakers, "n").drawn_after == Watts(60));
    CHECK_FALSE(pair_of(made.speakers, "n").change);
    CHECK(pair_of(made.speakers, "p1").change == Decibels(0));
}

TEST_CASE("side by side: another tap, a wall control and a longer cable change levels and ratings") {
    JobBuilder before = one_zone(70.7, 100);
    before.add("attenuator_type", "a", {{"rated_w", 15.0}, {"steps_db", List{0.0, -6.0}}});
    before.add("attenuator_type", "b", {{"rated_w", 50.0}, {"steps_db", List{0.0, -6.0}}});
    before.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}}).chain("p", 3, "w", 5);
    JobBuilder after = before;
    after.set("point", "p1", "tap_w", 10.0).set("point", "w", "type", "b").set("point", "w", "knob_db", -6.0);
    const Comparison made = compared(before, after);
    const AttenuatorPair& wall = pair_of(made.attenuators, "w");
    CHECK(wall.behind_before == Watts(15));
    CHECK(wall.behind_after == Watts(20));
    CHECK(wall.rating_before == Watts(15));
    CHECK(wall.rating_after == Watts(50));
    CHECK(pair_of(made.speakers, "p1").change->value() == doctest::Approx(3.0103 - 6));
    CHECK(pair_of(made.speakers, "p2").change->value() == doctest::Approx(-6));
    // Turned off: silent in one, so there is no difference to name; off in both is no change.
    JobBuilder off = after;
    off.set("point", "w", "knob_db", "off");
    CHECK_FALSE(pair_of(compared(after, off).speakers, "p2").change);
    CHECK(pair_of(compared(off, off).speakers, "p2").change == Decibels(0));
}

TEST_CASE("findings appear and vanish; what is only at another place in a list does neither") {
    JobBuilder before = one_zone(70.7, 100).chain("p", 8, "z", 5);
    before.set("point", "p8", "polarity", "reversed");
    JobBuilder after = before;
    after.speaker("n", "p8", 60).set("point", "p8", "polarity", "ok");
    const Comparison made = compared(before, after);
    const FindingPair* reserve = find_finding(made, Fate::appears, "zone_into_reserve");
    REQUIRE(reserve);
    CHECK(reserve->finding.at == Id("z"));
    CHECK(find_finding(made, Fate::vanishes, "polarity_reversed"));
    CHECK_FALSE(find_finding(made, Fate::appears, "zone_without_reading"));
    CHECK_FALSE(find_finding(made, Fate::vanishes, "zone_without_reading"));
    CHECK(made.findings.size() == 2);
    CHECK(compared(before, before).findings.empty());
    // Those that appear stand first.
    CHECK(made.findings.front().fate == Fate::appears);
}

TEST_CASE("what goes stands last of its kind, with nothing after") {
    JobBuilder before = one_zone(70.7, 100).chain("p", 2, "z", 5);
    before.add("zone", "y", {{"channel", "out"}});
    JobBuilder after = before;
    after.remove("zone", "z").remove("point", "p1").remove("point", "p2");
    const Comparison made = compared(before, after);
    REQUIRE(made.loads.size() == 4);
    CHECK(made.loads[0].id == Id("y"));
    CHECK(made.loads[1].id == Id("z"));
    CHECK(made.loads[1].before);
    CHECK_FALSE(made.loads[1].after);
    CHECK(made.speakers.size() == 2);
    CHECK_FALSE(made.speakers[0].drawn_after);
}

TEST_CASE("a tap still to be set becomes the plan, one that is set takes its plan along") {
    JobBuilder job = chain_of_four();
    job.set("point", "p1", "planned_tap_w", 5.0);
    job.set("point", "p3", "state", "planned")
        .set("point", "p3", "planned_tap_w", 5.0)
        .set("point", "p3", "tap_w", Value());
    const auto set = [](const char* id, Map fields) {
        return Value(Map{{"op", "set"}, {"kind", "point"}, {"id", id}, {"fields", std::move(fields)}});
    };
    job.add("trial", "t",
            {{"changes", List{set("p1", {{"tap_w", 10.0}}), set("p2", {{"tap_w", 2.5}, {"notes", "low"}}),
                              set("p3", {{"planned_tap_w", 2.5}})}}});
    CHECK(taps_to_set(job, *job.job().find<Trial>(Id("t"))->changes) == 2);
    const JobBuilder left = changed(job, *make_real(job, Id("t"), MadeReal::as_left));
    CHECK(left.job().find<Point>(Id("p1"))->tap_w == Watts(10));
    CHECK(left.job().find<Point>(Id("p1"))->planned_tap_w == Watts(10));
    CHECK(left.job().find<Point>(Id("p2"))->tap_w == Watts(2.5));
    CHECK_FALSE(left.job().find<Point>(Id("p2"))->planned_tap_w);
    const JobBuilder planned = changed(job, *make_real(job, Id("t"), MadeReal::as_planned));
    CHECK(planned.job().find<Point>(Id("p1"))->tap_w == job.job().find<Point>(Id("p1"))->tap_w);
    CHECK(planned.job().find<Point>(Id("p1"))->planned_tap_w == Watts(10));
    CHECK(planned.job().find<Point>(Id("p2"))->planned_tap_w == Watts(2.5));
    CHECK(planned.job().find<Point>(Id("p2"))->notes == "low");
    for (const JobBuilder* after : {&left, &planned})
        CHECK(after->job().find<Point>(Id("p3"))->planned_tap_w == Watts(2.5));
    // What somebody has still to climb to is a finding each.
    const Derived derived = derive(planned);
    CHECK(std::count_if(derived.findings.begin(), derived.findings.end(),
                        [](const Finding& finding) { return code_of(finding) == FindingCode::tap_off_plan; }) == 2);
}

TEST_CASE("ids that were used before and are free no longer get a number, wherever the changes refer to them") {
    const JobBuilder job = one_zone(70.7, 100).chain("p", 1, "z", 5);
    const ChangeList changes{
        {ChangeOp::add, Kind::point, Id("n1"), {{"kind", "speaker"}, {"label", "n1"}, {"fed_from", "z"}}},
        {ChangeOp::add, Kind::point, Id("n2"), {{"kind", "speaker"}, {"label", "N"}, {"fed_from", "n1"}}},
        {ChangeOp::add, Kind::control, Id("k"), {{"name", "K"}, {"governs", List{"n1", "p1"}}}},
        {ChangeOp::set, Kind::point, Id("n1"), {{"tap_w", 5.0}}}};
    const auto used = [](const Id& id) { return id == Id("n1") || id == Id("n1-2") || id == Id("p1"); };
    const ChangeList made = with_free_ids(job, changes, used);
    CHECK(made[0].id == Id("n1-3"));
    CHECK(field_of(made[0], "label") == Value("n1"));  // no reference
    CHECK(made[1].id == Id("n2"));
    CHECK(field_of(made[1], "fed_from") == Value("n1-3"));
    CHECK(field_of(made[2], "governs") == Value(List{"n1-3", "p1"}));
    CHECK(made[3].id == Id("n1-3"));
    CHECK(with_free_ids(job, changes, used)[0].id == made[0].id);
    CHECK(with_free_ids(job, changes, [](const Id&) { return false; })[0].id == Id("n1"));
}

TEST_CASE("what is to be read starts from what was read: the unrecorded watts are there after the changes too") {
    // Example C: six of 6 W, 277.8 ohm expected, 185.2 read: 18 W beyond the record. Two new 6 W: 66 W in all.
    const JobBuilder before = one_zone(100, 100, 500).chain("p", 6, "z", 6).read("r", "z", 185.2);
    JobBuilder after = before;
    after.chain("n", 2, "z", 6, {{"origin", "new"}, {"state", "fitted"}});
    const Comparison made = compared(before, after);
    const LoadPair& zone = pair_of(made.loads, "z");
    CHECK(zone.ohms_after->value() == doctest::Approx(10000.0 / 48));
    CHECK(zone.read_before->value() == doctest::Approx(185.2));
    CHECK(zone.read_after->value() == doctest::Approx(10000 / (10000 / 185.2 + 12)));
    CHECK(pair_of(made.loads, "out").read_after == zone.read_after);
    CHECK_FALSE(pair_of(made.loads, "amp").read_after.has_value());
    // Planned ones are not on the line yet.
    JobBuilder planned = before;
    planned.chain("n", 2, "z", 6, {{"origin", "new"}, {"state", "planned"}});
    const Comparison plan = compared(before, planned);
    CHECK(pair_of(plan.loads, "z").read_after->value() == doctest::Approx(185.2));
    CHECK(pair_of(plan.loads, "z").read_all_after == zone.read_after);
    // Nobody read it: the record is all there is. Nothing on it: open.
    const JobBuilder unread = one_zone(100, 100).chain("p", 6, "z", 6);
    CHECK(to_be_read(derive(unread.job()).zones[0]).connected.value() == doctest::Approx(10000.0 / 36));
    CHECK(std::isinf(to_be_read(derive(one_zone(100, 100).job()).zones[0]).connected.value()));
}
