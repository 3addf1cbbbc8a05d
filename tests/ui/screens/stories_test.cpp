// Working days told as tests: each does with touches, pad and keys what a person would, and looks into the job file.
#include <doctest/doctest.h>

#include <algorithm>

#include "core/units/show.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

void type_on_pad(Person& person, std::string_view figure) {
    for (const char key : figure) person.tap(std::string("pad.") + (key == '.' ? "point" : std::string(1, key)));
}

// Keeps a reading of ohms with the pad, through the question and the caution where they come.
void read_ohms(Person& person, std::string_view button, std::string_view figure) {
    person.tap(button);
    if (person.has("emergency.no")) {
        person.find("emergency.no");
        person.tap("emergency.no");
    }
    if (person.has("caution.done")) work_through(person, "caution");
    type_on_pad(person, figure);
}

// The number of the tap button with that label on a row of them.
std::string tap_button(Person& person, const std::string& row, std::string_view watts) {
    for (int i = 0; person.has(row + "." + std::to_string(i)); ++i)
        if (person.text(row + "." + std::to_string(i)).starts_with(watts)) return row + "." + std::to_string(i);
    FAIL("no tap of ", std::string(watts));
    return {};
}

void open_by_finding(Desk& desk, std::string_view typed, std::string_view name) {
    desk.person->press(ImGuiMod_Ctrl | ImGuiKey_F);
    desk.person->type(typed);
    const std::string row = "find." + desk.id(name).text();
    desk.person->find(row);
    desk.person->tap(row);
}

std::string ohms_typed(Ohms ohms) {
    char text[32];
    std::snprintf(text, sizeof text, "%.1f", ohms.value());
    return text;
}

}  // namespace

TEST_CASE("a job of three rooms is recorded from nothing to the sheet with touches and the pad alone") {
    Desk desk(Start::nothing);
    Person& person = *desk.person;
    person.find("opening.new");
    person.tap("opening.new");
    REQUIRE(desk.session);
    person.tap("place.lines");
    person.tap("lines.add");
    person.tap("place.rooms");
    for (int room = 0; room < 3; ++room) {
        person.tap("rooms.new");
        person.tap("rooms.add");  // and stands in it
        person.tap("room.add");
        person.tap(tap_button(person, "room.new.tap", "5 W"));
        person.tap("room.add");
        person.tap(tap_button(person, "room.new.tap", "10 W"));
        person.tap("room.same");
        person.tap("room.many.count.1");
        person.tap("room.many.add");
        person.press(ImGuiKey_Escape);
    }
    person.tap("place.readings");
    read_ohms(person, "readings.add", "47.6");
    person.tap("pad.keep");
    person.tap("place.handover");
    person.find("handover.owner");
    person.tap("handover.owner");
    CHECK(desk.ports.made_sheet.starts_with("<!DOCTYPE html>"));

    const Job job = desk.job_on_disk();
    CHECK(job.all<Room>().size() == 3);
    REQUIRE(job.all<Point>().size() == 12);
    CHECK(job.all<Point>()[0].tap_w == Watts(5));
    CHECK(job.all<Point>()[2].tap_w == Watts(10));
    // One line through all rooms, each fed from the one before.
    CHECK(job.all<Point>()[0].fed_from == job.all<Zone>().front().id);
    for (std::size_t i = 1; i < 12; ++i) CHECK(job.all<Point>()[i].fed_from == job.all<Point>()[i - 1].id);
    // 3 x (5 + 3 x 10) = 105 W.
    CHECK(desk.derived().zones.front().margin.load == Watts(105));
    REQUIRE(job.all<Reading>().size() == 1);
    CHECK(job.all<Reading>().front().value == 47.6);
    CHECK(desk.derived().readings.front().verdict == Verdict::agrees);
}

TEST_CASE("the next loudspeaker follows the last one whose type and feed are known, not a blank one") {
    Desk desk(Start::demo, {}, PlaceId::rooms);
    Person& person = *desk.person;
    desk.open(ui::room_screen(desk.shared, desk.id("Old wing corridor")));  // its last two have neither
    person.find("room.add");
    person.tap("room.add");
    person.tap("room.new.tap.1");
    const Point& made = desk.job().all<Point>().back();
    CHECK(made.type == desk.point("L-234").type);
    CHECK(made.fed_from == desk.id("L-234"));
}

