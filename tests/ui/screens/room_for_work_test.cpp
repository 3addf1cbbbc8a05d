// The page is for the work: how much of the window it has, on a phone, on its side, on a tablet and on a desk; and what
// stays when the window changes its shape.
#include <doctest/doctest.h>

#include <algorithm>

#include "core/words/words.h"
#include "tests/ui/screens/desk.h"
#include "tests/ui/screens/pages.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

constexpr Screen on_its_side[] = {{.width = 844, .height = 390}, {.width = 740, .height = 360}};

// How many marks that begin so are wholly in sight.
int in_sight(Person& person, std::string_view prefix) {
    const auto& marks = person.toolkit->marks().all();
    return static_cast<int>(std::count_if(marks.begin(), marks.end(), [&](const ui::Mark& mark) {
        return mark.touchable && mark.name.starts_with(prefix) && mark.shown.height > mark.area.height - 1.5F;
    }));
}

bool overlap(const ui::Area& a, const ui::Area& b) {
    return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

}  // namespace

TEST_CASE("on its side a phone has the places at the side and at least four rows of any list") {
    struct List {
        PlaceId place;
        const char* rows;
        std::function<void(Desk&)> go;
        int rows_of_its_own = 4;
    };
    const auto stay = [](Desk&) {};
    const List lists[] = {
        {PlaceId::rooms, "room.r-", stay},
        {PlaceId::rooms, "point.", [](Desk& d) { d.open(ui::room_screen(d.shared, d.id("Great hall"))); }},
        // Of the four the next measurement is one.
        {PlaceId::readings, "readings.zone.", stay, 3},
        {PlaceId::survey, "zone.", [](Desk& d) { d.open(ui::records_screen(d.shared, Kind::zone)); }},
        {PlaceId::snags, "snag.", stay}};
    for (const Screen& screen : on_its_side)
        for (const List& list : lists) {
            CAPTURE(screen.width);
            CAPTURE(std::string(list.rows));
            Desk desk(Start::demo, screen, list.place);
            list.go(desk);
            Person& person = *desk.person;
            CHECK(in_sight(person, list.rows) >= list.rows_of_its_own);
            for (const char* place : {"survey", "rooms", "lines", "readings", "snags", "handover"}) {
                const ui::Mark mark = person.mark(std::string("place.") + place);
                CHECK(mark.shown.height == mark.area.height);
                CHECK(mark.area.x == 0);
                CHECK(mark.area.width < 100);
            }
        }
}

TEST_CASE("on its side a phone has at least four rows of a list also while a notice is up") {
    for (const Screen& screen : on_its_side) {
        CAPTURE(screen.width);
        Desk desk(Start::demo, screen, PlaceId::rooms);
        Person& person = *desk.person;
        person.tap("rooms.new");
        person.tap("rooms.add");
        person.press(ImGuiKey_Escape);
        REQUIRE(person.has("kept"));
        CHECK(in_sight(person, "room.r-") >= 4);
    }
}

TEST_CASE("on its side a phone keeps the foot in sight, beside the list and over nothing") {
    for (const Screen& screen : on_its_side) {
        Desk desk(Start::demo, screen);
        desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
        Person& person = *desk.person;
        const ui::Area page = person.mark("header.room").area;
        for (const char* key : {"room.add", "room.same"}) {
            CHECK(person.sees(key));
            CHECK_FALSE(overlap(person.mark(key).area, page));
        }
        // The strip stands in the header's line.
        CHECK(person.mark("strip").area.y < page.y);
        CHECK(person.mark("strip").area.y == person.mark("app.undo").area.y);
        person.tap("room.add");
        CHECK(person.sees("room.new.tap.0"));
    }
}

TEST_CASE("the smallest phone has one row of places, and three cards") {
    Desk desk(Start::demo, {.width = 320, .height = 568});
    Person& person = *desk.person;
    CHECK(in_sight(person, "room.r-") >= 3);
    const float row = person.mark("place.survey").area.y;
    for (const char* place : {"rooms", "lines", "readings", "snags", "handover"}) {
        const ui::Area area = person.mark(std::string("place.") + place).area;
        CHECK(area.y == row);
        CHECK(area.width >= 48);
    }
    desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
    CHECK(in_sight(person, "point.") >= 3);
}

TEST_CASE("a tablet shows a list and its page side by side, and a touch in the list changes the page") {
    Desk desk(Start::demo, {.width = 820, .height = 1180});
    Person& person = *desk.person;
    const std::string foyer = "room." + desk.id("Foyer").text(), cafe = "room." + desk.id("Café").text();
    person.tap(foyer);
    REQUIRE(person.text("header.title") == "Foyer");
    const ui::Area list = person.mark("list.room").area, page = person.mark("header.room").area;
    CHECK(list.x + list.width <= page.x);
    CHECK(list.width > 300);
    CHECK(page.width > 400);
    CHECK(person.sees(cafe));
    CHECK(in_sight(person, "room.r-") >= 8);
    person.tap(cafe);
    CHECK(person.text("header.title") == "Café");
    CHECK(person.sees(foyer));
}

