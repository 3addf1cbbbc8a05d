// "Find the fault": from what does not fit to what was found and recorded, with the window alone.
#include <cmath>

#include "tests/ui/screens/fault_site.h"
#include "ui/screens/common/parts.h"

namespace fault_page {

TEST_CASE("from the Foyer's reading to C-104 recorded takes two touches, and one undo takes it back") {
    Site desk;
    Person& person = *desk.person;
    const std::size_t snags = desk.job().all<Snag>().size();
    const int before = person.touches();
    person.tap("readings.find.z-1");
    CHECK(person.text("header.title") == "Find the fault: Foyer");
    CHECK(tells(person.text("fault.seen"), "Foyer 138 Ω (baseline 121 Ω)"));
    CHECK(tells(person.text("fault.seen"), "Silent: C-104."));
    CHECK(person.text("fault.cause.0").starts_with("63 %, C-104 draws nothing"));
    CHECK(tells(person.text("fault.line.point.s-104"), "suspect, 99 %"));
    CHECK_FALSE(person.has("fault.next"));
    CHECK(person.text("fault.record.0") == "Record: C-104 dead");
    CHECK(person.text("fault.record.1") == "Record: run to C-104 open");
    CHECK(desk.faults_down_the_page().empty());
    CHECK(desk.job().all<Snag>().size() == snags);  // a proposal until it is touched
    person.tap("fault.record.0");
    CHECK(person.touches() - before == 2);
    const auto text_of_snag = [&](const Job& job) {
        for (const Snag& snag : job.all<Snag>())
            if (snag.about == desk.id("C-104")) return *snag.text;
        return std::string();
    };
    const std::string noted = text_of_snag(desk.job());
    CHECK(tells(noted, "silent since the summer"));  // what was noted before stays
    CHECK(tells(noted, "C-104 draws nothing"));
    // It is not recorded twice; once it is put right the line is read again from here.
    CHECK_FALSE(person.has("fault.record.0"));
    CHECK(tells(person.text("fault.noted.0"), "C-104 dead"));
    CHECK(person.text("fault.read") == "One reading at Foyer");
    person.tap("app.undo");
    CHECK_FALSE(tells(text_of_snag(desk.job()), "draws nothing"));
    CHECK(person.has("fault.record.0"));
}

TEST_CASE("without the walk test the page sends past those suspected, and one touch says that all play") {
    Site desk;
    Person& person = *desk.person;
    desk.unhear();
    person.tap("readings.find.z-1");
    CHECK(tells(person.text("fault.verdict"), "Not settled yet"));
    const std::vector<Measurement> next = next_of(desk, diagnosed(desk, Id("z-1")));
    REQUIRE(next.front().heard.size() > 1);
    CHECK(tells(person.text("fault.next"), "Listen at C-101, C-102"));
    bool is_named = false;
    for (int i = 0; person.has("fault.expected." + std::to_string(i)); ++i)
        is_named |= person.text("fault.expected." + std::to_string(i)).starts_with("Silent: C-104, C-104 dead");
    CHECK(is_named);
    person.find("fault.all");
    CHECK(tells(person.text("fault.others"), "Other causes"));
    person.tap("fault.some_silent");
    CHECK(person.text("header.title") == "Walk test: Foyer");
    person.tap("header.back");
    const int before = person.touches();
    person.tap("fault.all_play");
    CHECK(person.touches() - before == 1);
    for (const std::uint32_t heard : next.front().heard) CHECK(desk.job().all<Point>()[heard].heard == Heard::ok);
    // What is left is whether all behind the run to C-110 is silent.
    CHECK(tells(person.text("fault.next"), "Listen at C-110"));
    person.tap("app.undo");
    CHECK_FALSE(desk.point("C-104").heard);
}

TEST_CASE("where one loudspeaker is left to hear the page asks for it, and one touch brings the new chances") {
    Site desk;
    Person& person = *desk.person;
    desk.unhear();
    desk.hear_all_but("C-104");
    person.tap("readings.find.z-1");
    const std::vector<Measurement> next = next_of(desk, diagnosed(desk, Id("z-1")));
    REQUIRE(next.front().asked == Asked::heard);
    const std::string asked = *desk.job().find<Point>(next.front().at)->label;
    CHECK(asked == "C-104");
    CHECK(tells(person.text("fault.next"), asked));
    CHECK(person.text("fault.plays") == asked + " plays");
    CHECK(person.text("fault.silent") == asked + " silent");
    CHECK(tells(person.text("fault.expected.0"), "dead"));
    const int before = person.touches();
    person.tap("fault.plays");
    CHECK(person.touches() - before == 1);
    CHECK(desk.point(asked).heard == Heard::ok);
    CHECK_FALSE(person.text("fault.cause.0").starts_with("63 %"));
    CHECK_FALSE(tells(person.text("fault.verdict"), asked));
    // What was heard silent, and plays by now, is told in one touch as well.
    desk.make({test::set(Kind::point, desk.id(asked).text(), {{"heard", "silent"}})});
    CHECK(tells(person.text("fault.cause.0"), asked));
    touch(person, "fault.heard." + desk.id(asked).text());
    CHECK(desk.point(asked).heard == Heard::ok);
}

TEST_CASE("once J-110 reads as it should nothing behind it is suspected on the page") {
    Site desk;
    Person& person = *desk.person;
    desk.unhear();
    desk.make({test::add(Kind::reading, "",
                         {{"at", "j-110"},
                          {"quantity", "ohms"},
                          {"value", 204.0},
                          {"isolated", true},
                          {"time", "2025-10-14T09:40:00+02:00"}})});
    person.tap("readings.find.z-1");
    CHECK(tells(person.text("fault.seen"), "J-110 204 Ω"));
    if (person.has("fault.all")) touch(person, "fault.all");
    const std::string said = desk.all_said();
    for (const char* behind : {"C-105", "C-106", "C-107", "C-108", "C-109", "C-111", "C-112"})
        for (const char* what : {" draws nothing", " is on its"}) CHECK_FALSE(tells(said, behind + std::string(what)));
    CHECK(tells(said, "C-104 draws nothing"));
}

TEST_CASE("the Old wing's three untraced loudspeakers are proposed, and put on the line in one step and one undo") {
    Site desk;
    Person& person = *desk.person;
    touch(person, "readings.find.z-7");
    CHECK(tells(person.text("fault.cause.0"), "L-235, L-236 and L-237 are on this line"));
    touch(person, "fault.cause.0");
    person.find("fault.record");
    CHECK(person.text("fault.record") == "Record: L-235, L-236 and L-237 on this line");
    CHECK(tells(person.text("fault.explains.0"), "153 Ω read"));
    person.tap("fault.record");
    const Job& job = desk.job();
    for (const char* label : {"L-235", "L-236", "L-237"}) CHECK(job.find<Point>(desk.id(label))->fed_from == Id("z-7"));
    CHECK_FALSE(tells(person.text("fault.cause.0"), "L-235"));  // they are on it, and what they are on is sought
    CHECK(desk.faults_down_the_page().empty());
    person.tap("app.undo");
    for (const char* label : {"L-235", "L-236", "L-237"}) CHECK_FALSE(desk.point(label).fed_from.has_value());
    CHECK(tells(person.text("fault.cause.0"), "L-235, L-236 and L-237"));
    CHECK_FALSE(desk.job_on_disk().find<Point>(desk.id("L-235"))->fed_from.has_value());
}

TEST_CASE("what does not fit leads to the page: readings, the pad, a silent loudspeaker, load nobody recorded") {
    Site desk;
    Person& person = *desk.person;
    const auto is_there = [&](const char* zone) {
        CHECK(person.text("header.title") == "Find the fault: " + std::string(zone));
        person.press(ImGuiKey_Escape);
    };
    person.tap("readings.zone.z-1");
    touch(person, "at.find");
    is_there("Foyer");
    // A reading that fits has no such key; one that does not has it on the pad, and saves it first.
    desk.open(ui::readings_at_screen(desk.shared, Id("z-3")));
    CHECK_FALSE(person.has("at.find"));
    person.tap("at.add");
    work_through(person, "caution");
    person.type("60");
    person.find("entry.search");
    const std::size_t readings = desk.job().all<Reading>().size();
    person.tap("entry.search");
    CHECK(desk.job().all<Reading>().size() == readings + 1);
    is_there("Great hall");
    touch(person, "at.find");
    is_there("Great hall");
    desk.open(ui::point_screen(desk.shared, desk.id("C-104")));
    touch(person, "point.find_silent");
    is_there("Foyer");
    desk.open(ui::point_screen(desk.shared, desk.id("C-103")));
    CHECK_FALSE(person.has("point.find_silent"));
    desk.open(ui::walk_test_screen(desk.shared, desk.id("Foyer")));
    touch(person, "walk.find.z-1");
    is_there("Foyer");
    desk.shared.zone = Id("z-7");
    desk.open(ui::lines_screen(desk.shared));
    person.tap("strip");
    touch(person, "load.find");
    is_there("Old wing");
}

TEST_CASE("where there is nothing to go by the page says what to do, and on a fire line nothing is sought") {
    Site desk;
    Person& person = *desk.person;
    desk.open(ui::find_fault_screen(desk.shared, Id("z-9")));
    CHECK(person.has("fault.verdict"));  // a baseline alone: it is right
    CHECK(tells(person.text("fault.verdict"), "nothing is wrong"));
    desk.open(ui::find_fault_screen(desk.shared, Id("z-8")));  // nothing was read, nothing is connected
    CHECK(person.has("fault.problem"));
    CHECK(person.text("fault.read") == "One reading at Workshop");
    // Readings that contradict each other and the record.
    desk.make(
        {test::add(Kind::reading, "", {{"at", "z-1"}, {"quantity", "ohms"}, {"value", 15.0}, {"isolated", true}}),
         test::add(Kind::reading, "", {{"at", "j-110"}, {"quantity", "ohms"}, {"value", 9000.0}, {"isolated", true}}),
         test::add(Kind::reading, "", {{"at", "s-101"}, {"quantity", "ohms"}, {"value", 700.0}, {"isolated", true}})});
    desk.open(ui::find_fault_screen(desk.shared, Id("z-1")));
    CHECK(tells(person.text("fault.verdict"), "No cause known here explains all of it"));
    CHECK(tells(person.text("fault.unexplained"), "Something else"));
    CHECK(desk.faults_down_the_page().empty());
    desk.make({test::set(Kind::zone, "z-1", {{"emergency", "yes"}})});
    CHECK(person.has("fault.stop"));
    CHECK_FALSE(person.has("fault.read"));
}

TEST_CASE("every key of the page is reached by keyboard, and says what it is") {
    Site desk;
    Person& person = *desk.person;
    desk.unhear();
    desk.open(ui::find_fault_screen(desk.shared, Id("z-1")));
    const ui::Mark bar = person.mark("fault.cause.0");
    CHECK(bar.role == ui::Role::row);
    CHECK(tells(bar.said(), "%"));
    bool reaches_bar = false, reaches_key = false;
    for (int i = 0; i < 40; ++i) {
        person.press(ImGuiKey_Tab);
        reaches_bar |= person.focused() == "fault.cause.0";
        reaches_key |= person.focused() == "fault.some_silent";
        if (person.focused() == "fault.some_silent") break;
    }
    for (int i = 0; i < 40 && !reaches_bar; ++i) {
        person.press(ImGuiKey_Tab);
        reaches_bar |= person.focused() == "fault.cause.0";
    }
    CHECK(reaches_key);
    CHECK(reaches_bar);
    for (int i = 0; i < 40 && person.focused() != "fault.cause.0"; ++i) person.press(ImGuiKey_Tab);
    person.press(ImGuiKey_Enter);
    CHECK(person.has("fault.record"));
    person.settle();
    CHECK(person.toolkit->next_frame_in() != 0);  // at rest no frame is drawn
}

// ---- ten broken lines, walked with the page alone ----

}  // namespace fault_page
