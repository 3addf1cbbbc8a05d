// Every page as somebody hears it who does not see: headings, names, values, and acting by name.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "tests/ui/screens/desk.h"
#include "tests/ui/screens/pages.h"
#include "ui/screens/common/places.h"

namespace tapwright::tests::listening {
using ui::Mark;
using ui::PlaceId;
using ui::Role;

namespace {

const ui::Marks& marks(Desk& desk) {
    return desk.person->toolkit->marks();
}

// What is in reach: nothing behind a dialog.
std::vector<Mark> heard(Desk& desk) {
    std::vector<Mark> all;
    for (const Mark& mark : marks(desk).reading())
        if (!marks(desk).is_behind(mark) && mark.role != Role::none) all.push_back(mark);
    return all;
}

bool is_field(const Mark& mark) {
    return mark.role == Role::text_field || mark.role == Role::number_field;
}

// Choices are told apart within what they are about, everything else within the page, the list beside it, the line.
std::string called(const ui::Marks& marks, const Mark& mark) {
    return marks.part_name(mark) + "|" + marks.group_name(mark) + "|" + mark.said() + "|" +
           std::string(word(mark.role));
}

std::vector<std::string> faults_heard(Desk& desk) {
    std::vector<std::string> faults;
    std::map<std::string, std::string> names;
    int first_headings = 0;
    for (const Mark& mark : heard(desk)) {
        if (mark.role == Role::heading && mark.level == 1) ++first_headings;
        if (mark.role == Role::heading && (mark.level < 1 || mark.level > 3))
            faults.push_back(mark.name + " is a heading without a level");
        if (mark.said().empty() && !(mark.name == "pad.value")) faults.push_back(mark.name + " has no name");
        if (is_field(mark) && mark.label.empty()) faults.push_back(mark.name + " is a field without a label");
        if (is_field(mark) && mark.value != mark.text) faults.push_back(mark.name + " does not say what stands in it");
        // What people gave the same words is listed as they did.
        if (!mark.touchable || !mark.enabled || mark.name.starts_with("photo.")) continue;
        const auto [before, is_new] = names.emplace(called(marks(desk), mark), mark.name);
        if (!is_new) faults.push_back(mark.name + " is called like " + before->second + ": " + mark.said());
    }
    for (const Mark& mark : marks(desk).all())
        if (mark.touchable && mark.enabled && mark.role == Role::none) faults.push_back(mark.name + " has no role");
    if (first_headings != 1) faults.push_back(std::to_string(first_headings) + " headings of the first level");
    return faults;
}

void act(Desk& desk, bool done) {
    REQUIRE(done);
    desk.person->settle();
}

void tap(Desk& desk, std::string_view name) {
    INFO(std::string(name));
    act(desk, desk.person->toolkit->hand().tap(marks(desk), name));
}

void write(Desk& desk, std::string_view name, std::string_view text) {
    act(desk, desk.person->toolkit->hand().write(marks(desk), name, text));
}

void leave(Desk& desk) {
    desk.person->toolkit->hand().leave();
    desk.person->settle();
}

std::string focused(Desk& desk) {
    for (const Mark& mark : marks(desk).all())
        if (marks(desk).is_focused(mark)) return mark.name;
    return {};
}

bool says(Desk& desk, std::string_view words) {
    const std::vector<Mark> all = heard(desk);
    return std::any_of(all.begin(), all.end(),
                       [&](const Mark& mark) { return mark.said().find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("every page can be read without being seen") {
    for (const WindowSize& size : {WindowSize{390, 844}, WindowSize{844, 390}, WindowSize{1280, 800}})
        for (const PageCase& page : pages()) {
            Desk desk(Start::demo, {.width = size.width, .height = size.height}, page.place);
            page.go(desk);
            const std::vector<std::string> faults = faults_heard(desk);
            CHECK_MESSAGE(faults.empty(), std::string(page.name), " at ", size.width, in_lines(faults));
        }
}

TEST_CASE("what is written on a page is read, once, and in its order") {
    for (const PageCase& page : pages()) {
        Desk desk(Start::demo, {.width = 390, .height = 844}, page.place);
        page.go(desk);
        const std::vector<Mark> all = marks(desk).reading();
        for (const ui::TextPiece& piece : marks(desk).texts()) {
            if (piece.full.size() < 2 || piece.shortened) continue;
            // A figure with its unit beside it is said in one, a label with its value.
            const bool is_read = std::any_of(all.begin(), all.end(), [&](const Mark& mark) {
                const bool is_around = mark.window == piece.window && piece.area.x + 1 >= mark.area.x &&
                                       piece.area.y + piece.area.height / 2 >= mark.area.y &&
                                       piece.area.y + piece.area.height / 2 <= mark.area.y + mark.area.height;
                return is_around || mark.said().find(piece.full) != std::string::npos ||
                       mark.hint.find(piece.full) != std::string::npos || mark.problem == piece.full;
            });
            CHECK_MESSAGE(is_read, std::string(page.name), " does not read out: ", piece.full);
        }
        std::set<std::string> texts;
        int parts_back = 0;
        ui::PartKind before = ui::PartKind::window;
        for (const Mark& mark : all) {
            if (marks(desk).part_kind(mark) < before) ++parts_back;
            before = marks(desk).part_kind(mark);
        }
        CHECK(parts_back == 0);
    }
}

TEST_CASE("headings, places and verdicts are what they are") {
    Desk desk(Start::demo, {.width = 390, .height = 844}, PlaceId::readings);
    const Mark title = desk.person->mark("header.title");
    CHECK(title.role == Role::heading);
    CHECK(title.level == 1);
    CHECK(title.said() == "Readings");
    const Mark place = desk.person->mark("place.readings");
    CHECK(place.role == Role::place);
    CHECK(place.is_on);
    CHECK(place.said() == "Readings");
    CHECK_FALSE(desk.person->mark("place.rooms").is_on);
    tap(desk, "readings.add");
    CHECK(marks(desk).is_behind(desk.person->mark("header.title")));
    CHECK_FALSE(desk.person->toolkit->hand().tap(marks(desk), "place.rooms"));
    work_through(*desk.person, "caution");
    CHECK(desk.person->mark("entry.title").role == Role::heading);
    for (const char* key : {"pad.6", "pad.1", "pad.point", "pad.5"}) tap(desk, key);
    const Mark verdict = desk.person->mark("entry.verdict");
    CHECK(verdict.role == Role::status);
    CHECK(verdict.said().find(verdict.text) == 0);
    CHECK(verdict.said().size() > verdict.text.size());
    CHECK(desk.person->mark("pad.value").said() == "61.5 Ω");
}

TEST_CASE("choices say what they are about and which one is chosen") {
    Desk desk(Start::demo, {.width = 390, .height = 844}, PlaceId::rooms);
    desk.open(ui::point_screen(desk.shared, desk.id("C-104")));
    const std::vector<Mark> all = heard(desk);
    int chosen = 0;
    for (const Mark& mark : all)
        if (mark.role == Role::choice && marks(desk).group_name(mark) == "point.tap") {
            chosen += mark.is_on ? 1 : 0;
            CHECK(mark.said().find("chosen") == std::string::npos);
            CHECK_FALSE(mark.hint.empty());
        }
    CHECK(chosen == 1);
}

TEST_CASE("a field is written into by its name, and kept when it is left") {
    Desk desk(Start::demo, {.width = 390, .height = 844}, PlaceId::rooms);
    desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
    const std::vector<Mark> all = heard(desk);
    const auto field =
        std::find_if(all.begin(), all.end(), [](const Mark& mark) { return mark.value == "Foyer" && is_field(mark); });
    REQUIRE(field != all.end());
    const std::string name = field->name;
    write(desk, name, "Entrée, größer");
    CHECK(desk.person->mark(name).value == "Entrée, größer");
    CHECK(focused(desk) == name);
    CHECK(desk.job().find<Room>(Id("r-foyer"))->name == "Foyer");
    leave(desk);
    CHECK(desk.job().find<Room>(Id("r-foyer"))->name == "Entrée, größer");
    write(desk, name, "");
    CHECK(desk.person->mark(name).value.empty());
    write(desk, name, "Foyer");
    tap(desk, "header.back");
    CHECK(desk.job_on_disk().find<Room>(Id("r-foyer"))->name == "Foyer");
}

TEST_CASE("what was refused is said with its field") {
    Desk desk(Start::demo, {.width = 390, .height = 844}, PlaceId::rooms);
    desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
    std::string name;
    for (const Mark& mark : heard(desk))
        if (mark.role == Role::number_field && name.empty()) name = mark.name;
    REQUIRE_FALSE(name.empty());
    write(desk, name, "many");
    leave(desk);
    CHECK_FALSE(desk.person->mark(name).problem.empty());
}

TEST_CASE("the focus goes to what is named, far down the page as well, and is told") {
    Desk desk(Start::demo, {.width = 390, .height = 844}, PlaceId::rooms);
    std::string last;
    for (const Mark& mark : marks(desk).all())
        if (mark.role == Role::row && mark.enabled) last = mark.name;
    REQUIRE_FALSE(last.empty());
    REQUIRE_FALSE(desk.person->sees(last));
    tap(desk, "place.rooms");  // drawn after the page
    CHECK(focused(desk) == "place.rooms");
    act(desk, desk.person->toolkit->hand().focus(marks(desk), last));
    CHECK(focused(desk) == last);
    CHECK(desk.person->sees(last));
    tap(desk, last);
    CHECK(desk.app->depth() == 2);
}

TEST_CASE("the first story goes by names alone: a room, its loudspeakers, a snag") {
    Desk desk(Start::demo, {.width = 390, .height = 844}, PlaceId::rooms);
    tap(desk, "rooms.new");
    std::string name;
    for (const Mark& mark : heard(desk))
        if (mark.role == Role::text_field && name.empty()) name = mark.name;
    write(desk, name, "Winter garden");
    const std::vector<Mark> all = heard(desk);
    const auto add = std::find_if(all.begin(), all.end(), [](const Mark& mark) {
        return mark.role == Role::button && mark.enabled && mark.said().find("Add") == 0;
    });
    REQUIRE(add != all.end());
    tap(desk, add->name);
    CHECK(says(desk, "Winter garden"));
    CHECK_NOTHROW(desk.id("Winter garden"));
}

}  // namespace tapwright::tests::listening
