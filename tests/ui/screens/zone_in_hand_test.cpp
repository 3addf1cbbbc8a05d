// One rule says which zone is in hand: the page's own, else the one that was chosen, else the zone of what is on the
// screen; what was used last only fills gaps. What is added goes there, and the key says so before.
#include <doctest/doctest.h>

#include "core/words/words.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// Two zones with a loudspeaker each in a room of its own, and a room with nothing in it.
ChangeList restaurant() {
    return {
        test::set(Kind::job, "job", {{"name", "Restaurant"}}),
        test::add(Kind::room, "r-in", {{"name", "Dining"}}),
        test::add(Kind::room, "r-out", {{"name", "Garden"}}),
        test::add(Kind::room, "r-new", {{"name", "Bar"}}),
        test::add(Kind::amplifier, "a1", {{"name", "Amplifier"}}),
        test::add(Kind::channel, "c1", {{"name", "Output 1"}, {"amplifier", "a1"}}),
        test::add(Kind::channel, "c2", {{"name", "Output 2"}, {"amplifier", "a1"}}),
        test::add(Kind::zone, "z-in", {{"name", "Inside"}, {"channel", "c1"}, {"limit_w", 100.0}, {"emergency", "no"}}),
        test::add(Kind::zone, "z-out",
                  {{"name", "Terrace"}, {"channel", "c2"}, {"limit_w", 30.0}, {"emergency", "no"}}),
        test::add(Kind::speaker_type, "t1", {{"name", "Ceiling"}, {"taps_w", List{5.0, 10.0}}}),
        test::add(Kind::point, "p-in",
                  {{"kind", "speaker"},
                   {"label", "L-1"},
                   {"room", "r-in"},
                   {"fed_from", "z-in"},
                   {"type", "t1"},
                   {"tap_w", 5.0}}),
        test::add(Kind::point, "p-out",
                  {{"kind", "speaker"},
                   {"label", "L-20"},
                   {"room", "r-out"},
                   {"fed_from", "z-out"},
                   {"type", "t1"},
                   {"tap_w", 5.0}})};
}

struct Restaurant : Desk {
    Restaurant() : Desk(restaurant(), {}, PlaceId::rooms) {}
    void open_room(const char* name) { open(ui::room_screen(shared, id(name))); }
    std::string strip() { return person->text("strip"); }
    // Puts the notice away that stands in the strip's place.
    void put_away() {
        if (person->has("kept")) person->tap("kept");
    }
    void choose(int zone) {
        put_away();
        person->tap("strip");
        person->tap("load.zone." + std::to_string(zone));
    }
    Id zone_of(std::string_view label) {
        const std::uint32_t zone = derived().points[*job().place<Point>(point(label).id)].zone;
        REQUIRE(zone != nowhere);
        return job().all<Zone>()[zone].id;
    }
    std::string feed_of(std::string_view label) { return name_of(job(), point(label).fed_from); }
    std::size_t changes() const { return session->batch_count(); }
};

}  // namespace

TEST_CASE("an attenuator added with Inside in hand is recorded from Inside, whatever was used last") {
    Restaurant desk;
    Person& person = *desk.person;
    desk.open_room("Garden");
    person.tap("room.add");
    person.tap("room.new.tap.0");
    REQUIRE(desk.shared.feed == desk.point("L-21").id);  // used last: Terrace
    desk.open_room("Bar");
    desk.choose(0);
    REQUIRE(desk.strip().starts_with("Inside, "));
    person.find("room.add_attenuator");
    CHECK(person.text("room.add_attenuator") == "Add attenuator to Inside, after L-1");
    person.tap("room.add_attenuator");
    CHECK(desk.zone_of("VC-1") == Id("z-in"));
    CHECK(desk.feed_of("VC-1") == "L-1");
    person.find("room.add_splice");
    CHECK(person.text("room.add_splice") == "Add joint to Inside, after VC-1");
    person.tap("room.add_splice");
    CHECK(desk.zone_of("J-1") == Id("z-in"));
}

TEST_CASE("while Terrace is filled the strip shows Terrace") {
    Restaurant desk;
    Person& person = *desk.person;
    REQUIRE(desk.strip().starts_with("Inside, "));  // the first
    desk.open_room("Garden");
    CHECK(desk.strip().starts_with("Terrace, "));
    CHECK(person.text("room.add") == "Add to Terrace, after L-20");
    person.tap("room.add");
    person.tap("room.new.tap.0");
    desk.put_away();
    CHECK(desk.strip().starts_with("Terrace, "));
    CHECK(desk.zone_of("L-21") == Id("z-out"));
    CHECK(person.text("room.add") == "Add to Terrace, after L-21");
    // In a room with nothing in it what was used last fills the gap, in the strip and on the key.
    desk.open_room("Bar");
    CHECK(desk.strip().starts_with("Terrace, "));
    CHECK(person.text("room.add") == "Add to Terrace, after L-21");
}

