// What there is nothing to read in, whatever it is made of.
#include "core/base/blank.h"

#include <doctest/doctest.h>

#include <string>

using namespace tapwright;

TEST_CASE("blanks of every script and signs that are never seen are nothing to read") {
    for (const char* text : {"",
                             " ",
                             " \t\r\n",
                             "\u00a0",
                             "\u3000",
                             "\u2003\u2009",
                             "\u1680",
                             "\u200b",
                             "\u200d\u200c",
                             "\u2060",
                             "\ufeff",
                             "\u00ad",
                             "\u034f",
                             "\u3164",
                             "\u115f",
                             "\uffa0",
                             "\u2800",
                             "\ufe0f",
                             "\U000E0041",
                             "\u202e",
                             "\u2066\u2069",
                             "\u061c",
                             "\u2028",
                             "\u0085",
                             "\x1B",
                             " \u200b \u3164"}) {
        CAPTURE(text);
        CHECK(is_blank(text));
    }
    CHECK(is_blank(std::string_view("\0", 1)));
}

TEST_CASE("whatever is seen is something to read") {
    for (const char* text : {"a", " a", "\u200ba", "0", "-", ".", "é", "\u05d0", "\u202e\u05d0", "\U0001F50A", "\u2801",
                             "\u0301", "\u00a1", "\u3001", "\ufffd", "\u2010", "\u2070", "\xff", " \xe2\x80"}) {
        CAPTURE(text);
        CHECK_FALSE(is_blank(text));
    }
}
