// The plan of a room: loudspeakers put where they are by touch, one change each.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/ui/screens/desk.h"
#include "ui/drawings/room_plan.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/rooms/room_plan.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

ChangeList room_to_plan(bool with_size = true) {
    using test::add;
    ChangeList changes = {test::set(Kind::job, "job", {{"name", "Mill House"}}),
                          add(Kind::room, "r", {{"name", "Bar"}}), add(Kind::room, "other", {{"name", "Hall"}})};
    if (with_size) changes.push_back(test::set(Kind::room, "r", {{"length_m", 10.0}, {"width_m", 6.0}}));
    for (const char* id : {"p1", "p2", "p3"})
        changes.push_back(add(Kind::point, id, {{"kind", "speaker"}, {"label", id}, {"room", "r"}}));
    changes.push_back(add(Kind::point, "p9", {{"kind", "speaker"}, {"label", "p9"}, {"room", "other"}}));
    return changes;
}

// Where that place of the floor is in the window, in pixels.
ImVec2 place_on(Desk& desk, float x, float y, float length = 10, float width = 6) {
    const ui::Area plan = desk.person->mark("plan").area;
    const float edge = 13, room = plan.width - 2 * edge, high = plan.height - 2 * edge;
    const bool turned = high > room * width / length + 2;
    const float across = turned ? width : length, down = turned ? length : width;
    const float scale = std::min(room / across, high / down);
    const float left = plan.x + (plan.width - across * scale) / 2;
    const ImVec2 metres = turned ? ImVec2(across - y, x) : ImVec2(x, y);
    return {left + metres.x * scale, plan.y + edge + metres.y * scale};
}

// Touches the floor at that place.
void touch_floor(Desk& desk, float x, float y) {
    const ImVec2 at = place_on(desk, x, y);
    desk.person->tap_at(at.x, at.y);
}

bool lies_at(Desk& desk, std::string_view id, double x, double y) {
    const Point& point = *desk.job().find<Point>(Id(std::string(id)));
    return point.x_m && point.y_m && std::abs(point.x_m->value() - x) < 0.06 && std::abs(point.y_m->value() - y) < 0.06;
}

}  // namespace

TEST_CASE("loudspeakers are put on the plan by one touch each, the next one in hand at once, each change undoable") {
    for (const Screen& screen : {Screen{390, 844}, Screen{844, 390}, Screen{820, 1180}, Screen{1280, 800}}) {
        CAPTURE(screen.width);
        Desk desk(room_to_plan(), screen, PlaceId::rooms);
        Person& person = *desk.person;
        desk.open(ui::room_plan_screen(desk.shared, Id("r")));
        CHECK(person.sees("plan"));
        CHECK(person.has("plan.unplaced.2"));
        CHECK_FALSE(person.has("plan.unplaced.3"));  // of this room alone
        const int before = person.touches();
        touch_floor(desk, 2, 1.5F);
        CHECK(lies_at(desk, "p1", 2, 1.5));
        touch_floor(desk, 8, 1.5F);
        CHECK(lies_at(desk, "p2", 8, 1.5));
        touch_floor(desk, 5, 4.5F);
        CHECK(lies_at(desk, "p3", 5, 4.5));
        CHECK(person.touches() - before == 3);
        CHECK_FALSE(person.has("plan.unplaced.0"));
        person.press(ImGuiMod_Ctrl | ImGuiKey_Z);
        CHECK_FALSE(desk.job().find<Point>(Id("p3"))->x_m);
        CHECK(lies_at(desk, "p2", 8, 1.5));
        person.press(ImGuiMod_Ctrl | ImGuiKey_Y);
        CHECK(lies_at(desk, "p3", 5, 4.5));
    }
}

