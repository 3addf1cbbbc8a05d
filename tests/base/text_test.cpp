#include "core/base/text.h"

#include <doctest/doctest.h>

#include <cstdlib>

using namespace tapwright;

TEST_CASE("UTF-8 is taken only when it is well-formed (RFC 3629)") {
    CHECK(is_utf8("Ω µ ² ± ° é 日本語 العربية 🎉"));
    CHECK(is_utf8(""));
    CHECK_FALSE(is_utf8("\xC0\xAF"));          // overlong
    CHECK_FALSE(is_utf8("\xED\xA0\x80"));      // surrogate
    CHECK_FALSE(is_utf8("\xF4\x90\x80\x80"));  // above U+10FFFF
    CHECK_FALSE(is_utf8("\xE2\x82"));          // cut short
    CHECK_FALSE(is_utf8("\x80"));
}

TEST_CASE("numbers are written as short as they read back") {
    CHECK(shortest(5) == "5");
    CHECK(shortest(-0.0) == "0");
    CHECK(shortest(0.1) == "0.1");
    CHECK(shortest(70.7) == "70.7");
    CHECK(shortest(1e-7) == "1e-07");
    CHECK(shortest(1.0 / 3) == "0.3333333333333333");
    for (double number : {0.1 + 0.2, 5e-324, 1.7976931348623157e308, 123456.789})
        CHECK(std::strtod(shortest(number).c_str(), nullptr) == number);
}

TEST_CASE("rounded numbers for sentences carry no trailing zeros") {
    CHECK(rounded(22.5, 2) == "22.5");
    CHECK(rounded(-0.004, 2) == "0");
    CHECK(rounded(100, 0) == "100");
    CHECK(rounded(83.308, 2) == "83.31");
}

TEST_CASE("foreign text is quoted without harm") {
    CHECK(cited("a\nb\x01") == "a b ");
    CHECK(cited("\xFFok") == "?ok");
    CHECK(cited("abcdef", 3) == "abc…");
}
