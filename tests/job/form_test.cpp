// What each form refuses, and the sentence for it. Where it stands is in front of it elsewhere: "Tap of C-104: ...".
#include <doctest/doctest.h>

#include <limits>

#include "core/job/job.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

const double infinity = std::numeric_limits<double>::infinity();
const double not_a_number = std::numeric_limits<double>::quiet_NaN();

// "" when the value has the form.
std::string why_refused(Kind kind, const char* name, const Value& value) {
    const FieldInfo* field = find_field(kind, name);
    REQUIRE_MESSAGE(field, name);
    const Result<void> checked = check_form(*field, value);
    return checked.ok() ? "" : in_english(checked.refusal());
}

bool takes(Kind kind, const char* name, const Value& value) {
    return why_refused(kind, name, value).empty();
}

}  // namespace

TEST_CASE("numbers: type, range and end") {
    CHECK(takes(Kind::point, "tap_w", 7.5));
    CHECK(why_refused(Kind::point, "tap_w", "five") == "Write a figure from 0.001 W to 1000000 W, not “five”.");
    CHECK(why_refused(Kind::point, "tap_w", 0.0) == "Write a figure from 0.001 W to 1000000 W, not 0.");
    CHECK(why_refused(Kind::point, "tap_w", 1e307) == "Write a figure from 0.001 W to 1000000 W, not 1e+307.");
    CHECK(why_refused(Kind::point, "tap_w", infinity) ==
          "Write a figure from 0.001 W to 1000000 W, not an endless number.");
    CHECK_FALSE(takes(Kind::point, "tap_w", not_a_number));
    CHECK_FALSE(takes(Kind::point, "tap_w", -infinity));
    CHECK_FALSE(takes(Kind::point, "tap_w", true));
    CHECK_FALSE(takes(Kind::point, "tap_w", List{}));
    CHECK(why_refused(Kind::point, "length_m", -0.5) == "Write a figure from 0 m to 100000 m, not -0.5.");
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
    CHECK(why_refused(Kind::cable_type, "awg", 18.5) == "Write a whole number from 0 AWG to 40 AWG, not 18.5.");
    CHECK_FALSE(takes(Kind::cable_type, "awg", 1e300));
    CHECK_FALSE(takes(Kind::cable_type, "awg", "18"));
    CHECK(takes(Kind::cable_type, "iec_class", 5.0));
    CHECK(why_refused(Kind::cable_type, "iec_class", 3.0) == "Write 1, 2 or 5, not 3.");
}

TEST_CASE("texts: length in characters, UTF-8, no U+0000") {
    std::string umlauts;
    for (int i = 0; i < 200; ++i) umlauts += "ä";
    CHECK(takes(Kind::room, "floor", umlauts));
    CHECK(why_refused(Kind::room, "floor", umlauts + "!") == "Write at most 200 characters, not 201.");
    CHECK(why_refused(Kind::room, "name", "") == "Write 1 to 200 characters, not “”.");
    CHECK(takes(Kind::room, "floor", ""));
    CHECK(why_refused(Kind::room, "name", "\xff") == "Write it as UTF-8 text.");
    CHECK(why_refused(Kind::room, "name", std::string("a\0b", 3)) == "Leave out the character U+0000.");
    CHECK_FALSE(takes(Kind::room, "notes", std::string(10'000'000, 'x')));
    CHECK(why_refused(Kind::room, "name", 5.0) == "Write 1 to 200 characters, not 5.");
    for (const char* text : {"\u2028\u2029", "\U0001F508", "\x01\x1f\x7f", "a\nb\tc", "\"\\/", "עברית", "\u200f"})
        CHECK(takes(Kind::room, "name", text));
}

TEST_CASE("flags, choices, ids") {
    CHECK(takes(Kind::room, "plenum", false));
    CHECK(why_refused(Kind::room, "plenum", "yes") == "Write true or false, not “yes”.");
    CHECK(takes(Kind::point, "origin", "new"));
    CHECK(why_refused(Kind::point, "state", "done") == "Write planned, cabled, fitted or tested, not “done”.");
    CHECK_FALSE(takes(Kind::point, "state", "Planned"));
    CHECK_FALSE(takes(Kind::point, "state", ""));
    CHECK_FALSE(takes(Kind::zone, "wiring_class", 1.0));
    CHECK(takes(Kind::zone, "wiring_class", "1"));
    CHECK(takes(Kind::point, "fed_from", "z1"));
    CHECK(why_refused(Kind::point, "fed_from", "z 1") ==
          "Write an id of 1 to 40 characters from A-Z a-z 0-9 _ -, not “z 1”.");
    CHECK_FALSE(takes(Kind::point, "fed_from", ""));
    CHECK_FALSE(takes(Kind::point, "fed_from", std::string(41, 'a')));
}

