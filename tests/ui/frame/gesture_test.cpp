#include "ui/frame/gesture.h"

#include <doctest/doctest.h>

#include "tests/ui/widgets/visit.h"

using namespace tapwright;
using namespace tapwright::tests;

TEST_CASE("a drag that starts on a row scrolls the page and chooses nothing") {
    Visit visit(ui::PlaceId::rooms);
    const float before = visit.person.mark("room.0").area.y;
    visit.person.drag(195, 700, 195, 450);
    CHECK(visit.log.taps.empty());
    // The page follows the finger: no more, no less.
    CHECK(visit.person.mark("room.0").area.y == doctest::Approx(before - 250).epsilon(0.01));
    visit.person.tap("room.3");
    CHECK(visit.log.taps == std::vector<std::string>{"room.3"});
}

TEST_CASE("a finger that wanders less than a few units is still a tap") {
    Visit visit(ui::PlaceId::rooms);
    const ui::Mark row = visit.person.mark("room.0");
    const float x = row.area.x + 50, y = row.area.y + 20;
    visit.person.drag(x, y, x + 4, y + 4, 3);
    CHECK(visit.log.taps == std::vector<std::string>{"room.0"});
}

TEST_CASE("a fling rolls on, runs out, and then no frame is wanted") {
    Visit visit(ui::PlaceId::rooms);
    visit.person.fling(195, 700, 560);
    const float at_release = visit.person.mark("room.0").area.y;
    CHECK(visit.person.toolkit->next_frame_in() == 0);
    const int frames = visit.person.settle();
    CHECK(frames > 5);
    CHECK(frames < 400);
    CHECK(visit.person.mark("room.0").area.y < at_release - 40);
    CHECK(visit.person.toolkit->next_frame_in() < 0);
    CHECK(visit.log.taps.empty());
}

TEST_CASE("a touch stops a fling and is no tap") {
    Visit visit(ui::PlaceId::rooms);
    visit.person.fling(195, 700, 560);
    const float before = visit.person.mark("room.0").area.y;
    visit.person.tap_at(195, 600);
    CHECK(visit.log.taps.empty());
    CHECK(visit.person.mark("room.0").area.y == doctest::Approx(before).epsilon(0.02));
    visit.person.tap_at(195, 600);
    CHECK(visit.log.taps.size() == 1);
}

TEST_CASE("holding half a second is a long press and no tap; shorter is a tap") {
    Visit visit(ui::PlaceId::rooms);
    visit.person.hold("room.0", 0.7);
    CHECK(visit.log.long_presses == std::vector<std::string>{"room.0"});
    CHECK(visit.log.taps.empty());
    visit.person.hold("room.0", 0.3);
    CHECK(visit.log.long_presses.size() == 1);
    CHECK(visit.log.taps == std::vector<std::string>{"room.0"});
}

TEST_CASE("a press and release between two frames is kept") {
    Visit visit(ui::PlaceId::rooms);
    visit.person.quick_tap("room.0");
    CHECK(visit.log.taps == std::vector<std::string>{"room.0"});
}

TEST_CASE("a whole swipe between two frames scrolls and chooses nothing") {
    Visit visit(ui::PlaceId::rooms);
    const float before = visit.person.mark("room.0").area.y;
    ui::Gesture& gesture = visit.person.toolkit->gesture();
    gesture.pressed(1, 195, 700, 200, ui::Gesture::Pointer::touch);
    gesture.moved(1, 195, 600, 200.2, ui::Gesture::Pointer::touch);
    gesture.released(1, 200.4);
    visit.person.settle();
    CHECK(visit.log.taps.empty());
    CHECK(visit.person.mark("room.0").area.y == doctest::Approx(before - 100).epsilon(0.02));
}

TEST_CASE("a touch that the system takes away means nothing") {
    Visit visit(ui::PlaceId::rooms);
    const ui::Mark row = visit.person.mark("room.0");
    ui::Gesture& gesture = visit.person.toolkit->gesture();
    gesture.pressed(1, row.area.x + 40, row.area.y + 20, 200, ui::Gesture::Pointer::touch);
    visit.person.frames(3);
    gesture.cancelled();
    visit.person.settle();
    CHECK(visit.log.taps.empty());
}

TEST_CASE("a scroll that starts on a text field does not take the keyboard") {
    Visit visit(ui::PlaceId::survey);
    const ui::Mark field = visit.person.mark("survey.name");
    visit.person.drag(field.area.x + 60, field.area.y + 20, field.area.x + 60, field.area.y - 120);
    CHECK(ImGui::GetActiveID() == 0);
    visit.person.find("survey.name");
    visit.person.tap("survey.name");
    CHECK(ImGui::GetActiveID() != 0);
}

TEST_CASE("two fingers zoom the drawing, one pans it, a tap takes a point") {
    Visit visit(ui::PlaceId::lines);
    const ui::Mark paper = visit.person.mark("line");
    const float x = paper.area.x + 150, y = paper.area.y + 150;
    visit.person.pinch(x, y, 80, 160);
    CHECK(visit.log.view.zoom == doctest::Approx(2.0).epsilon(0.02));
    CHECK(visit.log.line_point == -1);
    const float top = visit.log.view.top;
    visit.person.drag(x, y + 60, x, y);
    CHECK(visit.log.view.top == doctest::Approx(top + 60).epsilon(0.02));
    CHECK(visit.log.line_point == -1);
    visit.person.tap_at(x, y);
    CHECK(visit.log.line_point >= 0);
}

TEST_CASE("the wheel zooms the drawing with Ctrl, and scrolls the page past it without") {
    Visit lines(ui::PlaceId::lines);
    const ui::Mark paper = lines.person.mark("line");
    lines.person.wheel(paper.area.x + 100, paper.area.y + 100, 1);
    CHECK(lines.log.view.zoom == doctest::Approx(1.0));
    ImGui::GetIO().AddKeyEvent(ImGuiMod_Ctrl, true);
    lines.person.frames(2);
    lines.person.wheel(paper.area.x + 100, paper.area.y + 100, 1);
    ImGui::GetIO().AddKeyEvent(ImGuiMod_Ctrl, false);
    CHECK(lines.log.view.zoom > 1.1F);
}

TEST_CASE("the wheel scrolls a page") {
    Visit rooms(ui::PlaceId::rooms);
    const float before = rooms.person.mark("room.0").area.y;
    rooms.person.wheel(195, 500, -1);
    CHECK(rooms.person.mark("room.0").area.y < before - 20);
}
