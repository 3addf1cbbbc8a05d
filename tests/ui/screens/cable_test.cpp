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

TEST_CASE("the cable page offers the job's own cables and those of earlier jobs in place of a size") {
    for (const Screen& screen : {Screen{390, 844}, Screen{844, 390}, Screen{320, 568}}) {
        CAPTURE(screen.width);
        Desk desk({test::set(Kind::job, "job", {{"name", "Mill House"}}),
                   test::add(Kind::zone, "z1", {{"name", "Hall"}, {"limit_w", 100.0}}),
                   test::add(Kind::cable_type, "k1", {{"name", "Two by 1.5"}, {"area_mm2", 1.5}}),
                   test::add(Kind::cable_type, "k2", {{"name", "Unmarked"}})},
                  screen, ui::PlaceId::lines);
        Job& library = desk.ports.types;
        for (const auto& [id, name] : {std::pair("k8", "Two by 1.5"), std::pair("k9", "Two by 2.5")}) {
            library.make(Kind::cable_type, Id(id), {0, 0, 0, 0});
            REQUIRE(library.set(Kind::cable_type, Id(id), *find_field(Kind::cable_type, "name"), name).ok());
            REQUIRE(library.set(Kind::cable_type, Id(id), *find_field(Kind::cable_type, "area_mm2"), 2.5).ok());
        }
        desk.open(ui::cable_screen(desk.shared, *desk.session));
        Person& person = *desk.person;
        const std::uint64_t revision = desk.session->revision();
        for (const auto& [field, typed] : {std::pair("cable.load", "42.5"), std::pair("cable.length", "100")}) {
            person.find(field);
            person.tap(field);
            person.type(typed);
        }
        const auto choose = [&](const char* key) {
            person.find(key);
            person.tap(key);
        };
        choose("cable.recorded.k1");
        CHECK(person.text("cable.recorded.k1").ends_with(", chosen"));
        CHECK(person.text("cable.answer").find("0.18 dB") != std::string::npos);
        CHECK_FALSE(person.has("cable.earlier.k8"));  // this job has one of that name
        choose("cable.earlier.k9");
        CHECK(person.text("cable.answer").find("0.18 dB") == std::string::npos);
        CHECK(person.has("cable.loss"));
        // A cable without a size says what to record; a size typed takes its place.
        choose("cable.recorded.k2");
        CHECK_FALSE(person.has("cable.loss"));
        CHECK(person.has("cable.problem"));
        person.find("cable.size");
        person.tap("cable.size");
        person.type("1.5 mm2");
        CHECK(person.text("cable.answer").find("0.18 dB") != std::string::npos);
        CHECK_FALSE(person.text("cable.recorded.k2").ends_with(", chosen"));
        CHECK(desk.session->revision() == revision);
        for (const std::string& fault : desk.faults_down_the_page()) FAIL_CHECK(fault);
    }
}
