// field=value as typed, and values as shown.
#include "core/job/field_text.h"

#include "core/words/words.h"
#include "tests/job/made.h"

using namespace tapwright;

namespace {

Value typed(Kind kind, const char* name, std::string_view text, LengthUnits lengths = LengthUnits::metric) {
    const Result<Value> value = value_from_text(*find_field(kind, name), text, lengths);
    CHECK_MESSAGE(value.ok(),
                  name << "=" << std::string(text) << " " << (value.ok() ? "" : in_english(value.refusal())));
    return value.ok() ? *value : Value();
}

std::string why_not(Kind kind, const char* name, std::string_view text) {
    const Result<Value> value = value_from_text(*find_field(kind, name), text);
    return value.ok() ? "it was read" : in_english(value.refusal());
}

std::string shown(Kind kind, const char* name, const Value& value, LengthUnits lengths = LengthUnits::metric) {
    return Words(english(), lengths).text(message_of(*find_field(kind, name), value));
}

}  // namespace

TEST_CASE("nothing but blanks clears a field") {
    for (std::size_t i = 0; i < kind_count; ++i)
        for (const FieldInfo& field : fields(kind_at(i)))
            for (const char* blank : {"", " ", "\u00a0\n"}) CHECK(value_from_text(field, blank)->is_null());
}

TEST_CASE("figures with their units") {
    CHECK(typed(Kind::point, "tap_w", "7,5 W") == Value(7.5));
    CHECK(typed(Kind::point, "length_m", "40' 6\"") == Value(12.3444));
    CHECK(typed(Kind::point, "length_m", "40", LengthUnits::feet) == Value(12.192));
    CHECK(typed(Kind::interface, "supply_ma", "0.5 A") == Value(500.0));
    CHECK(typed(Kind::channel, "min_ohm", "1k2") == Value(1200.0));
    CHECK(typed(Kind::job, "reserve_pct", "20 %") == Value(20.0));
    CHECK(typed(Kind::job, "cable_c", "104 F") == Value(40.0));
    CHECK(typed(Kind::room, "noise_dba", "55 dBA") == Value(55.0));
    CHECK(typed(Kind::cable_type, "area_mm2", "2,5 mm²") == Value(2.5));
    CHECK(typed(Kind::cable_type, "awg", "18 AWG") == Value(18.0));
    CHECK(typed(Kind::cable_type, "awg", "18") == Value(18.0));
    CHECK(typed(Kind::cable_type, "iec_class", "5") == Value(5.0));
    CHECK(typed(Kind::reading, "value", "92.5") == Value(92.5));
    CHECK(typed(Kind::reading, "hz", "1 kHz") == Value(1000.0));
    CHECK(why_not(Kind::point, "tap_w", "5 V") == "“5 V” is in volts. Write watts, for example 7.5 W.");
    CHECK(why_not(Kind::point, "tap_w", "-5") == "Write a figure from 0.001 W to 1000000 W, not -5.");
    CHECK(why_not(Kind::cable_type, "awg", "18.5 AWG") == "Write a whole number from 0 AWG to 40 AWG, not 18.5.");
    for (const char* text : {"nan", "inf", "1e999", "1e307", "0", "5 5"})
        CHECK(why_not(Kind::point, "tap_w", text) != "it was read");
}

TEST_CASE("words: flags, choices, positions") {
    for (const char* text : {"yes", "Y", "true", "ON", "1"}) CHECK(typed(Kind::room, "plenum", text) == Value(true));
    for (const char* text : {"no", "N", "False", "off", "0"}) CHECK(typed(Kind::room, "plenum", text) == Value(false));
    CHECK(why_not(Kind::room, "plenum", "maybe") == "Write true or false, not “maybe”.");
    for (const char* text : {"first_fix", "First fix", "FIRST-FIX"})
        CHECK(typed(Kind::visit, "purpose", text) == Value("first_fix"));
    CHECK(typed(Kind::attenuator_type, "build", "L-pad") == Value("l_pad"));
    CHECK(typed(Kind::zone, "wiring_class", "2") == Value("2"));
    CHECK(typed(Kind::point, "origin", "new") == Value("new"));
    CHECK(why_not(Kind::point, "state", "done").starts_with("Write planned, cabled,"));
    CHECK(typed(Kind::point, "knob_db", "Off") == Value("off"));
    CHECK(typed(Kind::point, "knob_db", "\u22126 dB") == Value(-6.0));
    CHECK(why_not(Kind::point, "knob_db", "6") == "Write a figure from −200 dB to 0 dB, or off, not 6.");
}

