#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/ui/widgets/visit.h"

using namespace tapwright;
using namespace tapwright::tests;

namespace {

constexpr Screen screens[] = {{320, 640, 1},  {390, 844, 1}, {1280, 800, 1}, {320, 640, 2}, {390, 844, 2},
                              {1280, 800, 2}, {320, 640, 3}, {390, 844, 3},  {1280, 800, 3}};

void check_all(Visit& visit, const std::string& where) {
    CAPTURE(where);
    for (const auto& faults : {small_targets(*visit.person.toolkit, 44), cut_texts(*visit.person.toolkit),
                               overlapping_texts(*visit.person.toolkit), repeated_marks(*visit.person.toolkit)})
        for (const std::string& fault : faults) FAIL_CHECK(fault);
}

}  // namespace

TEST_CASE("at every size and scale targets are large enough and no text is cut or written over") {
    for (const Screen& screen : screens) {
        CAPTURE(screen.width);
        CAPTURE(screen.scale);
        for (int place = 0; place < ui::place_count; ++place) {
            Visit visit(static_cast<ui::PlaceId>(place), screen);
            check_all(visit, std::string(ui::place_key(static_cast<ui::PlaceId>(place))));
            // Further down as well.
            for (int i = 0; i < 3; ++i) {
                const float x = 60 * screen.scale, y = screen.height * screen.scale * 0.8F;
                visit.person.drag(screen.width > 900 ? 400 * screen.scale : x, y,
                                  screen.width > 900 ? 400 * screen.scale : x, y - 260 * screen.scale);
                check_all(visit, std::string(ui::place_key(static_cast<ui::PlaceId>(place))));
            }
        }
    }
}

TEST_CASE("a row's words keep their distance from its edges") {
    for (const Screen& screen : screens) {
        Visit visit(ui::PlaceId::rooms, screen);
        int seen = 0;
        for (const ui::TextPiece& text : visit.person.toolkit->marks().texts()) {
            for (const ui::Mark& row : visit.person.toolkit->marks().all()) {
                const float middle = text.area.y + text.area.height / 2;
                const bool beside = text.area.x >= row.area.x && text.area.x < row.area.x + row.area.width;
                const bool inside = middle > row.shown.y && middle < row.shown.y + row.shown.height;
                if (!row.name.starts_with("room.") || !inside || !beside) continue;
                CAPTURE(text.full);
                CHECK(text.area.y >= row.area.y + 6 * screen.scale);
                CHECK(text.area.y + text.area.height <= row.area.y + row.area.height - 6 * screen.scale);
                ++seen;
            }
        }
        CHECK(seen >= 4);
    }
}

TEST_CASE("sheets and messages hold to the same rules at every size and scale") {
    for (const Screen& screen : screens) {
        CAPTURE(screen.width);
        CAPTURE(screen.scale);
        {
            Visit pad(ui::PlaceId::readings, screen);
            pad.log.pad_open = true;
            pad.person.settle();
            check_all(pad, "number pad");
        }
        Visit question(ui::PlaceId::survey, screen);
        question.log.sheet_open = true;
        question.app.say(ui::Tone::stop,
                         entered("The file \"north wing.tapjob\" is open in another window: close it there."));
        question.app.say(ui::Tone::note, entered("Nothing to undo."));
        question.person.settle();
        check_all(question, "question");
    }
}

TEST_CASE("larger text still fits a small phone") {
    Visit visit(ui::PlaceId::handover, {360, 720, 1});
    visit.person.toolkit->preferences.text_scale = 1.6F;
    visit.person.settle();
    CHECK(visit.person.toolkit->context().scale == doctest::Approx(1.6));
    check_all(visit, "large text");
    visit.person.tap("place.snags");
    CHECK(visit.app.place() == ui::PlaceId::snags);
    check_all(visit, "large text, snags");
}

