// Forms filled in on a phone: a tap, some keys, the next tap; and what the kept bar says of it.
#include <doctest/doctest.h>
#include <imgui_internal.h>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

struct Entry {
    const char* field;
    const char* typed;
};

// Taps each field and types; nothing is pressed in between.
void fill_in(Person& person, const std::string& prefix, std::initializer_list<Entry> entries) {
    for (const Entry& entry : entries) {
        const std::string name = prefix + "." + entry.field;
        person.find(name);
        person.tap(name);
        CHECK_MESSAGE(ImGui::GetInputTextState(ImGui::GetActiveID()) != nullptr, entry.field, " has no keyboard");
        person.type(entry.typed);
        CHECK_MESSAGE(person.text(name) == entry.typed, entry.field);
    }
}

Desk one_room() {
    return Desk({test::set(Kind::job, "job", {{"name", "Mill House"}}), test::add(Kind::room, "r1", {{"name", "Hall"}}),
                 test::add(Kind::speaker_type, "t1", {{"name", "Ceiling"}, {"taps_w", List{2.5, 5.0}}})},
                {}, PlaceId::survey);
}

}  // namespace

TEST_CASE("the fields of a room's form are filled in one after the other by tapping and typing") {
    Desk desk = one_room();
    desk.open(ui::record_screen(desk.shared, Kind::room, Id("r1")));
    fill_in(*desk.person, "room",
            {{"floor", "2"},
             {"use", "Bar"},
             {"order", "3"},
             {"length_m", "11"},
             {"width_m", "6.5"},
             {"height_m", "3"},
             {"ear_height_m", "1.2"},
             {"access", "By the yard"},
             {"notes", "Ask first"},
             {"noise_dba", "55"},
             {"wanted_dba", "70"}});
    desk.person->press(ImGuiKey_Enter);
    const Job job = desk.job_on_disk();
    const Room& room = *job.find<Room>(Id("r1"));
    CHECK(room.floor == "2");
    CHECK(room.use == "Bar");
    CHECK(room.order == 3);
    CHECK(room.length_m == Metres(11));
    CHECK(room.width_m == Metres(6.5));
    CHECK(room.height_m == Metres(3));
    CHECK(room.ear_height_m == Metres(1.2));
    CHECK(room.access == "By the yard");
    CHECK(room.noise_dba == SoundLevel(55));
    CHECK(room.wanted_dba == SoundLevel(70));
    CHECK(room.notes == "Ask first");
}

TEST_CASE("the survey of a room stays open while its sizes are filled in") {
    Desk desk = one_room();
    desk.open(ui::room_survey_screen(desk.shared, Id("r1")));
    fill_in(*desk.person, "survey.room",
            {{"length_m", "11"},
             {"width_m", "6"},
             {"height_m", "3"},
             {"noise_dba", "55"},
             {"wanted_dba", "70"},
             {"ear_height_m", "1.2"}});
    desk.person->press(ImGuiKey_Enter);
    const Room& room = *desk.job().find<Room>(Id("r1"));
    CHECK(room.length_m == Metres(11));
    CHECK(room.width_m == Metres(6));
    CHECK(room.height_m == Metres(3));
    CHECK(room.noise_dba == SoundLevel(55));
    CHECK(room.wanted_dba == SoundLevel(70));
    CHECK(room.ear_height_m == Metres(1.2));
}

TEST_CASE("a figure kept with its unit is written over by the next one") {
    Desk desk = one_room();
    desk.open(ui::record_screen(desk.shared, Kind::room, Id("r1")));
    Person& person = *desk.person;
    fill_in(person, "room", {{"length_m", "1.2"}, {"width_m", "3"}});
    CHECK(person.text("room.length_m") == "1.2 m");
    person.find("room.length_m");
    person.tap("room.length_m");
    person.type("4");
    person.press(ImGuiKey_Enter);
    CHECK(desk.job().find<Room>(Id("r1"))->length_m == Metres(4));
}

TEST_CASE("what was kept of a field is said with its value") {
    Desk desk = one_room();
    desk.open(ui::record_screen(desk.shared, Kind::room, Id("r1")));
    Person& person = *desk.person;
    fill_in(person, "room", {{"length_m", "11"}});
    person.press(ImGuiKey_Enter);
    CHECK(person.text("kept") == "Saved 14:02, Length of Hall: 11 m");
    person.find("room.ceiling.1");
    person.tap("room.ceiling.1");
    CHECK(person.text("kept") == "Saved 14:02, Ceiling of Hall: plaster");
}

TEST_CASE("an empty figure shows its unit, and what holds while nothing is recorded is chosen") {
    Desk desk = one_room();
    desk.open(ui::record_screen(desk.shared, Kind::room, Id("r1")));
    desk.person->find("room.length_m");
    bool unit = false;
    for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts()) {
        if (piece.full == "m") unit = true;
        CHECK_MESSAGE(!piece.shortened, piece.full);
    }
    CHECK(unit);
    desk.open(ui::record_screen(desk.shared, Kind::job, job_id()));
    desk.person->find("job.units.0");
    CHECK(desk.person->text("job.units.0").ends_with(", chosen"));
    CHECK_FALSE(desk.job().info().units.has_value());
}

TEST_CASE("a refused figure is told beside its field and nowhere else, unless its page is left with it") {
    Desk desk = one_room();
    desk.open(ui::record_screen(desk.shared, Kind::room, Id("r1")));
    Person& person = *desk.person;
    const auto told = [&] {
        int times = 0;
        for (const ui::TextPiece& piece : person.toolkit->marks().texts())
            times += piece.full.find("from 0.1 m") != std::string::npos;
        return times;
    };
    fill_in(person, "room", {{"length_m", "-3"}});
    person.press(ImGuiKey_Enter);
    CHECK(told() == 1);
    CHECK_FALSE(person.has("message.0"));
    CHECK_FALSE(desk.job().find<Room>(Id("r1"))->length_m.has_value());
    // One tap refuses the figure and leaves the page: it must not go unsaid.
    person.tap("room.length_m");
    person.type("-4");
    person.tap("header.back");
    CHECK(desk.app->depth() == 1);
    REQUIRE(person.has("message.0"));
    CHECK(person.text("message.0").find("from 0.1 m") != std::string::npos);
    person.tap("place.rooms");
    CHECK_FALSE(person.has("message.0"));
}

TEST_CASE("a room added on the survey is surveyed at once, and its noun is said once") {
    Desk desk(Start::empty_job, {}, PlaceId::survey);
    Person& person = *desk.person;
    person.tap("survey.add");
    person.tap("rooms.add");
    CHECK(person.text("kept").ends_with(", Room 1 added"));
    CHECK(person.sees("survey.room.length_m"));
    CHECK(person.text("header.title") == "Survey of Room 1");
}

TEST_CASE("a tap in the foot counts although the field it leaves brings up a notice") {
    Desk desk(Start::demo, {}, PlaceId::survey);
    const std::size_t points = desk.job().count(Kind::point);
    desk.open(ui::room_survey_screen(desk.shared, desk.id("Foyer")));
    Person& person = *desk.person;
    person.find("survey.sizes");
    person.tap("survey.sizes");
    person.find("survey.room.height_m");
    person.tap("survey.room.height_m");
    person.type("2.9");
    person.tap("survey.keep");
    CHECK(desk.job().find<Room>(desk.id("Foyer"))->height_m == Metres(2.9));
    CHECK(desk.job().count(Kind::point) > points);
}
