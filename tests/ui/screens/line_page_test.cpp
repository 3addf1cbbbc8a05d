// The line of a zone: taps in the drawing, figures of what is touched in sight at once, and unknown said as unknown.
#include <doctest/doctest.h>

#include <algorithm>
#include <tuple>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// A zone, a run of 30 m to L-1, a run nobody has measured to L-2 behind it, an attenuator at -6 dB before L-3.
ChangeList line_to_touch() {
    using test::add;
    return {test::set(Kind::job, "job", {{"name", "Mill House"}, {"line_v", 70.7}}),
            add(Kind::amplifier, "a", {{"name", "Amplifier"}, {"rated_w", 100.0}}),
            add(Kind::channel, "c", {{"name", "Output"}, {"amplifier", "a"}, {"rated_w", 100.0}}),
            add(Kind::zone, "z", {{"name", "Inside"}, {"channel", "c"}, {"limit_w", 100.0}}),
            add(Kind::room, "r", {{"name", "Bar"}}),
            add(Kind::cable_type, "k", {{"name", "Pair"}, {"awg", 18.0}}),
            add(Kind::attenuator_type, "v", {{"name", "Control"}, {"steps_db", List{0.0, -6.0}}}),
            add(Kind::point, "p1",
                {{"kind", "speaker"},
                 {"label", "L-1"},
                 {"room", "r"},
                 {"fed_from", "z"},
                 {"tap_w", 5.0},
                 {"cable", "k"},
                 {"length_m", 30.0}}),
            add(Kind::point, "p2",
                {{"kind", "speaker"}, {"label", "L-2"}, {"room", "r"}, {"fed_from", "p1"}, {"tap_w", 2.5}}),
            add(Kind::point, "v1",
                {{"kind", "attenuator"},
                 {"label", "V-1"},
                 {"type", "v"},
                 {"fed_from", "p1"},
                 {"knob_db", -6.0},
                 {"cable", "k"},
                 {"length_m", 5.0}}),
            add(Kind::point, "p3",
                {{"kind", "speaker"},
                 {"label", "L-3"},
                 {"fed_from", "v1"},
                 {"tap_w", 10.0},
                 {"cable", "k"},
                 {"length_m", 5.0}}),
            add(Kind::point, "p4",
                {{"kind", "speaker"},
                 {"label", "L-4"},
                 {"fed_from", "z"},
                 {"planned_tap_w", 1.0},
                 {"cable", "k"},
                 {"length_m", 5.0}})};
}

bool line_says(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

bool stands_in_line(Desk& desk, std::string_view words) {
    for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts())
        if (piece.full == words && !piece.shortened) return true;
    return false;
}

constexpr Screen line_screens[] = {{390, 844}, {844, 390}, {320, 568}, {820, 1180}, {1280, 800}, {1920, 1080}};

}  // namespace

TEST_CASE("the line drawing says each loudspeaker's tap and each attenuator's position") {
    Desk desk(line_to_touch(), {390, 844}, PlaceId::lines);
    for (const char* words : {"5 W", "2.5 W", "10 W", "1 W planned", "−6 dB"})
        CHECK_MESSAGE(stands_in_line(desk, words), words);
    CHECK(line_says(desk.person->text("line.point.p1"), "L-1, 5 W"));
}

TEST_CASE(
    "touch a point for its figures: they are in sight at once at every size, wherever on the page it was touched") {
    for (const Screen& screen : line_screens) {
        CAPTURE(screen.width);
        CAPTURE(screen.height);
        Desk desk(line_to_touch(), screen, PlaceId::lines);
        Person& person = *desk.person;
        person.find("line.point.p3");
        person.tap("line.point.p3");
        REQUIRE(person.sees("lines.figures"));
        const ui::Mark figures = person.mark("lines.figures");
        CHECK(figures.shown.height >= figures.area.height - 1);
        CHECK(line_says(figures.text, "L-3, 10 W"));
        CHECK(line_says(figures.text, "level −6"));
        CHECK(line_says(figures.text, "fed from V-1"));
    }
}

TEST_CASE("what is expected of a line with unrecorded runs is a bound in the drawing as everywhere") {
    ChangeList changes = line_to_touch();
    changes.push_back(test::add(Kind::reading, "read", {{"at", "z"}, {"quantity", "ohms"}, {"value", 300.0}}));
    Desk desk(changes, {390, 844}, PlaceId::lines);
    const auto texts = desk.person->toolkit->marks().texts();
    CHECK(std::any_of(texts.begin(), texts.end(), [](const ui::TextPiece& piece) {
        return line_says(piece.full, "300 Ω, at least ") && line_says(piece.full, " expected");
    }));
}

TEST_CASE("the_line_drawing_showed_the_reading_entered_last_not_the_one_taken_last") {
    ChangeList changes = line_to_touch();
    const auto read = [&changes](const char* id, const char* time, double ohms) {
        changes.push_back(
            test::add(Kind::reading, id, {{"at", "p1"}, {"quantity", "ohms"}, {"value", ohms}, {"time", time}}));
    };
    read("later", "2030-05-02T10:00:00Z", 300.0);
    read("earlier", "2030-05-01T10:00:00Z", 150.0);
    Desk desk(changes, {390, 844}, PlaceId::lines);
    CHECK(line_says(desk.person->text("line.point.p1"), "300 Ω"));
    CHECK_FALSE(line_says(desk.person->text("line.point.p1"), "150 Ω"));
}

