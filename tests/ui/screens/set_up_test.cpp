// Setting a system up with one thumb: amplifier, outputs, zones and limits on one page.
#include <doctest/doctest.h>

#include <algorithm>

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