TEST_CASE("a field keeps its draft, commits when left and on Enter, and Escape brings the kept text back") {
    Visit visit(ui::PlaceId::survey);
    visit.person.tap("survey.name");
    visit.person.press(ImGuiKey_End);
    visit.person.type(" \xC3\x9C 2,5 mm\xC2\xB2 \xCE\xA9");
    CHECK(visit.log.draft.editing);
    CHECK(visit.log.draft.unkept);
    CHECK(visit.log.kept.empty());
    visit.person.press(ImGuiKey_Enter);
    REQUIRE(visit.log.kept.size() == 1);
    CHECK(visit.log.kept[0] == "Dining room \xC3\x9C 2,5 mm\xC2\xB2 \xCE\xA9");
    visit.person.tap("survey.name");
    visit.person.press(ImGuiKey_End);
    visit.person.type("x");
    visit.person.tap("survey.ceiling.1");  // leaving the field
    CHECK(visit.log.kept.size() == 2);
    CHECK(visit.log.kept.back().back() == 'x');
    visit.person.tap("survey.name");
    visit.person.type("never mind");
    visit.person.press(ImGuiKey_Escape);
    CHECK(visit.log.kept.size() == 2);
    CHECK(visit.log.draft.text == visit.log.room);
}

TEST_CASE("what is being typed survives a change of place") {
    Visit visit(ui::PlaceId::survey);
    visit.person.tap("survey.name");
    visit.person.press(ImGuiKey_End);
    visit.person.type(" north");
    visit.person.press(ImGuiMod_Alt | ImGuiKey_5);
    CHECK(visit.app.place() == ui::PlaceId::snags);
    visit.person.press(ImGuiMod_Alt | ImGuiKey_1);
    CHECK(visit.log.draft.text == "Dining room north");
    const bool kept = !visit.log.kept.empty();
    CHECK((visit.log.draft.unkept || kept));
}

TEST_CASE("text fields in sight are published for on-screen keyboards") {
    Visit visit(ui::PlaceId::survey);
    REQUIRE(visit.person.host.native_areas.size() >= 3);
    CHECK(visit.person.host.native_areas[0].name == "survey.name");
    CHECK(visit.person.host.native_areas[1].kind == ui::NativeArea::Kind::number);
    visit.person.tap("place.rooms");
    CHECK(visit.person.host.native_areas.empty());
}

TEST_CASE("the number pad takes touches and keys alike") {
    Visit visit(ui::PlaceId::readings);
    visit.log.pad_open = true;
    visit.person.settle();
    CHECK_FALSE(visit.person.mark("pad.keep").enabled);
    for (const char* key : {"pad.9", "pad.2", "pad.point", "pad.point", "pad.5", "pad.5", "pad.erase"})
        visit.person.tap(key);
    CHECK(visit.log.pad.text == "92.5");
    visit.person.type("1");
    visit.person.press(ImGuiKey_Backspace);
    CHECK(visit.log.pad.text == "92.5");
    visit.person.tap("pad.keep");
    CHECK(visit.log.kept == std::vector<std::string>{"92.5"});
    CHECK_FALSE(visit.person.has("pad.keep"));
    visit.log.pad.text.clear();
    visit.log.pad_open = true;
    visit.person.settle();
    visit.person.type("8,25-");
    visit.person.press(ImGuiKey_Enter);
    CHECK(visit.log.kept.back() == "8.25");
}

TEST_CASE("a key of the pad changes the text as a person expects") {
    const auto typed = [](const char* keys) {
        std::string text;
        for (const char* key = keys; *key; ++key) text = ui::after_key(text, *key);
        return text;
    };
    CHECK(typed("05") == "5");
    CHECK(typed(".5") == "0.5");
    CHECK(typed("1..2") == "1.2");
    CHECK(typed("5-") == "-5");
    CHECK(typed("5--") == "5");
    CHECK(typed("-0.3") == "-0.3");
    CHECK(typed("1234567890") == "123456789");
    CHECK(typed("12<<<") == "");
    CHECK(typed("1a2") == "12");
}

