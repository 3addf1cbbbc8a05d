// Fields under the finger: what one touch leaves and what it takes up, and how the keyboard goes on.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/ui/widgets/visit.h"
#include "ui/frame/text.h"

using namespace tapwright;
using namespace tapwright::tests;

namespace {

bool is_written(Visit& visit, std::string_view text) {
    const std::vector<ui::TextPiece>& all = visit.person.toolkit->marks().texts();
    return std::any_of(all.begin(), all.end(),
                       [&](const ui::TextPiece& piece) { return piece.full == text && !piece.shortened; });
}

}  // namespace

TEST_CASE("one tap keeps the field that is left and takes up the one that is touched") {
    for (const bool quick : {false, true}) {
        Visit visit(ui::PlaceId::survey);
        visit.person.tap("survey.name");
        visit.person.press(ImGuiKey_End);
        visit.person.type(" north");
        if (quick)
            visit.person.quick_tap("survey.length");
        else
            visit.person.tap("survey.length");
        CHECK(visit.log.kept == std::vector<std::string>{"Dining room north"});
        visit.person.type("8");
        CHECK(visit.person.text("survey.length") == "8");
        // And upwards as well.
        visit.person.tap("survey.name");
        visit.person.press(ImGuiKey_End);
        visit.person.type("!");
        CHECK(visit.log.draft.text == "Dining room north!");
    }
}

TEST_CASE("a tap on a figure selects all of it, so that the next one is written in its place") {
    Visit visit(ui::PlaceId::survey);
    REQUIRE(visit.person.text("survey.length") == "12.5");
    visit.person.tap("survey.length");
    visit.person.type("40 ft 6 in");
    CHECK(visit.person.text("survey.length") == "40 ft 6 in");
}

TEST_CASE("after Return, Tab goes on to the next thing, and the focus shows where it is") {
    Visit visit(ui::PlaceId::survey);
    visit.person.tap("survey.name");
    visit.person.type("Bar");
    visit.person.press(ImGuiKey_Enter);
    const std::string kept = visit.log.draft.text;
    CHECK(ImGui::GetCurrentContext()->NavCursorVisible);
    visit.person.press(ImGuiKey_Tab);
    visit.person.type("9");
    CHECK(visit.person.text("survey.name") == kept);
    CHECK(visit.person.text("survey.length") == "9");
}

TEST_CASE("a button below is tapped also when what the touch before it kept has moved the page") {
    Visit visit(ui::PlaceId::rooms);
    const ui::Mark row = visit.person.mark("room.2");
    const float x = row.area.x + 40, y = row.area.y + row.area.height / 2;
    visit.person.toolkit->gesture().pressed(1, x, y, 300, ui::Gesture::Pointer::touch);
    visit.person.frames(3);
    // A notice as long as this one leaves the page another place to stand in.
    ImGui::SetScrollY(ImGui::GetCurrentContext()->ActiveIdWindow, 90);
    visit.person.frames(2);
    REQUIRE(visit.person.mark("room.2").area.y < row.area.y - 60);
    visit.person.toolkit->gesture().released(1, 300.2);
    visit.person.settle();
    CHECK(visit.log.taps == std::vector<std::string>{"room.2"});
}

TEST_CASE("a hint that has no room in its field is written out below it") {
    for (const float width : {390.0F, 320.0F}) {
        Visit visit(ui::PlaceId::survey, {width, 844});
        visit.person.tap("survey.name");
        visit.person.press(ImGuiMod_Ctrl | ImGuiKey_A);
        visit.person.press(ImGuiKey_Delete);
        CHECK(is_written(visit, "such as Dining room"));
    }
    const auto shown = [](float width) {
        ui::Draft draft;
        GalleryLog log;
        struct Bare : ui::Program {
            ui::Draft draft;
            void draw(ui::Context& context) override {
                ImGui::SetNextWindowPos(ImVec2(0, 0));
                ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
                ImGui::Begin("bare", nullptr, ImGuiWindowFlags_NoDecoration);
                ui::text_field(
                    context, "bare.area", entered("Area"), "", draft,
                    {.hint = entered("mm\xC2\xB2"), .help = entered("of one conductor, as printed on its sheath")});
                ImGui::End();
            }
            void settle(ui::Requests&) override {}
            void file_chosen(ui::FilePurpose, const std::string&) override {}
            void files_dropped(const std::vector<std::string>&) override {}
            std::string window_title() override { return {}; }
        } bare;
        Person person(bare, {width, 400}, regular_face(), semibold_face());
        std::vector<std::string> all;
        for (const ui::TextPiece& piece : person.toolkit->marks().texts()) {
            CHECK_FALSE(piece.shortened);
            all.push_back(piece.full);
        }
        return all;
    };
    const std::string unit = "mm\xC2\xB2", help = "of one conductor, as printed on its sheath";
    CHECK(shown(800) == std::vector<std::string>{"Area", unit + ", " + help});
    CHECK(shown(200) == std::vector<std::string>{"Area", unit, help});
}

TEST_CASE("the newest error stands alone, a note comes after it, and the error goes with its page") {
    Visit visit(ui::PlaceId::handover);
    visit.app.say(ui::Tone::stop, entered("The length must be above 0 m."));
    visit.app.say(ui::Tone::stop, entered("The width must be above 0 m."));
    visit.app.say(ui::Tone::note, entered("The sheet stands beside the job."));
    visit.person.settle();
    CHECK(visit.person.text("message.0") == "The width must be above 0 m.");
    CHECK_FALSE(visit.person.has("message.1"));
    visit.person.tap("place.snags");
    CHECK(visit.person.text("message.0") == "The sheet stands beside the job.");
    CHECK_FALSE(visit.person.has("message.1"));
}

TEST_CASE("notices leave the page more than half the window") {
    Visit visit(ui::PlaceId::snags, {320, 480, 1});
    std::string sentence;
    for (int i = 0; i < 12; ++i) sentence += "A sentence that goes on. ";
    visit.app.say(ui::Tone::stop, entered(sentence));
    visit.app.say(ui::Tone::note, entered(sentence));
    visit.person.settle();
    CHECK(visit.person.has("message.0"));
    CHECK_FALSE(visit.person.has("message.1"));
}

TEST_CASE("a figure is not parted from its unit at the end of a line") {
    Visit visit(ui::PlaceId::survey);
    ui::Context& context = visit.person.toolkit->context();
    for (const std::string text : {"Width of Room 20, 6 m", "Lost in the cable: 0.4 dB", "40 W"})
        for (int width = 8; width < 400; width += 3)
            for (const std::string& line :
                 ui::broken_into_lines(context, ui::TextSize::body, text, static_cast<float>(width)).lines)
                if (width > 80) {
                    CHECK_MESSAGE(line != "m", width);
                    CHECK_MESSAGE(line != "dB", width);
                    CHECK_MESSAGE(line != "W", width);
                }
}
