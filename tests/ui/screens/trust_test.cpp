// What forms may be trusted with: nothing new is saved but by its key, what was typed waits, and nothing moves under
// the finger.
#include <doctest/doctest.h>
#include <imgui_internal.h>

#include <algorithm>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/lines/trials.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

const char* const ways_out[] = {"close", "escape", "place"};

// Leaves a sheet over the first page of a place.
void leave_sheet(Person& person, const std::string& sheet, const std::string& way) {
    if (way == "close") return person.tap(sheet + ".close");
    person.press(ImGuiKey_Escape);  // out of the field
    person.press(ImGuiKey_Escape);
    if (way == "place") person.tap("place.lines");
}

bool says(Desk& desk, std::string_view words) {
    for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts())
        if (piece.full.find(words) != std::string::npos) return true;
    return false;
}

}  // namespace

TEST_CASE("leaving a typed room name by the cross, Escape or another place adds no room, and the name waits") {
    for (const char* way : ways_out) {
        Desk desk(Start::empty_job);
        Person& person = *desk.person;
        person.tap("rooms.new");
        person.tap("rooms.name");
        person.type("Dining room");
        CHECK_FALSE(says(desk, "waits in its form"));  // said only on the way out
        leave_sheet(person, "rooms.new", way);
        CHECK_MESSAGE(desk.job().count(Kind::room) == 0, way);
        CHECK_MESSAGE(says(desk, "Not added: “Dining room” waits in its form."), way);
        person.tap("place.rooms");
        person.tap("rooms.new");
        CHECK_MESSAGE(person.text("rooms.name") == "Dining room", way);
        person.tap("rooms.add");
        REQUIRE(desk.job().count(Kind::room) == 1);
        CHECK(desk.job().all<Room>().front().name == "Dining room");
        // The next one begins empty.
        person.tap("place.rooms");
        person.tap("rooms.new");
        CHECK(person.text("rooms.name").empty());
    }
}

TEST_CASE("Enter in the name of a new room adds none: its key does, with the focus one step away") {
    Desk desk(Start::empty_job);
    Person& person = *desk.person;
    person.tap("rooms.new");
    person.tap("rooms.name");
    person.type("Bar");
    person.press(ImGuiKey_Enter);
    CHECK(desk.job().count(Kind::room) == 0);
    person.press(ImGuiKey_Tab);
    CHECK(person.focused() == "rooms.add");
    person.press(ImGuiKey_Enter);
    CHECK(desk.job().count(Kind::room) == 1);
}

TEST_CASE("touching Where after typing a snag saves nothing, and the snag is noted with its place") {
    Desk desk(Start::demo, {}, PlaceId::snags);
    const std::size_t before = desk.job().count(Kind::snag);
    Person& person = *desk.person;
    person.tap("snags.add");
    person.tap("snag.new.text");
    person.type("Loose tile");
    person.tap("snag.new.about");
    CHECK(desk.job().count(Kind::snag) == before);
    const std::string foyer = "pick." + desk.id("Foyer").text();
    person.find(foyer);
    person.tap(foyer);
    CHECK(desk.job().count(Kind::snag) == before);
    CHECK(person.text("snag.new.text") == "Loose tile");
    person.tap("snag.new.add");
    REQUIRE(desk.job().count(Kind::snag) == before + 1);
    const Snag& noted = desk.job().all<Snag>().back();
    CHECK(noted.text == "Loose tile");
    CHECK(noted.about == desk.id("Foyer"));
}

TEST_CASE("leaving a typed snag notes none, and what was typed waits for the place it was typed for") {
    for (const char* way : {"close", "escape"}) {
        Desk desk(Start::demo);
        const std::size_t before = desk.job().count(Kind::snag);
        Person& person = *desk.person;
        desk.open(ui::room_screen(desk.shared, desk.id("Foyer")));
        person.find("room.snag");
        person.tap("room.snag");
        person.type("Hums");
        leave_sheet(person, "snag.new", way);
        CHECK(desk.job().count(Kind::snag) == before);
        CHECK(says(desk, "Not added: “Hums” waits in its form."));
        desk.open(ui::room_screen(desk.shared, desk.id("Great hall")));
        person.find("room.snag");
        person.tap("room.snag");
        CHECK(person.text("snag.new.text").empty());
    }
}