TEST_CASE("texts, ids, days, times, hashes") {
    CHECK(typed(Kind::room, "name", "  Foyer \n") == Value("Foyer"));
    CHECK(typed(Kind::room, "name", "5") == Value("5"));
    CHECK(typed(Kind::room, "notes", "[a, b]") == Value("[a, b]"));
    CHECK(typed(Kind::point, "fed_from", " z1 ") == Value("z1"));
    CHECK(typed(Kind::visit, "date", "2024-06-01") == Value("2024-06-01"));
    CHECK(why_not(Kind::visit, "date", "1.6.2024") == "Write a day as YYYY-MM-DD, not “1.6.2024”.");
    CHECK(typed(Kind::reading, "time", "2024-06-01 12:00:00z") == Value("2024-06-01T12:00:00Z"));
    CHECK(typed(Kind::reading, "time", "2024-06-01t12:00:00+02:00") == Value("2024-06-01T12:00:00+02:00"));
    CHECK(typed(Kind::photo, "sha256", std::string(64, 'A')) == Value(std::string(64, 'a')));
    CHECK(why_not(Kind::room, "name", "\xff") == "Write it as UTF-8 text.");
}

TEST_CASE("figures in a row are read as they are printed, and the comma means what the rule says") {
    const Value taps = List{5.0, 10.0, 20.0};
    for (const char* text : {"5, 10, 20", "5,10,20", "5;10;20", "5 W, 10 W, 20 W", "5, 10, 20 W", "[5, 10, 20]"})
        CHECK(typed(Kind::speaker_type, "taps_w", text) == taps);
    CHECK(typed(Kind::speaker_type, "taps_w", "2,5; 5; 7,5") == Value(List{2.5, 5.0, 7.5}));
    CHECK(typed(Kind::speaker_type, "taps_w", "5") == Value(List{5.0}));
    CHECK(typed(Kind::attenuator_type, "steps_db", "0, -3, \u22126 dB") == Value(List{0.0, -3.0, -6.0}));
    CHECK(typed(Kind::attenuator_type, "steps_db", "[]") == Value(List{}));
    CHECK(typed(Kind::control, "governs", "p1, p2") == Value(List{"p1", "p2"}));
    const Value printed = List{1.5, 3.0, 6.0};
    for (const char* text : {"1.5/3/6", "1,5/3/6", "1.5 / 3 / 6 W", "1,5 3 6", "1.5 3 6", "1,5 W 3 W 6 W", "1.5, 3, 6",
                             "1.5,3,6", "1.5,3, 6", "1.5|3|6", "1,5\u00a03\u00a06", "  1,5   3   6  "})
        CHECK_MESSAGE(typed(Kind::speaker_type, "taps_w", text) == printed, text);
    CHECK(typed(Kind::speaker_type, "taps_w", "5, 2.5, 1.25") == Value(List{5.0, 2.5, 1.25}));
    CHECK(typed(Kind::speaker_type, "taps_w", "20,10,5") == Value(List{20.0, 10.0, 5.0}));
    // One figure cannot have its comma told from two figures: two it is, and what was saved says so.
    CHECK(typed(Kind::speaker_type, "taps_w", "2,5") == Value(List{2.0, 5.0}));
    for (const char* text : {"0 3 6 9", "0/3/6/9", "0 -3 -6 -9", "0, 3, 6, 9 dB", "0 \u22123 \u22126 9"})
        CHECK_MESSAGE(typed(Kind::attenuator_type, "steps_db", text) == Value(List{0.0, -3.0, -6.0, -9.0}), text);
    CHECK(why_not(Kind::speaker_type, "taps_w", "2,5, 5") ==
          "Write a / between the figures: a comma in “2,5, 5” could be decimal.");
    CHECK(why_not(Kind::speaker_type, "taps_w", "1,5,3,6") ==
          "Write a / between the figures: a comma in “1,5,3,6” could be decimal.");
    CHECK(why_not(Kind::speaker_type, "taps_w", "1.5/3/x") == "Write figures in W such as 1.5/3/6, not “1.5/3/x”.");
    CHECK(why_not(Kind::attenuator_type, "steps_db", "0 3 off") ==
          "Write figures in dB such as 0/3/6/9, not “0 3 off”.");
    for (const char* text : {"5,,10", "5,", ",", ";", "5 V", "five", "[5", "{}", "5, -10", "1.5//3", "5/"})
        CHECK_MESSAGE(why_not(Kind::speaker_type, "taps_w", text) != "it was read", text);
}

