#include "core/session/decide.h"

#include <doctest/doctest.h>

#include "core/session/apply.h"
#include "core/words/words.h"
#include "tests/session/people.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

const Stamp noon{"2026-03-02T12:00:00Z", 1772452800000, 42};

Job small_job() {
    const Result<Decided> decided = decide(Job(), command(small_system()), ana, noon, nullptr);
    REQUIRE(decided);
    return decided->after;
}

std::string refusal(const Job& job, ChangeList changes) {
    const Result<Decided> decided = decide(job, command(std::move(changes)), ana, noon, nullptr);
    REQUIRE_FALSE(decided.ok());
    return in_english(decided.refusal());
}

bool says(const std::string& text, std::initializer_list<std::string_view> parts) {
    for (const std::string_view part : parts)
        if (text.find(part) == std::string::npos) {
            MESSAGE("\"" << text << "\" does not say \"" << part << "\"");
            return false;
        }
    return true;
}

}  // namespace

TEST_CASE("the same stamp gives the same facts") {
    const ChangeList changes{add(Kind::point, "", {{"kind", "speaker"}, {"label", "C-3"}}),
                             add(Kind::snag, "", {{"text", "no ladder"}})};
    const Result<Decided> one = decide(small_job(), command(changes), ana, noon, nullptr);
    const Result<Decided> two = decide(small_job(), command(changes), ana, noon, nullptr);
    REQUIRE(one);
    REQUIRE(two);
    CHECK(one->ids == two->ids);
    REQUIRE(one->facts.size() == two->facts.size());
    for (std::size_t i = 0; i < one->facts.size(); ++i) CHECK(one->facts[i].value == two->facts[i].value);
    Stamp later = noon;
    later.seed = 43;
    CHECK(decide(small_job(), command(changes), ana, later, nullptr)->ids != one->ids);
}

TEST_CASE("what is obvious on site is filled in, and nothing in an import") {
    Job job = small_job();
    const Command wish = command({add(Kind::reading, "", {{"at", "z1"}, {"quantity", "ohms"}, {"value", 499.0}}),
                                  add(Kind::snag, "", {{"text", "hum"}})});
    const Result<Decided> decided = decide(job, wish, ana, noon, nullptr);
    REQUIRE(decided);
    CHECK(decided->after.find<Reading>(decided->ids[0])->time->text == noon.time);
    CHECK(decided->after.find<Snag>(decided->ids[1])->opened->text == "2026-03-02");
    Command import = wish;
    import.fill_in = false;
    const Result<Decided> imported = decide(job, import, ana, noon, nullptr);
    REQUIRE(imported);
    CHECK_FALSE(imported->after.find<Reading>(imported->ids[0])->time.has_value());
}

TEST_CASE("setting what already holds makes no fact") {
    const Result<Decided> decided =
        decide(small_job(), command({set(Kind::point, "p1", {{"tap_w", 5.0}})}), ana, noon, nullptr);
    REQUIRE(decided);
    CHECK(decided->facts.empty());
}

TEST_CASE("a wrong form is refused with place and remedy") {
    const Job job = small_job();
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"tap_w", "five"}})}),
               {"Tap of C-1: ", "figure from 0.001 W", "five"}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"length_m", -1.0}})}), {"Cable length of C-1", "from 0 m"}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"tap_w", 1e307}})}), {"Tap of C-1", "1000000"}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"wired", "sideways"}})}), {"line, low_z or off", "sideways"}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"tapp", 5.0}})}),
               {"C-1: point has no field tapp. Its fields are kind, label,", "tap_w"}));
    CHECK(says(refusal(job, {add(Kind::point, "", {{"kind", "speaker"}, {"label", ""}})}),
               {"Label of Point", "1 to 200 characters"}));
    CHECK(says(refusal(job, {add(Kind::point, "", {{"kind", "speaker"}, {"label", std::string(201, 'x')}})}),
               {"Label of", "201"}));
    CHECK(says(refusal(job, {set(Kind::job, "job", {{"reserve_pct", 100.0}})}),
               {"Reserve of Job settings", "below 100"}));
    CHECK(says(refusal(job, {set(Kind::job, "job", {{"name", Value()}})}), {"Name of Job settings: missing."}));
}

TEST_CASE("the fields of a kind are listed once, however many are unknown") {
    const std::string said = refusal(small_job(), {set(Kind::point, "p1", {{"tapp", 5.0}, {"leed", 2.0}}),
                                                   set(Kind::zone, "z1", {{"colour", "red"}})});
    const auto times = [&](std::string_view part) {
        std::size_t count = 0;
        for (std::size_t at = said.find(part); at != said.npos; at = said.find(part, at + 1)) ++count;
        return count;
    };
    CHECK(times("point has no field") == 2);
    CHECK(times("Its fields are kind, label,") == 1);
    CHECK(times("zone has no field colour. Its fields are") == 1);
}