TEST_CASE("dates, times, hashes") {
    CHECK(why_refused(Kind::visit, "date", "2023-02-29") == "Write a day as YYYY-MM-DD, not “2023-02-29”.");
    CHECK(why_refused(Kind::reading, "time", "2024-06-01 12:00") ==
          "Write a time as YYYY-MM-DDThh:mm:ss with Z or an offset such as +02:00, not “2024-06-01 12:00”.");
    CHECK(takes(Kind::photo, "sha256", std::string(64, 'a')));
    CHECK(why_refused(Kind::photo, "sha256", std::string(64, 'A')).starts_with("Write 64 hexadecimal digits"));
    CHECK_FALSE(takes(Kind::photo, "sha256", std::string(63, 'a')));
    CHECK_FALSE(takes(Kind::photo, "sha256", std::string(64, 'g')));
}

TEST_CASE("what is nearer to 0 than anything made or measured is refused; 0 is not") {
    CHECK(takes(Kind::point, "length_m", 0.0));
    CHECK(takes(Kind::point, "length_m", 0.001));
    CHECK(why_refused(Kind::point, "length_m", 0.0009) ==
          "Write 0, or a figure at least 0.001 m away from it, not 0.0009.");
    CHECK(why_refused(Kind::point, "knob_db", -1e-300) ==
          "Write 0, or a figure at least 0.01 dB away from it, not -1e-300.");
    CHECK(why_refused(Kind::attenuator_type, "steps_db", List{0.0, -0.001}) ==
          "Item 2: Write 0, or a figure at least 0.01 dB away from it, not -0.001.");
    CHECK(takes(Kind::reading, "value", 0.0));
    CHECK_FALSE(takes(Kind::reading, "value", 1e-7));
}

TEST_CASE("limits that physics and the trade allow") {
    CHECK(why_refused(Kind::zone, "limit_w", 1e-308) == "Write a figure from 0.001 W to 1000000 W, not 1e-308.");
    CHECK(why_refused(Kind::point, "tap_w", 1e-9) == "Write a figure from 0.001 W to 1000000 W, not 1e-09.");
    CHECK(why_refused(Kind::speaker_type, "cone_deg", 1e-12) == "Write a figure from 5° to 175°, not 1e-12.");
    CHECK(why_refused(Kind::room, "length_m", 1e-5) == "Write a figure from 0.1 m to 1000 m, not 1e-05.");
    CHECK(why_refused(Kind::speaker_type, "taps_w", List{5.0, 5e-324})
              .starts_with("Item 2: Write a figure from 0.001 W"));
    CHECK_FALSE(takes(Kind::speaker_type, "tap_marks", Map{{"0.0001", "red"}}));
    for (const double volts : {25.0, 50.0, 70.7, 100.0, 140.0}) CHECK(takes(Kind::job, "line_v", volts));
    for (const double watts : {0.03, 0.25, 0.31, 60.0, 1000.0}) CHECK(takes(Kind::point, "tap_w", watts));
    for (const double degrees : {20.0, 60.0, 90.0, 170.0}) CHECK(takes(Kind::speaker_type, "cone_deg", degrees));
    for (const double ohms : {0.5, 2.0, 8.0, 20.0, 83.0}) CHECK(takes(Kind::channel, "min_ohm", ohms));
}

TEST_CASE("positions, pins, strokes") {
    CHECK(takes(Kind::point, "knob_db", -6.0));
    CHECK(takes(Kind::point, "knob_db", "off"));
    CHECK(why_refused(Kind::point, "knob_db", "on") == "Write a figure from −200 dB to 0 dB, or off, not “on”.");
    CHECK_FALSE(takes(Kind::point, "knob_db", 3.0));
    CHECK(takes(Kind::photo, "pin", Map{{"y", 0.0}, {"x", 1.0}}));
    for (const Value& pin :
         {Value(Map{{"x", 0.5}}), Value(Map{{"x", 0.5}, {"y", 1.1}}), Value(Map{{"x", 0.5}, {"y", "0"}}),
          Value(Map{{"x", 0.5}, {"y", 0.5}, {"z", 0.5}}), Value(Map{{"x", not_a_number}, {"y", 0.5}}),
          Value(Map{{"x", 0.5}, {"y", -infinity}}), Value(List{0.5, 0.5})})
        CHECK(why_refused(Kind::photo, "pin", pin).starts_with("Write it in this form: {\"x\": 0.25, \"y\": 0.5}."));
    CHECK(takes(Kind::signoff, "strokes", List{Value(List{0.0, 0.0, 1.0, 1.0}), Value(List{})}));
    for (const Value& strokes : {Value(List{0.5}), Value(List{Value(List{0.5})}), Value(List{Value(List{0.5, 2.0})}),
                                 Value(List{Value(List{0.5, not_a_number})}), Value(Map{})})
        CHECK_FALSE(takes(Kind::signoff, "strokes", strokes));
}