TEST_CASE("a loudspeaker on the plan is moved by touching it and then where it is now") {
    Desk desk(room_to_plan(), {390, 844}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    for (const auto& [x, y] : {std::pair(2.0F, 1.5F), std::pair(8.0F, 1.5F), std::pair(5.0F, 4.5F)})
        touch_floor(desk, x, y);
    // With nothing in hand a touch on the floor changes nothing.
    const std::uint64_t revision = desk.session->revision();
    touch_floor(desk, 5, 2);
    CHECK(desk.session->revision() == revision);
    person.tap("plan.spot.p2");
    CHECK(desk.session->revision() == revision);
    touch_floor(desk, 6, 3);
    CHECK(lies_at(desk, "p2", 6, 3));
    CHECK(lies_at(desk, "p1", 2, 1.5));
    person.tap("plan.spot.p2");
    person.find("plan.off");
    person.tap("plan.off");
    CHECK_FALSE(desk.job().find<Point>(Id("p2"))->x_m);
    CHECK_FALSE(desk.job().find<Point>(Id("p2"))->y_m);
    CHECK(person.has("plan.unplaced.0"));
}

TEST_CASE("a loudspeaker is dragged to where it is: saved once it is let go, and one undo brings it back") {
    for (const Screen& screen : {Screen{390, 844}, Screen{844, 390}, Screen{1280, 800}}) {
        CAPTURE(screen.width);
        Desk desk(room_to_plan(), screen, PlaceId::rooms);
        Person& person = *desk.person;
        desk.open(ui::room_plan_screen(desk.shared, Id("r")));
        for (const auto& [x, y] : {std::pair(2.0F, 1.5F), std::pair(8.0F, 1.5F), std::pair(5.0F, 4.5F)})
            touch_floor(desk, x, y);
        const std::size_t batches = desk.session->batch_count();
        const ImVec2 from = place_on(desk, 8, 1.5F), to = place_on(desk, 6, 3);
        person.drag(from.x, from.y, to.x, to.y);
        CHECK(lies_at(desk, "p2", 6, 3));
        CHECK(lies_at(desk, "p1", 2, 1.5));
        CHECK(desk.session->batch_count() == batches + 1);
        person.press(ImGuiMod_Ctrl | ImGuiKey_Z);
        CHECK(lies_at(desk, "p2", 8, 1.5));
        // Beyond a wall it stays at the wall; a drag that begins on the floor moves none.
        const ImVec2 out = place_on(desk, 12, 1.5F);
        const ImVec2 begun = place_on(desk, 8, 1.5F);
        person.drag(begun.x, begun.y, out.x, out.y);
        CHECK(lies_at(desk, "p2", 10, 1.5));
        const std::uint64_t revision = desk.session->revision();
        const ImVec2 floor = place_on(desk, 5, 2.5F), other = place_on(desk, 3, 2.5F);
        person.drag(floor.x, floor.y, other.x, other.y);
        CHECK(desk.session->revision() == revision);
    }
}

TEST_CASE("a plan in a job that can only be read drags nothing") {
    ChangeList job = room_to_plan();
    job.push_back(test::set(Kind::point, "p1", {{"x_m", 2.0}, {"y_m", 1.5}}));
    Desk desk(job, {390, 844}, PlaceId::rooms);
    desk.open_for_reading();
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    const ImVec2 from = place_on(desk, 2, 1.5F), to = place_on(desk, 6, 3);
    desk.person->drag(from.x, from.y, to.x, to.y);
    CHECK(lies_at(desk, "p1", 2, 1.5));
    CHECK(desk.ports.said.empty());
}

TEST_CASE("a long narrow room is turned so that it uses the page, and is worked the same way") {
    ChangeList job = room_to_plan();
    job.push_back(test::set(Kind::room, "r", {{"length_m", 20.0}, {"width_m", 4.0}}));
    Desk desk(job, {390, 844}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    CHECK(person.mark("plan").area.height > person.mark("plan").area.width);
    const auto at = [&](float x, float y) { return place_on(desk, x, y, 20, 4); };
    const ImVec2 first = at(18, 1);
    person.tap_at(first.x, first.y);
    CHECK(lies_at(desk, "p1", 18, 1));
    const ImVec2 to = at(3, 3);
    person.drag(first.x, first.y, to.x, to.y);
    CHECK(lies_at(desk, "p1", 3, 3));
    for (const std::string& fault : desk.faults_down_the_page()) FAIL_CHECK(fault);
    // On its side the page is wide enough.
    person.resize(844, 390);
    CHECK(person.mark("plan").area.height < person.mark("plan").area.width);
}

TEST_CASE("on a turned plan the arrows go where they point: down is along the room") {
    ChangeList job = room_to_plan();
    job.push_back(test::set(Kind::room, "r", {{"length_m", 20.0}, {"width_m", 4.0}}));
    Desk desk(job, {390, 844}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    for (int i = 0; i < 20 && person.focused() != "plan"; ++i) person.press(ImGuiKey_Tab);
    person.press(ImGuiKey_Enter);
    CHECK(lies_at(desk, "p1", 10, 2));
    person.press(ImGuiKey_DownArrow);
    person.press(ImGuiKey_LeftArrow);
    CHECK(lies_at(desk, "p1", 10.25, 2.25));
}

TEST_CASE("any unplaced loudspeaker is a key, and the one touched is put next") {
    Desk desk(room_to_plan(), {390, 844}, PlaceId::rooms);
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    desk.person->tap("plan.unplaced.2");
    touch_floor(desk, 3, 3);
    CHECK(lies_at(desk, "p3", 3, 3));
    CHECK_FALSE(desk.job().find<Point>(Id("p1"))->x_m);
}

TEST_CASE("without a pointer the plan is worked by Enter and the arrows") {
    Desk desk(room_to_plan(), {390, 844}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    for (int i = 0; i < 20 && person.focused() != "plan"; ++i) person.press(ImGuiKey_Tab);
    REQUIRE(person.focused() == "plan");
    person.press(ImGuiKey_Enter);
    CHECK(lies_at(desk, "p1", 5, 3));
    person.press(ImGuiKey_RightArrow);
    person.press(ImGuiKey_RightArrow);
    person.press(ImGuiKey_UpArrow);
    // Upright the plan is turned: to the right is across the room, up is against its length.
    CHECK(lies_at(desk, "p1", 4.75, 2.5));
    CHECK(person.focused() == "plan");
    person.resize(844, 390);
    person.press(ImGuiKey_RightArrow);
    CHECK(lies_at(desk, "p1", 5, 2.5));
}

TEST_CASE("without seeing it one takes a loudspeaker of the plan in hand by its name, and lets go of it again") {
    Desk desk(room_to_plan(), {390, 844}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    for (const auto& [x, y] : {std::pair(2.0F, 1.5F), std::pair(8.0F, 1.5F), std::pair(5.0F, 4.5F)})
        touch_floor(desk, x, y);
    const auto spot = [&] { return *person.toolkit->marks().find("plan.spot.p2"); };
    CHECK(spot().role == ui::Role::choice);
    CHECK_FALSE(spot().is_on);
    const std::uint64_t revision = desk.session->revision();
    REQUIRE(person.toolkit->hand().tap(person.toolkit->marks(), "plan.spot.p2"));
    person.settle();
    CHECK(spot().is_on);
    CHECK(person.has("plan.off"));
    REQUIRE(person.toolkit->hand().tap(person.toolkit->marks(), "plan.spot.p2"));
    person.settle();
    CHECK_FALSE(spot().is_on);
    CHECK(desk.session->revision() == revision);
    CHECK(lies_at(desk, "p2", 8, 1.5));
}

TEST_CASE("the plan of a room without a size says so and leads to where it is entered") {
    Desk desk(room_to_plan(false), {390, 844}, PlaceId::rooms);
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    CHECK_FALSE(desk.person->has("plan"));
    desk.person->tap("plan.size");
    CHECK(desk.app->depth() == 3);
}

TEST_CASE("the plan is reached from its room") {
    Desk desk(room_to_plan(), {390, 844}, PlaceId::rooms);
    desk.open(ui::room_screen(desk.shared, Id("r")));
    desk.person->find("room.plan");
    desk.person->tap("room.plan");
    CHECK(desk.person->has("plan"));
}

TEST_CASE("the_label_of_a_loudspeaker_at_the_wall_stood_across_it_though_there_was_room_inside") {
    ChangeList changes = room_to_plan();
    changes.push_back(test::set(Kind::point, "p1", {{"label", "C-104 by the door"}, {"x_m", 8.5}, {"y_m", 3.0}}));
    Desk desk(changes, {844, 390}, PlaceId::rooms);
    desk.open(ui::room_plan_screen(desk.shared, Id("r")));
    const float wall = place_on(desk, 10, 0).x;
    const auto& texts = desk.person->toolkit->marks().texts();
    const auto label =
        std::find_if(texts.begin(), texts.end(), [](const auto& text) { return text.full == "C-104 by the door"; });
    REQUIRE(label != texts.end());
    CHECK(label->area.x + label->area.width <= wall);
}

TEST_CASE("grid lines are whole metres and few") {
    CHECK(ui::grid_of(10, 6) == 1);
    CHECK(ui::grid_of(24, 6) == 1);
    CHECK(ui::grid_of(25, 6) == 2);
    CHECK(ui::grid_of(6, 100) == 5);
    CHECK(ui::grid_of(1000, 1000) == 50);
}

TEST_CASE("the plan is whole at every size, placed and not, also with thirty loudspeakers close together") {
    ChangeList crowd = room_to_plan();
    for (int i = 10; i < 40; ++i)
        crowd.push_back(test::add(Kind::point, "q" + std::to_string(i),
                                  {{"kind", i % 5 ? "speaker" : "attenuator"},
                                   {"label", "L-" + std::to_string(i)},
                                   {"room", "r"},
                                   {"x_m", 4 + 0.1 * (i % 6)},
                                   {"y_m", 2 + 0.3 * static_cast<double>(i / 6)}}));
    for (const Screen& screen :
         {Screen{320, 568}, Screen{390, 844, 2}, Screen{844, 390}, Screen{820, 1180, 1, true}, Screen{1280, 800}})
        for (const ChangeList& job : {room_to_plan(), room_to_plan(false), crowd}) {
            Desk desk(job, screen, PlaceId::rooms);
            desk.person->toolkit->preferences.language = screen.width < 400 ? &pseudo() : &english();
            desk.open(ui::room_plan_screen(desk.shared, Id("r")));
            for (const std::string& fault : desk.faults_down_the_page())
                FAIL_CHECK(screen.width, "x", screen.height, ": ", fault);
        }
}
