// The frame around the pages: what undo and redo say, where a page begins, how the foot and the strip stand.
#include <doctest/doctest.h>

#include <algorithm>

#include <cmath>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

void keep(Desk& desk, const ChangeList& changes) {
    REQUIRE(desk.session->request(test::command(changes), {"Ada Quill", {}}, desk.clock.next()).ok());
    desk.person->settle();
}

bool is_written(Desk& desk, std::string_view part) {
    for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts())
        if (piece.full.find(part) != std::string::npos && !piece.shortened) return true;
    return false;
}

}  // namespace

TEST_CASE("undo says what it took back, redo makes it again, and each is offered in place of the other") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    const std::optional<Watts> before = desk.point("C-101").tap_w;
    REQUIRE(before == Watts(5));
    keep(desk, {test::set(Kind::point, desk.id("C-101").text(), {{"tap_w", 2.5}})});
    person.press(ImGuiMod_Ctrl | ImGuiKey_Z);
    CHECK(desk.point("C-101").tap_w == before);
    CHECK(person.text("kept") == "Saved 14:02, Undone: C-101: Tap 2.5 W (was 5 W).");
    person.tap("app.redo");
    CHECK(desk.point("C-101").tap_w == Watts(2.5));
    CHECK(person.text("kept") == "Saved 14:02, Redone: C-101: Tap 2.5 W (was 5 W).");
    person.tap("app.undo");
    CHECK(desk.point("C-101").tap_w == before);
    person.press(ImGuiMod_Ctrl | ImGuiKey_Y);
    CHECK(desk.point("C-101").tap_w == Watts(2.5));
}

namespace {

bool stands_there(const Person& person, std::string_view sentence) {
    const auto& texts = person.toolkit->marks().texts();
    return std::any_of(texts.begin(), texts.end(), [&](const ui::TextPiece& piece) { return piece.full == sentence; });
}

}  // namespace

TEST_CASE("a page whose record is gone says whether undo or redo brings it back, whatever the page is about") {
    Desk desk(Start::empty_job);
    const Author author = desk.shared.author();
    const Command adding{.changes = {ui::adding(Kind::room, {{"name", "Foyer"}})}, .fill_in = true, .place = {}};
    const Result<Outcome> added = desk.session->request(adding, author, desk.shared.stamp());
    REQUIRE(added);
    const Id room = added->ids.front();
    const auto pages = [&] {
        std::vector<std::unique_ptr<ui::Screen>> made;
        made.push_back(ui::room_screen(desk.shared, room));
        made.push_back(ui::record_screen(desk.shared, Kind::room, room));
        made.push_back(ui::room_survey_screen(desk.shared, room));
        made.push_back(ui::photos_screen(desk.shared, room));
        made.push_back(ui::readings_at_screen(desk.shared, room));
        return made;
    };
    const auto all_say = [&](std::string_view sentence) {
        for (std::unique_ptr<ui::Screen>& page : pages()) {
            desk.open(std::move(page));
            desk.person->settle();
            CHECK(stands_there(*desk.person, "Not in the job"));
            CHECK(stands_there(*desk.person, sentence));
            CHECK_FALSE(desk.person->has("room.add"));
        }
    };
    REQUIRE(desk.session->undo(author, desk.shared.stamp()));
    all_say("Adding it was undone. Redo brings it back.");
    REQUIRE(desk.session->redo(author, desk.shared.stamp()));
    const Command removing{.changes = {{ChangeOp::remove, Kind::room, room, {}}}, .fill_in = true, .place = {}};
    REQUIRE(desk.session->request(removing, author, desk.shared.stamp()));
    all_say("It was removed. Undo brings it back.");
}

TEST_CASE("of many changes undo says how many and the first, of a new record its name alone") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    keep(desk, {test::set(Kind::point, desk.id("C-101").text(), {{"tap_w", 2.5}}),
                test::set(Kind::point, desk.id("C-104").text(), {{"tap_w", 1.25}})});
    person.tap("app.undo");
    CHECK(person.text("kept") == "Saved 14:02, Undone: 2 changes, the first: C-101: Tap 2.5 W (was 5 W).");
    keep(desk, {test::add(Kind::room, "", {{"name", "Loft"}, {"floor", "4"}})});
    person.tap("app.undo");
    CHECK(person.text("kept") == "Saved 14:02, Undone: Room Loft added.");
}

