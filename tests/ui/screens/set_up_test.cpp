// Setting a system up with one thumb: amplifier, outputs, zones and limits on one page.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// Digits on the pad, counted apart from the touches that lead there.
int type_figure(Person& person, std::string_view figure) {
    for (const char key : figure) person.tap(std::string("figure.pad.") + (key == '.' ? "point" : std::string(1, key)));
    return static_cast<int>(figure.size());
}

std::string row_of(const Id& id, const char* field) {
    return "set_up." + id.text() + "." + field;
}

Desk two_outputs() {
    return Desk(
        {test::set(Kind::job, "job", {{"name", "Mill House"}}), test::add(Kind::amplifier, "a1", {{"name", "Rack"}}),
         test::add(Kind::channel, "c1", {{"name", "A"}, {"amplifier", "a1"}, {"rated_w", 120.0}}),
         test::add(Kind::channel, "c2", {{"name", "B"}, {"amplifier", "a1"}}),
         test::add(Kind::zone, "z1", {{"name", "Inside"}, {"channel", "c1"}}),
         test::add(Kind::zone, "z2", {{"name", "Terrace"}, {"channel", "c2"}})},
        {}, PlaceId::lines);
}

}  // namespace

// The budget of a new system, in touches alone. Who raises it says why.
TEST_CASE("new job, one amplifier with two outputs and zones, three rooms: 19 touches and 12 digits") {
    Desk desk(Start::nothing);
    Person& person = *desk.person;
    int digits = 0;
    person.find("opening.new");
    person.tap("opening.new");
    REQUIRE(desk.session);
    person.tap("rooms.set_up");
    person.find("set_up.line_v.3");
    person.tap("set_up.line_v.3");  // 100 V
    person.tap("set_up.outputs.1");
    person.tap("set_up.add");
    REQUIRE(desk.job().count(Kind::channel) == 2);
    const Id first = desk.job().all<Channel>()[0].id;
    person.find(row_of(first, "rated_w"));
    person.tap(row_of(first, "rated_w"));
    // Each key that saves goes on to the next figure: output, its zone, the other output, its zone.
    for (const char* figure : {"120", "100", "240", "200"}) {
        digits += type_figure(person, figure);
        person.tap("figure.pad.keep");
    }
    CHECK_FALSE(person.has("figure.pad.keep"));
    person.tap("header.back");
    for (int room = 0; room < 3; ++room) {
        person.tap("rooms.new");
        person.tap("rooms.add");
        if (room < 2) person.tap("header.back");
    }
    CHECK(digits == 12);
    CHECK(person.touches() - digits <= 40);
    CHECK(person.touches() - digits == 19);

    const Job job = desk.job_on_disk();
    CHECK(job.info().line_v == Volts(100));
    REQUIRE(job.all<Amplifier>().size() == 1);
    REQUIRE(job.all<Channel>().size() == 2);
    REQUIRE(job.all<Zone>().size() == 2);
    CHECK(job.all<Room>().size() == 3);
    for (std::size_t i = 0; i < 2; ++i) {
        CHECK(job.all<Channel>()[i].amplifier == job.all<Amplifier>().front().id);
        CHECK(job.all<Zone>()[i].channel == job.all<Channel>()[i].id);
    }
    CHECK(job.all<Channel>()[0].rated_w == Watts(120));
    CHECK(job.all<Zone>()[0].limit_w == Watts(100));
    CHECK(job.all<Channel>()[1].rated_w == Watts(240));
    CHECK(job.all<Zone>()[1].limit_w == Watts(200));
}

TEST_CASE("the set-up is reached from an empty job's rooms, from the lines and from the survey") {
    for (const auto& [place, key] :
         {std::pair(PlaceId::rooms, "rooms.set_up"), std::pair(PlaceId::lines, "lines.set_up"),
          std::pair(PlaceId::survey, "survey.set_up")}) {
        Desk desk(Start::empty_job, {}, place);
        desk.person->find(key);
        desk.person->tap(key);
        CHECK(desk.person->text("header.title") == "Set-up");
    }
    Desk desk(Start::demo, {}, PlaceId::lines);
    CHECK(desk.person->text("lines.set_up") == "Amplifiers, outputs, zones");
}

TEST_CASE("an amplifier with its outputs and zones is one batch and one undo") {
    Desk desk(Start::empty_job);
    desk.open(ui::set_up_screen(desk.shared));
    Person& person = *desk.person;
    person.tap("set_up.outputs.3");
    person.tap("set_up.add");
    CHECK(desk.job().count(Kind::channel) == 4);
    CHECK(desk.job().count(Kind::zone) == 4);
    CHECK(name_of(desk.job(), desk.job().all<Zone>().back().id) == "Zone 4");
    person.tap("app.undo");
    CHECK(desk.job().count(Kind::amplifier) == 0);
    CHECK(desk.job().count(Kind::channel) == 0);
    CHECK(desk.job().count(Kind::zone) == 0);
}