TEST_CASE("what was chosen stays in hand in a room of another zone, and the key says so") {
    Restaurant desk;
    Person& person = *desk.person;
    desk.choose(0);
    desk.open_room("Garden");
    CHECK(desk.strip().starts_with("Inside, "));
    CHECK(person.text("room.add") == "Add to Inside, after L-1");
    person.tap("room.same");
    CHECK(person.text("room.many.add") == "Add 1 loudspeaker to Inside, after L-1");
    person.tap("room.many.add");
    CHECK(desk.zone_of("L-21") == Id("z-in"));
}

TEST_CASE("the page of a zone, of a point and of readings shows the strip of its own zone, whatever was chosen") {
    Restaurant desk;
    desk.choose(1);
    desk.open(ui::record_screen(desk.shared, Kind::zone, Id("z-in")));
    CHECK(desk.strip().starts_with("Inside, "));
    desk.open(ui::record_screen(desk.shared, Kind::zone, Id("z-out")));
    CHECK(desk.strip().starts_with("Terrace, "));
    desk.open(ui::point_screen(desk.shared, desk.point("L-1").id));
    CHECK(desk.strip().starts_with("Inside, "));
    desk.open(ui::readings_at_screen(desk.shared, Id("z-in")));
    CHECK(desk.strip().starts_with("Inside, "));
    // Such a page offers no other zone: choosing one would change nothing on it.
    desk.person->tap("strip");
    CHECK(desk.person->has("load.strip"));
    CHECK_FALSE(desk.person->has("load.zone.0"));
    desk.person->tap("load.close");
    for (int i = 0; i < 4; ++i) desk.person->tap("header.back");
    CHECK(desk.strip().starts_with("Terrace, "));  // what was chosen
}

TEST_CASE("in a window with a third pane the strip is that of the page in front, not of the list") {
    Desk desk(restaurant(), {.width = 1280, .height = 800}, PlaceId::rooms);
    desk.open(ui::room_screen(desk.shared, desk.id("Garden")));
    CHECK(desk.person->text("strip").starts_with("Terrace, "));
    desk.open(ui::point_screen(desk.shared, Id("p-in")));
    CHECK(desk.person->text("strip").starts_with("Inside, "));
    CHECK(desk.person->text("beside.title") == "Line of Inside");
}

TEST_CASE("the tap keys count the zone that the loudspeaker is added to") {
    Restaurant desk;
    Person& person = *desk.person;
    desk.open_room("Bar");
    const auto headroom = [&](int zone) {
        desk.choose(zone);
        person.tap("room.add");
        std::string words = person.text("room.new.tap.1");
        person.tap("room.new.close");
        return words;
    };
    // The reserve is a fifth: 80 W and 24 W, 5 W of each taken.
    CHECK(headroom(0) == "10 W, 65 W headroom");
    CHECK(headroom(1) == "10 W, 9 W headroom");
}

TEST_CASE("a feed that is picked by hand takes its zone in hand") {
    Restaurant desk;
    Person& person = *desk.person;
    desk.open_room("Bar");
    desk.choose(0);
    person.tap("room.add");
    person.find("room.new.feed");
    person.tap("room.new.feed");
    person.tap("pick." + desk.point("L-20").id.text());
    person.tap("room.new.close");
    CHECK(desk.strip().starts_with("Terrace, "));
    CHECK(person.text("room.add") == "Add to Terrace, after L-20");
    // Another zone chosen afterwards counts again.
    desk.choose(0);
    CHECK(person.text("room.add") == "Add to Inside, after L-1");
}

TEST_CASE("taking a reading of one zone does not change what is added to") {
    Restaurant desk;
    desk.choose(0);
    desk.app->show(PlaceId::readings);
    desk.person->settle();
    desk.person->tap("readings.zone.z-out");
    CHECK(desk.strip().starts_with("Terrace, "));
    desk.app->show(PlaceId::rooms);
    desk.open_room("Bar");
    CHECK(desk.person->text("room.add") == "Add to Inside, after L-1");
}

TEST_CASE("closing a sheet by its cross, by Escape or by going back adds nothing") {
    Restaurant desk;
    Person& person = *desk.person;
    desk.open_room("Dining");
    const std::size_t before = desk.changes();
    for (const char* sheet : {"room.add", "room.same"}) {
        const std::string close = sheet == std::string("room.add") ? "room.new.close" : "room.many.close";
        person.tap(sheet);
        REQUIRE(person.has(close));
        person.tap(close);
        CHECK_FALSE(person.has(close));
        person.tap(sheet);
        person.press(ImGuiKey_Escape);
        CHECK_FALSE(person.has(close));
        person.tap(sheet);
        person.tap_at(195, 20);  // beside the sheet
        CHECK(person.has(close));
        person.press(ImGuiKey_Escape);
    }
    person.press(ImGuiKey_Escape);
    CHECK(person.has("rooms.new"));
    CHECK(desk.changes() == before);
}