TEST_CASE("weights of faults that nobody can read are refused where they are entered") {
    const Job job = small_job();
    const auto weighing = [](const char* text) { return ChangeList{set(Kind::job, "job", {{"fault_weights", text}})}; };
    CHECK(says(refusal(job, weighing("joint three")), {"fault weights", "KIND=NUMBER", "joint=3, dead=0.5"}));
    CHECK(says(refusal(job, weighing("joint=1000")), {"joint=1000", "from 0.01 to 100"}));
    CHECK(decide(job, command(weighing("joint=3, dead=0.5")), ana, noon, nullptr));
}

TEST_CASE("broken relations are refused with place and remedy") {
    const Job job = small_job();
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"room", "r9"}})}),
               {"Room of C-1: There is no record with the id r9."}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"room", "z1"}})}), {"Room of C-1: Zone 1 is of the kind Zone."}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"fed_from", "p2"}})}), {"in a circle"}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"fed_from", "p1"}})}), {"in a circle"}));
    CHECK(says(refusal(job, {set(Kind::point, "p1", {{"tap_w", 7.5}})}),
               {"7.5 W", "Ceiling 165 mm", "2.5 W, 5 W and 10 W"}));
    CHECK(says(refusal(job, {set(Kind::speaker_type, "t1", {{"taps_w", List{10.0}}})}), {"Tap of C-1", "5 W"}));
    CHECK(says(refusal(job, {add(Kind::point, "", {{"label", "C-9"}})}), {"Kind of C-9", "missing", "speaker"}));
    CHECK(says(refusal(job, {add(Kind::room, "p1", {{"name", "x"}})}),
               {"p1 is already used (Point). Every id must be unique; change one."}));
    CHECK(says(refusal(job, {add(Kind::room, "job", {{"name", "x"}})}), {"job"}));
    CHECK(says(refusal(job, {remove(Kind::room, "r9")}), {"There is no room with the id r9 in this job"}));
}

TEST_CASE("a tap within one per cent of an offered one is that tap (nominal 0.63 W for 0.625 W: common practice)") {
    Job job = small_job();
    REQUIRE(decide(job,
                   command({set(Kind::speaker_type, "t1", {{"taps_w", List{0.625, 5.0}}}),
                            set(Kind::point, "p1", {{"tap_w", 0.63}})}),
                   ana, noon, nullptr));
    CHECK_FALSE(decide(job,
                       command({set(Kind::speaker_type, "t1", {{"taps_w", List{0.625, 5.0}}}),
                                set(Kind::point, "p1", {{"tap_w", 0.64}})}),
                       ana, noon, nullptr)
                    .ok());
}

TEST_CASE("removing what others refer to is refused, naming them") {
    const Job job = small_job();
    CHECK(says(refusal(job, removal(job, Kind::room, Id("r1"))),
               {"Hall is still used: Room of C-1 and Room of C-2. Change or remove these first."}));
    CHECK(decide(job, command({remove(Kind::point, "p2"), remove(Kind::point, "p1"), remove(Kind::room, "r1")}), ana,
                 noon, nullptr));
}

TEST_CASE("removing a point feeds what hangs on it from its feed") {
    const Job job = small_job();
    const Result<Decided> decided = decide(job, command(removal(job, Kind::point, Id("p1"))), ana, noon, nullptr);
    REQUIRE(decided);
    const Point& point = decided->after.all<Point>().front();
    CHECK(point.id == Id("p2"));
    CHECK(point.fed_from == Id("z1"));
    CHECK(point.length_m == Metres(18));
}

TEST_CASE("what was broken before does not stand in the way of something else") {
    Job job = small_job();
    REQUIRE(job.set(Kind::point, Id("p2"), *find_field(Kind::point, "room"), "gone"));
    CHECK(decide(job, command({set(Kind::point, "p1", {{"tap_w", 10.0}})}), ana, noon, nullptr));
}

TEST_CASE("blank names and control characters are refused at the door, line ends in notes are not") {
    const Job job = small_job();
    CHECK(says(refusal(job, {set(Kind::zone, "z1", {{"name", "   "}})}),
               {"Name of ", "It is blank; write at least one letter."}));
    CHECK(says(refusal(job, {set(Kind::zone, "z1", {{"name", "a\x1B[31m"}})}),
               {"There is a control character in it; write it without."}));
    CHECK(decide(job, command({set(Kind::zone, "z1", {{"notes", "two\nlines\tand a tab"}})}), ana, noon, nullptr).ok());
}

TEST_CASE("text in which there is nothing to read is refused at the door, whatever it is made of") {
    const Job job = small_job();
    for (const char* blank : {"\u00a0", "\u3000", "\u200b", "\u3164", "\u2800", "\u00ad \ufe0f", "\U000E0041"}) {
        CAPTURE(blank);
        CHECK(refusal(job, {set(Kind::zone, "z1", {{"name", blank}})}) ==
              "Name of Zone 1: It is blank; write at least one letter.");
        CHECK(refusal(job, {set(Kind::job, "job", {{"contact", blank}})}) ==
              "Contact of Job settings: It is blank; leave it out while it is unknown.");
    }
    CHECK(says(refusal(job, {set(Kind::job, "job", {{"contact", ""}})}), {"It is blank; leave it out"}));
    CHECK(decide(job, command({set(Kind::zone, "z1", {{"name", "\U0001F469\u200d\U0001F692"}})}), ana, noon, nullptr)
              .ok());
}