TEST_CASE("a zone's limit is its output's power in one touch, and the pad stands still from figure to figure") {
    Desk desk = two_outputs();
    desk.open(ui::set_up_screen(desk.shared));
    Person& person = *desk.person;
    person.find("set_up.z1.limit_w");
    person.tap("set_up.z1.limit_w");
    const float five = person.mark("figure.pad.5").area.y;
    person.tap("figure.same");
    CHECK(desk.job().find<Zone>(Id("z1"))->limit_w == Watts(120));
    // On to output B, which nobody has recorded.
    CHECK(person.mark("figure.pad.5").area.y == five);
    CHECK(person.text("figure.pad.value").empty());
    type_figure(person, "60");
    person.tap("figure.pad.keep");
    CHECK(desk.job().find<Channel>(Id("c2"))->rated_w == Watts(60));
    CHECK(person.mark("figure.pad.5").area.y == five);
}

TEST_CASE("closing the pad of a figure saves nothing, and a figure out of range is refused on the pad") {
    for (const char* way : {"close", "escape"}) {
        Desk desk = two_outputs();
        desk.open(ui::set_up_screen(desk.shared));
        Person& person = *desk.person;
        person.find("set_up.z1.limit_w");
        person.tap("set_up.z1.limit_w");
        type_figure(person, "45");
        if (std::string_view(way) == "close")
            person.tap("figure.close");
        else
            person.press(ImGuiKey_Escape);
        CHECK_FALSE(desk.job().find<Zone>(Id("z1"))->limit_w.has_value());
        person.tap("set_up.z1.limit_w");
        CHECK(person.text("figure.pad.value").empty());
        type_figure(person, "0");
        person.tap("figure.pad.keep");
        CHECK(person.has("figure.pad.problem"));
        CHECK_FALSE(desk.job().find<Zone>(Id("z1"))->limit_w.has_value());
    }
}

TEST_CASE("voltages are keys, another one is typed, and an output can go back to the job's") {
    Desk desk = two_outputs();
    desk.open(ui::set_up_screen(desk.shared));
    Person& person = *desk.person;
    CHECK(person.text("set_up.line_v.2").ends_with(", chosen"));  // 70.7 V holds while nothing is recorded
    CHECK_FALSE(desk.job().info().line_v.has_value());
    person.tap("set_up.line_v.4");
    type_figure(person, "35");
    person.tap("figure.pad.keep");
    CHECK(desk.job().info().line_v == Volts(35));
    CHECK(person.text("set_up.line_v.4") == "35 V, chosen");
    person.find("set_up.c1.line_v");
    person.tap("set_up.c1.line_v");
    person.tap("figure.volts.1");
    CHECK(desk.job().find<Channel>(Id("c1"))->line_v == Volts(50));
    person.tap("set_up.c1.line_v");
    person.tap("figure.clear");
    CHECK_FALSE(desk.job().find<Channel>(Id("c1"))->line_v.has_value());
}

TEST_CASE("names are typed in their rows, and a zone on no output is shown with a way to one") {
    Desk desk = two_outputs();
    desk.open(ui::set_up_screen(desk.shared));
    Person& person = *desk.person;
    person.find("set_up.z2.name");
    person.tap("set_up.z2.name");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("Garden");
    person.press(ImGuiKey_Enter);
    CHECK(desk.job().find<Zone>(Id("z2"))->name == "Garden");
    REQUIRE(desk.session
                ->request(test::command({test::set(Kind::zone, "z2", {{"channel", Value()}})}), {"Ada Quill", {}},
                          desk.clock.next())
                .ok());
    person.settle();
    person.find("set_up.z2.channel");
    person.tap("set_up.z2.channel");
    person.tap("pick.c1");
    CHECK(desk.job().find<Zone>(Id("z2"))->channel == Id("c1"));
}

TEST_CASE("a low window has the figure beside the pad, with every key and Save in sight") {
    for (const Screen& screen : {Screen{.width = 844, .height = 390}, Screen{.width = 740, .height = 360}}) {
        Desk desk(Start::demo, screen, PlaceId::lines);
        desk.open(ui::set_up_screen(desk.shared));
        Person& person = *desk.person;
        person.find("set_up.z-2.limit_w");
        person.tap("set_up.z-2.limit_w");
        for (const char* key : {"0", "5", "9", "point", "erase", "keep", "value"}) {
            const ui::Mark mark = person.mark(std::string("figure.pad.") + key);
            CHECK_MESSAGE(mark.shown == mark.area, key, " at ", screen.width);
        }
        type_figure(person, "75");
        person.tap("figure.pad.keep");
        CHECK(desk.job().find<Zone>(Id("z-2"))->limit_w == Watts(75));
    }
}

