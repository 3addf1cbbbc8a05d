// Visits: the list, and one visit's page with what was met, what was left and what was read.
#include <doctest/doctest.h>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// A service visit on which a tap was moved, a loudspeaker planned, and a line read.
void serve(Desk& desk) {
    const auto keep = [&](const ChangeList& changes, const char* visit) {
        REQUIRE(desk.session->request(test::command(changes), {"", visit}, desk.clock.next()).ok());
    };
    keep({test::add(Kind::visit, "v-new", {{"purpose", "service"}, {"date", "2030-11-25"}}),
          test::add(Kind::visit, "v-old", {{"purpose", "survey"}, {"date", "2001-02-03"}, {"person", "Bo Tern"}})},
         "");
    keep(
        {test::set(Kind::point, desk.id("C-101").text(), {{"tap_w", 2.5}}),
         test::add(Kind::point, "s-new", {{"kind", "speaker"}, {"label", "C-199"}, {"planned_tap_w", 2.5}}),
         test::add(Kind::reading, "m-new", {{"at", "z-3"}, {"quantity", "ohms"}, {"value", 40.0}, {"visit", "v-new"}})},
        "v-new");
}

}  // namespace

TEST_CASE("visits are listed newest first, by purpose and day, with who was there") {
    Desk desk(Start::demo, {}, PlaceId::handover);
    serve(desk);
    desk.open(ui::visits_screen(desk.shared));
    const std::string newest = desk.person->text("visit.v-new"), oldest = desk.person->text("visit.v-old");
    CHECK(newest == "Visit on 25 Nov 2030: service, No person recorded");
    CHECK(oldest == "Visit on 3 Feb 2001: survey, Bo Tern");
    CHECK(desk.person->mark("visit.v-new").area.y < desk.person->mark("visit.v-old").area.y);
}

TEST_CASE("a visit's page is called by words and shows found, left and what was read") {
    Desk desk(Start::demo, {}, PlaceId::handover);
    serve(desk);
    Person& person = *desk.person;
    desk.open(ui::visits_screen(desk.shared));
    person.find("visit.v-new");
    person.tap("visit.v-new");
    CHECK(person.text("header.title") == "Visit on 25 Nov 2030: service");
    CHECK(person.text("visit.point." + desk.id("C-101").text()) == "C-101, as found 5 W, as left 2.5 W");
    CHECK(person.text("visit.point.s-new") == "C-199, as found not there, as left 2.5 W planned");
    int heads = 0;
    for (const ui::TextPiece& piece : person.toolkit->marks().texts())
        heads += piece.full == "As found" || piece.full == "As left";
    CHECK(heads == 4);
    const std::string read = person.text("visit.reading.m-new");
    CHECK(read.starts_with("Great hall, Impedance, 40 \xCE\xA9, "));
    CHECK(read.size() > std::string("Great hall, Impedance, 40 \xCE\xA9, ").size());
    person.find("visit.reading.m-new");
    person.tap("visit.reading.m-new");
    CHECK(person.text("header.title") == "Readings at Great hall");
}

TEST_CASE("a visit of somebody who gave no name is started without one") {
    Desk desk(Start::empty_job, {}, PlaceId::readings);
    desk.ports.person.clear();
    desk.open(ui::visits_screen(desk.shared));
    desk.person->tap("visits.start.5");
    REQUIRE(desk.job().count(Kind::visit) == 1);
    CHECK_FALSE(desk.job().all<Visit>().front().person.has_value());
}
