// The walk test: one row a loudspeaker, the rest of a room in one touch, what does not sound right with its snag.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// Three rooms of three loudspeakers each on one line, and one more room of twelve where `is_long`.
ChangeList walked_rooms(bool is_long = false) {
    ChangeList changes = {test::set(Kind::job, "job", {{"name", "Mill House"}}),
                          test::add(Kind::zone, "z-1", {{"name", "Line"}})};
    int number = 0;
    const auto room = [&](const std::string& id, int loudspeakers) {
        changes.push_back(test::add(Kind::room, id, {{"name", "Room " + id.substr(2)}}));
        for (int i = 0; i < loudspeakers; ++i) {
            const std::string label = "L-" + std::to_string(++number);
            changes.push_back(
                test::add(Kind::point, "p-" + std::to_string(number),
                          {{"label", label}, {"kind", "speaker"}, {"room", id}, {"tap_w", 5.0}, {"fed_from", "z-1"}}));
        }
    };
    for (const char* id : {"r-a", "r-b", "r-c"}) room(id, is_long ? 14 : 3);
    return changes;
}

std::string said(Person& person, const std::string& id) {
    std::string chosen;
    for (const char* key : {"ok", "buzz", "low", "silent"})
        if (person.text("walk." + id + "." + key).ends_with(", chosen")) chosen += key;
    return chosen;
}

bool counted(Person& person, std::string_view words) {
    const auto& texts = person.toolkit->marks().texts();
    return std::any_of(texts.begin(), texts.end(), [&](const auto& text) { return text.full == words; });
}

}  // namespace

TEST_CASE("a walk test of nine loudspeakers in three rooms costs no more than twelve touches") {
    Desk desk(walked_rooms(), {}, PlaceId::readings);
    Person& person = *desk.person;
    const int before = person.touches();
    person.find("readings.walk");
    person.tap("readings.walk");
    person.tap("walk.caution.done");
    for (int room = 0; room < 3; ++room) {
        CHECK(person.sees("walk.rest"));
        person.tap("walk.rest");
        CHECK_FALSE(person.mark("walk.rest").enabled);
        person.tap(room < 2 ? "walk.next" : "walk.done");
    }
    CHECK(person.touches() - before <= 12);
    const Job job = desk.job_on_disk();
    for (const Point& point : job.all<Point>()) CHECK(point.heard == Heard::ok);
}

