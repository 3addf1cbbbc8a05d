// What each form refuses, and the sentence for it. The sentences follow a place: "/points/3/tap_w must be ...".
#include <doctest/doctest.h>

#include <limits>

#include "core/job/job.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

const double infinity = std::numeric_limits<double>::infinity();
const double not_a_number = std::numeric_limits<double>::quiet_NaN();

// "" when the value has the form.
std::string why_not(Kind kind, const char* name, const Value& value) {
    const FieldInfo* field = find_field(kind, name);
    REQUIRE_MESSAGE(field, name);
    const Result<void> checked = check_form(*field, value);
    return checked.ok() ? "" : in_english(checked.refusal());
}

bool takes(Kind kind, const char* name, const Value& value) {
    return why_not(kind, name, value).empty();
}

}  // namespace

TEST_CASE("numbers: type, range and end") {
    CHECK(takes(Kind::point, "tap_w", 7.5));
    CHECK(why_not(Kind::point, "tap_w", "five") ==
          "must be a number of W above 0 and at most 1000000, not the text \"five\"");
    CHECK(why_not(Kind::point, "tap_w", 0.0) == "must be a number of W above 0 and at most 1000000, not 0");
    CHECK(why_not(Kind::point, "tap_w", 1e307) == "must be a number of W above 0 and at most 1000000, not 1e+307");
    CHECK(why_not(Kind::point, "tap_w", infinity) ==
          "must be a number of W above 0 and at most 1000000, not a number without end");
    CHECK_FALSE(takes(Kind::point, "tap_w", not_a_number));
    CHECK_FALSE(takes(Kind::point, "tap_w", -infinity));
    CHECK_FALSE(takes(Kind::point, "tap_w", true));
    CHECK_FALSE(takes(Kind::point, "tap_w", List{}));
    CHECK(why_not(Kind::point, "length_m", -0.5) == "must be a number of m of at least 0 and at most 100000, not -0.5");
    CHECK(takes(Kind::point, "length_m", -0.0));
    CHECK(takes(Kind::job, "reserve_pct", 0.0));
    CHECK_FALSE(takes(Kind::job, "reserve_pct", 100.0));
    CHECK(takes(Kind::job, "ohms_tol_pct", 100.0));
    CHECK_FALSE(takes(Kind::job, "ohms_tol_pct", 0.0));
    CHECK(takes(Kind::zone, "knob_db", 0.0));
    CHECK_FALSE(takes(Kind::zone, "knob_db", 0.5));
    CHECK(takes(Kind::reading, "value", 1e9));
    CHECK_FALSE(takes(Kind::reading, "value", -1.0));
}

TEST_CASE("whole numbers") {
    CHECK(takes(Kind::cable_type, "awg", 18.0));
    CHECK(why_not(Kind::cable_type, "awg", 18.5) ==
          "must be a whole number of AWG of at least 0 and at most 40, not 18.5");
    CHECK_FALSE(takes(Kind::cable_type, "awg", 1e300));
    CHECK_FALSE(takes(Kind::cable_type, "awg", "18"));
    CHECK(takes(Kind::cable_type, "iec_class", 5.0));
    CHECK(why_not(Kind::cable_type, "iec_class", 3.0) == "must be 1, 2 or 5, not 3");
}

TEST_CASE("texts: length in characters, UTF-8, no U+0000") {
    std::string umlauts;
    for (int i = 0; i < 200; ++i) umlauts += "ä";
    CHECK(takes(Kind::room, "floor", umlauts));
    CHECK(why_not(Kind::room, "floor", umlauts + "!") == "must be a text of at most 200 characters, not one of 201");
    CHECK(why_not(Kind::room, "name", "") == "must be a text of 1 to 200 characters, not the text \"\"");
    CHECK(takes(Kind::room, "floor", ""));
    CHECK(why_not(Kind::room, "name", "\xff") == "must be UTF-8 text");
    CHECK(why_not(Kind::room, "name", std::string("a\0b", 3)) == "must not hold the character U+0000");
    CHECK_FALSE(takes(Kind::room, "notes", std::string(10'000'000, 'x')));
    CHECK(why_not(Kind::room, "name", 5.0) == "must be a text of 1 to 200 characters, not 5");
    for (const char* text : {"\u2028\u2029", "\U0001F508", "\x01\x1f\x7f", "a\nb\tc", "\"\\/", "עברית", "\u200f"})
        CHECK(takes(Kind::room, "name", text));
}