TEST_CASE("lists and maps") {
    CHECK(takes(Kind::speaker_type, "taps_w", List{5.0, 2.5}));
    CHECK(why_refused(Kind::speaker_type, "taps_w", List{}) == "Write at least one item.");
    CHECK_FALSE(takes(Kind::speaker_type, "taps_w", List{5.0, 0.0}));
    CHECK_FALSE(takes(Kind::speaker_type, "taps_w", List{5.0, Value()}));
    CHECK(why_refused(Kind::speaker_type, "taps_w", 5.0) == "Write a list of figures, not 5.");
    CHECK(why_refused(Kind::speaker_type, "taps_w", List{5.0, -1.0}) ==
          "Item 2: Write a figure from 0.001 W to 1000000 W, not -1.");
    CHECK(why_refused(Kind::control, "governs", "z1") == "Write a list of ids, not “z1”.");
    CHECK(takes(Kind::attenuator_type, "steps_db", List{}));
    CHECK_FALSE(takes(Kind::attenuator_type, "steps_db", List{0.0, 3.0}));
    CHECK(why_refused(Kind::attenuator_type, "steps_db", List(10001, Value(0.0))) ==
          "Write at most 10000 items, not 10001.");
    CHECK(takes(Kind::control, "governs", List{"p1", "z1"}));
    CHECK_FALSE(takes(Kind::control, "governs", List{"p 1"}));
    CHECK(takes(Kind::speaker_type, "tap_marks", Map{{"5", "green"}, {"0.63", ""}}));
    for (const Map& marks : {Map{{"5", 5.0}}, Map{{"five", "green"}}, Map{{"5.0", "green"}}, Map{{"0", "green"}},
                             Map{{"-5", "green"}}, Map{{"", "green"}}, Map{{"1e3", "green"}}, Map{{"5", "\xff"}},
                             Map{{"5", std::string(1000, 'x')}}, Map{{"nan", "x"}}})
        CHECK(why_refused(Kind::speaker_type, "tap_marks", marks)
                  .starts_with("Write it in this form: {\"2.5\": \"red\""));
    CHECK(takes(Kind::reading, "knobs", Map{{"a1", -6.0}, {"a2", "off"}}));
    for (const Map& knobs : {Map{{"a 1", -6.0}}, Map{{"a1", 6.0}}, Map{{"a1", "on"}}, Map{{"a1", Value()}}})
        CHECK(why_refused(Kind::reading, "knobs", knobs).starts_with("Write it in this form: {\"A-1\": -6"));
}

TEST_CASE("changes of a trial keep to the field table themselves") {
    const auto change = [](Map map) { return Value(List{std::move(map)}); };
    const auto why = [&](Map map) { return why_refused(Kind::trial, "changes", change(std::move(map))); };
    CHECK(why({{"op", "add"}, {"kind", "point"}, {"fields", Map{{"label", "S1"}}}}).empty());
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap_w", Value()}}}}).empty());
    CHECK(why({{"op", "remove"}, {"kind", "point"}, {"id", "p1"}}).empty());
    CHECK(why({{"op", "drop"}, {"kind", "point"}, {"id", "p1"}}) ==
          "Change 1: Write add, set or remove as its \"op\", not “drop”.");
    CHECK(why({{"kind", "point"}, {"id", "p1"}}) == "Change 1: Write add, set or remove as its \"op\", not nothing.");
    CHECK(why({{"op", "set"}, {"kind", "points"}, {"id", "p1"}}) ==
          "Change 1: Write a kind of records, such as point, as its \"kind\", not “points”.");
    const std::string wanted_id = "Change 1: Write the id of the record as its \"id\", not ";
    CHECK(why({{"op", "set"}, {"kind", "point"}}) == wanted_id + "nothing.");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p 1"}}) == wanted_id + "“p 1”.");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", 5.0}}) == wanted_id + "5.");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", List{}}}) ==
          "Change 1: Write a map as its \"fields\", not a list.");
    CHECK(why({{"op", "remove"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{}}}) ==
          "Change 1: Leave out its \"fields\": it removes the record.");
    const Map fine{{"op", "remove"}, {"kind", "point"}, {"id", "p1"}};
    CHECK(
        why_refused(Kind::trial, "changes", List{fine, fine, 5.0}).starts_with("Change 3: Write it in this form: [{"));
    CHECK(why_refused(Kind::trial, "changes", 5.0).starts_with("Write it in this form: [{"));
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"why", "x"}}) ==
          "Change 1: “why” is not a key of a change. A change has op, kind, id and fields.");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap", 5.0}}}}) ==
          "Change 1: There is no field tap in the kind point.");
    CHECK(why({{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap_w", -5.0}}}}) ==
          "Change 1: tap_w: Write a figure from 0.001 W to 1000000 W, not -5.");
    CHECK(why({{"op", "add"}, {"kind", "point"}, {"fields", Map{{"tap_w", Value()}}}}) ==
          "Change 1: tap_w: Leave it out while it is unknown.");
    CHECK(why({{"op", "add"}, {"kind", "trial"}, {"fields", Map{{"name", "x"}}}}) ==
          "Change 1: It is about a trial. A trial changes the system, not trials.");
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
