// A house of two hundred rooms and two thousand loudspeakers on paper: every one is there, every page of a schedule has
// its heads, and nothing is outside of the margins.
#include <doctest/doctest.h>

#include <algorithm>

#include "core/words/words.h"
#include "platform/handover/handover.h"
#include "tests/print/outside.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

constexpr int rooms = 200;
constexpr int zones = 20;
constexpr int speakers = 2000;

std::string number(const char* prefix, int k) {
    return prefix + std::to_string(k);
}

ChangeList large_house() {
    ChangeList changes = {set(Kind::job, "job", {{"name", "Lindenhof"}}),
                          add(Kind::amplifier, "a1", {{"name", "Amplifier 1"}, {"rated_w", 20000.0}}),
                          add(Kind::channel, "c1", {{"name", "Output 1"}, {"amplifier", "a1"}, {"rated_w", 20000.0}}),
                          add(Kind::speaker_type, "t1", {{"name", "Ceiling 165 mm"}, {"taps_w", List{2.5, 5.0, 10.0}}}),
                          add(Kind::cable_type, "k1", {{"name", "16 AWG pair"}, {"awg", 16.0}})};
    for (int k = 0; k < rooms; ++k)
        changes.push_back(add(Kind::room, number("r", k), {{"name", "Room " + std::to_string(k)}}));
    for (int k = 0; k < zones; ++k)
        changes.push_back(add(Kind::zone, number("z", k),
                              {{"name", "Zone " + std::to_string(k)}, {"channel", "c1"}, {"limit_w", 1000.0}}));
    constexpr int per_zone = speakers / zones;
    for (int k = 0; k < speakers; ++k)
        changes.push_back(add(Kind::point, number("s", k),
                              {{"kind", "speaker"},
                               {"label", "C-" + std::to_string(1000 + k)},
                               {"room", number("r", k / (speakers / rooms))},
                               {"fed_from", k % per_zone == 0 ? number("z", k / per_zone) : number("s", k - 1)},
                               {"type", "t1"},
                               {"cable", "k1"},
                               {"planned_tap_w", 5.0},
                               {"tap_w", k % 7 == 0 ? 2.5 : 5.0},
                               {"length_m", 6.5}}));
    return changes;
}

}  // namespace

TEST_CASE("two thousand loudspeakers in two hundred rooms, on A4 and Letter") {
    TemporaryFolder folder;
    Clock clock;
    Result<Session> made = Session::create(folder.file("a.tapjob"), command(large_house()), {"Ana", ""}, clock.next());
    REQUIRE_MESSAGE(made.ok(), (made.ok() ? "" : in_english(made.refusal())));
    for (const document::Paper paper : {document::Paper::a4, document::Paper::letter}) {
        const Result<MadeSheet> sheet =
            make_sheet(*made, {SheetReader::technician, paper, SheetMedium::pdf}, clock.next());
        REQUIRE(sheet.ok());
        CHECK(sheet->bytes.size() < 15'000'000);
        const print::Pdf pdf{sheet->bytes, sheet->pages};
        const double width = paper == document::Paper::a4 ? 595.276 : 612;
        const double height = paper == document::Paper::a4 ? 841.89 : 792;
        std::vector<int> seen(speakers);
        for (const outside::Word& word : outside::words_of(pdf)) {
            CAPTURE(word.text);
            CAPTURE(word.page);
            REQUIRE(word.left >= 41);
            REQUIRE(word.right <= width - 41);
            REQUIRE(word.top >= 36);
            REQUIRE(word.bottom <= height - 26);
            if (word.text.size() == 6 && word.text.starts_with("C-")) ++seen[std::stoul(word.text.substr(2)) - 1000];
        }
        CHECK(std::count(seen.begin(), seen.end(), 0) == 0);
        // A loudspeaker stands in its line's drawing, in the schedule, as the next one's feed, and in its room's row.
        CHECK(*std::min_element(seen.begin(), seen.end()) >= 3);
        int schedules = 0;
        for (const std::string& page : outside::pages_of(pdf)) {
            const std::string text = outside::squeezed(page);
            if (text.find("V−0.") == std::string::npos) continue;  // no row with volts and level
            ++schedules;
            CAPTURE(page);
            CHECK(text.find("PointRoomTypePlannedAsleftFedfromCableVoltsLevelWatts") != std::string::npos);
        }
        CHECK(schedules >= zones);
    }
}
