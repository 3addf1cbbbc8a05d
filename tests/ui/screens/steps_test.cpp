// Long work in steps: each frame does a bounded part, and what is touched meanwhile is right.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/lines/trials.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

std::size_t not_worked_out(Desk& desk) {
    const auto& texts = desk.person->toolkit->marks().texts();
    return static_cast<std::size_t>(
        std::count_if(texts.begin(), texts.end(), [](const ui::TextPiece& piece) { return piece.full == "…"; }));
}

}  // namespace

TEST_CASE("a loudspeaker's page works out one tap a frame, and nothing moves meanwhile") {
    Desk desk(Start::demo, {390, 844}, PlaceId::rooms);
    Person& person = *desk.person;
    person.toolkit->requests().open(ui::point_screen(desk.shared, desk.id("C-104")));
    person.frames(1);
    person.frames(1);
    const std::size_t begun = not_worked_out(desk);
    REQUIRE(begun >= 2);
    const ui::Mark first = person.mark("point.tap.0");
    for (std::size_t left = begun; left > 0; --left) {
        CHECK(not_worked_out(desk) == left);
        person.frames(1);
    }
    CHECK(not_worked_out(desk) == 0);
    CHECK(person.settle() < 10);  // and then it rests
    CHECK(person.mark("point.tap.0").area.y == first.area.y);
    CHECK(person.mark("point.tap.0").area.height == first.area.height);
}

TEST_CASE("a tap touched before its consequence is known is warned of as any other") {
    using test::add;
    const ChangeList content = {
        test::set(Kind::job, "job", {{"name", "Mill House"}}),
        add(Kind::amplifier, "a", {{"name", "Amplifier"}, {"rated_w", 10.0}}),
        add(Kind::channel, "c", {{"name", "Output"}, {"amplifier", "a"}, {"rated_w", 10.0}}),
        add(Kind::zone, "z", {{"name", "Inside"}, {"channel", "c"}, {"limit_w", 10.0}}),
        add(Kind::speaker_type, "t",
            {{"name", "Ceiling"}, {"taps_w", List{0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 60.0}}}),
        add(Kind::room, "r", {{"name", "Bar"}}),
        add(Kind::point, "p",
            {{"kind", "speaker"}, {"label", "L-1"}, {"room", "r"}, {"fed_from", "z"}, {"type", "t"}, {"tap_w", 1.0}})};
    Desk desk(content, {390, 1600}, PlaceId::rooms);
    Person& person = *desk.person;
    person.toolkit->requests().open(ui::point_screen(desk.shared, Id("p")));
    person.frames(2);
    REQUIRE(not_worked_out(desk) >= 5);
    person.quick_tap("point.tap.9");
    person.settle();
    CHECK(desk.job().find<Point>(Id("p"))->tap_w == Watts(1));  // asked first
}

TEST_CASE("what is to be added to a trial is worked out one aim a frame, and all three ways stand there in the end") {
    Desk desk(Start::demo, {390, 844}, PlaceId::lines);
    desk.shared.zone = Id("z-2");
    desk.open(ui::trials_screen(desk.shared));
    desk.person->tap("trials.new");
    const Id trial = desk.job().all<Trial>().back().id;
    desk.person->toolkit->requests().open(ui::trial_adding_screen(desk.shared, trial));
    desk.person->frames(2);
    CHECK(desk.person->has("adding.option.fewest"));
    CHECK_FALSE(desk.person->has("adding.option.wanted"));
    desk.person->settle();
    for (const char* aim : {"fewest", "level", "wanted"}) CHECK(desk.person->has("adding.option." + std::string(aim)));
}
