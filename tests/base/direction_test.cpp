// Directions of writing (UAX #9, Unicode Bidirectional Algorithm): what turns them, and what keeps them apart.
#include "core/base/direction.h"

#include <doctest/doctest.h>

#include "core/base/text.h"

using namespace tapwright;

TEST_CASE("Hebrew, Arabic and signs of direction turn it; other scripts and figures do not") {
    for (const char* text : {"قاعة", "Hall שלום", "abc\u202Edef", "\u200F", "\u2067x", "\U00010800"}) {
        CAPTURE(text);
        CHECK(turns_direction(text));
    }
    for (const char* text :
         {"", "Hall 5 W", "Καλημέρα", "Конференц-зал", "大会議室", "회의실", "ห้องประชุม", "½ Ω – “x”", "🎵"}) {
        CAPTURE(text);
        CHECK_FALSE(turns_direction(text));
        CHECK(contained(text) == text);
    }
}

TEST_CASE("a cut closes the isolate it goes through, so that what follows stays outside of it") {
    const std::string name = isolated("قاعة المؤتمرات الكبرى");
    CHECK(cited(name, 6) == "\u2068قاعة …\u2069");
    CHECK(is_one_isolate(cited(name, 6)));
    CHECK(cited(name) == name);
    CHECK(cited("Hall of many names", 4) == "Hall…");
}

TEST_CASE("an isolate holds the words and none of their own signs of direction") {
    CHECK(isolated("قاعة") == "\u2068قاعة\u2069");
    CHECK(isolated("abc\u202Edef\u2069.pdf") == "\u2068abcdef.pdf\u2069");
    CHECK(contained("abc\u202Edef") == "\u2068abcdef\u2069");
    CHECK(is_one_isolate(isolated("قاعة")));
    CHECK_FALSE(is_one_isolate("Load of " + isolated("قاعة") + ": 30 W"));
    CHECK_FALSE(is_one_isolate(isolated("قاعة") + ": 30 W of " + isolated("x")));
    CHECK_FALSE(is_one_isolate("Hall"));
    CHECK(holds_isolate("Load of " + isolated("قاعة")));
    CHECK_FALSE(holds_isolate("Load of Hall"));
}
