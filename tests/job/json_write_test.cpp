// The canonical form of JSON: the same value, the same bytes.
#include <doctest/doctest.h>

#include "core/job/json.h"

using namespace tapwright;

TEST_CASE("files have two blanks a level, one member or element a line, LF at the end") {
    const Value value = Map{{"tapwright_job", 1.0},
                            {"job", Map{{"name", "A"}, {"line_v", 70.7}}},
                            {"rooms", List{Map{{"id", "r1"}, {"plenum", true}}}},
                            {"none", List{}},
                            {"empty", Map{}}};
    CHECK(pretty_json(value) == R"({
  "tapwright_job": 1,
  "job": {
    "name": "A",
    "line_v": 70.7
  },
  "rooms": [
    {
      "id": "r1",
      "plenum": true
    }
  ],
  "none": [],
  "empty": {}
}
)");
    CHECK(
        compact_json(value) ==
        R"({"tapwright_job":1,"job":{"name":"A","line_v":70.7},"rooms":[{"id":"r1","plenum":true}],"none":[],"empty":{}})");
}

TEST_CASE("numbers are as short as they read back, whole ones plain, no minus zero") {
    const std::vector<std::pair<double, const char*>> rows = {{0.0, "0"},
                                                              {-0.0, "0"},
                                                              {5.0, "5"},
                                                              {-6.0, "-6"},
                                                              {100000.0, "100000"},
                                                              {1e6, "1000000"},
                                                              {0.1, "0.1"},
                                                              {70.7, "70.7"},
                                                              {0.1 + 0.2, "0.30000000000000004"},
                                                              {1.0 / 3, "0.3333333333333333"},
                                                              {83.308, "83.308"},
                                                              {123456789012.0, "123456789012"}};
    for (const auto& [number, text] : rows) CHECK(compact_json(number) == text);
    for (double number : {1e-7, 1e21, 1.7976931348623157e308, 2.2250738585072014e-308, 5e-324})
        CHECK(*parse_json(compact_json(number), "it") == Value(number));
}

TEST_CASE("texts keep every byte; only what JSON demands is escaped (RFC 8259, section 7)") {
    CHECK(compact_json("\"\\/") == R"("\"\\/")");
    CHECK(compact_json("\b\f\n\r\t") == R"("\b\f\n\r\t")");
    CHECK(compact_json("\x01\x1f") == R"("\u0001\u001f")");
    CHECK(compact_json(std::string("\0", 1)) == R"("\u0000")");
    for (const char* text : {"\u2028", "\u2029", "\U0001F508", "\x7f", "é", "日本語", "\u200f\u202e", "\ufeff",
                             "\uffff", "\U0010FFFF", "e\u0301", "</script>", ""}) {
        CHECK(compact_json(text) == "\"" + std::string(text) + "\"");
        CHECK(*parse_json(compact_json(text), "it") == Value(text));
    }
    for (char c = 1; c < 0x20; ++c)
        CHECK(*parse_json(compact_json(std::string("a") + c), "it") == Value(std::string("a") + c));
    CHECK(*parse_json("\"\\u2028\"", "it") == Value("\u2028"));
    CHECK(*parse_json("\"\\ud83d\\udd08\"", "it") == Value("\U0001F508"));
}

TEST_CASE("the words for values in sentences") {
    CHECK(Value().what() == "null");
    CHECK(Value(true).what() == "true or false");
    CHECK(Value(1.0).what() == "a number");
    CHECK(Value("").what() == "a text");
    CHECK(Value(List{}).what() == "a list");
    CHECK(Value(Map{}).what() == "a map");
    CHECK(Value(5.0).find("a").is_null());
    CHECK(Value(Map{{"a", 1.0}}).find("b").is_null());
}