TEST_CASE("maps: name=value pairs, or JSON") {
    const Value knobs = Map{{"a1", -6.0}, {"a2", "off"}};
    for (const char* text : {"a1=-6,a2=off", "a1 = -6 dB; a2 = OFF", "{\"a1\": -6, \"a2\": \"off\"}"})
        CHECK(typed(Kind::reading, "knobs", text) == knobs);
    CHECK(typed(Kind::speaker_type, "tap_marks", "5=green, 10=white / red") ==
          Value(Map{{"5", "green"}, {"10", "white / red"}}));
    CHECK(why_not(Kind::reading, "knobs", "a1=-6,a1=off") == "“a1” is given twice. Keep one.");
    CHECK(why_not(Kind::reading, "knobs", "a1") == "“a1” has no = between its name and its value.");
    for (const char* text : {"=5", "a1=", "a1=loud", "a 1=-6", "a1=6", "{", "[]", "{\"a1\": -6, \"a1\": -6}"})
        CHECK_MESSAGE(why_not(Kind::reading, "knobs", text) != "it was read", text);
}

TEST_CASE("pins, strokes and changes") {
    const Value pin = Map{{"x", 0.25}, {"y", 0.5}};
    for (const char* text : {"0.25, 0.5", "0,25; 0,5", "{\"x\": 0.25, \"y\": 0.5}"})
        CHECK(typed(Kind::photo, "pin", text) == pin);
    for (const char* text : {"0.25", "0.25, 0.5, 1", "2, 2", "a, b"})
        CHECK(why_not(Kind::photo, "pin", text) != "it was read");
    CHECK(why_not(Kind::photo, "pin", "0.25") == "Write two figures from 0 to 1, for example 0.25, 0.5.");
    CHECK(typed(Kind::signoff, "strokes", "[[0, 0, 1, 1]]") == Value(List{Value(List{0.0, 0.0, 1.0, 1.0})}));
    CHECK(why_not(Kind::signoff, "strokes", "a line") == "Line 1, column 1: This is not JSON (RFC 8259), from “a” on.");
    CHECK(typed(Kind::trial, "changes", R"([{"op": "remove", "kind": "point", "id": "p1"}])").list()->size() == 1);
}

TEST_CASE("values as people read them") {
    CHECK(shown(Kind::point, "tap_w", Value()) == "unknown");
    CHECK(shown(Kind::point, "tap_w", 7.5) == "7.5 W");
    CHECK(shown(Kind::channel, "min_ohm", 1200.0) == "1.2 kΩ");
    CHECK(shown(Kind::point, "length_m", 12.3444, LengthUnits::feet) == "40 ft 6 in");
    CHECK(shown(Kind::point, "knob_db", -6.0) == "\u22126 dB");
    CHECK(shown(Kind::point, "knob_db", "off") == "off");
    CHECK(shown(Kind::cable_type, "awg", 18.0) == "18 AWG");
    CHECK(shown(Kind::room, "noise_dba", 55.0) == "55 dB(A)");
    CHECK(shown(Kind::room, "plenum", true) == "yes");
    CHECK(shown(Kind::room, "plenum", false) == "no");
    CHECK(shown(Kind::visit, "purpose", "first_fix") == "first fix");
    CHECK(shown(Kind::room, "name", "low_z") == "low_z");
    CHECK(shown(Kind::speaker_type, "taps_w", List{5.0, 10.0, 20.0}) == "5 W, 10 W and 20 W");
    CHECK(shown(Kind::speaker_type, "tap_marks", Map{{"5", "green"}}) == "5 W: green");
    CHECK(shown(Kind::attenuator_type, "steps_db", List{}) == "none");
    CHECK(shown(Kind::reading, "knobs", Map{{"a1", -6.0}, {"a2", "off"}}) == "a1: \u22126 dB and a2: off");
    CHECK(shown(Kind::photo, "pin", Map{{"x", 0.25}, {"y", 0.5}}) == "25 % from the left, 50 % from the top");
    CHECK(shown(Kind::signoff, "strokes", List{Value(List{0.0, 0.0})}) == "1 stroke");
    CHECK(shown(Kind::trial, "changes", List{}) == "0 changes");
}

TEST_CASE("with a job at hand, ids are shown by name") {
    Job job;
    made::add(job, Kind::zone, "z1", {{"name", "Hall"}});
    made::add(job, Kind::point, "a1", {{"label", "V1"}});
    const auto text = [&](Kind kind, const char* name, const Value& value) {
        return in_english(message_of(*find_field(kind, name), value, &job));
    };
    CHECK(text(Kind::point, "fed_from", "z1") == "Hall");
    CHECK(text(Kind::point, "fed_from", "gone") == "gone");
    CHECK(text(Kind::control, "governs", List{"z1", "a1"}) == "Hall and V1");
    CHECK(text(Kind::reading, "knobs", Map{{"a1", "off"}}) == "V1: off");
    CHECK(length_units(job) == LengthUnits::metric);
    made::set(job, Kind::job, "job", "units", "imperial");
    CHECK(length_units(job) == LengthUnits::feet);
}

