// Text of messages in English: places, plurals, figures, dates, lists, nesting.
#include "core/words/words.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "core/job/choices.h"

using namespace tapwright;

TEST_CASE("places are filled, each as often as it stands") {
    CHECK(in_english(Message("{a}, {b} and {a}", {{"a", entered("x")}, {"b", code("y")}})) == "x, y and x");
    CHECK(in_english(Message("No place.")) == "No place.");
    CHECK(in_english(Message("{name}", {{"name", entered("{a} {")}})) == "{a} {");
    CHECK(in_english(Message()).empty());
}

TEST_CASE("figures as the trade reads them") {
    CHECK(in_english(Watts(7.5)) == "7.5 W");
    CHECK(in_english(Ohms(83.31)) == "83.3 Ω");
    CHECK(in_english(Decibels(-6)) == "\u22126 dB");
    CHECK(in_english(Figure{0.25, Unit::watt, 4}) == "0.25 W");
    CHECK(in_english(Figure{0.123456, Unit::watt, 4}) == "0.1235 W");
    CHECK(in_english(Figure{12, Unit::none}) == "12");
    CHECK(in_english(Ohms(std::numeric_limits<double>::infinity())) == "open");
    CHECK(in_english(Watts(std::nan(""))) == "unknown");
    CHECK(Words(english(), LengthUnits::feet).text(Message(Metres(12.3444))) == "40 ft 6 in");
    CHECK(Words().in(LengthUnits::feet).text(Message(Metres(12.3444))) == "40 ft 6 in");
}

TEST_CASE("days and moments as people write them; what is none is shown as it stands") {
    CHECK(in_english(Day{"2025-04-05"}) == "5 Apr 2025");
    CHECK(in_english(Day{"2025-12-31"}) == "31 Dec 2025");
    CHECK(in_english(Day{"2025-05-01"}) == "1 May 2025");
    CHECK(in_english(Day{"2025-13-01"}) == "2025-13-01");
    CHECK(in_english(Day{"soon"}) == "soon");
    CHECK(in_english(Day{"20x5-01-01"}) == "20x5-01-01");
    CHECK(in_english(Day{""}).empty());
    CHECK(in_english(Moment{"2025-04-15T14:05:59+02:00"}) == "15 Apr 2025, 14:05");
    CHECK(in_english(Moment{"2025-04-15"}) == "15 Apr 2025");
}

TEST_CASE("plurals: 1 is one, 0 and 2 are several") {
    const auto lamps = [](int count) { return in_english(plural("{count} lamp", "{count} lamps", count)); };
    CHECK(lamps(0) == "0 lamps");
    CHECK(lamps(1) == "1 lamp");
    CHECK(lamps(2) == "2 lamps");
    CHECK(in_english(plural("one lamp in {room}", "{count} lamps in {room}", 1, {{"room", entered("Bar")}})) ==
          "one lamp in Bar");
}

TEST_CASE("lists: commas, and a word before the last") {
    const auto names = [](std::vector<std::string> all, Series::Last last) {
        std::vector<Entered> items;
        for (const std::string& name : all) items.push_back(entered(name));
        return in_english(series(items, last));
    };
    CHECK(names({}, Series::Last::with_and).empty());
    CHECK(names({"a"}, Series::Last::with_and) == "a");
    CHECK(names({"a", "b"}, Series::Last::with_and) == "a and b");
    CHECK(names({"a", "b", "c"}, Series::Last::with_or) == "a, b or c");
    CHECK(names({"{x}", "b"}, Series::Last::with_and) == "{x} and b");
    CHECK(in_english(series(std::array{Watts(2.5), Watts(5)})) == "2.5 W and 5 W");
}

TEST_CASE("messages stand in messages, and sentences follow each other") {
    const Message inner = Message("{load} on {zone}", {{"load", Watts(5)}, {"zone", entered("Hall")}});
    CHECK(in_english(Message("There is {what}.", {{"what", inner}})) == "There is 5 W on Hall.");
    CHECK(in_english(sentences({Message("One."), Message(), Message("Two.")})) == "One. Two.");
    CHECK(in_english(sentences({sentences({Message("One."), Message("Two.")}), Message("Three.")})) ==
          "One. Two. Three.");
    CHECK(in_english(placed(Message("Hall"), Message("It is cold."))) == "Hall: It is cold.");
    CHECK(in_english(placed(code("/points/3"), Refusal{Message("It is cold.")})) == "/points/3: It is cold.");
}

TEST_CASE("choices by their words") {
    CHECK(in_english(Message("Visit: {purpose}", {{"purpose", Purpose::first_fix}})) == "Visit: first fix");
    CHECK(in_english(Share::private_) == "private");
}
