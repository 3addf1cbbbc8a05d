// Every page and sheet of the program at three sizes and three scales: nothing too small to touch, nothing cut, nothing
// written over anything else, no two things of one name.
#include <doctest/doctest.h>

#include <functional>

#include "tests/ui/screens/desk.h"
#include "tests/ui/screens/pages.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/places.h"
#include "ui/screens/lines/cable.h"
#include "ui/screens/lines/trials.h"
#include "ui/screens/rooms/room_plan.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

void nowhere_else(Desk&) {}

const std::vector<PageCase> all_pages = {
    {"survey", PlaceId::survey, nowhere_else},
    {"rooms", PlaceId::rooms, nowhere_else},
    {"lines", PlaceId::lines, nowhere_else},
    {"readings", PlaceId::readings, nowhere_else},
    {"snags", PlaceId::snags, nowhere_else},
    {"handover", PlaceId::handover, nowhere_else},
    {"a room", PlaceId::rooms, [](Desk& d) { d.open(ui::room_screen(d.shared, d.id("Great hall"))); }},
    {"points without a room", PlaceId::rooms, [](Desk& d) { d.open(ui::room_screen(d.shared, Id())); }},
    {"a loudspeaker", PlaceId::rooms, [](Desk& d) { d.open(ui::point_screen(d.shared, d.id("C-104"))); }},
    {"an attenuator", PlaceId::rooms, [](Desk& d) { d.open(ui::point_screen(d.shared, d.id("V-121"))); }},
    {"finding", PlaceId::rooms,
     [](Desk& d) {
         d.open(ui::find_screen(d.shared));
         d.person->type("c");
     }},
    {"readings at a zone", PlaceId::readings,
     [](Desk& d) { d.open(ui::readings_at_screen(d.shared, d.id("Old wing"))); }},
    {"a fault found", PlaceId::readings, [](Desk& d) { d.person->tap("readings.find.z-1"); }},
    {"a fault sought", PlaceId::readings,
     [](Desk& d) {
         d.open(ui::find_fault_screen(d.shared, Id("z-7")));
         d.person->find("fault.cause.0");
         d.person->tap("fault.cause.0");
     }},
    {"a fault sought by ear", PlaceId::readings,
     [](Desk& d) {
         ChangeList unheard;
         for (const Point& point : d.job().all<Point>())
             if (point.heard) unheard.push_back(test::set(Kind::point, point.id.text(), {{"heard", Value()}}));
         REQUIRE(d.session->request(test::command(unheard), {"Ada Quill", {}}, d.clock.next()).ok());
         d.open(ui::find_fault_screen(d.shared, Id("z-1")));
     }},
    {"walk test", PlaceId::readings, [](Desk& d) { d.open(ui::walk_test_screen(d.shared)); }},
    {"walk test with faults", PlaceId::readings,
     [](Desk& d) {
         const Id point = d.id("C-101");
         REQUIRE(d.session
                     ->request(test::command({test::set(Kind::point, point.text(), {{"polarity", "reversed"}}),
                                              test::set(Kind::point, d.id("C-102").text(), {{"heard", "buzz"}})}),
                               {"Ada Quill", {}}, d.clock.next())
                     .ok());
         d.open(ui::walk_test_screen(d.shared, d.id("Foyer")));
         d.person->find("walk." + point.text() + ".label");
         d.person->tap("walk." + point.text() + ".label");
         REQUIRE(d.person->has("walk." + d.id("C-102").text() + ".snag"));
     }},
    {"a reading in volts being typed", PlaceId::readings,
     [](Desk& d) {
         d.person->tap("readings.test");
         work_through(*d.person, "caution");
         d.person->type("48");
     }},
    {"the reasons behind a verdict", PlaceId::readings,
     [](Desk& d) {
         d.person->tap("readings.add");
         work_through(*d.person, "caution");
         d.person->type("61.5");
         d.person->tap("entry.why");
     }},
    {"a point that asks for another one", PlaceId::readings,
     [](Desk& d) {
         d.open(ui::readings_at_screen(d.shared, Id("z-3")));
         d.person->tap("at.add");
         work_through(*d.person, "caution");
         d.person->type("325");
         d.person->find("pad.keep");
         d.person->tap("pad.keep");
     }},
    {"visits", PlaceId::handover, [](Desk& d) { d.open(ui::visits_screen(d.shared)); }},
    {"a visit", PlaceId::handover,
     [](Desk& d) {
         d.open(ui::visits_screen(d.shared));
         d.person->find("visits.start.5");
         d.person->tap("visits.start.5");
         d.open(ui::point_screen(d.shared, d.id("C-126")));
         d.person->find("point.tap.0");
         d.person->tap("point.tap.0");
         d.person->press(ImGuiKey_Escape);
         const std::string visit = "visit." + d.job().all<Visit>().back().id.text();
         d.person->find(visit);
         d.person->tap(visit);
         REQUIRE(d.person->has("visit.point." + d.id("C-126").text()));
     }},
    {"signing off", PlaceId::handover, [](Desk& d) { d.person->tap("handover.sign"); }},
    {"a signature", PlaceId::handover,
     [](Desk& d) {
         d.person->find("handover.signed.so-1");
         d.person->tap("handover.signed.so-1");
     }},
    {"a sheet made", PlaceId::handover, [](Desk& d) { d.person->tap("handover.owner"); }},
    {"everything missing, with the reasons", PlaceId::handover,
     [](Desk& d) {
         for (const char* key : {"handover.all", "handover.why"}) {
             d.person->find(key);
             d.person->tap(key);
         }
     }},
    {"settings as left", PlaceId::handover,
     [](Desk& d) {
         d.person->find("handover.settings");
         d.person->tap("handover.settings");
     }},
    {"settings", PlaceId::handover, [](Desk& d) { d.open(ui::settings_screen(d.shared)); }},
    {"all photos, none yet", PlaceId::handover, [](Desk& d) { d.open(ui::all_photos_screen(d.shared)); }},
    {"history", PlaceId::handover, [](Desk& d) { d.open(ui::history_screen(d.shared)); }},
    {"tracing", PlaceId::survey,
     [](Desk& d) {
         d.person->find("survey.trace");
         d.person->tap("survey.trace");
     }},
    {"job settings", PlaceId::survey, [](Desk& d) { d.open(ui::record_screen(d.shared, Kind::job, job_id())); }},
    {"a room surveyed", PlaceId::survey,
     [](Desk& d) {
         d.open(ui::room_survey_screen(d.shared, d.id("Foyer")));
         d.person->find("survey.type.0");
         d.person->tap("survey.type.0");
     }},
    {"a room without sizes surveyed", PlaceId::survey,
     [](Desk& d) { d.open(ui::room_survey_screen(d.shared, d.id("Upper landing"))); }},
    {"photos", PlaceId::rooms,
     [](Desk& d) {
         ChangeList photos;
         for (const char digit : {'1', '2', '3'})
             photos.push_back(test::add(Kind::photo, "",
                                        {{"about", "r-foyer"},
                                         {"sha256", std::string(64, digit)},
                                         {"caption", "Above the door"},
                                         {"pin", Map{{"x", 0.25}, {"y", 0.5}}}}));
         REQUIRE(d.session->request(test::command(photos), {"Ada Quill", {}}, d.clock.next()).ok());
         d.open(ui::photos_screen(d.shared, Id("r-foyer")));
         const std::string photo = "photo." + d.job().all<Photo>().back().id.text();  // the newest is first
         d.person->find(photo);
         d.person->tap(photo);
     }},
    {"no photos", PlaceId::rooms, [](Desk& d) { d.open(ui::photos_screen(d.shared, d.id("Great hall"))); }},
    {"cable", PlaceId::lines, [](Desk& d) { d.open(ui::cable_screen(d.shared, *d.session)); }},
    {"trials", PlaceId::lines, [](Desk& d) { d.open(ui::trials_screen(d.shared)); }},
    {"loudspeakers to be added", PlaceId::lines,
     [](Desk& d) {
         d.shared.zone = Id("z-2");
         d.open(ui::trials_screen(d.shared));
         d.person->tap("trials.new");
         d.open(ui::trial_adding_screen(d.shared, d.job().all<Trial>().back().id));
     }},
    {"a trial", PlaceId::lines,
     [](Desk& d) {
         d.shared.zone = Id("z-2");
         d.open(ui::trials_screen(d.shared));
         d.person->tap("trials.new");
         d.open(ui::trial_adding_screen(d.shared, d.job().all<Trial>().back().id));
         d.person->find("adding.option.level");
         d.person->tap("adding.option.level");
     }},
    {"set-up", PlaceId::lines, [](Desk& d) { d.open(ui::set_up_screen(d.shared)); }},
    {"a figure of the set-up", PlaceId::lines,
     [](Desk& d) {
         d.open(ui::set_up_screen(d.shared));
         d.person->find("set_up.z-2.limit_w");
         d.person->tap("set_up.z-2.limit_w");
     }},
    {"a voltage of the set-up", PlaceId::lines,
     [](Desk& d) {
         const std::string key = "set_up." + d.job().all<Channel>().front().id.text() + ".line_v";
         d.open(ui::set_up_screen(d.shared));
         d.person->find(key);
         d.person->tap(key);
     }},
    {"the plan of a room", PlaceId::rooms, [](Desk& d) { d.open(ui::room_plan_screen(d.shared, d.id("Great hall"))); }},
    {"the shortcuts", PlaceId::rooms, [](Desk& d) { d.person->press(ImGuiKey_F1); }},
    {"a point touched in its line", PlaceId::lines,
     [](Desk& d) {
         const std::string point = "line.point." + d.id("C-104").text();
         d.person->find(point);
         d.person->tap(point);
     }},
    {"adding a room", PlaceId::rooms, [](Desk& d) { d.person->tap("rooms.new"); }},
    {"adding a loudspeaker", PlaceId::rooms,
     [](Desk& d) {
         d.open(ui::room_screen(d.shared, d.id("Café")));
         d.person->tap("room.add");
     }},
    {"same again", PlaceId::rooms,
     [](Desk& d) {
         d.open(ui::room_screen(d.shared, d.id("Café")));
         d.person->tap("room.same");
     }},
    {"all taps of a room", PlaceId::rooms,
     [](Desk& d) {
         d.open(ui::room_screen(d.shared, d.id("Workshop")));
         d.person->find("room.retap");
         d.person->tap("room.retap");
     }},
    {"the caution", PlaceId::readings, [](Desk& d) { d.person->tap("readings.add"); }},
    {"half of the steps ticked", PlaceId::readings,
     [](Desk& d) {
         d.shared.zone = Id("z-2");
         d.person->tap("readings.add");
         d.person->tap("caution.1");
         d.person->find("caution.4.full");
         d.person->tap("caution.4.full");
     }},
    {"finding a tap, nothing read", PlaceId::rooms,
     [](Desk& d) { d.open(ui::find_tap_screen(d.shared, d.id("L-232"))); }},
    {"finding a tap, told", PlaceId::rooms,
     [](Desk& d) {
         d.open(ui::find_tap_screen(d.shared, d.id("L-232")));
         for (const auto& [key, figure] : {std::pair("find_tap.with", "152"), std::pair("find_tap.without", "175")}) {
             d.person->tap(key);
             work_through(*d.person, "caution");
             d.person->type(figure);
             d.person->find("pad.keep");
             d.person->tap("pad.keep");
         }
     }},
    {"the question about fire lines", PlaceId::readings,
     [](Desk& d) {
         const Id zone = d.shared.zone_in_hand(d.job())->id;
         REQUIRE(d.session
                     ->request(test::command({test::set(Kind::zone, zone.text(), {{"emergency", Value()}})}),
                               {"Ada Quill", {}}, d.clock.next())
                     .ok());
         d.person->settle();
         d.person->tap("readings.add");
     }},
    {"a fire line", PlaceId::readings,
     [](Desk& d) {
         REQUIRE(d.session
                     ->request(test::command({test::set(Kind::zone, "z-1", {{"emergency", "yes"}})}), {"Ada Quill", {}},
                               d.clock.next())
                     .ok());
         d.open(ui::readings_at_screen(d.shared, Id("z-1")));
     }},
    {"a line left disconnected", PlaceId::readings,
     [](Desk& d) {
         REQUIRE(d.session
                     ->request(test::command({test::set(Kind::zone, "z-2", {{"disconnected", true}})}),
                               {"Ada Quill", {}}, d.clock.next())
                     .ok());
         d.open(ui::readings_at_screen(d.shared, Id("z-2")));
     }},
    {"a reading being typed", PlaceId::readings,
     [](Desk& d) {
         d.person->tap("readings.add");
         work_through(*d.person, "caution");
         d.person->type("61.5");
     }},
    {"a room after a change", PlaceId::rooms,
     [](Desk& d) {
         d.open(ui::room_screen(d.shared, d.id("Café")));
         d.person->tap("room.add");
         d.person->tap("room.new.tap.0");
         d.app->say(ui::Tone::stop, Message("A sentence that says what is wrong, where, and what would be right."));
     }},
    {"noting a snag", PlaceId::snags, [](Desk& d) { d.person->tap("snags.add"); }},
    {"asking before a removal", PlaceId::rooms,
     [](Desk& d) {
         d.open(ui::point_screen(d.shared, d.id("C-104")));
         d.person->find("point.remove");
         d.person->tap("point.remove");
     }},
};