TEST_CASE("a loudspeaker takes three touches: its room's button, its tap, and that is two") {
    Desk desk(Start::demo);
    desk.open(ui::room_screen(desk.shared, desk.id("Café")));
    const std::size_t before = desk.job().all<Point>().size();
    desk.person->tap("room.add");
    desk.person->tap("room.new.tap.1");
    REQUIRE(desk.job().all<Point>().size() == before + 1);
    const Point& made = desk.job().all<Point>().back();
    CHECK(made.type == desk.point("P-142").type);
    CHECK(made.cable == desk.point("P-142").cable);
    CHECK(made.tap_w.has_value());
    CHECK(made.fed_from.has_value());
    CHECK(desk.derived().points.back().zone == desk.job().place<Zone>(desk.id("Café and kitchen")));
}

TEST_CASE("a tap over the limit warns first, is recorded all the same, and undo brings the old one back") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    open_by_finding(desk, "P-141", "P-141");
    const std::optional<Watts> before = desk.point("P-141").tap_w;
    const SpeakerType* type = desk.job().find<SpeakerType>(*desk.point("P-141").type);
    const Watts most = *std::max_element(type->taps_w->begin(), type->taps_w->end());
    // A limit that the highest tap breaks.
    const Id zone = desk.job().all<Zone>()[desk.derived().points[*desk.job().place<Point>(desk.id("P-141"))].zone].id;
    const double load = desk.derived().zones[*desk.job().place<Zone>(zone)].margin.load.value();
    REQUIRE(desk.session
                ->request(test::command({test::set(Kind::zone, zone.text(), {{"limit_w", load + 1}})}), {"Bo Tern", {}},
                          desk.clock.next())
                .ok());
    person.settle();
    const std::string button = tap_button(person, "point.tap", show(most));
    CHECK(person.text(button).find(" over") != std::string::npos);
    person.find(button);
    person.tap(button);
    REQUIRE(person.has("point.over.why"));
    CHECK(person.text("point.over.why").find("Stop: ") == 0);
    CHECK(desk.point("P-141").tap_w == before);  // asked, not yet recorded
    person.tap("point.over.no");
    CHECK(desk.point("P-141").tap_w == before);
    person.tap(button);
    person.tap("point.over.yes");
    CHECK(desk.point("P-141").tap_w == most);
    CHECK(desk.derived().zones[*desk.job().place<Zone>(zone)].margin.over().has_value());
    person.tap("kept");  // the notice gives the strip its place back
    CHECK(person.text("strip.headroom").find("over the limit") != std::string::npos);
    person.tap("app.undo");
    CHECK(desk.point("P-141").tap_w == before);
    CHECK(desk.job_on_disk().find<Point>(desk.id("P-141"))->tap_w == before);
}

TEST_CASE("a reading a quarter low says at once how much load nobody recorded") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    const Id zone("z-3");
    person.find("readings.zone." + zone.text());
    person.tap("readings.zone." + zone.text());
    const Ohms expected = desk.derived().zones[*desk.job().place<Zone>(zone)].ohms;
    read_ohms(person, "at.add", ohms_typed(Ohms(expected.value() * 0.75)));
    CHECK(person.text("entry.verdict") == "More load");
    person.tap("entry.why");
    CHECK(person.text("entry.sentence").find("more load than recorded") != std::string::npos);
    const std::size_t before = desk.job().all<Reading>().size();
    person.tap("pad.keep");
    REQUIRE(desk.job().all<Reading>().size() == before + 1);
    CHECK(desk.derived().readings.back().verdict == Verdict::more_load);
    // A quarter less impedance draws a third more: 1 / 0.75.
    const ZoneState& state = desk.derived().zones[*desk.job().place<Zone>(zone)];
    const double recorded = state.line_v.value() * state.line_v.value() / expected.value();
    CHECK(state.margin.unrecorded.value() == doctest::Approx(recorded / 3).epsilon(0.01));
    CHECK(person.text("at.newest").find("More load") != std::string::npos);
    // The strip shows it as a block of its own.
    person.tap("kept");
    person.tap("strip");
    CHECK(person.has("load.strip.block.unrecorded"));
}