TEST_CASE("flags, choices, ids") {
    CHECK(takes(Kind::room, "plenum", false));
    CHECK(why_not(Kind::room, "plenum", "yes") == "must be true or false, not the text \"yes\"");
    CHECK(takes(Kind::point, "origin", "new"));
    CHECK(why_not(Kind::point, "state", "done") ==
          "must be one of the words planned, cabled, fitted or tested, not the text \"done\"");
    CHECK_FALSE(takes(Kind::point, "state", "Planned"));
    CHECK_FALSE(takes(Kind::point, "state", ""));
    CHECK_FALSE(takes(Kind::zone, "wiring_class", 1.0));
    CHECK(takes(Kind::zone, "wiring_class", "1"));
    CHECK(takes(Kind::point, "fed_from", "z1"));
    CHECK(why_not(Kind::point, "fed_from", "z 1") ==
          "must be the id of a record (1 to 40 of the characters A-Z a-z 0-9 _ -), not the text \"z 1\"");
    CHECK_FALSE(takes(Kind::point, "fed_from", ""));
    CHECK_FALSE(takes(Kind::point, "fed_from", std::string(41, 'a')));
}

TEST_CASE("dates, times, hashes") {
    CHECK(why_not(Kind::visit, "date", "2023-02-29") == "must be a day as YYYY-MM-DD, not the text \"2023-02-29\"");
    CHECK(
        why_not(Kind::reading, "time", "2024-06-01 12:00") ==
        "must be a time as YYYY-MM-DDThh:mm:ss with Z or an offset such as +02:00, not the text \"2024-06-01 12:00\"");
    CHECK(takes(Kind::photo, "sha256", std::string(64, 'a')));
    CHECK(why_not(Kind::photo, "sha256", std::string(64, 'A')).starts_with("must be 64 hexadecimal digits"));
    CHECK_FALSE(takes(Kind::photo, "sha256", std::string(63, 'a')));
    CHECK_FALSE(takes(Kind::photo, "sha256", std::string(64, 'g')));
}

TEST_CASE("knobs, pins, strokes") {
    CHECK(takes(Kind::point, "knob_db", -6.0));
    CHECK(takes(Kind::point, "knob_db", "off"));
    CHECK(why_not(Kind::point, "knob_db", "on") ==
          "must be a number of dB of at least -200 and at most 0, or \"off\", not the text \"on\"");
    CHECK_FALSE(takes(Kind::point, "knob_db", 3.0));
    CHECK(takes(Kind::photo, "pin", Map{{"y", 0.0}, {"x", 1.0}}));
    for (const Value& pin :
         {Value(Map{{"x", 0.5}}), Value(Map{{"x", 0.5}, {"y", 1.1}}), Value(Map{{"x", 0.5}, {"y", "0"}}),
          Value(Map{{"x", 0.5}, {"y", 0.5}, {"z", 0.5}}), Value(Map{{"x", not_a_number}, {"y", 0.5}}),
          Value(Map{{"x", 0.5}, {"y", -infinity}}), Value(List{0.5, 0.5})})
        CHECK(why_not(Kind::photo, "pin", pin).starts_with("must be {\"x\": ..., \"y\": ...} with both from 0 to 1"));
    CHECK(takes(Kind::signoff, "strokes", List{Value(List{0.0, 0.0, 1.0, 1.0}), Value(List{})}));
    for (const Value& strokes : {Value(List{0.5}), Value(List{Value(List{0.5})}), Value(List{Value(List{0.5, 2.0})}),
                                 Value(List{Value(List{0.5, not_a_number})}), Value(Map{})})
        CHECK_FALSE(takes(Kind::signoff, "strokes", strokes));
}