TEST_CASE("values as messages") {
    Job job;
    made::add(job, Kind::zone, "z1", {{"name", "Hall"}});
    made::add(job, Kind::point, "a1", {{"label", "V1"}});
    const auto text = [&](Kind kind, const char* name, const Value& value) {
        return in_english(message_of(*find_field(kind, name), value, &job));
    };
    CHECK(text(Kind::point, "tap_w", 7.5) == "7.5 W");
    CHECK(text(Kind::room, "order", 12.0) == "12");
    CHECK(text(Kind::cable_type, "awg", 18.0) == "18 AWG");
    CHECK(text(Kind::room, "plenum", true) == "yes");
    CHECK(text(Kind::visit, "purpose", "first_fix") == "first fix");
    CHECK(text(Kind::point, "kind", "speaker") == "loudspeaker");
    CHECK(text(Kind::visit, "date", "2025-04-15") == "15 Apr 2025");
    CHECK(text(Kind::reading, "time", "2025-04-15T14:05:59+02:00") == "15 Apr 2025, 14:05");
    CHECK(text(Kind::point, "fed_from", "z1") == "Hall");
    CHECK(text(Kind::control, "governs", List{"z1", "a1"}) == "Hall and V1");
    CHECK(text(Kind::speaker_type, "taps_w", List{2.5, 5.0}) == "2.5 W and 5 W");
    CHECK(text(Kind::reading, "knobs", Map{{"a1", "off"}}) == "V1: off");
    CHECK(text(Kind::speaker_type, "tap_marks", Map{{"5", "green"}}) == "5 W: green");
    CHECK(text(Kind::point, "knob_db", "off") == "off");
    CHECK(text(Kind::point, "knob_db", -6.0) == "\u22126 dB");
    CHECK(text(Kind::photo, "pin", Map{{"x", 0.25}, {"y", 0.5}}) == "25 % from the left, 50 % from the top");
    CHECK(text(Kind::signoff, "strokes", List{Value(List{0.0, 0.0})}) == "1 stroke");
    CHECK(text(Kind::point, "tap_w", Value()) == "unknown");
    CHECK(text(Kind::attenuator_type, "steps_db", List{}) == "none");
    CHECK(text(Kind::room, "name", "{braces}") == "{braces}");
}

TEST_CASE("what holds while a field is absent") {
    const auto absent = [](Kind kind, const char* name) { return in_english(absent_means(*find_field(kind, name))); };
    CHECK(absent(Kind::job, "line_v") == "70.7 V");
    CHECK(absent(Kind::job, "units") == "metric");
    CHECK(absent(Kind::channel, "line_v") == "the job's");
    CHECK(absent(Kind::zone, "line_v") == "the output's, else the job's");
    CHECK(absent(Kind::room, "floor") == "unknown");
    for (std::size_t i = 0; i < kind_count; ++i)
        for (const FieldInfo& field : fields(kind_at(i))) CHECK_FALSE(in_english(absent_means(field)).empty());
}

TEST_CASE("text for editing") {
    const auto text = [](Kind kind, const char* name, const Value& value) {
        return editable_text(*find_field(kind, name), value);
    };
    CHECK(text(Kind::point, "tap_w", Value()) == "");
    CHECK(text(Kind::point, "tap_w", 0.625) == "0.625 W");
    CHECK(text(Kind::point, "tap_w", 7.5) == "7.5 W");
    CHECK(text(Kind::visit, "purpose", "first_fix") == "first fix");
    CHECK(text(Kind::speaker_type, "taps_w", List{0.625, 1.25}) == "0.625, 1.25");
    CHECK(text(Kind::reading, "knobs", Map{{"a1", "off"}, {"a2", -6.0}}) == "a1=off, a2=\u22126");
    CHECK(text(Kind::speaker_type, "tap_marks", Map{{"5", "red, striped"}}) == "{\"5\":\"red, striped\"}");
    CHECK(text(Kind::attenuator_type, "steps_db", List{}) == "[]");
}

TEST_CASE("a reading's value has the unit of what was measured") {
    CHECK(unit_of_reading(Measured::dc_ohms) == Unit::ohm);
    CHECK(unit_of_reading(Measured::stray_v) == Unit::volt);
    CHECK(unit_of_reading(Measured::noise_dba) == Unit::sound_level);
    CHECK(unit_of_reading(Measured::tap_w) == Unit::watt);
    for (std::size_t i = 0; i < kind_count; ++i)
        for (const FieldInfo& field : fields(kind_at(i)))
            CHECK_MESSAGE((field.unit.empty() || unit_of_field(field) != Unit::none), field.name);
}