TEST_CASE("before the first reading on each line come the cautions, once") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    person.tap("readings.add");
    CHECK(person.text("caution.0").find("fire, voice-alarm or emergency line") != std::string::npos);
    work_through(person, "caution");
    type_on_pad(person, "100");
    person.tap("pad.keep");
    person.tap("readings.add");
    CHECK_FALSE(person.has("caution.0"));
    CHECK(person.has("pad.keep"));
    person.tap("entry.close");
    // Another line may be live.
    const Zone* hand = desk.shared.zone_in_hand(desk.job());
    const auto zones = desk.job().all<Zone>();
    const auto other = std::find_if(zones.begin(), zones.end(), [&](const Zone& zone) { return zone.id != hand->id; });
    REQUIRE(other != zones.end());
    desk.shared.zone = other->id;
    person.tap("readings.add");
    CHECK(person.has("caution.0"));
}

// The budget of a reading, in touches with the pad alone. Who raises it says why.
TEST_CASE("a reading costs eleven touches on a new line, six on the same, and putting the line back four") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-3");
    const auto touches_of = [&](const auto& act) {
        const int before = person.touches();
        act();
        return person.touches() - before;
    };
    // The key, five steps, all done, three digits, save.
    CHECK(touches_of([&] {
              read_ohms(person, "readings.add", "433");
              person.tap("pad.keep");
          }) == 11);
    // The key, disconnected, three digits, save.
    CHECK(touches_of([&] {
              read_ohms(person, "readings.add", "434");
              person.tap("entry.state.1");
              person.tap("pad.keep");
          }) == 6);
    CHECK(desk.job().all<Reading>().back().isolated == true);
    CHECK(touches_of([&] { work_through(person, "readings.reconnect.z-3"); }) == 4);
    CHECK_FALSE(desk.job().find<Zone>(Id("z-3"))->disconnected.has_value());
    // The next line begins at its own first step, and has attenuators to tell of.
    desk.shared.zone = Id("z-2");
    CHECK(touches_of([&] {
              read_ohms(person, "readings.add", "604");
              person.tap("pad.keep");
          }) == 11);
}

TEST_CASE("that the line was disconnected is asked anew for each reading") {
    Desk desk(Start::demo, {}, PlaceId::readings);
    Person& person = *desk.person;
    read_ohms(person, "readings.add", "100");
    CHECK(person.text("entry.state.1").ends_with(", chosen"));
    person.tap("pad.keep");
    CHECK(desk.job().all<Reading>().back().isolated == true);
    read_ohms(person, "readings.add", "101");
    CHECK_FALSE(person.text("entry.state.1").ends_with(", chosen"));
    person.tap("pad.keep");
    CHECK_FALSE(desk.job().all<Reading>().back().isolated.has_value());
}

TEST_CASE("a reading comes before any amplifier, zone or type") {
    Desk desk(Start::empty_job, {}, PlaceId::readings);
    read_ohms(*desk.person, "readings.add", "83.3");
    desk.person->tap("pad.keep");
    REQUIRE(desk.job().all<Reading>().size() == 1);
    CHECK(desk.job().all<Zone>().size() == 1);
    CHECK(desk.job().all<Reading>().front().at == desk.job().all<Zone>().front().id);
}

TEST_CASE("a label is found by typing and its feed corrected by picking another") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    const Id from = desk.id("C-121");
    REQUIRE(desk.point("C-126").fed_from != from);
    open_by_finding(desk, "126", "C-126");
    person.find("point.fed_from");
    person.tap("point.fed_from");
    person.type("C-121");
    person.find("pick." + from.text());
    person.tap("pick." + from.text());
    CHECK(desk.point("C-126").fed_from == from);
    CHECK(desk.job_on_disk().find<Point>(desk.id("C-126"))->fed_from == from);
}

