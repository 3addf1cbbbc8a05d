// Before the first hole, and years after the last: a room surveyed, and loudspeakers added to a zone that is full.
#include <doctest/doctest.h>

#include <map>
#include <set>

#include "core/findings/findings.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/lines/trials.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

const Id full_zone("z-2");  // of the demo job: into its reserve

// A new trial with four more loudspeakers for the full zone, up to the page that shows how.
void ask_for_four(Desk& desk) {
    desk.shared.zone = full_zone;
    desk.open(ui::trials_screen(desk.shared));
    desk.person->tap("trials.new");
    desk.person->tap("trial.add");
    desk.person->tap("trial.more.speakers");
    for (int i = 0; i < 3; ++i) {
        desk.person->find("adding.count.more");
        desk.person->tap("adding.count.more");
    }
}

const ZoneState& zone_state(const Desk& desk) {
    return desk.derived().zones[*desk.job().place<Zone>(full_zone)];
}

std::map<std::string, std::optional<Watts>> taps_of(const Desk& desk) {
    std::map<std::string, std::optional<Watts>> taps;
    for (const Point& point : desk.job().all<Point>())
        if (point.label) taps.emplace(*point.label, point.tap_w);
    return taps;
}

}  // namespace

TEST_CASE("a room is surveyed from sizes and noise to planned points") {
    Desk desk(Start::demo, {}, PlaceId::survey);
    Person& person = *desk.person;
    const std::size_t before = desk.job().all<Point>().size();
    desk.open(ui::room_survey_screen(desk.shared, desk.id("Foyer")));
    person.find("survey.answer");
    const std::string answer = person.text("survey.answer");
    CHECK(answer.find("W in all") != std::string::npos);
    CHECK(person.has("survey.map"));
    person.tap("survey.keep");
    REQUIRE(desk.job().all<Point>().size() > before);
    const Point& planned = desk.job().all<Point>().back();
    CHECK(planned.planned_tap_w.has_value());
    CHECK_FALSE(planned.tap_w.has_value());
    CHECK(planned.room == desk.id("Foyer"));
    CHECK(planned.x_m.has_value());
    // One step, one undo.
    person.tap("app.undo");
    CHECK(desk.job().all<Point>().size() == before);
}

TEST_CASE("a room without its height says what is missing, and takes it in place") {
    Desk desk(Start::empty_job, {}, PlaceId::rooms);
    Person& person = *desk.person;
    REQUIRE(desk.session
                ->request(
                    test::command({test::add(Kind::room, "r1", {{"name", "Hall"}, {"length_m", 8.0}, {"width_m", 6.0}}),
                                   test::add(Kind::zone, "z1", {{"name", "Zone 1"}, {"limit_w", 100.0}}),
                                   test::add(Kind::speaker_type, "t1",
                                             {{"name", "Ceiling"},
                                              {"taps_w", List{2.5, 5.0, 10.0}},
                                              {"sens_db", 88.0},
                                              {"cone_deg", 100.0}})}),
                    {"Ada Quill", {}}, desk.clock.next())
                .ok());
    desk.open(ui::room_survey_screen(desk.shared, Id("r1")));
    CHECK(person.text("survey.problem").find("height") != std::string::npos);
    person.find("survey.room.height_m");
    person.tap("survey.room.height_m");
    person.type("2.8");
    person.press(ImGuiKey_Enter);
    CHECK(desk.job().find<Room>(Id("r1"))->height_m == Metres(2.8));
}

TEST_CASE("a full zone makes room for four more: tried, made real in one step, and taken back in one") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    const std::size_t points = desk.job().all<Point>().size(), trials = desk.job().all<Trial>().size();
    const Watts load = zone_state(desk).margin.load;
    REQUIRE(*zone_state(desk).margin.headroom < Watts(0));
    ask_for_four(desk);
    person.find("adding.option.fewest");
    person.tap("adding.option.fewest");
    // Nothing real has changed; the strip shows what would be.
    CHECK(desk.job().all<Point>().size() == points);
    CHECK(zone_state(desk).margin.load == load);
    person.tap("kept");  // the notice gives the strip its place back
    CHECK(person.text("strip").find("tried") != std::string::npos);
    person.tap("trial.real");
    person.tap("trial.real_ask.yes");
    REQUIRE(desk.job().all<Point>().size() == points + 4);
    CHECK(*zone_state(desk).margin.headroom >= Watts(-1e-9));
    CHECK(desk.job().all<Trial>().size() == trials);
    person.tap("app.undo");
    CHECK(desk.job().all<Point>().size() == points);
    CHECK(zone_state(desk).margin.load == load);
    CHECK(desk.job().all<Trial>().size() == trials + 1);
}

TEST_CASE("taps that are still to be set become the plan, and the record keeps what is set") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    ask_for_four(desk);
    person.find("adding.option.level");
    person.tap("adding.option.level");
    const std::map<std::string, std::optional<Watts>> before = taps_of(desk);
    person.tap("trial.real");
    person.tap("trial.real_ask.plan");
    for (const auto& point : before) CHECK_MESSAGE(desk.point(point.first).tap_w == point.second, point.first);
    std::size_t to_set = 0;
    for (const Finding& finding : desk.derived().findings) to_set += code_of(finding) == FindingCode::tap_off_plan;
    CHECK(to_set > 0);
}

