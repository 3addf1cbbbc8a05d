// The plural rules of languages as the gettext manual's section on plural forms lists them (from memory), each held
// against the same rule compiled by this compiler.
#include <doctest/doctest.h>

#include <cstdint>
#include <string>

#include "core/words/catalogue.h"

using namespace tapwright;

namespace {

using Counted = std::uint64_t;

#define RULE(name, expression)                        \
    {                                                 \
        name, #expression, [](Counted n) -> Counted { \
            static_cast<void>(n);                     \
            return expression;                        \
        }                                             \
    }

struct Known {
    const char* name;
    const char* text;
    Counted (*form)(Counted count);
};

// clang-format off
const Known known[] = {
    RULE("one form", 0),
    RULE("Germanic", n != 1),
    RULE("French", n > 1),
    RULE("Latvian", n%10==1 && n%100!=11 ? 0 : n != 0 ? 1 : 2),
    RULE("Irish", n==1 ? 0 : n==2 ? 1 : 2),
    RULE("Romanian", n==1 ? 0 : (n==0 || (n%100 > 0 && n%100 < 20)) ? 1 : 2),
    RULE("Lithuanian", n%10==1 && n%100!=11 ? 0 : n%10>=2 && (n%100<10 || n%100>=20) ? 1 : 2),
    RULE("Russian", n%10==1 && n%100!=11 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2),
    RULE("Czech", (n==1) ? 0 : (n>=2 && n<=4) ? 1 : 2),
    RULE("Polish", n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) ? 1 : 2),
    RULE("Slovenian", n%100==1 ? 0 : n%100==2 ? 1 : n%100==3 || n%100==4 ? 2 : 3),
    RULE("Arabic", n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5),
    RULE("arithmetic", (n + 3) * 2 - n / 2 % 5),
    RULE("not", !n || !(n == 3)),  // NOLINT(misc-redundant-expression): as somebody may write it
};
// clang-format on

}  // namespace

TEST_CASE("plural rules give the form the language has for a count") {
    for (const Known& each : known) {
        const Result<PluralRule> rule = PluralRule::from(each.text);
        REQUIRE_MESSAGE(rule.ok(), each.name);
        for (Counted count = 0; count < 1200; ++count)
            REQUIRE_MESSAGE(rule->form(count) == each.form(count), each.name << " " << count);
        for (const Counted count : {Counted{1'000'001}, Counted{2'000'000}, Counted{999'999'999'999}})
            CHECK_MESSAGE(rule->form(count) == each.form(count), each.name << " " << count);
    }
}

TEST_CASE("spot checks by hand") {
    const PluralRule polish = PluralRule::from(known[9].text).value();
    CHECK(polish.form(1) == 0);
    CHECK(polish.form(2) == 1);
    CHECK(polish.form(5) == 2);
    CHECK(polish.form(12) == 2);
    CHECK(polish.form(22) == 1);
    CHECK(polish.form(112) == 2);
    CHECK(PluralRule::from("n % 0")->form(5) == 0);  // which C leaves undefined
    CHECK(PluralRule::from("n / 0")->form(5) == 0);
}

TEST_CASE("what is no rule is refused") {
    for (const char* text : {"", " ", "n n", "n ==", "(n", "n)", "n ? 1", "n ? 1 :", "m", "n = 1", "1 2", "n & 1",
                             "n != 1;", "-1", "n--", "9999999999999999999"})
        CHECK_MESSAGE(!PluralRule::from(text).ok(), text);
    CHECK_FALSE(PluralRule::from(std::string(100'000, '(')).ok());
    CHECK_FALSE(PluralRule::from(std::string(100'000, '!') + "n").ok());
}
