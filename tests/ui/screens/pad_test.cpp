// The page with the pad: empty each time, its keys in one place whatever is typed and said, and a line tested in one
// go.
#include <doctest/doctest.h>

#include <cstdio>
#include <map>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

constexpr Screen pad_screens[] = {{.width = 390, .height = 844},  {.width = 320, .height = 568},
                                  {.width = 844, .height = 390},  {.width = 740, .height = 360},
                                  {.width = 820, .height = 1180}, {.width = 1280, .height = 800}};

const char* const keys_of_the_pad[] = {"pad.0", "pad.1", "pad.2", "pad.3",     "pad.4",     "pad.5",     "pad.6",
                                       "pad.7", "pad.8", "pad.9", "pad.point", "pad.erase", "pad.value", "pad.keep"};

bool is_chosen(Person& person, const std::string& name) {
    return person.text(name).ends_with(", chosen");
}

void enter_on_pad(Person& person, std::string_view figure) {
    for (const char key : figure) person.tap(std::string("pad.") + (key == '.' ? "point" : std::string(1, key)));
}

std::map<std::string, ui::Area> areas_of_keys(Person& person) {
    std::map<std::string, ui::Area> areas;
    for (const char* key : keys_of_the_pad) areas[key] = person.mark(key).area;
    return areas;
}

std::string moved(const std::map<std::string, ui::Area>& before, const std::map<std::string, ui::Area>& now) {
    std::string text;
    for (const auto& [key, was] : before) {
        const ui::Area& is = now.at(key);
        if (is.x != was.x || is.y != was.y || is.width != was.width || is.height != was.height) text += key + " ";
    }
    return text;
}

std::string as_typed(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.1f", value);
    return text;
}

// Opens the pad for a reading of ohms at that zone, its steps ticked off.
void begin_reading(Desk& desk, const char* zone) {
    desk.shared.zone = Id(zone);
    desk.person->tap("readings.add");
    if (desk.person->has("caution.done")) work_through(*desk.person, "caution", true);
}

const Reading& last_reading(const Desk& desk) {
    return desk.job().all<Reading>().back();
}

int touches_for(Person& person, const auto& act) {
    const int before = person.touches();
    act();
    return person.touches() - before;
}

}  // namespace

TEST_CASE("the next reading begins without the last one's figure, without disconnected and without full") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    begin_reading(desk, "z-2");
    REQUIRE(is_chosen(person, "entry.state.1"));
    REQUIRE(is_chosen(person, "entry.state.3"));
    enter_on_pad(person, "498");
    const auto is_empty = [&] {
        for (const char* state : {"entry.state.0", "entry.state.1", "entry.state.2", "entry.state.3"})
            CHECK_FALSE(is_chosen(person, state));
        CHECK(person.text("pad.value").empty());
        CHECK_FALSE(person.mark("pad.keep").enabled);
        CHECK_FALSE(person.has("entry.verdict"));
    };
    SUBCASE("after it was closed unsaved") {
        person.tap("entry.close");
        person.tap("readings.add");
        is_empty();
    }
    SUBCASE("after it was saved") {
        person.tap("pad.keep");
        person.tap("readings.add");
        is_empty();
    }
    SUBCASE("after another line was chosen") {
        person.press(ImGuiKey_Escape);
        desk.shared.zone = Id("z-3");
        person.tap("readings.add");
        work_through(person, "caution");
        CHECK(person.text("pad.value").empty());
    }
    SUBCASE("after another quantity was chosen and this one again") {
        person.tap("entry.quantity.level_dba");
        work_through(person, "caution");
        CHECK(person.text("pad.value").empty());
        enter_on_pad(person, "71");
        person.tap("entry.quantity.ohms");
        is_empty();
    }
    CHECK(desk.job().all<Reading>().size() >= 1);
}