TEST_CASE("lists and maps") {
    CHECK(takes(Kind::speaker_type, "taps_w", List{5.0, 2.5}));
    CHECK(why_not(Kind::speaker_type, "taps_w", List{}) ==
          "must be a list of at least one, in which each is a number of W above 0 and at most 1000000, not a list");
    CHECK_FALSE(takes(Kind::speaker_type, "taps_w", List{5.0, 0.0}));
    CHECK_FALSE(takes(Kind::speaker_type, "taps_w", List{5.0, Value()}));
    CHECK_FALSE(takes(Kind::speaker_type, "taps_w", 5.0));
    CHECK(takes(Kind::attenuator_type, "steps_db", List{}));
    CHECK_FALSE(takes(Kind::attenuator_type, "steps_db", List{0.0, 3.0}));
    CHECK_FALSE(takes(Kind::attenuator_type, "steps_db", List(10001, Value(0.0))));
    CHECK(takes(Kind::control, "governs", List{"p1", "z1"}));
    CHECK_FALSE(takes(Kind::control, "governs", List{"p 1"}));
    CHECK(takes(Kind::speaker_type, "tap_marks", Map{{"5", "green"}, {"0.63", ""}}));
    for (const Map& marks : {Map{{"5", 5.0}}, Map{{"five", "green"}}, Map{{"5.0", "green"}}, Map{{"0", "green"}},
                             Map{{"-5", "green"}}, Map{{"", "green"}}, Map{{"1e3", "green"}}, Map{{"5", "\xff"}},
                             Map{{"5", std::string(1000, 'x')}}, Map{{"nan", "x"}}})
        CHECK(why_not(Kind::speaker_type, "tap_marks", marks).starts_with("must be a map from tap watts"));
    CHECK(takes(Kind::reading, "knobs", Map{{"a1", -6.0}, {"a2", "off"}}));
    for (const Map& knobs : {Map{{"a 1", -6.0}}, Map{{"a1", 6.0}}, Map{{"a1", "on"}}, Map{{"a1", Value()}}})
        CHECK(why_not(Kind::reading, "knobs", knobs).starts_with("must be a map from attenuator ids"));
}

TEST_CASE("changes of a trial keep to the field table themselves") {
    const auto change = [](Map map) { return Value(List{std::move(map)}); };
    const auto why = [&](Map map) { return why_not(Kind::trial, "changes", change(std::move(map))); };
    CHECK(why({{"op", "add"}, {"kind", "point"}, {"fields", Map{{"label", "S1"}}}}).empty());
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap_w", Value()}}}}).empty());
    CHECK(why({{"op", "remove"}, {"kind", "point"}, {"id", "p1"}}).empty());
    const std::string first = "has a wrong change, number 1: it ";
    CHECK(why({{"op", "drop"}, {"kind", "point"}, {"id", "p1"}}) ==
          first + "must have an \"op\" of add, set or remove, not the text \"drop\"");
    CHECK(why({{"kind", "point"}, {"id", "p1"}}) == first + "must have an \"op\" of add, set or remove, not none");
    CHECK(why({{"op", "set"}, {"kind", "points"}, {"id", "p1"}}).ends_with("such as point, not the text \"points\""));
    CHECK(why({{"op", "set"}, {"kind", "point"}}) == first + "must have the \"id\" of the record it is about");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p 1"}}).ends_with("or _, not the text \"p 1\""));
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", 5.0}}).ends_with("or _, not 5"));
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", List{}}}) ==
          first + "must have a map as its \"fields\", not a list");
    CHECK(why({{"op", "remove"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{}}}) ==
          first + "removes a record, so it has no \"fields\"");
    const Map fine{{"op", "remove"}, {"kind", "point"}, {"id", "p1"}};
    CHECK(
        why_not(Kind::trial, "changes", List{fine, fine, 5.0}).starts_with("has a wrong change, number 3: it must be"));
    CHECK(why_not(Kind::trial, "changes", 5.0).starts_with("must be a list of changes"));
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"why", "x"}}) ==
          first + "has the unknown key \"why\"; a change has op, kind, id and fields");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap", 5.0}}}}) ==
          first + "sets tap, which is no field of the kind point");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap_w", -5.0}}}}) ==
          first + "has a tap_w that must be a number of W above 0 and at most 1000000, not -5");
    CHECK(why({{"op", "add"}, {"kind", "point"}, {"fields", Map{{"tap_w", Value()}}}}) ==
          first + "has a tap_w that is null");
    CHECK(why({{"op", "add"}, {"kind", "trial"}, {"fields", Map{{"name", "x"}}}}) ==
          first + "is about a trial; a trial changes the system, not trials");
}

TEST_CASE("a refused value changes nothing, and null clears") {
    Job job;
    job.make(Kind::point, Id("p1"), {});
    const FieldInfo& tap = *find_field(Kind::point, "tap_w");
    REQUIRE(job.set(Kind::point, Id("p1"), tap, 5.0).ok());
    CHECK_FALSE(job.set(Kind::point, Id("p1"), tap, -5.0).ok());
    CHECK(job.get(Kind::point, Id("p1"), tap) == Value(5.0));
    CHECK(job.set(Kind::point, Id("p1"), tap, Value()).ok());
    CHECK(job.get(Kind::point, Id("p1"), tap).is_null());
    CHECK(job.find<Point>(Id("p1"))->tap_w == std::nullopt);
}
