// Text in a language that is not English: order, plural forms, contexts, decimal comma and thin spaces.
#include "core/words/language.h"

#include <doctest/doctest.h>

#include <limits>
#include <string>
#include <vector>

#include "core/job/choices.h"
#include "core/words/words.h"
#include "tests/words/test_languages.h"

using namespace tapwright;

namespace {

const Words& strange_words() {
    static const Catalogue catalogue = Catalogue::from(test_mo("xx")).value();
    static const Language language = [] {
        Language made;
        made.code = "xx";
        made.catalogue = &catalogue;
        made.decimal_mark = ",";
        made.grouping = "\u2009";
        return made;
    }();
    static const Words words(language);
    return words;
}

std::string text(const Message& message) {
    return strange_words().text(message);
}

}  // namespace

TEST_CASE("a translation orders its places as it likes") {
    CHECK(text(Message("{zone}: {read} read, {expected} expected.",
                       {{"zone", entered("Hall")}, {"read", Ohms(138)}, {"expected", Ohms(118.4)}})) ==
          "Čekám 118 Ω, mám 138 Ω (Hall).");
    CHECK(text(Message("Not translated: {load}.", {{"load", Watts(7.5)}})) == "Not translated: 7,5 W.");
    CHECK(text(Message("Nothing is translated here but this: {zone}.", {{"zone", entered("Hall")}})) ==
          "Nothing is translated here but this: Hall.");
}

TEST_CASE("the language says which form of the plural goes with a count") {
    const auto speakers = [](int count) { return text(plural("{count} loudspeaker", "{count} loudspeakers", count)); };
    CHECK(speakers(1) == "1 hlas");
    CHECK(speakers(2) == "2 hlasa");
    CHECK(speakers(5) == "5 hlasů");
    CHECK(speakers(11) == "11 hlasů");
    CHECK(speakers(21) == "21 hlas");
    CHECK(speakers(0) == "0 hlasů");
}

TEST_CASE("one English word with two meanings is two words") {
    CHECK(text(in_context("snag", "open")) == "otevřen");
    CHECK(text(Ohms(std::numeric_limits<double>::infinity())) == "rozpojen");
    CHECK(text(in_context("door", "open")) == "open");
}

TEST_CASE("figures with a decimal comma, and thin spaces from five digits on") {
    CHECK(text(Watts(7.5)) == "7,5 W");
    CHECK(text(Figure{1234.5, Unit::volt, 1}) == "1234,5 V");
    CHECK(text(Figure{12345.6, Unit::volt, 1}) == "12\u2009345,6 V");
    CHECK(text(Figure{1234567, Unit::volt, 0}) == "1\u2009234\u2009567 V");
    CHECK(text(Figure{-12345.678, Unit::volt, 3}) == "\u221212\u2009345,678 V");
    CHECK(text(Count{1234567}) == "1\u2009234\u2009567");
    CHECK(text(Count{1234}) == "1234");
    CHECK(text(code("12345.6")) == "12345.6");
    CHECK(text(entered("12345.6")) == "12345.6");
    CHECK(text(Watts(std::numeric_limits<double>::quiet_NaN())) == "neznám");
}

TEST_CASE("dates, lists and choices in the language") {
    CHECK(text(Day{"2025-04-15"}) == "15. dubu 2025");
    CHECK(text(series(std::vector<Entered>{entered("a"), entered("b"), entered("c")})) == "a, b i c");
    CHECK(text(Purpose::first_fix) == "hrubá");
    CHECK(text(Purpose::survey) == "survey");
}

TEST_CASE("languages are found by their code, English else") {
    CHECK(&language_for("en") == &language_for("en-GB"));
    CHECK(language_for("en_US.UTF-8").code == "en");
    CHECK(language_for("tlh").code == "en");
    CHECK(language_for("").code == "en");
    CHECK(language_for("pseudo").is_pseudo);
    CHECK(languages().front().code == "en");
}
