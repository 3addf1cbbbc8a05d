// What a length of cable costs, asked in the window before any record exists.
#include "ui/screens/lines/cable.h"

#include <doctest/doctest.h>

#include "tests/ui/screens/desk.h"

using namespace tapwright;
using namespace tapwright::tests;

TEST_CASE("the cable page answers while one types, says what is wrong, and saves nothing") {
    Desk desk(Start::demo, {}, ui::PlaceId::lines);
    desk.open(ui::cable_screen(desk.shared, *desk.session));
    Person& person = *desk.person;
    const std::uint64_t revision = desk.session->revision();
    // The zone in hand lends its load and its voltage.
    CHECK(person.text("cable.load") == "42.5");
    CHECK(person.text("cable.volts") == "70.7");
    CHECK_FALSE(person.has("cable.answer"));
    person.tap("cable.length");
    person.type("100");
    person.find("cable.answer");
    CHECK_FALSE(person.has("cable.loss"));
    person.find("cable.size");
    person.tap("cable.size");
    person.type("1.5 mm2");
    person.find("cable.loss");
    // 24.2 ohm/km of 1.5 mm2 at most (IEC 60228, class 2: 12.1 ohm/km a conductor), 2.42 ohm on 117.6 ohm of load.
    CHECK(person.text("cable.answer").find("0.18 dB") != std::string::npos);
    person.find("cable.size");
    person.tap("cable.size");
    person.type("wide");
    person.find("cable.problem");
    CHECK(person.text("cable.problem").find("Size of one conductor") != std::string::npos);
    CHECK(desk.session->revision() == revision);
}