TEST_CASE("the history has both ways, each only where there is one") {
    Desk desk(Start::demo, {}, PlaceId::handover);
    Person& person = *desk.person;
    desk.open(ui::history_screen(desk.shared));
    CHECK_FALSE(person.mark("history.redo").enabled);
    keep(desk, {test::set(Kind::room, desk.id("Foyer").text(), {{"floor", "9"}})});
    person.tap("history.undo");
    CHECK_FALSE(desk.job().find<Room>(desk.id("Foyer"))->floor == "9");
    person.tap("history.redo");
    CHECK(desk.job().find<Room>(desk.id("Foyer"))->floor == "9");
    CHECK_FALSE(person.mark("history.redo").enabled);
}

TEST_CASE("a page that is opened begins at its top, and going back finds the one before where it was") {
    for (const float width : {390.0F, 1280.0F}) {
        CAPTURE(width);
        Desk desk(Start::demo, {.width = width, .height = 800});
        Person& person = *desk.person;
        const float x = width * 0.5F, right = width > 900 ? 700 : x;
        person.wheel(width > 900 ? 400 : x, 400, -4);
        const std::string room = "room." + desk.id("Workshop").text();
        person.find(room);
        const float list = person.mark(room).area.y;
        desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
        const std::string first = std::string("point.s-151");
        const float top = person.mark(first).area.y;
        person.wheel(right, 400, -5);
        REQUIRE(person.mark(first).area.y < top - 50);
        person.tap("header.back");
        CHECK(person.mark(room).area.y == doctest::Approx(list));
        desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
        CHECK(person.mark(first).area.y == doctest::Approx(top));
    }
}

TEST_CASE("buttons side by side in a foot are of one height and stand level") {
    for (const float width : {320.0F, 390.0F, 1280.0F}) {
        Desk desk(Start::demo, {.width = width, .height = 800});
        desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
        const ui::Area add = desk.person->mark("room.add").area, same = desk.person->mark("room.same").area;
        CHECK(add.y == same.y);
        CHECK(add.height == same.height);
    }
}

TEST_CASE("the strip's line is as high with one thing to say as with another, so that no page moves") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    const auto top = [&] { return person.mark("readings.zone.z-1").area.y; };
    const float before = top();
    desk.shared.zone = Id("z-3");
    const double ohms = desk.derived().zones[*desk.job().place<Zone>(Id("z-3"))].ohms.value() * 0.75;
    keep(desk, {test::add(Kind::reading, "", {{"at", "z-3"}, {"quantity", "ohms"}, {"value", ohms}})});
    CHECK(top() == before);
    desk.app->say(ui::Tone::stop, Message("The length must be above 0 m."));
    person.settle();
    CHECK(top() == before);
    CHECK(person.has("message.0"));
    CHECK_FALSE(person.has("strip"));
    person.tap("message.0.dismiss");
    CHECK(person.has("strip"));
    person.tap("app.undo");
    CHECK(person.has("kept"));
    CHECK(top() == before);
}

TEST_CASE("load that nobody recorded has its word and watts, and no tick stands beside it") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-3");
    const ZoneState& zone = desk.derived().zones[*desk.job().place<Zone>(Id("z-3"))];
    const double ohms = zone.ohms.value() * 0.75;
    keep(desk, {test::add(Kind::reading, "", {{"at", "z-3"}, {"quantity", "ohms"}, {"value", ohms}})});
    REQUIRE(desk.derived().zones[*desk.job().place<Zone>(Id("z-3"))].margin.unrecorded > Watts(0));
    person.tap("strip");
    CHECK(person.text("load.strip.block.unrecorded").ends_with(" W not recorded"));
    CHECK(is_written(desk, person.text("load.strip.block.unrecorded")));
}

TEST_CASE("a field that is being typed into stays in sight when a keyboard takes its part of the window") {
    Desk desk(Start::demo, {.width = 390, .height = 844});
    desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
    std::string last;
    for (const ui::Mark& mark : desk.person->toolkit->marks().all())
        if (mark.role == ui::Role::text_field || mark.role == ui::Role::number_field) last = mark.name;
    REQUIRE_FALSE(last.empty());
    desk.person->find(last);
    desk.person->tap(last);
    desk.person->type("Left");
    desk.person->resize(390, 420);
    CHECK(desk.person->sees(last));
    CHECK(desk.person->text(last).find("Left") != std::string::npos);
    desk.person->type("right");
    CHECK(desk.person->text(last).find("right") != std::string::npos);
    desk.person->resize(390, 844);
    CHECK(desk.person->sees(last));
}