TEST_CASE("the pad's keys stay where they are before the first digit, after it and with each kind of verdict") {
    for (const Screen& screen : pad_screens) {
        Desk desk(Start::demo, screen, PlaceId::readings);
        Person& person = *desk.person;
        begin_reading(desk, "z-2");
        const std::map<std::string, ui::Area> before = areas_of_keys(person);
        const std::string size = std::to_string(static_cast<int>(screen.width));
        const double expected = desk.derived().zones[*desk.job().place<Zone>(Id("z-2"))].ohms.value();
        const auto check = [&](const std::string& typed, const std::string& verdict) {
            person.type(typed);
            CHECK_MESSAGE(moved(before, areas_of_keys(person)).empty(), size, " with ", typed);
            if (!verdict.empty()) CHECK_MESSAGE(person.text("entry.verdict") == verdict, size);
            for (std::size_t i = 0; i < typed.size(); ++i) person.press(ImGuiKey_Backspace);
            CHECK_MESSAGE(moved(before, areas_of_keys(person)).empty(), size, " emptied after ", typed);
        };
        check("1", "Short circuit");
        check(as_typed(expected * 0.6), "More load");
        check(as_typed(expected * 1.7), "Less load");
        check("900000", "Open line");
        // Attenuators full, as ticked: what is expected then matches.
        const std::string band = person.text("entry.band");
        const std::size_t digit = band.find_first_of("0123456789");
        check(band.substr(digit, band.find(' ', digit) - digit), "Matches record");
        person.type("61");
        person.tap("entry.why");
        CHECK_MESSAGE(moved(before, areas_of_keys(person)).empty(), size, " with the reasons");
        CHECK(person.has("entry.sentence"));
        person.tap("entry.why");
        CHECK_FALSE(person.has("entry.sentence"));
        // Another quantity, with the verdict that says most.
        person.tap("entry.quantity.stray_v");
        work_through(person, "caution");
        CHECK_MESSAGE(moved(before, areas_of_keys(person)).empty(), size, " in volts");
        check("0.2", "Low enough for the meter");
        check("48", "Treat the line as live");
    }
}

TEST_CASE("every key of the pad and Save are in sight without scrolling, upright and in landscape") {
    for (const Screen& screen : pad_screens)
        for (const bool is_typed : {false, true}) {
            Desk desk(Start::demo, screen, PlaceId::readings);
            Person& person = *desk.person;
            begin_reading(desk, "z-2");
            desk.app->say(ui::Tone::stop, Message("A sentence that says what is wrong, where, and what is right."));
            person.frames(2);
            if (is_typed) person.type("61.5");
            for (const char* key : keys_of_the_pad) {
                const ui::Mark mark = person.mark(key);
                const bool is_whole =
                    mark.shown.width >= mark.area.width - 1 && mark.shown.height >= mark.area.height - 1;
                CHECK_MESSAGE(is_whole, std::string(key), " at ", screen.width, "x", screen.height);
                CHECK(mark.area.x >= 0);
                CHECK(mark.area.y + mark.area.height <= screen.height);
            }
            CHECK(person.sees("entry.band"));
            CHECK(person.sees("entry.close"));
            if (screen.height >= 500) continue;  // upright: the keys below; in landscape beside what is expected
            CHECK(person.mark("pad.7").area.x >
                  person.mark("entry.band").area.x + person.mark("entry.band").area.width);
        }
}

TEST_CASE("the_pad_said_an_exact_impedance_with_all_connected_where_a_planned_tap_is_not_known") {
    using test::add;
    const auto loudspeaker = [](const char* id, const Map& fields) {
        Map all = {{"kind", "speaker"}, {"fed_from", "z"}, {"cable", "k"}, {"length_m", 1.0}};
        all.insert(all.end(), fields.begin(), fields.end());
        return add(Kind::point, id, all);
    };
    const ChangeList changes = {test::set(Kind::job, "job", {{"name", "Mill House"}, {"line_v", 70.7}}),
                                add(Kind::zone, "z", {{"name", "Inside"}, {"limit_w", 100.0}, {"emergency", "no"}}),
                                add(Kind::cable_type, "k", {{"name", "Pair"}, {"awg", 18.0}}),
                                loudspeaker("p1", {{"label", "L-1"}, {"tap_w", 10.0}}),
                                loudspeaker("p2", {{"label", "L-2"}, {"state", "planned"}, {"planned_tap_w", 10.0}}),
                                loudspeaker("p3", {{"label", "L-3"}, {"state", "planned"}})};
    Desk desk(changes, {390, 844}, PlaceId::readings);
    begin_reading(desk, "z");
    const std::string band = desk.person->text("entry.band");
    CHECK_MESSAGE(band.find("; at most 250 Ω once all is connected") != std::string::npos, band);
}