TEST_CASE("on a desk what is touched shows its figures in the third pane") {
    for (const Screen& screen : {Screen{.width = 1280, .height = 800}, Screen{.width = 1920, .height = 1080}}) {
        Desk desk(Start::demo, screen);
        Person& person = *desk.person;
        desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
        const Id first("s-151");
        person.tap("point." + first.text());
        for (const char* figure : {"beside.point.tap", "beside.point.level", "beside.point.can_add"}) {
            CHECK(person.sees(figure));
            CHECK(person.mark(figure).area.x > screen.width - 360);
        }
        // On the page of the line itself too: a point that is touched there has its figures beside it.
        desk.app->show(PlaceId::lines);
        desk.shared.point = Id();
        person.settle();
        CHECK_FALSE(person.has("beside.point.tap"));
        const std::string on_line = [&] {
            for (const ui::Mark& mark : person.toolkit->marks().all())
                if (mark.name.starts_with("line.point.") && mark.visible()) return mark.name;
            return std::string();
        }();
        REQUIRE_FALSE(on_line.empty());
        person.tap(on_line);
        CHECK(person.sees("beside.point.ohms"));
        CHECK_FALSE(person.has("beside.line"));
    }
}

TEST_CASE("a window that changes its shape in mid-entry loses nothing that was typed") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    person.tap("rooms.new");
    person.tap("rooms.name");
    person.type("Wine ");
    for (const auto& [width, height] : {std::pair(844.0F, 390.0F),
                                        {740.0F, 360.0F},
                                        {320.0F, 568.0F},
                                        {1280.0F, 800.0F},
                                        {820.0F, 1180.0F},
                                        {390.0F, 844.0F}}) {
        person.resize(width, height);
        CHECK(person.text("rooms.name").starts_with("Wine"));
        person.type("c");  // the field still listens
    }
    CHECK(person.text("rooms.name") == "Wine cccccc");
    person.press(ImGuiKey_Backspace);
    person.find("rooms.add");
    person.tap("rooms.add");
    CHECK(desk.job().find<Room>(desk.id("Wine ccccc")) != nullptr);
    CHECK(person.text("header.title") == "Wine ccccc");
}

TEST_CASE("a window that changes its shape keeps its page, and the field of a record that is being typed in") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open(ui::room_screen(desk.shared, desk.id("Foyer")));
    desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
    person.find("room.floor");
    person.tap("room.floor");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("1");
    const std::size_t before = desk.session->batch_count();
    person.resize(844, 390);
    CHECK(person.text("room.floor") == "1");
    CHECK(desk.session->batch_count() == before);  // being typed, not left
    person.type("2");
    person.resize(390, 844);
    person.press(ImGuiKey_Enter);
    CHECK(desk.job().find<Room>(desk.id("Foyer"))->floor == "12");
    CHECK(desk.app->depth() == 3);
}

TEST_CASE("what was saved takes the strip's place for five seconds and goes by itself, with no frame in between") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open(ui::point_screen(desk.shared, desk.point("C-101").id));
    const float page = person.mark("header.room").area.y;
    const ui::Area strip = person.mark("strip").area;
    person.find("point.tap.0");
    desk.words.next_wake_ms = -1;
    person.tap("point.tap.0");
    const ui::Area kept = person.mark("kept").area;
    CHECK(kept.x == strip.x);
    CHECK(kept.y == strip.y);
    CHECK(kept.height == strip.height);
    CHECK(person.mark("header.room").area.y == page);
    CHECK_FALSE(person.has("strip"));
    CHECK(person.has("app.undo"));
    CHECK(desk.words.next_wake_ms > 4000);
    CHECK(desk.words.next_wake_ms <= 5000);
    CHECK(person.toolkit->next_frame_in() < 0);  // until then none
    person.frames(1, 5.0);
    CHECK_FALSE(person.has("kept"));
    CHECK(person.mark("strip").area.y == strip.y);
    CHECK(person.toolkit->next_frame_in() < 0);
}

TEST_CASE("where there is no strip what was saved stands in the title's place and covers nothing that acts") {
    for (const Screen& screen : {Screen{}, on_its_side[0], Screen{.width = 820, .height = 1180}}) {
        CAPTURE(screen.width);
        Desk desk(Start::demo, screen, PlaceId::snags);
        Person& person = *desk.person;
        CHECK_FALSE(person.has("strip"));
        const ui::Area page = person.mark("header.room").area;
        desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
        CHECK_FALSE(person.has("strip"));
        person.find("room.plenum.1");
        person.tap("room.plenum.1");
        REQUIRE(person.has("kept"));
        const ui::Area kept = person.mark("kept").area;
        for (const char* key : {"header.back", "app.find", "app.undo", "header.room"})
            CHECK_FALSE(overlap(kept, person.mark(key).area));
        CHECK(person.mark("header.room").area.y == page.y);
        CHECK(person.mark("header.room").area.height >= page.height);
    }
}

