// Before somebody touches a line: each screen that leads there shows what to mind, once for each line of a visit, and
// asks first whether the line could be the fire alarm's.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/lines/trials.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

void record(Desk& desk, ChangeList changes) {
    REQUIRE(desk.session->request(test::command(std::move(changes)), {"Ada Quill", {}}, desk.clock.next()).ok());
    desk.person->settle();
}

void touch(Person& person, const std::string& name) {
    person.find(name);
    person.tap(name);
}

bool says(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

const Zone& zone(const Desk& desk, const char* id) {
    return *desk.job().find<Zone>(Id(id));
}

// Nobody was asked about this line yet.
void forget_answer(Desk& desk, const char* id) {
    record(desk, {test::set(Kind::zone, id, {{"emergency", Value()}})});
}

bool is_left_disconnected(const Desk& desk, const char* id) {
    const std::vector<Finding>& findings = desk.derived().findings;
    return std::any_of(findings.begin(), findings.end(), [&](const Finding& finding) {
        return finding.code == "line_disconnected" && finding.at == Id(id);
    });
}

}  // namespace

TEST_CASE("a line that nobody was asked about: no ends there, and nothing is measured") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    forget_answer(desk, "z-3");
    desk.shared.zone = Id("z-3");
    person.tap("readings.add");
    CHECK(says(person.text("emergency.question"), "fire, voice-alarm or emergency line"));
    CHECK(says(person.text("emergency.question"), "end-of-line device"));
    CHECK_FALSE(person.has("caution.0"));
    touch(person, "emergency.yes");
    CHECK(zone(desk, "z-3").emergency == Answer::yes);
    CHECK(desk.job_on_disk().find<Zone>(Id("z-3"))->emergency == Answer::yes);
    CHECK_FALSE(person.has("caution.0"));
    CHECK_FALSE(person.has("pad.keep"));
    CHECK(says(person.text("readings.zone.z-3"), "Fire or emergency line"));
    // Nor later.
    const std::size_t before = desk.job().all<Reading>().size();
    person.tap("readings.add");
    CHECK_FALSE(person.has("emergency.question"));
    CHECK_FALSE(person.has("pad.keep"));
    desk.open(ui::readings_at_screen(desk.shared, Id("z-3")));
    CHECK(says(person.text("at.stop"), "qualified people"));
    CHECK_FALSE(person.has("at.add"));
    CHECK(desk.job().all<Reading>().size() == before);
}

TEST_CASE("the answer no is recorded, and the cautions follow") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    forget_answer(desk, "z-3");
    desk.shared.zone = Id("z-3");
    person.tap("readings.add");
    touch(person, "emergency.no");
    CHECK(zone(desk, "z-3").emergency == Answer::no);
    CHECK(person.has("caution.0"));
    person.tap("caution.close");
    person.tap("readings.add");
    CHECK_FALSE(person.has("emergency.question"));
}

TEST_CASE("the first zone of a job is made with the answer") {
    for (const bool is_one : {false, true}) {
        Desk desk(Start::empty_job, {}, PlaceId::readings);
        Person& person = *desk.person;
        person.tap("readings.add");
        touch(person, is_one ? "emergency.yes" : "emergency.no");
        if (!is_one) {
            work_through(person, "caution");
            person.type("83");
            person.tap("pad.keep");
        }
        REQUIRE(desk.job().all<Zone>().size() == 1);
        CHECK(desk.job().all<Zone>().front().emergency == (is_one ? Answer::yes : Answer::no));
        CHECK(desk.job().all<Reading>().size() == (is_one ? 0 : 1));
    }
}

TEST_CASE("what was measured with the line disconnected: reconnect, set back, play; a stop until then") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-2");
    person.tap("readings.add");
    work_through(person, "caution");
    person.type("80");
    person.tap("pad.keep");
    CHECK(desk.job().all<Reading>().back().isolated == true);
    CHECK(zone(desk, "z-2").disconnected == true);
    CHECK(is_left_disconnected(desk, "z-2"));
    CHECK(says(person.text("readings.reconnect.z-2.0"), "Reconnect both conductors"));
    CHECK(says(person.text("readings.reconnect.z-2.1"), "position back"));
    CHECK(says(person.text("readings.reconnect.z-2.2"), "Play"));
    CHECK(person.has("readings.reconnect.z-2." + desk.id("V-121").text()));  // what to set it back to
    // One step: undo takes back the reading and what it left behind.
    const std::size_t readings = desk.job().all<Reading>().size();
    person.tap("app.undo");
    CHECK(desk.job().all<Reading>().size() == readings - 1);
    CHECK_FALSE(is_left_disconnected(desk, "z-2"));
    // Once more, to the end.
    person.tap("readings.add");
    person.tap("entry.state.1");
    person.type("80");
    person.tap("pad.keep");
    REQUIRE(is_left_disconnected(desk, "z-2"));
    work_through(person, "readings.reconnect.z-2");
    CHECK_FALSE(zone(desk, "z-2").disconnected.has_value());
    CHECK_FALSE(is_left_disconnected(desk, "z-2"));
    CHECK_FALSE(person.has("readings.reconnect.z-2.0"));
}