TEST_CASE("choices, steppers, toggles and questions report what was touched") {
    Visit visit(ui::PlaceId::survey);
    visit.person.find("survey.tap.3");
    visit.person.tap("survey.tap.3");
    CHECK(visit.log.chosen == 3);
    CHECK(visit.person.text("survey.tap.3") == "10 W, 12.5 W left, chosen");
    CHECK_FALSE(visit.person.mark("survey.tap.5").enabled);
    visit.person.find("survey.count.more");
    visit.person.tap("survey.count.more");
    visit.person.tap("survey.count.more");
    visit.person.tap("survey.count.less");
    CHECK(visit.log.count == 5);
    visit.person.find("survey.plenum");
    visit.person.tap("survey.plenum");
    CHECK(visit.log.on);
    visit.person.find("survey.danger");
    visit.person.tap("survey.danger");
    CHECK(visit.person.sees("survey.ask.yes"));
    visit.person.press(ImGuiKey_Escape);
    CHECK_FALSE(visit.person.has("survey.ask.yes"));
    CHECK(visit.app.place() == ui::PlaceId::survey);
}

TEST_CASE("everything can be reached and used by keyboard, and the focus shows") {
    Visit visit(ui::PlaceId::rooms);
    for (int i = 0; i < 40 && visit.log.taps.empty(); ++i) {
        visit.person.press(ImGuiKey_Tab);
        const ImGuiID focused = ImGui::GetFocusID();
        CHECK(focused != 0);
        visit.person.press(ImGuiKey_Space);
    }
    CHECK_FALSE(visit.log.taps.empty());
    visit.person.press(ImGuiKey_Enter);
    CHECK(visit.log.taps.size() == 2);
}

TEST_CASE("places change by touch and by keyboard, pages stack and lead back") {
    Visit visit(ui::PlaceId::handover);
    visit.person.find("handover.open");
    visit.person.tap("handover.open");
    CHECK(visit.app.depth() == 2);
    CHECK(visit.person.text("header.title") == "Snags");
    visit.person.press(ImGuiMod_Alt | ImGuiKey_2);
    CHECK(visit.app.place() == ui::PlaceId::rooms);
    visit.person.press(ImGuiMod_Alt | ImGuiKey_6);
    CHECK(visit.app.depth() == 2);
    visit.person.press(ImGuiKey_Escape);
    CHECK(visit.app.depth() == 1);
    CHECK(visit.person.text("header.title") == "Handover");
    visit.person.press(ImGuiKey_Escape);
    CHECK(visit.app.depth() == 1);
}

TEST_CASE("a page is whole in the first frame after the touch that opened it") {
    Visit visit(ui::PlaceId::rooms);
    visit.person.toolkit->requests().show(ui::PlaceId::snags);
    visit.person.frames(2);  // one that settles the wish, one that shows the place
    CHECK(visit.person.text("header.title") == "Snags");
    CHECK(visit.person.sees("header.title"));
    CHECK(visit.person.sees("snags.add"));
    CHECK(visit.person.sees("strip.headroom"));
}

TEST_CASE("an error stays until it is put away, the same one once") {
    Visit visit(ui::PlaceId::snags);
    visit.person.find("snags.say");
    visit.person.tap("snags.say");
    visit.person.tap("snags.say");
    CHECK(visit.person.text("message.0") == "The tap 7 W is not on this type: it has 1.25, 2.5, 5 and 10 W.");
    CHECK_FALSE(visit.person.has("message.1"));
    visit.person.tap("message.0.dismiss");
    CHECK_FALSE(visit.person.has("message.0"));
}

TEST_CASE("with no input no frame is wanted") {
    for (int place = 0; place < ui::place_count; ++place) {
        Visit visit(static_cast<ui::PlaceId>(place));
        visit.person.settle();
        CHECK(visit.person.toolkit->next_frame_in() < 0);
        CHECK(visit.person.host.wake_requests == 0);
    }
}