TEST_CASE("a job that lost its name can be changed and named again, one that is made needs one") {
    const auto was_used = [](const Id&) { return false; };
    const Command hall = command({add(Kind::room, "r9", {{"name", "Hall"}})});
    CHECK(decide(Job(), hall, ana, noon, was_used).ok());
    const Result<Decided> made = decide(Job(), hall, ana, noon, nullptr);
    REQUIRE_FALSE(made.ok());
    CHECK(says(in_english(made.refusal()), {"Name of Job settings: missing."}));
}

TEST_CASE("everything that is wrong is said at once, a single wrong thing in one sentence") {
    const Job job = small_job();
    CHECK(refusal(job, {set(Kind::zone, "z1", {{"name", " "}})}) ==
          "Name of Zone 1: It is blank; write at least one letter.");
    const std::string all = refusal(
        job, {set(Kind::zone, "z1", {{"name", " "}}), remove(Kind::room, "r9"),
              set(Kind::point, "p1", {{"tap_w", -5.0}, {"room", "r8"}}), set(Kind::point, "p2", {{"tap_w", 7.0}})});
    CHECK(says(all, {"Name of Zone 1: It is blank", "no room with the id r9", "Tap of C-1: ", "Room of C-1: ", "r8",
                     "Tap of C-2: ", "7 W"}));
}

TEST_CASE("what follows from a refusal is not said again") {
    const Job job = small_job();
    // No label is there because the one given was refused; the point itself is there for what is fed from it.
    const std::string label =
        refusal(job, {add(Kind::point, "n1", {{"kind", "speaker"}, {"label", std::string(201, 'x')}}),
                      add(Kind::point, "n2", {{"kind", "splice"}, {"label", "J"}, {"fed_from", "n1"}})});
    CHECK(says(label, {"Label of", "201"}));
    CHECK(label.find("missing") == std::string::npos);
    CHECK(label.find("J") == std::string::npos);
    // Two rooms cannot be made: that their points dangle would only be noise.
    const std::string twice =
        refusal(job, {add(Kind::room, "p1", {{"name", "x"}}), add(Kind::room, "p2", {{"name", "y"}}),
                      set(Kind::point, "p1", {{"room", "r7"}})});
    CHECK(says(twice, {"p1 is already used", "p2 is already used"}));
    CHECK(twice.find("r7") == std::string::npos);
}

TEST_CASE(
    "of very many refusals twenty are said, and how many more there are; a place in the input stands for a name") {
    Command import = command({});
    for (int i = 0; i < 57; ++i)
        import.changes.push_back(add(Kind::room, "n" + std::to_string(i), {{"name", "Room"}, { "length_m", -1.0 }}));
    import.fill_in = false;
    import.place = [](std::size_t change, std::string_view field) {
        return "/rooms/" + std::to_string(change) + "/" + std::string(field);
};
const Result<Decided> decided = decide(small_job(), import, ana, noon, nullptr);
REQUIRE_FALSE(decided.ok());
const std::string all = in_english(decided.refusal());
CHECK(says(all, {"/rooms/0/length_m: ", "/rooms/19/length_m: ", "... and 37 more."}));
CHECK(all.find("/rooms/20/") == std::string::npos);
}

TEST_CASE("no reading is taken on a fire or emergency line; what another copy holds is kept as it is") {
    Job job = small_job();
    const Id zone = job.all<Zone>().front().id;
    const Id point = job.all<Point>().front().id;
    const auto marked = [&](Kind kind, const Id& id) {
        const Result<Decided> decided =
            decide(job, command({set(kind, id.text(), {{"emergency", "yes"}})}), ana, noon, nullptr);
        REQUIRE(decided);
        return decided->after;
    };
    const auto reading = [](const Id& at) {
        return add(Kind::reading, "", {{"at", at.text()}, {"quantity", "ohms"}, {"value", 80.0}});
    };
    const Job with_zone = marked(Kind::zone, zone);
    CHECK(says(refusal(with_zone, {reading(zone)}), {"is part of a fire or emergency system", "qualified people"}));
    CHECK(says(refusal(with_zone, {reading(point)}), {"is part of a fire or emergency system"}));
    const Job with_point = marked(Kind::point, point);
    CHECK(says(refusal(with_point, {reading(point)}), {"is part of a fire or emergency system"}));
    // A meter on the line is on that part too.
    CHECK(says(refusal(with_point, {reading(zone)}), {"is part of a fire or emergency system"}));
    Command import = command({reading(zone)});
    import.fill_in = false;
    CHECK(decide(with_zone, import, ana, noon, nullptr).ok());
    CHECK(decide(job, command({reading(zone)}), ana, noon, nullptr).ok());
}