TEST_CASE("a field of a form with a key stands still and raises no alarm when it is left") {
    Desk desk(Start::demo);
    desk.open(ui::records_screen(desk.shared, Kind::attenuator_type));
    Person& person = *desk.person;
    person.find("attenuator_types.add");
    person.tap("attenuator_types.new.name");
    const float steps = person.mark("attenuator_types.new.steps_db").area.y;
    person.type("Six step");
    person.tap("attenuator_types.new.rated_w");
    CHECK(person.mark("attenuator_types.new.steps_db").area.y == steps);
    CHECK_FALSE(says(desk, "Not saved"));
    CHECK(desk.job().count(Kind::attenuator_type) == desk.job_on_disk().count(Kind::attenuator_type));
}

TEST_CASE("a figure that was refused moves nothing while a finger is down") {
    Desk desk(Start::demo);
    desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
    Person& person = *desk.person;
    person.find("room.ear_height_m");
    person.tap("room.ear_height_m");
    person.type("-3");
    const ui::Mark next = person.mark("room.ceiling.0");
    const float x = next.area.x + next.area.width / 2, y = next.area.y + next.area.height / 2;
    person.toolkit->gesture().pressed(1, x, y, 300, ui::Gesture::Pointer::touch);
    person.frames(4);
    CHECK(person.mark("room.ceiling.0").area.y == next.area.y);
    person.toolkit->gesture().released(1, 300.2);
    person.settle();
    CHECK(person.mark("room.ceiling.0").area.y > next.area.y);
}

TEST_CASE("what was typed into the form of a list waits when the page is left, and is said then") {
    for (const char* way : {"header.back", "place.rooms"}) {
        Desk desk(Start::empty_job, {}, PlaceId::survey);
        desk.open(ui::records_screen(desk.shared, Kind::zone));
        Person& person = *desk.person;
        person.find("zones.new.name");
        person.tap("zones.new.name");
        person.type("Terrace");
        person.tap(way);
        CHECK_MESSAGE(desk.job().count(Kind::zone) == 0, way);
        CHECK_MESSAGE(says(desk, "Not added: “Terrace” waits in its form."), way);
        person.tap("place.survey");
        desk.open(ui::records_screen(desk.shared, Kind::zone));
        CHECK(person.text("zones.new.name") == "Terrace");
    }
}

TEST_CASE("a record's field is saved when another place is touched, and Escape takes it back to what is saved") {
    Desk desk(Start::demo, {}, PlaceId::survey);
    const Id foyer = desk.id("Foyer");
    desk.open(ui::record_screen(desk.shared, Kind::room, foyer));
    Person& person = *desk.person;
    person.find("room.use");
    person.tap("room.use");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("Reception");
    person.tap("place.lines");
    CHECK(desk.job().find<Room>(foyer)->use == "Reception");
    person.tap("place.survey");
    person.find("room.use");
    person.tap("room.use");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("Bar");
    person.press(ImGuiKey_Escape);
    CHECK(desk.job().find<Room>(foyer)->use == "Reception");
}