TEST_CASE("the_line_drawing_passed_over_a_reading_beyond_the_range_of_the_meter") {
    ChangeList changes = line_to_touch();
    const Map read = {{"at", "p1"}, {"quantity", "ohms"}, {"value", 300.0}, {"time", "2030-05-01T10:00:00Z"}};
    changes.push_back(test::add(Kind::reading, "earlier", read));
    changes.push_back(test::add(Kind::reading, "later",
                                {{"at", "p1"},
                                 {"quantity", "ohms"},
                                 {"value", 20000.0},
                                 {"over_range", true},
                                 {"time", "2030-05-02T10:00:00Z"}}));
    Desk desk(changes, {390, 844}, PlaceId::lines);
    CHECK(line_says(desk.person->text("line.point.p1"), "over 20 kΩ, "));
    CHECK_FALSE(line_says(desk.person->text("line.point.p1"), "300 Ω"));
}

TEST_CASE("a_point_showed_the_reading_entered_last_though_another_was_taken_later") {
    ChangeList changes = line_to_touch();
    for (const auto& [id, ohms, time] :
         {std::tuple("noon", 300.0, "2030-05-01T12:00:00Z"), std::tuple("paper", 280.0, "2029-01-10T09:00:00Z")})
        changes.push_back(
            test::add(Kind::reading, id, {{"at", "p1"}, {"quantity", "ohms"}, {"value", ohms}, {"time", time}}));
    Desk desk(changes, {390, 844}, PlaceId::rooms);
    desk.open(ui::point_screen(desk.shared, Id("p1")));
    CHECK(desk.person->has("point.reading.noon"));
    CHECK_FALSE(desk.person->has("point.reading.paper"));
    desk.open(ui::readings_at_screen(desk.shared, Id("p1")));
    CHECK(desk.person->mark("reading.noon").area.y < desk.person->mark("reading.paper").area.y);
}

TEST_CASE("a_reading_at_a_joint_was_not_written_where_rows_are_of_one_line") {
    for (const Screen& screen : {Screen{390, 844}, Screen{844, 390}, Screen{820, 1180}}) {
        Desk desk(Start::demo, screen, PlaceId::lines);
        REQUIRE(desk.session
                    ->request(test::command({test::add(Kind::reading, "over",
                                                       {{"at", desk.id("J-110").text()},
                                                        {"quantity", "ohms"},
                                                        {"value", 20000.0},
                                                        {"over_range", true},
                                                        {"time", "2030-05-02T10:00:00Z"}})}),
                              {"Ada Quill", {}}, desk.clock.next())
                    .ok());
        desk.person->settle();
        const auto& texts = desk.person->toolkit->marks().texts();
        const auto is_it = [&](const auto& text) {
            return line_says(text.full, screen.height < 1000 ? "over 20 kΩ read" : "over 20 kΩ, 200 Ω expected") &&
                   !text.shortened;
        };
        CHECK_MESSAGE(std::any_of(texts.begin(), texts.end(), is_it), screen.width);
    }
}

TEST_CASE("the room for the figures is there before a point is touched, so nothing moves") {
    Desk desk(line_to_touch(), {390, 844}, PlaceId::lines);
    const ui::Mark before = desk.person->mark("lines.figures");
    const ui::Mark line = desk.person->mark("line");
    CHECK(line_says(before.text, "Touch a point for its figures"));
    desk.person->tap("line.point.p1");
    CHECK(desk.person->mark("lines.figures").area.y == before.area.y);
    CHECK(desk.person->mark("lines.figures").area.height == before.area.height);
    CHECK(desk.person->mark("line").area.y == line.area.y);
}

TEST_CASE("a run without length says unknown, not 0 dB, in the drawing and among the figures") {
    Desk desk(line_to_touch(), {390, 844}, PlaceId::lines);
    CHECK(line_says(desk.person->text("line.point.p2"), "unknown"));
    CHECK_FALSE(line_says(desk.person->text("line.point.p2"), "dB"));
    desk.person->tap("line.point.p2");
    CHECK(line_says(desk.person->text("lines.figures"), "level unknown, cable unknown"));
    CHECK(line_says(desk.person->text("lines.figures"), "at most 7"));
    CHECK_FALSE(line_says(desk.person->text("lines.figures"), "0 dB"));
    CHECK(line_says(desk.person->text("line.point.p1"), "dB"));
}

TEST_CASE("trying changes is the first thing of the page, in sight at every size") {
    for (const Screen& screen : line_screens) {
        Desk desk(line_to_touch(), screen, PlaceId::lines);
        CHECK(desk.person->sees("lines.trials"));
        CHECK(desk.person->mark("lines.trials").area.y <= desk.person->mark("line").area.y + 1);
    }
}

TEST_CASE("a point that goes takes its figures with it") {
    Desk desk(line_to_touch(), {390, 844}, PlaceId::lines);
    desk.person->tap("line.point.p4");
    REQUIRE(line_says(desk.person->text("lines.figures"), "L-4"));
    REQUIRE(desk.session
                ->request(test::command({{ChangeOp::remove, Kind::point, Id("p4"), {}}}), {"Ada Quill", {}},
                          desk.clock.next())
                .ok());
    desk.person->settle();
    CHECK(line_says(desk.person->text("lines.figures"), "Touch a point for its figures"));
    CHECK_FALSE(desk.person->has("lines.open"));
}

TEST_CASE("the line page is whole at every size, with a point touched") {
    for (const Screen& screen : line_screens) {
        Desk desk(Start::demo, screen, PlaceId::lines);
        desk.person->find("line.point." + desk.id("C-104").text());
        desk.person->tap("line.point." + desk.id("C-104").text());
        for (const std::string& fault : desk.faults_down_the_page())
            FAIL_CHECK(screen.width, "x", screen.height, ": ", fault);
    }
}

TEST_CASE("on a wide window Touch a point is said once") {
    Desk desk(Start::demo, {1280, 800}, PlaceId::lines);
    int said = 0;
    for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts())
        said += piece.full.find("Touch a point") != std::string::npos;
    CHECK(said == 1);
}
