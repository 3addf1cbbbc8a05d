// What a person brings from earlier jobs: types and cables, their name, the line voltage.
#include <doctest/doctest.h>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/library.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/lines/trials.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

void put(Job& job, Kind kind, const char* id, const Map& fields, std::uint32_t rank) {
    job.make(kind, Id(id), {0, 0, 0, rank});
    for (const auto& [name, value] : fields) REQUIRE(job.set(kind, Id(id), *find_field(kind, name), value).ok());
}

// A job with one room and a library of one of each.
Desk with_library() {
    return Desk({test::set(Kind::job, "job", {{"name", "Mill House"}}), test::add(Kind::room, "r1", {{"name", "Hall"}}),
                 test::add(Kind::point, "p1", {{"kind", "speaker"}, {"label", "L-1"}, {"room", "r1"}})},
                {}, PlaceId::rooms);
}

void fill(Desk& desk) {
    Job& types = desk.ports.types;
    put(types, Kind::speaker_type, "t1", {{"name", "Ceiling 6"}, {"taps_w", List{1.5, 3.0, 6.0}}}, 0);
    put(types, Kind::speaker_type, "t2", {{"name", "Horn"}, {"taps_w", List{10.0, 20.0}}}, 1);
    put(types, Kind::attenuator_type, "t3", {{"name", "Wall 60"}, {"rated_w", 60.0}}, 2);
    put(types, Kind::cable_type, "t4", {{"name", "Two by 1.5"}, {"area_mm2", 1.5}}, 3);
}

}  // namespace

TEST_CASE("a type of an earlier job is added to this one in one touch, whole, and is then offered no more") {
    Desk desk = with_library();
    fill(desk);
    desk.open(ui::records_screen(desk.shared, Kind::speaker_type));
    Person& person = *desk.person;
    CHECK(person.has("speaker_types.earlier.t2"));
    person.tap("speaker_types.earlier.t1");
    REQUIRE(desk.job().count(Kind::speaker_type) == 1);
    const SpeakerType& type = desk.job().all<SpeakerType>().front();
    CHECK(type.name == "Ceiling 6");
    CHECK(type.taps_w->size() == 3);
    CHECK(desk.shared.speaker_type == type.id);
    CHECK_FALSE(person.has("speaker_types.earlier.t1"));
    person.tap("app.undo");
    CHECK(desk.job().count(Kind::speaker_type) == 0);
    CHECK(person.has("speaker_types.earlier.t1"));
}

TEST_CASE("choosing a type or a cable offers those of earlier jobs: the touch adds and chooses it, one undo for both") {
    Desk desk = with_library();
    fill(desk);
    desk.open(ui::record_screen(desk.shared, Kind::point, Id("p1")));
    Person& person = *desk.person;
    person.find("point.cable");
    person.tap("point.cable");
    person.tap("pick.earlier.t4");
    REQUIRE(desk.job().count(Kind::cable_type) == 1);
    CHECK(desk.job().find<Point>(Id("p1"))->cable == desk.job().all<CableType>().front().id);
    CHECK(desk.app->depth() == 2);  // back on the point
    // The type and its choice are one act: one undo takes both back, one redo brings both.
    person.tap("app.undo");
    CHECK(desk.job().count(Kind::cable_type) == 0);
    CHECK_FALSE(desk.job().find<Point>(Id("p1"))->cable);
    person.press(ImGuiMod_Ctrl | ImGuiKey_Y);
    CHECK(desk.job().count(Kind::cable_type) == 1);
    CHECK(desk.job().find<Point>(Id("p1"))->cable == desk.job().all<CableType>().front().id);
    person.find("point.type");
    person.tap("point.type");
    person.tap("pick.search");
    person.type("horn");
    CHECK_FALSE(person.has("pick.earlier.t1"));
    person.tap("pick.earlier.t2");
    CHECK(desk.job().find<Point>(Id("p1"))->type == desk.job().all<SpeakerType>().front().id);
}

TEST_CASE("a cable of an earlier job that is tried comes with the trial in one batch") {
    Desk desk = with_library();
    fill(desk);
    REQUIRE(desk.session
                ->request(test::command({test::add(Kind::trial, "v1", {{"name", "Thicker"}, {"changes", List{}}})}),
                          {"Ada Quill", {}}, desk.clock.next())
                .ok());
    desk.open(ui::trial_field_screen(desk.shared, Id("v1"), Kind::point, Id("p1")));
    Person& person = *desk.person;
    const std::size_t batches = desk.session->batch_count();
    person.find("try.cable");
    person.tap("try.cable");
    person.tap("pick.earlier.t4");
    CHECK(desk.session->batch_count() == batches + 1);
    CHECK(desk.job().find<Trial>(Id("v1"))->changes->size() == 1);
    CHECK(desk.job().count(Kind::cable_type) == 1);
    CHECK_FALSE(desk.job().find<Point>(Id("p1"))->cable);
    person.press(ImGuiMod_Ctrl | ImGuiKey_Z);
    CHECK(desk.job().find<Trial>(Id("v1"))->changes->empty());
    CHECK(desk.job().count(Kind::cable_type) == 0);
}

TEST_CASE("the first loudspeaker of a new job gets its type from an earlier one on the way") {
    Desk desk = with_library();
    fill(desk);
    desk.open(ui::room_screen(desk.shared, Id("r1")));
    Person& person = *desk.person;
    person.tap("room.add");
    person.find("room.new.type");
    person.tap("room.new.type");
    person.tap("pick.earlier.t1");
    REQUIRE(person.has("room.new.tap.2"));
    CHECK(person.text("room.new.tap.2").starts_with("6 W"));
    person.tap("room.new.tap.2");
    const Point& made = desk.job().all<Point>().back();
    CHECK(made.type == desk.job().all<SpeakerType>().front().id);
    CHECK(made.tap_w == Watts(6));
}

TEST_CASE("a new job begins with the name and the voltage of the one before") {
    Desk fresh(Start::nothing);
    CHECK(fresh.person->text("opening.volts.2").ends_with(", chosen"));  // 70.7 V
    CHECK(fresh.person->text("opening.person") == "Ada Quill");
    fresh.ports.line_v = "100";
    fresh.app->set_session(nullptr);
    fresh.person->settle();
    CHECK(fresh.person->text("opening.volts.3") == "100 V, chosen");
    CHECK_FALSE(fresh.person->has("opening.line_v"));
    fresh.person->find("opening.volts.4");
    fresh.person->tap("opening.volts.4");
    CHECK(fresh.person->has("opening.line_v"));
    fresh.person->tap("opening.volts.0");
    CHECK_FALSE(fresh.person->has("opening.line_v"));
    CHECK(fresh.person->text("opening.volts.0").ends_with(", chosen"));
}
