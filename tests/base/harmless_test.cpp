// Foreign text at an edge: nothing in it acts on what shows it.
#include "core/base/harmless.h"

#include <doctest/doctest.h>

#include "core/base/direction.h"
#include "core/base/text.h"

using namespace tapwright;

namespace {

std::string utf8(char32_t code) {
    std::string text;
    if (code < 0x80) return {static_cast<char>(code)};
    if (code < 0x800) return {static_cast<char>(0xC0 | code >> 6), static_cast<char>(0x80 | (code & 63))};
    return {static_cast<char>(0xE0 | code >> 12), static_cast<char>(0x80 | (code >> 6 & 63)),
            static_cast<char>(0x80 | (code & 63))};
}

}  // namespace

TEST_CASE("every control, separator and sign of direction becomes U+FFFD") {
    for (char32_t code = 0; code < 0xA0; ++code) {
        const bool is_control = code < 0x20 || code >= 0x7F;
        CAPTURE(static_cast<unsigned>(code));
        if (code == '\n' || code == '\t') continue;
        CHECK(harmless("a" + utf8(code) + "b", Breaks::kept) == (is_control ? "a\uFFFDb" : "a" + utf8(code) + "b"));
    }
    for (const char32_t code : {0x061C, 0x200E, 0x200F, 0x2028, 0x2029, 0x202A, 0x202B, 0x202C, 0x202D, 0x202E, 0x2066,
                                0x2067, 0x2068, 0x2069, 0xFFFE, 0xFFFF}) {
        CAPTURE(static_cast<unsigned>(code));
        CHECK(harmless(utf8(code), Breaks::kept) == "\uFFFD");
        CHECK(harmless(utf8(code), Breaks::shown) == "\uFFFD");
        CHECK(does_something(code));
    }
}

TEST_CASE("an escape sequence shows its letters and does nothing") {
    CHECK(harmless("\x1b[31mred\x1b]0;title\x07", Breaks::shown) == "\uFFFD[31mred\uFFFD]0;title\uFFFD");
    CHECK(harmless("\u009b2J", Breaks::shown) == "\uFFFD2J");
}

TEST_CASE("bytes that are no UTF-8, lone surrogates among them, become U+FFFD each") {
    CHECK(harmless("a\xFF"
                   "b\x9b"
                   "c",
                   Breaks::kept) == "a\uFFFDb\uFFFDc");
    CHECK(harmless("\xED\xA0\x80", Breaks::kept) == "\uFFFD\uFFFD\uFFFD");
    CHECK(is_utf8(harmless("\xF0\x9F", Breaks::kept)));
}

TEST_CASE("line ends stay where lines may follow each other, and are a sign where they would pass for one of ours") {
    CHECK(harmless("one\ntwo\r\nthree", Breaks::kept) == "one\ntwo\nthree");
    CHECK(harmless("one\ntwo", Breaks::shown) == "one\u240Atwo");
    CHECK(harmless("one\rtwo", Breaks::kept) == "one\uFFFDtwo");
    CHECK(harmless("one\ttwo", Breaks::kept) == "one\ttwo");
    CHECK(harmless("one\ttwo", Breaks::shown) == "one two");
}

TEST_CASE("what does nothing stays as it is, and harmless text comes back the same") {
    for (const char* text :
         {"", "Foyer 2", "Ω µ ² é 日本語", "عربي עברית", "👩‍🔧 e\u0301", "\u200b\u00a0\ufeff", "~!@#$%^&*()"}) {
        CHECK(harmless(text, Breaks::shown) == text);
        CHECK(harmless(harmless(text, Breaks::shown), Breaks::shown) == text);
    }
}

TEST_CASE("an isolate of ours stays around what it encloses; what is typed as one does not get out") {
    CHECK(harmless_within_isolates(isolated("עברית"), Breaks::kept) == isolated("עברית"));
    CHECK(harmless_within_isolates("\u2068a\u202Eb\u2069", Breaks::kept) == "\u2068a\uFFFDb\u2069");
    CHECK(harmless_within_isolates("\u2068a\u2069\u202E\u2069", Breaks::kept) == "\uFFFDa\uFFFD\uFFFD\uFFFD");
    CHECK(harmless_within_isolates("\u2068a", Breaks::kept) == "\uFFFDa");
}