// The budget of a room, in touches. Who raises it says why.
TEST_CASE("a restaurant with an attenuator and six loudspeakers, types known: eight touches") {
    Desk desk({test::set(Kind::job, "job", {{"name", "Mill House"}}),
               test::add(Kind::zone, "z1", {{"name", "Inside"}, {"limit_w", 100.0}}),
               test::add(Kind::zone, "z2", {{"name", "Terrace"}}),
               test::add(Kind::speaker_type, "t1", {{"name", "Ceiling 6"}, {"taps_w", List{1.5, 3.0, 6.0}}}),
               test::add(Kind::attenuator_type, "t2", {{"name", "Wall 60"}, {"rated_w", 60.0}})},
              {}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.shared.zone = Id("z1");
    person.settle();
    person.tap("rooms.new");
    person.tap("rooms.add");
    person.find("room.add_attenuator");
    person.tap("room.add_attenuator");
    person.tap("room.add");
    person.tap("room.new.tap.1");  // 3 W
    person.tap("room.same");
    person.tap("room.many.count.4");  // five more
    person.tap("room.many.add");
    CHECK(person.touches() == 8);
    const Job job = desk.job_on_disk();
    REQUIRE(job.all<Point>().size() == 7);
    const Point& attenuator = job.all<Point>().front();
    CHECK(attenuator.kind == PointKind::attenuator);
    CHECK(attenuator.type == Id("t2"));
    CHECK(attenuator.fed_from == Id("z1"));
    for (std::size_t i = 1; i < 7; ++i) {
        CHECK(job.all<Point>()[i].type == Id("t1"));
        CHECK(job.all<Point>()[i].tap_w == Watts(3));
        CHECK(job.all<Point>()[i].fed_from == job.all<Point>()[i - 1].id);
    }
}

TEST_CASE(
    "a room is duplicated with what is in it: one batch, one undo, nothing that was tested, fed from nowhere else") {
    Desk desk(Start::demo);
    const Id from = desk.id("Café");
    const std::size_t rooms = desk.job().count(Kind::room), points = desk.job().count(Kind::point);
    std::vector<Point> originals;
    for (const Point& point : desk.job().all<Point>())
        if (point.room == from) originals.push_back(point);
    REQUIRE(originals.size() > 2);
    desk.open(ui::room_screen(desk.shared, from));
    Person& person = *desk.person;
    person.find("room.duplicate");
    person.tap("room.duplicate");
    REQUIRE(desk.job().count(Kind::room) == rooms + 1);
    CHECK(desk.job().count(Kind::point) == points + originals.size());
    CHECK(person.text("header.title") == "Café 2");
    CHECK(desk.app->depth() == 2);
    const Room& made = desk.job().all<Room>().back();
    CHECK(made.length_m == desk.job().find<Room>(from)->length_m);
    std::map<Id, Id> twins;
    std::set<std::string> labels;
    for (const Point& point : desk.job().all<Point>()) CHECK(labels.insert(*point.label).second);
    std::size_t at = points;
    for (const Point& original : originals) twins[original.id] = desk.job().all<Point>()[at++].id;
    at = points;
    std::size_t outside = 0;
    for (const Point& original : originals) {
        const Point& twin = desk.job().all<Point>()[at++];
        CHECK(twin.room == made.id);
        CHECK(twin.kind == original.kind);
        CHECK(twin.type == original.type);
        CHECK(twin.tap_w == original.tap_w);
        CHECK_FALSE(twin.heard.has_value());
        CHECK_FALSE(twin.polarity.has_value());
        CHECK_FALSE(twin.knob_db.has_value());
        if (!original.fed_from) continue;
        const auto inside = twins.find(*original.fed_from);
        // Where the copy is connected nobody has said, nor how long the cable to it is.
        const bool is_inside = inside != twins.end();
        CHECK(twin.fed_from == (is_inside ? std::optional(inside->second) : std::nullopt));
        CHECK(twin.length_m == (is_inside ? original.length_m : std::nullopt));
        CHECK(twin.cable == original.cable);
        outside += is_inside ? 0 : 1;
    }
    CHECK(outside > 0);
    // It is asked for on the copy's page, and recorded by one choice.
    person.find("room.trace");
    person.tap("room.trace");
    const Id zone = desk.job().all<Zone>().front().id;
    person.find("pick." + zone.text());
    person.tap("pick." + zone.text());
    CHECK(std::any_of(desk.job().all<Point>().begin(), desk.job().all<Point>().end(),
                      [&](const Point& point) { return point.room == made.id && point.fed_from == zone; }));
    person.tap("app.undo");
    person.tap("app.undo");
    CHECK(desk.job().count(Kind::room) == rooms);
    CHECK(desk.job().count(Kind::point) == points);
}

TEST_CASE("the key to the next room has its name whole in two lines where there is room for it") {
    for (const Screen& screen : {Screen{390, 844}, Screen{820, 1180}, Screen{1280, 800}}) {
        CAPTURE(screen.width);
        Desk desk(Start::demo, screen, PlaceId::rooms);
        Person& person = *desk.person;
        const Id cafe = desk.id("Café");
        desk.open(ui::room_screen(desk.shared, cafe));
        REQUIRE(person.text("room.next") == "Next: Kitchen");
        for (const ui::TextPiece& piece : person.toolkit->marks().texts())
            if (piece.full.find("Kitchen") != std::string::npos && person.mark("room.next").area.y < piece.area.y)
                CHECK_FALSE(piece.shortened);
        CHECK(person.mark("room.add").area.width >= 150);
    }
}