TEST_CASE("what is added is fed from the end of the room's branch, behind its wall control, and hangs in the room") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    const std::size_t points = desk.job().all<Point>().size();
    desk.shared.room = desk.id("Café");
    ask_for_four(desk);
    CHECK(person.text("adding.room").find("Café") != std::string::npos);
    CHECK(person.text("adding.feed").find("terminals") == std::string::npos);
    person.find("adding.option.fewest");
    person.tap("adding.option.fewest");
    // Once more: what is tried already counts.
    person.tap("trial.add");
    person.tap("trial.more.speakers");
    person.find("adding.option.fewest");
    person.tap("adding.option.fewest");
    person.tap("trial.real");
    person.tap("trial.real_ask.yes");
    REQUIRE(desk.job().all<Point>().size() == points + 5);
    std::set<std::string> labels;
    for (const Point& point : desk.job().all<Point>()) CHECK(labels.insert(*point.label).second);
    for (std::size_t i = points; i < points + 5; ++i) {
        const Point& made = desk.job().all<Point>()[i];
        CHECK(made.room == desk.id("Café"));
        const Id feed = *made.fed_from;
        CHECK((i == points ? desk.job().find<Point>(feed)->room == made.room
                           : feed == desk.job().all<Point>()[i - 1].id));
    }
}

namespace {

// The loudspeakers that an option would re-tap, by its rows.
std::set<std::string> re_tapped_by(Desk& desk, const std::string& option) {
    std::set<std::string> labels;
    for (const Point& point : desk.job().all<Point>())
        if (desk.person->has(option + "." + point.id.text())) labels.insert(*point.label);
    return labels;
}

}  // namespace

TEST_CASE("a loudspeaker that an option would re-tap is left as it is with a touch, and may change with another") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    ask_for_four(desk);
    const std::string option = "adding.option.fewest";
    const std::set<std::string> first = re_tapped_by(desk, option);
    REQUIRE_FALSE(first.empty());
    const Id spared = desk.id(*first.begin());
    const std::string row = option + "." + spared.text(), left = "adding.left." + spared.text();
    CHECK(person.text(row).find("Leave") != std::string::npos);
    CHECK_FALSE(person.has(left));
    person.find(row);
    person.tap(row);
    // It stands above the ways to make room, and none of them touches it.
    REQUIRE(person.has(left));
    CHECK(person.text(left).find(*first.begin() + " left as it is") != std::string::npos);
    CHECK(person.text(left).find("May change") != std::string::npos);
    for (const char* each : {"adding.option.fewest", "adding.option.level", "adding.option.wanted"})
        CHECK_FALSE(re_tapped_by(desk, each).contains(*first.begin()));
    CHECK_FALSE(re_tapped_by(desk, option).empty());  // others do instead
    CHECK(desk.faults_down_the_page().empty());
    // May change again: as in the beginning.
    for (int i = 0; i < 12; ++i) person.wheel(200, 500, 6);
    person.find(left);
    person.tap(left);
    CHECK_FALSE(person.has(left));
    CHECK(re_tapped_by(desk, option) == first);
}

TEST_CASE("what is left as it is keeps its tap when the trial is made real, and is of one zone alone") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    ask_for_four(desk);
    const std::string option = "adding.option.fewest";
    const std::string label = *re_tapped_by(desk, option).begin();
    const std::optional<Watts> tap = desk.point(label).tap_w;
    const std::string row = option + "." + desk.id(label).text();
    person.find(row);
    person.tap(row);
    // Another zone knows nothing of it; back here it is asked for anew.
    desk.shared.zone = Id("z-3");
    person.settle();
    CHECK_FALSE(person.has("adding.left." + desk.id(label).text()));
    desk.shared.zone = full_zone;
    person.settle();
    REQUIRE(person.has(row));
    person.find(row);
    person.tap(row);
    person.find(option);
    person.tap(option);
    person.tap("trial.real");
    person.tap("trial.real_ask.yes");
    CHECK(desk.point(label).tap_w == tap);
    CHECK(*zone_state(desk).margin.headroom >= Watts(-1e-9));
}

TEST_CASE("the strip and the taps count the output and the amplifier, not the zone alone") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    desk.shared.zone = Id("z-7");  // the old wing: 15 W left in the zone, 6.8 W on its output
    desk.open(ui::point_screen(desk.shared, desk.id("L-231")));
    CHECK(person.text("strip.headroom").find("6.8") != std::string::npos);
    CHECK(person.text("strip.headroom").find("output 2B") != std::string::npos);
    bool into = false;
    for (const char* name : {"point.tap.3", "point.taps.3", "point.tap_w.3"})
        if (person.has(name)) into = into || person.text(name).find("into reserve") != std::string::npos;
    CHECK(into);
}

TEST_CASE("another tap is tried by picking the loudspeaker, and taken out again") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    desk.open(ui::trials_screen(desk.shared));
    person.tap("trials.new");
    person.tap("trial.add");
    person.tap("trial.more.field");
    person.type("C-126");
    person.find("pick." + desk.id("C-126").text());
    person.tap("pick." + desk.id("C-126").text());
    person.find("try.tap_w");
    person.tap("try.tap_w");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("2.5");
    person.press(ImGuiKey_Enter);
    REQUIRE(desk.job().all<Trial>().back().changes->size() == 1);
    CHECK(person.text("trial.change.0").find("C-126") != std::string::npos);
    CHECK(desk.point("C-126").tap_w == Watts(10));
    person.tap("trial.change.0");
    CHECK(desk.job().all<Trial>().back().changes->empty());
}