TEST_CASE("what the cautions confirmed holds for one reading, one line and one visit") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-2");
    person.tap("readings.add");
    work_through(person, "caution", true);
    CHECK(person.text("entry.state.1").ends_with(", chosen"));  // disconnected
    CHECK(person.text("entry.state.3").ends_with(", chosen"));  // attenuators full
    person.type("80");
    person.tap("pad.keep");
    CHECK(desk.job().all<Reading>().back().knobs.has_value());
    person.tap("readings.add");
    CHECK_FALSE(person.has("caution.0"));
    for (const char* state : {"entry.state.1", "entry.state.3"}) CHECK_FALSE(person.text(state).ends_with(", chosen"));
    person.tap("entry.close");
    // A visit begins.
    record(desk, {test::add(Kind::visit, "visit-2", {{"purpose", "service"}})});
    desk.ports.visit = "visit-2";
    person.tap("readings.add");
    CHECK(person.has("caution.0"));
}

TEST_CASE("the steps before a reading: one touch each, and the key comes alive with the last") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-2");  // has attenuators
    person.tap("readings.add");
    CHECK(person.sees("caution.done"));  // within reach, without scrolling
    CHECK(person.sees("caution.0"));
    const int before = person.touches();
    for (const char* step : {"caution.0", "caution.1", "caution.2", "caution.3"}) {
        CHECK_FALSE(person.mark("caution.done").enabled);
        touch(person, step);
        CHECK(person.text(step).ends_with(", done"));
    }
    CHECK(says(person.text("caution.done"), "1 step to tick"));
    touch(person, "caution.4.full");
    CHECK(person.mark("caution.done").enabled);
    // One of the two, and what was ticked can be taken back.
    touch(person, "caution.4.noted");
    CHECK_FALSE(person.text("caution.4.full").ends_with(", done"));
    touch(person, "caution.3");
    CHECK_FALSE(person.mark("caution.done").enabled);
    touch(person, "caution.3");
    touch(person, "caution.done");
    CHECK(person.touches() - before == 9);
    CHECK(person.text("entry.state.1").ends_with(", chosen"));        // disconnected
    CHECK_FALSE(person.text("entry.state.3").ends_with(", chosen"));  // attenuators full
}

TEST_CASE("steps half ticked are forgotten when the page is left, and are not those of the next line") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    const auto is_ticked = [&](const std::string& step) { return person.text(step).ends_with(", done"); };
    desk.shared.zone = Id("z-2");
    person.tap("readings.add");
    touch(person, "caution.1");
    REQUIRE(is_ticked("caution.1"));
    person.tap("caution.close");
    person.tap("readings.add");
    CHECK_FALSE(is_ticked("caution.1"));
    touch(person, "caution.1");
    person.tap("caution.close");
    desk.shared.zone = Id("z-3");
    person.tap("readings.add");
    CHECK_FALSE(is_ticked("caution.1"));
    person.tap("caution.close");
    // Reconnecting: two lines side by side, and a place that is left and come back to.
    record(desk, {test::set(Kind::zone, "z-2", {{"disconnected", true}}),
                  test::set(Kind::zone, "z-3", {{"disconnected", true}})});
    touch(person, "readings.reconnect.z-2.0");
    CHECK(is_ticked("readings.reconnect.z-2.0"));
    CHECK_FALSE(is_ticked("readings.reconnect.z-3.0"));
    CHECK_FALSE(person.mark("readings.reconnect.z-2.done").enabled);
    person.tap("place.lines");
    person.tap("place.readings");
    CHECK_FALSE(is_ticked("readings.reconnect.z-2.0"));
    work_through(person, "readings.reconnect.z-2");
    CHECK_FALSE(is_left_disconnected(desk, "z-2"));
    CHECK(is_left_disconnected(desk, "z-3"));
}

TEST_CASE("a live measurement and an insulation test have cautions of their own") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-3");
    const auto begin = [&](Measured quantity) {
        person.tap("readings.add");
        if (person.has("caution.done")) work_through(person, "caution");
        touch(person, "entry.quantity." + std::string(word(quantity)));
        std::string all;
        for (int i = 0; person.has("caution." + std::to_string(i)); ++i)
            all += person.text("caution." + std::to_string(i)) + "\n";
        return all;
    };
    const std::string live = begin(Measured::volts);
    CHECK(says(live, "The line is live: up to 70.7 V"));
    CHECK(says(live, "probes rated"));
    // What is only to be known has no box.
    for (int i = 0; person.has("caution." + std::to_string(i)); ++i) {
        const ui::Mark caution = person.mark("caution." + std::to_string(i));
        const bool is_only_known =
            says(caution.text, "The line is live") || says(caution.text, "Class 1") || says(caution.text, "work alone");
        CHECK(caution.touchable == !is_only_known);
    }
    CHECK_FALSE(says(live, "Disconnect both conductors"));
    work_through(person, "caution");
    CHECK_FALSE(person.has("entry.state.1"));  // nothing is disconnected
    person.tap("entry.close");
    const std::string insulation = begin(Measured::earth_ohms);
    CHECK(says(insulation, "500 V"));
    CHECK(says(insulation, "everything electronic"));
    CHECK(says(insulation, "Discharge"));
}