TEST_CASE("what is typed to be tried is added to the trial by its key alone, and waits when its page is left") {
    Desk desk(Start::demo, {}, PlaceId::lines);
    Person& person = *desk.person;
    const Id point = desk.id("C-126"), trial("v-1x");
    REQUIRE(desk.session
                ->request(test::command({test::add(Kind::trial, "v-1x", {{"name", "Quieter"}, {"changes", List{}}})}),
                          {"Ada Quill", {}}, desk.clock.next())
                .ok());
    const auto tried = [&] { return desk.job().find<Trial>(trial)->changes->size(); };
    const auto open = [&] {
        desk.open(ui::trial_field_screen(desk.shared, trial, Kind::point, point));
        person.find("try.tap_w");
    };
    const auto type_tap = [&] {
        open();
        person.tap("try.tap_w");
        person.press(ImGuiMod_Ctrl | ImGuiKey_A);
        person.type("2.5");
    };
    const std::size_t batches = desk.session->batch_count();
    // Enter, a touch elsewhere on the page, back, Escape and another place: none adds it.
    type_tap();
    person.press(ImGuiKey_Enter);
    person.tap("header.back");
    CHECK(tried() == 0);
    open();
    CHECK(person.text("try.tap_w") == "2.5");  // it waits
    person.press(ImGuiKey_Escape);
    CHECK(tried() == 0);
    open();
    person.tap("place.rooms");
    CHECK(desk.session->batch_count() == batches);
    CHECK(says(desk, "Not added: “2.5” waits in its form."));
    // Its key does, all that was typed in one step.
    desk.app->show(PlaceId::lines);
    person.settle();
    open();
    person.find("try.length_m");
    person.tap("try.length_m");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("long");
    person.tap("try.add");
    CHECK(tried() == 0);  // refused where it was typed
    person.tap("try.length_m");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("12");
    person.tap("try.add");
    REQUIRE(tried() == 1);
    CHECK(desk.job().find<Trial>(trial)->changes->front().fields.size() == 2);
    CHECK(desk.session->batch_count() == batches + 1);
    open();
    CHECK(person.text("try.tap_w") == "10 W");
}

TEST_CASE("after undoing a new room its page says that redo brings it back, and has the key") {
    Desk desk(Start::empty_job);
    Person& person = *desk.person;
    person.tap("rooms.new");
    person.tap("rooms.add");
    person.tap("app.undo");
    REQUIRE(desk.job().count(Kind::room) == 0);
    CHECK(says(desk, "Adding it was undone. Redo brings it back."));
    CHECK_FALSE(person.has("gone.undo"));
    person.tap("gone.redo");
    REQUIRE(desk.job().count(Kind::room) == 1);
    CHECK(person.text("header.title") == "Room 1");
}

TEST_CASE("a room removed elsewhere says that undo brings it back, and no key takes back something else") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open(ui::room_screen(desk.shared, desk.id("Upper landing")));
    const Id room = desk.id("Upper landing");
    const auto ask = [&](const ChangeList& changes) {
        const auto done = desk.session->request(test::command(changes), {"Ada Quill", {}}, desk.clock.next());
        REQUIRE(done.ok());
        person.settle();
    };
    ask({test::add(Kind::room, "r-new", {{"name", "Store"}})});
    desk.open(ui::room_screen(desk.shared, Id("r-new")));
    ask({{ChangeOp::remove, Kind::room, Id("r-new"), {}}});
    CHECK(says(desk, "It was removed. Undo brings it back."));
    ask({test::set(Kind::room, room.text(), {{"use", "Hall"}})});
    CHECK_FALSE(person.has("gone.undo"));  // it would take back the use
    CHECK_FALSE(person.has("gone.redo"));
    CHECK(says(desk, "It is no longer there."));
}

TEST_CASE("taps and steps are typed as printed, and a refusal is one line beside the field") {
    Desk desk(Start::empty_job, {}, PlaceId::survey);
    desk.open(ui::records_screen(desk.shared, Kind::speaker_type));
    Person& person = *desk.person;
    const auto type_in = [&](const std::string& field, const char* text) {
        person.find(field);
        person.tap(field);
        person.type(text);
    };
    type_in("speaker_types.new.name", "Ceiling");
    type_in("speaker_types.new.taps_w", "1.5/3/x");
    person.press(ImGuiKey_Enter);
    CHECK(says(desk, "Taps: Write figures in W such as 1.5/3/6, not “1.5/3/x”."));
    person.tap("speaker_types.new.taps_w");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("1,5 3 6");
    person.find("speaker_types.add");
    person.tap("speaker_types.add");
    REQUIRE(desk.job().count(Kind::speaker_type) == 1);
    CHECK(desk.job().all<SpeakerType>().front().taps_w == std::vector<Watts>{Watts(1.5), Watts(3), Watts(6)});
    desk.open(ui::records_screen(desk.shared, Kind::attenuator_type));
    type_in("attenuator_types.new.name", "Wall");
    type_in("attenuator_types.new.steps_db", "0 3 6 9");
    person.find("attenuator_types.add");
    person.tap("attenuator_types.add");
    REQUIRE(desk.job().count(Kind::attenuator_type) == 1);
    CHECK(desk.job().all<AttenuatorType>().front().steps_db->back() == Decibels(-9));
}

