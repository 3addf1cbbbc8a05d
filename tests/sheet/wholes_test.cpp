// What of a text has to stay on one line, and what may be torn apart.
#include "core/sheet/wholes.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace tapwright;

namespace {

using Pieces = std::vector<std::string>;

Pieces wholes(const std::string& text) {
    Pieces pieces;
    std::size_t end = 0;
    for (const document::Bytes& whole : document::wholes_in(text)) {
        REQUIRE(whole.first >= end);
        REQUIRE(whole.first < whole.last);
        REQUIRE(whole.last <= text.size());
        pieces.push_back(text.substr(whole.first, whole.last - whole.first));
        end = whole.last;
    }
    return pieces;
}

}  // namespace

TEST_CASE("a figure and its unit are one piece, whatever stands around them") {
    CHECK(wholes("the lines carry up to 70.7 V and can give a shock") == Pieces{"70.7 V"});
    CHECK(wholes("5 W 100 V") == Pieces{"5 W", "100 V"});
    CHECK(wholes("\u22120.1 dB, (12 dB(A)); 22 m, 16 AWG pair, 2 \u00d7 1.5 mm\u00b2.") ==
          Pieces{"\u22120.1 dB", "12 dB(A)", "22 m", "16 AWG", "1.5 mm\u00b2"});
    CHECK(wholes("\u2068set to 5 W\u2069: \u2068118 \u03a9\u2069") == Pieces{"5 W", "118 \u03a9"});
    CHECK(wholes("95 to 142 \u03a9 within \u00b120 %") == Pieces{"142 \u03a9", "\u00b120 %"});
    CHECK(wholes("8 loudspeakers, 9 lines, 3 Watts, 5\nW, 5  W").empty());
}

TEST_CASE("a day is one piece, and so is a code with a number behind its hyphen") {
    CHECK(wholes("on 15 Apr 2025, 14:05") == Pieces{"15 Apr 2025"});
    CHECK(wholes("am 15. April 2025.") == Pieces{"15. April 2025"});
    CHECK(wholes("(2025-04-15)") == Pieces{"2025-04-15"});
    CHECK(wholes("C-111, \u2068\u039c-103\u2069 and \u5929-103: DB-2, breaker 7") ==
          Pieces{"C-111", "\u039c-103", "\u5929-103", "DB-2", "breaker 7"});
    CHECK(wholes("C-101/C-102;C-103") == Pieces{"C-101", "C-102", "C-103"});
    CHECK(wholes("15 Apr 20250, 155 Apr 2025, two-channel, loudspeaker end, -5, a-b").empty());
    CHECK(wholes("at C-111 5 W") == Pieces{"C-111", "5 W"});
}

TEST_CASE("a number to call is one piece, figures before a unit are none") {
    CHECK(wholes("Desk, 555-0142, weekdays") == Pieces{"555-0142"});
    CHECK(wholes("call +49 (30) 1234-567. Or 555 0177; no") == Pieces{"+49 (30) 1234-567", "555 0177"});
    CHECK(wholes("taps 10 20 40 60 W") == Pieces{"taps 10", "60 W"});
    CHECK(wholes("12.5/25/50 W") == Pieces{"12.5/25/50 W"});
}

TEST_CASE("a name and its number, a room and its count are one piece") {
    CHECK(wholes("(Amplifier 1), Great hall: 8 and \u2068Offices\u2069: 5") ==
          Pieces{"Amplifier 1", "hall: 8", "Offices\u2069: 5"});
    CHECK(wholes("kitchen, 4, room (5), site 2025, Internationalising 8").empty());
    CHECK(wholes("since 15 Apr 2025, call 555 0142, load 5 W") == Pieces{"15 Apr 2025", "555 0142", "5 W"});
}

TEST_CASE("what is written from left to right is set by itself only where the text around it turns the direction") {
    const std::string arabic = "\u0647\u0627\u062A\u0641 555-0142 \u0633-103";
    const auto found = document::wholes_in(arabic);
    REQUIRE(found.size() == 2);
    CHECK(document::reads_by_itself(arabic, found[0]));
    CHECK_FALSE(document::reads_by_itself(arabic, found[1]));
    CHECK_FALSE(document::reads_by_itself("Desk 555-0142", {5, 13}));
}

TEST_CASE("no text, and none that is not UTF-8, makes pieces of what is not there") {
    for (const std::string text :
         {"", " ", "5", "5 ", " 5 W", "-", "-5", "a-", "\xFF-1 \xC3", "1 2 3", "))) 5 )", "5 \u2069"})
        wholes(text);
    CHECK(wholes(" 5 W ") == Pieces{"5 W"});
}