TEST_CASE("the rest of a room leaves alone what is only planned, disconnected or on an emergency line") {
    ChangeList changes = walked_rooms();
    changes.push_back(test::set(Kind::point, "p-1", {{"state", "planned"}}));
    changes.push_back(test::set(Kind::point, "p-2", {{"wired", "off"}}));
    changes.push_back(test::add(Kind::zone, "z-2", {{"name", "Alarm"}, {"emergency", "yes"}}));
    changes.push_back(test::set(Kind::point, "p-4", {{"fed_from", "z-2"}}));
    Desk desk(changes, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.open(ui::walk_test_screen(desk.shared));
    CHECK(person.text("walk.rest") == "Rest of room OK (1)");
    // Each says why it is left out.
    CHECK(person.text("walk.p-1.label") == "L-1, Not fitted");
    CHECK(person.text("walk.p-2.label") == "L-2, Disconnected");
    CHECK(person.text("walk.p-3.label") == "L-3, Polarity");
    person.tap("walk.rest");
    CHECK_FALSE(desk.point("L-1").heard.has_value());
    CHECK_FALSE(desk.point("L-2").heard.has_value());
    CHECK(desk.point("L-3").heard == Heard::ok);
    person.tap("walk.next");
    CHECK(person.text("walk.rest") == "Rest of room OK (2)");
    CHECK(person.text("walk.p-4.label") == "L-4, Emergency line");
    // One that is heard all the same is recorded by its own key.
    person.tap("walk.p-4.ok");
    CHECK(desk.point("L-4").heard == Heard::ok);
}

TEST_CASE("the rest of a room leaves alone what was heard, and undo takes it back as one") {
    Desk desk(walked_rooms(), {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.open(ui::walk_test_screen(desk.shared));
    person.tap("walk.p-2.buzz");
    person.tap("walk.rest");
    CHECK(desk.point("L-1").heard == Heard::ok);
    CHECK(desk.point("L-2").heard == Heard::buzz);
    CHECK(desk.point("L-3").heard == Heard::ok);
    CHECK_FALSE(desk.point("L-4").heard.has_value());  // the next room
    person.tap("app.undo");
    CHECK_FALSE(desk.point("L-1").heard.has_value());
    CHECK(desk.point("L-2").heard == Heard::buzz);
    // The same key again takes it back.
    person.tap("walk.p-2.buzz");
    CHECK_FALSE(desk.point("L-2").heard.has_value());
}

TEST_CASE("one row a loudspeaker on a phone, its four keys beside its label") {
    Desk desk(walked_rooms(), {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.open(ui::walk_test_screen(desk.shared));
    for (const char* id : {"p-1", "p-2", "p-3"}) {
        const std::string name = std::string("walk.") + id;
        const ui::Area label = person.mark(name + ".label").area;
        for (const char* key : {".ok", ".buzz", ".low", ".silent"}) {
            const ui::Area area = person.mark(name + key).area;
            CHECK(area.y == label.y);
            CHECK(area.width >= 48);
            CHECK(area.height >= 48);
        }
    }
}

TEST_CASE("a loudspeaker that buzzes, is low or silent offers its snag, moves nothing and never looks like OK") {
    Desk desk(walked_rooms(), {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.open(ui::walk_test_screen(desk.shared));
    const ui::Area next_row = person.mark("walk.p-2.ok").area;
    for (const char* heard : {"buzz", "low", "silent"}) {
        person.tap(std::string("walk.p-1.") + heard);
        CHECK(said(person, "p-1") == heard);
        CHECK(person.sees("walk.p-1.snag"));
        CHECK(person.mark("walk.p-2.ok").area.y == next_row.y);
    }
    CHECK(person.text("walk.p-1.snag").find("Note snag") != std::string::npos);
    person.tap("walk.p-2.ok");
    CHECK(said(person, "p-2") == "ok");
    CHECK_FALSE(person.has("walk.p-2.snag"));
    const std::size_t before = desk.job().all<Snag>().size();
    person.tap("walk.p-1.snag");
    REQUIRE(desk.job().all<Snag>().size() == before + 1);
    CHECK(desk.job().all<Snag>().back().about == Id("p-1"));
    CHECK(desk.job().all<Snag>().back().text == "Silent");
    CHECK_FALSE(person.has("walk.p-1.snag"));  // noted once
    CHECK(person.text("walk.p-1.label").find("Snag noted") != std::string::npos);
    // Nor in its room.
    desk.open(ui::room_screen(desk.shared, Id("r-a")));
    CHECK(person.text("point.p-1").find("Silent") != std::string::npos);
}

TEST_CASE("a_loudspeaker_of_reversed_polarity_was_not_counted_as_one_to_put_right_nor_marked_in_its_room") {
    Desk desk(walked_rooms(), {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.open(ui::walk_test_screen(desk.shared));
    person.tap("walk.p-1.label");
    person.tap("walk.p-1.polarity.1");
    person.tap("walk.rest");
    CHECK(counted(person, "3 of 3 tested, 1 to put right"));
    CHECK(person.text("walk.p-1.label").find("Reversed") != std::string::npos);
    person.tap("walk.p-1.silent");
    CHECK(counted(person, "3 of 3 tested, 1 to put right"));  // one loudspeaker
    person.tap("walk.p-2.low");
    CHECK(counted(person, "3 of 3 tested, 2 to put right"));
    person.tap("walk.p-1.ok");
    desk.open(ui::room_screen(desk.shared, Id("r-a")));
    CHECK(person.text("point.p-1").find("Reversed") != std::string::npos);
    CHECK(person.text("point.p-3").find("Reversed") == std::string::npos);
}

TEST_CASE("the next room of the walk test begins at its top") {
    Desk desk(walked_rooms(true), {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.open(ui::walk_test_screen(desk.shared));
    const float top = person.mark("walk.p-1.ok").area.y;
    person.wheel(195, 400, -40);
    REQUIRE(person.mark("walk.p-1.ok").area.y < top - 100);
    person.tap("walk.next");
    CHECK(person.mark("walk.p-15.ok").area.y == doctest::Approx(top));
    CHECK(person.text("header.title").find("Room b") != std::string::npos);
    person.find("walk.before");
    person.tap("walk.before");
    CHECK(person.mark("walk.p-1.ok").area.y == doctest::Approx(top));
}

TEST_CASE("a room whose loudspeakers are recorded but not tested is not done") {
    Desk desk(walked_rooms(), {}, PlaceId::rooms);
    Person& person = *desk.person;
    const auto says = [&](const char* words) { return person.text("room.r-a").find(words) != std::string::npos; };
    CHECK(says("Recorded"));
    CHECK(says("3 not tested"));
    CHECK_FALSE(says("Tested"));
    desk.open(ui::walk_test_screen(desk.shared));
    person.tap("walk.p-1.buzz");
    person.tap("walk.rest");
    person.press(ImGuiKey_Escape);
    CHECK(says("1 not sounding right"));
    CHECK_FALSE(says("Tested"));
    desk.open(ui::walk_test_screen(desk.shared));
    person.tap("walk.p-1.ok");
    person.press(ImGuiKey_Escape);
    CHECK(says("Tested"));
}

TEST_CASE("the next room is a key in a room's foot, and begins at its top") {
    for (const Screen& screen : {Screen{}, Screen{.width = 320, .height = 568}, Screen{.width = 844, .height = 390}}) {
        Desk desk(walked_rooms(true), screen, PlaceId::rooms);
        Person& person = *desk.person;
        desk.open(ui::room_screen(desk.shared, Id("r-a")));
        const std::size_t depth = desk.app->depth();
        const float top = person.mark("point.p-1").area.y;
        person.wheel(screen.width * 0.4F, screen.height * 0.6F, -20);
        CHECK(person.sees("room.next"));
        person.tap("room.next");
        CHECK(person.text("header.title").find("Room b") != std::string::npos);
        CHECK(person.mark("point.p-15").area.y == doctest::Approx(top));
        person.tap("room.next");
        person.tap("room.next");  // from the last one to all
        CHECK(desk.app->depth() == depth - 1);
    }
}

TEST_CASE("a walk test of a job that can only be read can be looked through, and changes nothing") {
    Desk desk(walked_rooms(), {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.open_for_reading();
    person.settle();
    CHECK_FALSE(person.mark("readings.test").enabled);
    desk.open(ui::walk_test_screen(desk.shared));
    for (const char* key : {"walk.p-1.ok", "walk.p-1.buzz", "walk.rest"}) CHECK_FALSE(person.mark(key).enabled);
    person.tap("walk.next");
    CHECK(person.text("header.title").find("Room b") != std::string::npos);
    desk.open(ui::point_screen(desk.shared, Id("p-1")));
    person.find("point.measure");
    CHECK_FALSE(person.mark("point.measure").enabled);
    CHECK(person.mark("point.next").enabled);
}