TEST_CASE("what people need first comes first: a zone's limit, and mm² before AWG in a metric job") {
    Desk desk(Start::demo);
    const auto order = [](Kind kind, LengthUnits lengths) {
        std::vector<std::string> names;
        for (const FieldInfo* field : ui::fields_in_order(kind, lengths)) names.emplace_back(field->name);
        CHECK(names.size() == fields(kind).size());
        return names;
    };
    CHECK(order(Kind::zone, LengthUnits::metric)[1] == "limit_w");
    CHECK(order(Kind::cable_type, LengthUnits::metric)[1] == "area_mm2");
    CHECK(order(Kind::cable_type, LengthUnits::feet)[1] == "awg");
    // A room's length, width and height stand side by side.
    desk.open(ui::record_screen(desk.shared, Kind::room, desk.id("Foyer")));
    desk.person->find("room.height_m");
    CHECK(desk.person->mark("room.length_m").area.y == desk.person->mark("room.height_m").area.y);
    CHECK(desk.person->mark("room.width_m").area.x > desk.person->mark("room.length_m").area.x);
}

TEST_CASE("a long note wraps inside its field, and only the line ends that were typed are kept") {
    Desk desk(Start::demo);
    const Id foyer = desk.id("Foyer");
    desk.open(ui::record_screen(desk.shared, Kind::room, foyer));
    Person& person = *desk.person;
    person.find("room.notes");
    person.tap("room.notes");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    const std::string typed = "The key is with the caretaker behind the kitchen, who is there until four on weekdays";
    const auto shown = [] {
        const ImGuiInputTextState* state = ImGui::GetInputTextState(ImGui::GetActiveID());
        REQUIRE(state != nullptr);
        return std::string(state->TextA.Data, static_cast<std::size_t>(state->TextLen));
    };
    person.type(typed);
    const std::string wrapped = shown();
    CHECK(std::count(wrapped.begin(), wrapped.end(), '\n') >= 2);
    CHECK(wrapped.size() == typed.size());
    person.press(ImGuiKey_Enter);
    person.type("Ring first");
    // The blank where the first line ends is taken away, and a line end typed in its place.
    person.press(ImGuiMod_Ctrl | ImGuiKey_Home);
    person.press(ImGuiKey_End);
    person.press(ImGuiKey_Delete);
    person.press(ImGuiKey_Enter);
    std::string kept = typed + "\nRing first";
    kept[wrapped.find('\n')] = '\n';
    person.tap("place.lines");
    CHECK(desk.job().find<Room>(foyer)->notes == kept);
    // Narrow or wide, it is the same note.
    person.tap("place.rooms");
    person.find("room.notes");
    CHECK(person.text("room.notes") == kept);
}

TEST_CASE("emoji that are typed are kept as they are") {
    Desk desk(Start::demo);
    const Id foyer = desk.id("Foyer");
    desk.open(ui::record_screen(desk.shared, Kind::room, foyer));
    Person& person = *desk.person;
    for (const char* field : {"use", "notes"}) {
        const std::string name = std::string("room.") + field;
        person.find(name);
        person.tap(name);
        person.press(ImGuiMod_Ctrl | ImGuiKey_A);
        person.type("Good \U0001F600\U0001F44D here");
        person.tap("place.lines");
        person.tap("place.rooms");
    }
    CHECK(desk.job().find<Room>(foyer)->use == "Good \U0001F600\U0001F44D here");
    CHECK(desk.job().find<Room>(foyer)->notes == "Good \U0001F600\U0001F44D here");
    // And the next letter leaves them as they are.
    person.find("room.use");
    person.tap("room.use");
    person.press(ImGuiKey_End);
    person.type("!");
    person.tap("place.lines");
    CHECK(desk.job().find<Room>(foyer)->use == "Good \U0001F600\U0001F44D here!");
}