TEST_CASE("tracing asks first, and a fire line is not traced") {
    Desk desk(Start::demo, {}, PlaceId::survey);
    Person& person = *desk.person;
    forget_answer(desk, "z-7");
    desk.shared.zone = Id("z-7");
    touch(person, "survey.trace");
    const std::string untraced = "trace." + desk.id("L-237").text();
    CHECK(person.has("trace.emergency.question"));
    CHECK_FALSE(person.has(untraced));
    touch(person, "trace.emergency.no");
    CHECK(zone(desk, "z-7").emergency == Answer::no);
    person.find(untraced);
    CHECK(person.has(untraced));
    record(desk, {test::set(Kind::zone, "z-7", {{"emergency", "yes"}})});
    CHECK(person.has("trace.emergency.stop"));
    CHECK_FALSE(person.has(untraced));
}

TEST_CASE("adding to a line that others made asks first; the cautions name plenum, class and access") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    forget_answer(desk, "z-7");
    desk.shared.zone = Id("z-7");
    desk.open(ui::trials_screen(desk.shared));
    person.tap("trials.new");
    desk.open(ui::trial_adding_screen(desk.shared, desk.job().all<Trial>().back().id));
    CHECK(person.has("adding.emergency.question"));
    CHECK_FALSE(person.has("adding.count.more"));
    touch(person, "adding.emergency.yes");
    CHECK(person.has("adding.emergency.stop"));
    CHECK_FALSE(person.has("adding.count.more"));
    desk.shared.zone = Id("z-1");  // the foyer: plenum, Class 3
    person.settle();
    person.find("adding.caution");
    const std::string told = person.text("adding.caution");
    for (const char* part : {"Amplifier off", "Class 3, as the amplifier is marked", "rated for plenums", "asbestos",
                             "2.4 m ladder", "work alone"})
        CHECK_MESSAGE(says(told, part), told);
    touch(person, "adding.caution.done");
    CHECK_FALSE(person.has("adding.caution"));
    desk.shared.zone = Id("z-4");  // the next line
    person.settle();
    CHECK(person.has("adding.caution"));
}

TEST_CASE("a loudspeaker is opened with the amplifier off; one that nobody traced is asked about") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open(ui::point_screen(desk.shared, desk.id("C-101")));
    CHECK(says(person.text("point.caution"), "Amplifier off"));
    touch(person, "point.caution.done");
    CHECK_FALSE(person.has("point.caution"));
    desk.open(ui::point_screen(desk.shared, desk.id("L-237")));
    person.find("point.emergency.question");
    CHECK_FALSE(person.has("point.tap.0"));
    touch(person, "point.emergency.yes");
    CHECK(desk.point("L-237").emergency == Answer::yes);
    CHECK(person.has("point.emergency.stop"));
    CHECK_FALSE(person.has("point.tap.0"));
}

TEST_CASE("new points, the walk test, links with the fire alarm and trials made real say what to mind") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open(ui::room_screen(desk.shared, desk.id("Foyer")));
    person.tap("room.add");
    person.find("room.new.caution");
    CHECK(says(person.text("room.new.caution"), "rated for plenums"));
    person.press(ImGuiKey_Escape);
    touch(person, "room.retap");
    person.find("room.all.caution");
    CHECK(says(person.text("room.all.caution"), "Amplifier off"));
    person.press(ImGuiKey_Escape);
    desk.open(ui::walk_test_screen(desk.shared));
    CHECK(says(person.text("walk.caution"), "Tell the building first"));
    touch(person, "walk.caution.done");
    CHECK_FALSE(person.has("walk.caution"));
    desk.open(ui::record_screen(desk.shared, Kind::interface, Id("i-2")));
    CHECK(says(person.text("interface.caution"), "whoever is responsible for the fire alarm"));
    CHECK(says(person.text("interface.caution"), "Never operate or disconnect"));
    desk.open(ui::record_screen(desk.shared, Kind::interface, Id("i-1")));
    CHECK_FALSE(person.has("interface.caution"));
    desk.open(ui::records_screen(desk.shared, Kind::interface));
    CHECK(person.has("interface.caution"));
    record(desk, {test::add(Kind::trial, "trial-x",
                            {{"name", "Quieter"},
                             {"changes", List{Map{{"op", "set"},
                                                  {"kind", "point"},
                                                  {"id", desk.id("C-101").text()},
                                                  {"fields", Map{{"tap_w", 2.5}}}}}}})});
    desk.open(ui::trial_screen(desk.shared, Id("trial-x")));
    person.tap("trial.real");
    const char* box = person.has("trial.real_ask.caution") ? "trial.real_ask.caution" : "trial.real_ask.why";
    CHECK(says(person.text(box), "Amplifier off"));
}