TEST_CASE("each quantity is one touch away and in sight, stray volts first") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    begin_reading(desk, "z-2");
    const ui::Mark first = person.mark("entry.quantity.stray_v");
    for (std::size_t i = 0; i < ChoiceWords<Measured>::words.size(); ++i) {
        const auto quantity = static_cast<Measured>(i);
        if (quantity == Measured::tap_w) continue;  // of a loudspeaker
        const std::string name = "entry.quantity." + std::string(word(quantity));
        CHECK(person.sees(name));
        const ui::Area area = person.mark(name).area;
        CHECK((area.y > first.area.y || area.x >= first.area.x));
        CHECK(is_chosen(person, name) == (quantity == Measured::ohms));
    }
}

TEST_CASE("the key of the decimal mark is the language's own, and the figure is written with it") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    Language with_comma = english();
    with_comma.decimal_mark = ",";
    person.toolkit->preferences.language = &with_comma;
    begin_reading(desk, "z-2");
    enter_on_pad(person, "61.5");
    const auto is_written = [&](std::string_view text) {
        for (const ui::TextPiece& piece : person.toolkit->marks().texts())
            if (piece.full == text) return true;
        return false;
    };
    CHECK(is_written(","));
    CHECK_FALSE(is_written("."));
    CHECK(is_written("61,5"));
    person.tap("pad.keep");
    CHECK(last_reading(desk).value == 61.5);
    person.toolkit->preferences.language = &english();
    person.frames(2);
}

TEST_CASE("a line is tested in one go: stray volts and ohms cost four touches beside digits and cautions") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    const std::size_t before = desk.job().all<Reading>().size();
    int touches = touches_for(person, [&] {
        person.tap("readings.zone.z-2");
        person.tap("at.test");
    });
    work_through(person, "caution", true);
    CHECK(person.text("entry.quantity.stray_v").ends_with(", chosen"));
    enter_on_pad(person, "0.1");
    touches += touches_for(person, [&] { person.tap("pad.keep"); });
    CHECK(person.text("entry.quantity.ohms").ends_with(", chosen"));
    CHECK(person.text("pad.value").empty());
    CHECK(is_chosen(person, "entry.state.1"));
    CHECK(is_chosen(person, "entry.state.3"));
    enter_on_pad(person, "69.4");
    touches += touches_for(person, [&] { person.tap("pad.keep"); });
    CHECK(touches <= 5);
    REQUIRE(desk.job().all<Reading>().size() == before + 2);
    CHECK(desk.job().all<Reading>()[before].quantity == Measured::stray_v);
    CHECK_FALSE(desk.job().all<Reading>()[before].isolated.has_value());
    CHECK(last_reading(desk).quantity == Measured::ohms);
    CHECK(last_reading(desk).isolated == true);
    CHECK(last_reading(desk).knobs.has_value());
    // Then insulation, with steps of its own; typed in megohms.
    CHECK(person.text("caution.3").find("everything electronic") != std::string::npos);
    work_through(person, "caution");
    CHECK(person.text("entry.quantity.earth_ohms").ends_with(", chosen"));
    enter_on_pad(person, "0.4");
    CHECK(person.text("entry.verdict") == "Low");
    person.tap("pad.erase");
    enter_on_pad(person, "5");
    person.tap("pad.erase");
    person.tap("pad.erase");
    person.tap("pad.erase");
    enter_on_pad(person, "50");
    CHECK(person.text("entry.verdict") == "As it should be");
    person.tap("pad.keep");
    CHECK(last_reading(desk).quantity == Measured::earth_ohms);
    CHECK(last_reading(desk).value == 50e6);
    CHECK_FALSE(person.has("pad.keep"));
    // What was confirmed is set in no other reading.
    person.tap("at.add");
    CHECK_FALSE(is_chosen(person, "entry.state.1"));
    CHECK_FALSE(is_chosen(person, "entry.state.3"));
}

