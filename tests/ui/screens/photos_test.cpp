// Photos: what the shelf says of each, the pin that is asked for, and the view over the whole window.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"

using namespace tapwright;
using namespace tapwright::tests;

namespace {

void open_photos(Desk& desk) {
    const auto photo = [](const char* id, char digit, Map more) {
        more.emplace_back("about", "r-foyer");
        more.emplace_back("sha256", std::string(64, digit));
        return test::add(Kind::photo, id, std::move(more));
    };
    REQUIRE(desk.session
                ->request(test::command({photo("f-1", '1', {}), photo("f-2", '2',
                                                                      {{"caption", "Above the door"},
                                                                       {"share", "owner"},
                                                                       {"pin", Map{{"x", 0.25}, {"y", 0.5}}}})}),
                          {"Ada Quill", {}}, desk.clock.next())
                .ok());
    desk.open(ui::photos_screen(desk.shared, Id("r-foyer")));
}

constexpr Screen phone{390, 844}, wide{1280, 800};

}  // namespace

TEST_CASE("the shelf says of each photo what it shows, who may see it, and whether a spot is pinned") {
    Desk desk(Start::demo, phone);
    open_photos(desk);
    CHECK(desk.person->text("photo.f-1") == "Photo without a caption, Technician may see it");
    CHECK(desk.person->text("photo.f-2") == "Above the door, Owner may see it, a spot is pinned");
    std::vector<std::string> written;
    for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts()) written.push_back(piece.full);
    for (const char* words : {"Above the door", "Owner may see it, a spot is pinned"})
        CHECK(std::find(written.begin(), written.end(), words) != written.end());
}

TEST_CASE("who may see a photo is chosen also while nothing is recorded, and said in words when it changes") {
    Desk desk(Start::demo, phone);
    open_photos(desk);
    Person& person = *desk.person;
    person.tap("photo.f-1");
    person.find("photo.share.0");
    CHECK(person.text("photo.share.1").ends_with(", chosen"));
    person.tap("photo.share.0");
    CHECK(desk.job().find<Photo>(Id("f-1"))->share == Share::owner);
    CHECK(person.text("kept").ends_with(", Owner may see it"));
}

TEST_CASE("a stray tap on a photo sets no pin: it is asked for first") {
    Desk desk(Start::demo, phone);
    open_photos(desk);
    Person& person = *desk.person;
    person.tap("photo.f-1");
    person.tap("photo.picture");
    CHECK_FALSE(desk.job().find<Photo>(Id("f-1"))->pin.has_value());
    person.tap("photo.full");
    person.tap("photo.pin");
    person.tap("photo.picture");
    const std::optional<Pin> pin = desk.job().find<Photo>(Id("f-1"))->pin;
    REQUIRE(pin.has_value());
    CHECK(pin->x == doctest::Approx(0.5).epsilon(0.05));
    person.find("photo.unpin");
    person.tap("photo.unpin");
    CHECK_FALSE(desk.job().find<Photo>(Id("f-1"))->pin.has_value());
}

TEST_CASE("a photo is shown over the whole window until it is touched or Escape is pressed") {
    for (const Screen& screen : {phone, wide}) {
        Desk desk(Start::demo, screen);
        open_photos(desk);
        Person& person = *desk.person;
        person.tap("photo.f-2");
        person.tap("photo.picture");
        REQUIRE(person.sees("photo.full"));
        CHECK(person.mark("photo.full").area == ui::Area{0, 0, screen.width, screen.height});
        person.tap("photo.full");
        CHECK_FALSE(person.has("photo.full"));
        person.tap("photo.picture");
        person.press(ImGuiKey_Escape);
        CHECK_FALSE(person.has("photo.full"));
        CHECK(person.has("photo.picture"));
    }
}

TEST_CASE("on a wide window the next photo can be added while one is open") {
    Desk desk(Start::demo, wide);
    open_photos(desk);
    desk.person->tap("photo.f-2");
    desk.person->tap("photos.add");
    REQUIRE(desk.person->host.chosen_for.size() == 1);
    desk.app->file_chosen(ui::FilePurpose::photo, "door.jpg");
    REQUIRE(desk.ports.photos_asked.size() == 1);
    CHECK(desk.ports.photos_asked.front().first == Id("r-foyer"));
}