TEST_CASE("other scripts are loaded once, when they are first needed") {
    Visit visit(ui::PlaceId::rooms);
    CHECK(visit.person.host.other_scripts_asked == 0);
    visit.person.tap("place.survey");
    visit.person.tap("survey.name");
    visit.person.type("\xE9\xA3\x9F\xE5\xA0\x82");  // dining hall, in Chinese characters
    visit.person.settle();
    CHECK(visit.person.host.other_scripts_asked == 1);
    CHECK(visit.log.draft.text.find("\xE9\xA3\x9F\xE5\xA0\x82") != std::string::npos);
}

TEST_CASE("other scripts go into every face, whichever was loaded last") {
    Visit visit(ui::PlaceId::survey);
    visit.person.host.other_scripts = {regular_face()};
    visit.person.tap("survey.name");
    visit.person.type("\xE9\xA3\x9F");
    visit.person.settle();
    const ImVector<ImFont*>& fonts = ImGui::GetIO().Fonts->Fonts;
    REQUIRE(fonts.Size == 2);
    for (ImFont* font : fonts) {
        REQUIRE(font->Sources.Size == 2);
        for (const ImFontConfig* source : font->Sources) CHECK(source->DstFont == font);
    }
    CHECK(visit.person.toolkit->context().fonts.font(ui::TextSize::body) == fonts[0]);
    CHECK(visit.person.toolkit->context().fonts.font(ui::TextSize::strong) == fonts[1]);
}

TEST_CASE("the reasons of a statement open by a touch, and close again") {
    Visit visit(ui::PlaceId::snags);
    const auto shows = [&] {
        for (const ui::TextPiece& piece : visit.person.toolkit->marks().texts())
            if (piece.full == "In the walk test it sounded thin beside its neighbours.") return true;
        return false;
    };
    visit.person.find("snags.verdict.why");
    CHECK(visit.person.text("snags.verdict") == "Warning: Amplifier off, then swap its two wires.");
    CHECK_FALSE(shows());
    visit.person.tap("snags.verdict.why");
    visit.person.settle();
    CHECK(shows());
    visit.person.tap("snags.verdict.why");
    visit.person.settle();
    CHECK_FALSE(shows());
}

TEST_CASE("in the pseudo-language all that the gallery's widgets say of themselves is a message") {
    Visit visit(ui::PlaceId::snags);
    visit.person.toolkit->preferences.language = &pseudo();
    visit.person.settle();
    visit.person.frames(1);
    CHECK(visit.person.text("place.snags").find("\xC2\xAB") == 0);
    CHECK(visit.person.text("snags.verdict").find("\xC2\xAB") == 0);
    CHECK(visit.person.text("snags.progress.cancel").find("\xC2\xBB") != std::string::npos);
    visit.person.toolkit->preferences.language = &english();
    visit.person.frames(1);
    CHECK(visit.person.text("snags.progress.cancel") == "Cancel");
}

TEST_CASE("the marks are written as a JSON array of name, rect, visible, enabled and text") {
    Visit visit(ui::PlaceId::rooms);
    const nlohmann::json marks = nlohmann::json::parse(visit.person.toolkit->marks().json());
    REQUIRE(marks.is_array());
    bool found = false, hidden = false;
    for (const nlohmann::json& mark : marks) {
        REQUIRE(mark.at("rect").size() == 4);
        if (mark.at("name") == "room.0") {
            found = true;
            CHECK(mark.at("visible") == true);
            CHECK(mark.at("enabled") == true);
            CHECK(mark.at("text") == "Entrance, 4 loudspeakers, 1 left to tap, 5 W");
        }
        if (mark.at("name") == "room.13") hidden = mark.at("visible") == false;
    }
    CHECK(found);
    CHECK(hidden);
}

TEST_CASE("the theme follows the machine until the person chooses") {
    Visit visit(ui::PlaceId::rooms, {390, 844, 1, true});
    CHECK(visit.person.toolkit->theme().night);
    visit.person.toolkit->preferences.appearance = ui::Preferences::Appearance::day;
    visit.person.settle();
    CHECK_FALSE(visit.person.toolkit->theme().night);
}