constexpr WindowSize sizes[] = {{320, 640}, {390, 844}, {1280, 800}};
constexpr float scales[] = {1, 2, 3};

}  // namespace

const std::vector<PageCase>& tapwright::tests::pages() {
    return all_pages;
}

std::string tapwright::tests::in_lines(const std::vector<std::string>& faults) {
    std::string text;
    for (const std::string& fault : faults) text += "\n  " + fault;
    return text;
}

TEST_CASE("every page is whole at every size and scale") {
    for (const WindowSize& size : sizes)
        for (const float scale : scales)
            for (const PageCase& page : pages()) {
                Desk desk(Start::demo, {.width = size.width, .height = size.height, .scale = scale}, page.place);
                page.go(desk);
                const std::vector<std::string> faults = desk.faults_down_the_page();
                CHECK_MESSAGE(faults.empty(), std::string(page.name), " at ", size.width, "x", size.height, ", scale ",
                              scale, in_lines(faults));
            }
}

TEST_CASE("every kind of record has a whole page and a whole list") {
    for (std::size_t number = 0; number < kind_count; ++number) {
        const Kind kind = kind_at(number);
        Desk desk(Start::demo, {.width = 320, .height = 640});
        if (kind != Kind::job) {
            desk.open(ui::records_screen(desk.shared, kind));
            const std::vector<std::string> faults = desk.faults_down_the_page();
            CHECK_MESSAGE(faults.empty(), std::string(plural(kind)), in_lines(faults));
        }
        Id first;
        with_record_type(kind, [&]<class R>() {
            if (!desk.job().all<R>().empty()) first = desk.job().all<R>().front().id;
        });
        if (first == Id()) continue;
        desk.open(ui::record_screen(desk.shared, kind, first));
        const std::vector<std::string> faults = desk.faults_down_the_page();
        CHECK_MESSAGE(faults.empty(), std::string(singular(kind)), in_lines(faults));
    }
}

TEST_CASE("an empty job says in every place what to do first") {
    for (int place = 0; place < ui::place_count; ++place)
        for (const WindowSize& size : sizes) {
            Desk desk(Start::empty_job, {.width = size.width, .height = size.height}, static_cast<PlaceId>(place));
            const std::vector<std::string> faults = desk.faults_down_the_page();
            CHECK_MESSAGE(faults.empty(), "place ", place, in_lines(faults));
            CHECK(desk.person->toolkit->marks().texts().size() > 3);
        }
}

TEST_CASE("without a job there is a way to make, open and import one") {
    for (const WindowSize& size : sizes)
        for (const float scale : scales) {
            Desk desk(Start::nothing, {.width = size.width, .height = size.height, .scale = scale});
            const std::vector<std::string> faults = desk.faults_down_the_page();
            CHECK_MESSAGE(faults.empty(), in_lines(faults));
            for (const char* mark : {"opening.new", "opening.open", "opening.import"}) CHECK(desk.person->has(mark));
        }
}