TEST_CASE("a message takes its room from the end of a page without a strip, and a touch opens all of it") {
    Desk desk(Start::demo, {}, PlaceId::snags);
    Person& person = *desk.person;
    const ui::Area page = person.mark("header.room").area, foot = person.mark("snags.add").area;
    desk.app->say(ui::Tone::stop,
                  Message("The file on disk is not the one that was opened: another program wrote to it. "
                          "Close the job, look at both, and open the one that is right."));
    person.settle();
    CHECK(person.mark("header.room").area.y == page.y);
    CHECK(person.mark("snags.add").area.y == foot.y);  // nothing moves under the finger
    CHECK_FALSE(overlap(person.mark("message.0").area, foot));
    person.tap_at(120, person.mark("message.0").area.y + 20);
    CHECK(person.text("message.text").ends_with("open the one that is right."));
    person.tap("message.whole.close");
    person.tap("message.0.dismiss");
    CHECK_FALSE(person.has("message.0"));
}

TEST_CASE("there is no strip where watts do not matter") {
    for (const PlaceId place : {PlaceId::survey, PlaceId::snags, PlaceId::handover}) {
        Desk desk(Start::demo, {}, place);
        CHECK_FALSE(desk.person->has("strip"));
    }
    Desk desk(Start::demo);
    CHECK(desk.person->has("strip"));
    desk.open(ui::record_screen(desk.shared, Kind::job, job_id()));
    CHECK_FALSE(desk.person->has("strip"));
    Desk nothing(Start::nothing);
    CHECK_FALSE(nothing.person->has("strip"));
}

TEST_CASE("a window with a job that can only be read says so and offers no change") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open_for_reading();
    person.settle();
    CHECK(person.text("message.0").find("can only be read") != std::string::npos);
    person.tap("message.0.dismiss");
    CHECK_FALSE(person.has("app.undo"));
    CHECK(person.has("app.find"));
    const auto is_offered = [&](const char* key) {
        const ui::Mark* mark = person.toolkit->marks().find(key);
        return mark && mark->enabled;
    };
    CHECK_FALSE(is_offered("rooms.new"));
    desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
    for (const char* key : {"room.add", "room.same", "room.retap", "room.add_attenuator", "room.add_splice"})
        CHECK_MESSAGE(!is_offered(key), key);
    desk.open(ui::point_screen(desk.shared, desk.point("C-101").id));
    CHECK_FALSE(is_offered("point.tap.0"));
    CHECK_FALSE(is_offered("point.remove"));
    desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
    REQUIRE(person.has("room.name"));
    CHECK_FALSE(person.mark("room.name").touchable);  // shown, not typed in
    CHECK(person.text("room.name") == "Name: Foyer");
    CHECK_FALSE(is_offered("room.remove"));
    desk.open(ui::records_screen(desk.shared, Kind::zone));
    CHECK_FALSE(is_offered("zones.add"));
}

namespace {

constexpr WindowSize work_sizes[] = {{390, 844},  {844, 390},  {740, 360},  {320, 568},
                                     {820, 1180}, {1280, 800}, {1920, 1080}};
constexpr double least_share = 0.7;

// Of the window's height, what the page in front and its foot have.
double share_of_page(Desk& desk) {
    return desk.person->mark("header.room").area.height / static_cast<double>(ImGui::GetIO().DisplaySize.y);
}

}  // namespace

TEST_CASE("header, strip, notices and places together take at most 30 % of the height on every page") {
    for (const WindowSize& size : work_sizes)
        for (const PageCase& page : pages()) {
            Desk desk(Start::demo, {.width = size.width, .height = size.height}, page.place);
            page.go(desk);
            const auto check = [&](const char* when) {
                desk.person->settle();
                CHECK_MESSAGE(share_of_page(desk) >= least_share, std::string(page.name), " at ", size.width, "x",
                              size.height, ", ", std::string(when), ": ", share_of_page(desk));
            };
            check("as it is");
            desk.app->say(ui::Tone::stop, Message("A sentence that says what is wrong, where, and what would be "
                                                  "right, so long that a phone has no room for all of it."));
            check("with an error");
        }
}

TEST_CASE("on its side, on a small phone and on a tablet every page is whole") {
    for (const WindowSize& size :
         {WindowSize{844, 390}, WindowSize{740, 360}, WindowSize{320, 568}, WindowSize{820, 1180}})
        for (const PageCase& page : pages()) {
            Desk desk(Start::demo, {.width = size.width, .height = size.height}, page.place);
            page.go(desk);
            const std::vector<std::string> faults = desk.faults_down_the_page();
            CHECK_MESSAGE(faults.empty(), std::string(page.name), " at ", size.width, "x", size.height,
                          in_lines(faults));
        }
}
