// Jobs that lie inside the program, as in a browser: counted, duplicated, deleted, and a copy offered when a visit
// ends.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;

namespace {

void keep_two_jobs(DeskPorts& ports) {
    ports.keeps = true;
    ports.recent = {{"mill", "Mill House", "", false, 3}, {"barn", "Barn", "", false, 0}};
}

}  // namespace

TEST_CASE("the opening page says how many changes no copy holds") {
    Desk desk(Start::demo);
    keep_two_jobs(desk.ports);
    desk.open(ui::opening_screen(desk.shared));
    CHECK(desk.person->text("opening.recent.0").find("3 changes not exported yet") != std::string::npos);
    CHECK(desk.person->text("opening.recent.1").find("exported") == std::string::npos);
    CHECK(desk.faults().empty());
}

TEST_CASE("where jobs are files of the person's own, nothing is duplicated or deleted here") {
    Desk desk(Start::demo);
    desk.ports.recent = {{"mill", "Mill House", "/home/ada", false, {}}};
    desk.open(ui::opening_screen(desk.shared));
    CHECK_FALSE(desk.person->has("opening.kept"));
}

TEST_CASE("a job is duplicated with one touch, and deleted when it is confirmed") {
    Desk desk(Start::demo);
    keep_two_jobs(desk.ports);
    desk.open(ui::kept_jobs_screen(desk.shared));
    CHECK(desk.faults().empty());
    desk.person->tap("kept.duplicate.1");
    CHECK(desk.ports.duplicated == std::vector<std::string>{"barn"});
    desk.person->tap("kept.delete.0");
    CHECK(desk.ports.deleted.empty());
    CHECK(desk.person->text("kept.ask.why").find("3 changes have not left this device") != std::string::npos);
    desk.person->tap("kept.ask.no");
    CHECK(desk.ports.deleted.empty());
    desk.person->tap("kept.delete.0");
    desk.person->tap("kept.ask.yes");
    CHECK(desk.ports.deleted == std::vector<std::string>{"mill"});
}

TEST_CASE("at a visit's end a sealed copy is made where jobs lie inside the program") {
    for (const bool keeps : {true, false}) {
        Desk desk(Start::demo);
        desk.ports.keeps = keeps;
        desk.open(ui::visits_screen(desk.shared));
        desk.person->find("visits.start.5");
        desk.person->tap("visits.start.5");
        desk.person->find("visits.end");
        desk.person->tap("visits.end");
        const std::vector<ui::HandoverFile>& made = desk.ports.made;
        CHECK((std::count(made.begin(), made.end(), ui::HandoverFile::sealed_copy) == 1) == keeps);
    }
}

TEST_CASE("a button that asks for a file says where it is and for what") {
    Desk desk(Start::demo);
    desk.open(ui::opening_screen(desk.shared));
    desk.person->find("opening.open");
    const std::vector<ui::NativeArea>& areas = desk.person->host.native_areas;
    const auto found = std::find_if(areas.begin(), areas.end(),
                                    [](const ui::NativeArea& area) { return area.name == "opening.open"; });
    REQUIRE(found != areas.end());
    CHECK(found->kind == ui::NativeArea::Kind::file);
    CHECK(found->purpose == ui::FilePurpose::open_job);
}
