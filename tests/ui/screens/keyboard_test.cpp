// The keyboard alone: where the focus lies on a page that opens, where Tab goes from there, and the shortcuts.
#include <doctest/doctest.h>

#include <set>

#include "tests/ui/screens/desk.h"
#include "ui/app/shortcuts.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// Tab until that has the focus; fails the test where it never does.
void tab_to(Person& person, std::string_view mark) {
    for (int i = 0; i < 60 && person.focused() != mark; ++i) person.press(ImGuiKey_Tab);
    REQUIRE(person.focused() == mark);
}

}  // namespace

TEST_CASE(
    "after Enter on a page the focus lies on the first thing of the page that opens, and Tab goes on from there") {
    for (const Screen& screen : {Screen{390, 844}, Screen{1280, 800}}) {
        CAPTURE(screen.width);
        Desk desk(Start::demo, screen, PlaceId::rooms);
        Person& person = *desk.person;
        std::string row;
        for (const ui::Mark& mark : person.toolkit->marks().all())
            if (row.empty() && mark.touchable && mark.name.find(desk.id("Foyer").text()) != std::string::npos)
                row = mark.name;
        REQUIRE_FALSE(row.empty());
        tab_to(person, row);
        person.press(ImGuiKey_Enter);
        REQUIRE(desk.app->depth() == 2);
        const std::string first = person.focused();
        CHECK_FALSE(first.empty());
        CHECK_FALSE(first.starts_with("header"));
        // Seven presses reach seven things.
        std::set<std::string> reached = {first};
        for (int i = 0; i < 7; ++i) {
            person.press(ImGuiKey_Tab);
            CHECK_FALSE(person.focused().empty());
            reached.insert(person.focused());
        }
        CHECK(reached.size() == 8);
        // Back, the focus lies where it was left.
        person.press(ImGuiMod_Alt | ImGuiKey_LeftArrow);
        REQUIRE(desk.app->depth() == 1);
        CHECK(person.focused() == row);
    }
}

TEST_CASE("each place opens with the focus on its first thing") {
    for (int place = 0; place < ui::place_count; ++place) {
        CAPTURE(place);
        Desk desk(Start::demo, {390, 844}, PlaceId::rooms);
        desk.person->press(ImGuiMod_Alt | static_cast<ImGuiKey>(ImGuiKey_1 + place));
        CHECK(desk.app->place() == static_cast<PlaceId>(place));
        const std::string first = desk.person->focused();
        CHECK_FALSE(first.empty());
        CHECK_FALSE(first.starts_with("place."));
        CHECK_FALSE(first.starts_with("app."));
        desk.person->press(ImGuiKey_Tab);
        CHECK_FALSE(desk.person->focused().empty());
    }
}

TEST_CASE("a page whose thing in focus went meanwhile has the focus on its first thing") {
    Desk desk(Start::demo, {390, 844}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
    const std::string first = person.focused();
    REQUIRE_FALSE(first.empty());
    person.press(ImGuiMod_Ctrl | ImGuiKey_F);
    REQUIRE(desk.app->depth() == 3);
    person.press(ImGuiKey_Escape);
    person.press(ImGuiKey_Escape);
    if (desk.app->depth() == 3) person.press(ImGuiKey_Escape);
    CHECK_FALSE(person.focused().empty());
}

TEST_CASE("no page that opens moves under the finger for the focus's sake") {
    Desk desk(Start::demo, {390, 844}, PlaceId::rooms);
    desk.open(ui::point_screen(desk.shared, desk.id("C-104")));
    const ui::Mark first = desk.person->mark("header.back");
    CHECK(desk.person->sees("header.back"));
    desk.person->frames(4);
    CHECK(desk.person->mark("header.back").area.y == first.area.y);
    CHECK_FALSE(ImGui::GetCurrentContext()->NavCursorVisible);
}

TEST_CASE("F1 shows the shortcuts, each with its keys, from the one table") {
    for (const Screen& screen : {Screen{320, 568}, Screen{390, 844}, Screen{844, 390}, Screen{1280, 800}}) {
        Desk desk(Start::demo, screen, PlaceId::rooms);
        desk.person->press(ImGuiKey_F1);
        REQUIRE(desk.app->depth() == 2);
        for (std::size_t i = 0; i < ui::shortcut_table().size(); ++i)
            REQUIRE(desk.person->has("shortcuts." + std::to_string(i)));
        CHECK(desk.person->text("shortcuts.0") == "Go to Survey: Alt+1");
        for (const std::string& fault : desk.faults_down_the_page()) FAIL_CHECK(fault);
    }
}

TEST_CASE("no two shortcuts have the same keys, and all but those of the window act") {
    std::set<ImGuiKeyChord> taken;
    for (const ui::Shortcut& each : ui::shortcut_table()) {
        for (const ImGuiKeyChord keys : each.keys)
            if (keys != 0) CHECK(taken.insert(keys).second);
        if (each.command == ui::KeyCommand::moving) continue;
        for (const ImGuiKeyChord keys : each.keys) {
            if (keys == 0) continue;
            Desk desk(Start::demo, {390, 844}, each.place == PlaceId::rooms ? PlaceId::lines : PlaceId::rooms);
            const ChangeList tap = {test::set(Kind::point, desk.id("C-101").text(), {{"tap_w", 2.5}})};
            REQUIRE(desk.session->request(test::command(tap), desk.shared.author(), desk.clock.next()).ok());
            desk.person->settle();
            if (each.command == ui::KeyCommand::redo) desk.person->press(ImGuiMod_Ctrl | ImGuiKey_Z);
            if (each.command == ui::KeyCommand::back) desk.open(ui::room_screen(desk.shared, desk.id("Foyer")));
            const std::size_t depth = desk.app->depth();
            const auto tap_now = desk.point("C-101").tap_w;
            desk.person->press(keys);
            switch (each.command) {
                case ui::KeyCommand::place:
                    CHECK(desk.app->place() == each.place);
                    break;
                case ui::KeyCommand::back:
                    CHECK(desk.app->depth() == depth - 1);
                    break;
                case ui::KeyCommand::find:
                    CHECK(desk.person->has("find.text"));
                    break;
                case ui::KeyCommand::shortcuts:
                    CHECK(desk.person->has("shortcuts.0"));
                    break;
                default:
                    CHECK(desk.point("C-101").tap_w != tap_now);
            }
        }
    }
}