TEST_CASE("volts on the line end its test, and are said") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-2");
    person.tap("readings.test");
    work_through(person, "caution");
    enter_on_pad(person, "48");
    person.tap("pad.keep");
    CHECK(last_reading(desk).value == 48);
    CHECK_FALSE(person.has("pad.keep"));
    CHECK_FALSE(person.has("caution.0"));
    CHECK(person.text("message.0").find("treat the line as live") != std::string::npos);
}

TEST_CASE("a test begins with its steps each time, and what they confirmed is not kept for later") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-2");
    person.tap("readings.test");
    work_through(person, "caution", true);
    person.tap("entry.close");
    person.tap("readings.add");
    CHECK_FALSE(is_chosen(person, "entry.state.1"));
    person.tap("entry.close");
    person.tap("readings.test");
    CHECK(person.has("caution.0"));
    CHECK_FALSE(person.text("caution.0").ends_with(", done"));
    // A step may be passed over, and what was confirmed holds for the ohms.
    work_through(person, "caution", true);
    person.tap("entry.quantity.ohms");
    CHECK(is_chosen(person, "entry.state.1"));
    person.tap("entry.quantity.stray_v");
    work_through(person, "caution");
    person.tap("entry.quantity.ohms");
    CHECK_FALSE(is_chosen(person, "entry.state.1"));
}

TEST_CASE("a reading that does not fit leads to where its fault is sought, and the pad there opens what is asked for") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-3");
    person.tap("readings.zone.z-3");
    person.tap("at.add");
    work_through(person, "caution");
    enter_on_pad(person, as_typed(0.75 * desk.derived().zones[*desk.job().place<Zone>(Id("z-3"))].ohms.value()));
    person.tap("pad.keep");
    CHECK(person.text("at.verdict").ends_with("Next: find the fault."));
    CHECK(person.text("at.find") == "Find the fault: Great hall");
    const int touches = touches_for(person, [&] {
        person.find("at.find");
        person.tap("at.find");
    });
    CHECK(touches == 1);
    if (person.has("fault.measure")) {
        const std::string asked = person.text("fault.measure");
        person.tap("fault.measure");
        CHECK(person.text("pad.value").empty());
        enter_on_pad(person, "60");
        person.tap("pad.keep");
        CHECK("Measure at " + name_of(desk.job(), *last_reading(desk).at) == asked);
        CHECK(person.text("header.title") == "Find the fault: Great hall");  // back on the page, with the new chances
    } else {
        CHECK(person.has("fault.next"));
    }
    // Also from the list of lines.
    person.press(ImGuiKey_Escape);
    person.press(ImGuiKey_Escape);
    CHECK(person.has("readings.find.z-3"));
}

TEST_CASE("a point's page has its readings, takes the next one, and leads to with and without") {
    Desk desk(Start::demo, {}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::point_screen(desk.shared, desk.id("C-121")));
    person.find("point.measure");
    person.tap("point.measure");
    if (person.has("caution.done")) work_through(person, "caution");
    enter_on_pad(person, "64");
    person.tap("pad.keep");
    CHECK(last_reading(desk).at == desk.id("C-121"));
    person.find("point.reading." + last_reading(desk).id.text());
    CHECK(person.text("point.reading." + last_reading(desk).id.text()).find("64 Ω") != std::string::npos);
    person.find("point.find_tap");
    person.tap("point.find_tap");
    CHECK(person.has("find_tap.with"));
}

TEST_CASE("Previous and Next on a point's page lead past all points in walking order") {
    Desk desk(Start::demo, {}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::point_screen(desk.shared, desk.id("C-121")));
    const std::size_t depth = desk.app->depth();
    const std::string first = person.text("header.title");
    person.tap("point.next");
    const std::string second = person.text("header.title");
    CHECK(second != first);
    CHECK(desk.app->depth() == depth);  // beside it, not above it
    person.tap("point.before");
    CHECK(person.text("header.title") == first);
    std::size_t passed = 1;
    while (person.mark("point.before").enabled) person.tap("point.before");
    while (person.mark("point.next").enabled) {
        person.tap("point.next");
        passed += 1;
    }
    CHECK(passed == desk.job().all<Point>().size());
}