TEST_CASE("a feed that would close a loop is refused with a sentence, and nothing changes") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    const std::optional<Id> before = desk.point("C-121").fed_from;
    open_by_finding(desk, "C-121", "C-121");
    person.find("point.fed_from");
    person.tap("point.fed_from");
    person.type("C-122");
    person.find("pick." + desk.id("C-122").text());
    person.tap("pick." + desk.id("C-122").text());
    CHECK(desk.point("C-121").fed_from == before);
    CHECK(person.has("message.0"));
    CHECK(person.text("message.0").find("C-121") != std::string::npos);
}

TEST_CASE("a room planned on paper is recorded as planned in one touch") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open(ui::room_screen(desk.shared, desk.id("Workshop")));
    person.find("room.retap");
    person.tap("room.retap");
    person.find("room.all.planned");
    person.tap("room.all.planned");
    for (const Point& point : desk.job().all<Point>())
        if (point.room == desk.id("Workshop") && point.planned_tap_w) CHECK(point.tap_w == point.planned_tap_w);
}

TEST_CASE("everything a tap needs can be done from the keyboard") {
    Desk desk(Start::demo, {.width = 1280, .height = 800});
    Person& person = *desk.person;
    open_by_finding(desk, "C-101", "C-101");
    const std::optional<Watts> before = desk.point("C-101").tap_w;
    const std::string wanted = before == Watts(2.5) ? "point.tap.0" : "point.tap.1";
    for (int presses = 0; presses < 60 && person.focused() != wanted; ++presses) person.press(ImGuiKey_Tab);
    REQUIRE(person.focused() == wanted);
    person.press(ImGuiKey_Enter);
    CHECK(desk.point("C-101").tap_w != before);
    person.press(ImGuiMod_Ctrl | ImGuiKey_Z);
    CHECK(desk.point("C-101").tap_w == before);
}

TEST_CASE("tracing ticks who sounds, and finds one that nobody had recorded") {
    Desk desk(Start::demo, {}, PlaceId::survey);
    Person& person = *desk.person;
    desk.shared.zone = desk.id("Old wing");
    person.find("survey.trace");
    person.tap("survey.trace");
    const Id untraced = desk.id("L-237");
    person.find("trace." + untraced.text());
    person.tap("trace." + untraced.text());
    CHECK(desk.point("L-237").fed_from == desk.id("Old wing"));
    const std::size_t before = desk.job().all<Point>().size();
    const std::string found = "trace.found." + desk.id("Old wing corridor").text();
    person.find(found);
    person.tap(found);
    REQUIRE(desk.job().all<Point>().size() == before + 1);
    CHECK(desk.job().all<Point>().back().origin == Origin::existing);
}

TEST_CASE("of forty types side by side exactly the chosen one is marked") {
    Desk desk(Start::empty_job);
    ChangeList changes = {
        test::add(Kind::room, "r1", {{"name", "Hall"}, {"length_m", 8.0}, {"width_m", 6.0}, {"height_m", 3.0}}),
        test::add(Kind::zone, "z1", {{"name", "Zone 1"}})};
    for (int i = 0; i < 40; ++i)
        changes.push_back(test::add(Kind::speaker_type, "t" + std::to_string(i),
                                    {{"name", "Type " + std::to_string(i)}, {"taps_w", List{5.0}}}));
    REQUIRE(desk.session->request(test::command(changes), {"Ada Quill", {}}, desk.clock.next()).ok());
    desk.open(ui::room_survey_screen(desk.shared, Id("r1")));
    int chosen = 0;
    for (int i = 0; i < 40; ++i)
        chosen += desk.person->text("survey.type." + std::to_string(i)).find(", chosen") != std::string::npos;
    CHECK(chosen == 1);
}

TEST_CASE("a photo dropped after its page was left goes to nobody, and that is said") {
    Desk desk(Start::demo);
    const std::vector<std::pair<Id, std::string>>& taken = desk.ports.photos_asked;
    desk.open(ui::photos_screen(desk.shared, desk.id("Foyer")));
    desk.app->files_dropped({"door.jpg"});
    REQUIRE(taken.size() == 1);
    CHECK(taken.front().first == desk.id("Foyer"));
    desk.person->press(ImGuiKey_Escape);
    desk.app->files_dropped({"door.jpg"});
    desk.person->settle();
    CHECK(taken.size() == 1);
    CHECK(desk.person->text("message.0").find("Photos page") != std::string::npos);
}
