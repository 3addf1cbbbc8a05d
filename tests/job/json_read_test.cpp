// Reading JSON that may be foreign, damaged or hostile (RFC 8259; places by RFC 6901).
#include <doctest/doctest.h>

#include "core/base/text.h"
#include "core/job/json.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

std::string why_not(std::string_view text, const JsonLimits& limits = {}) {
    const Result<Value> read = parse_json(text, "it", limits);
    return read.ok() ? "it was read" : in_english(read.refusal());
}

std::string repeated(std::string_view piece, std::size_t count) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i) text += piece;
    return text;
}

}  // namespace

TEST_CASE("every JSON value is read") {
    const Result<Value> read =
        parse_json(R"({"n": null, "t": true, "f": false, "i": -5, "d": 0.1, "e": 1E+2, "big": 18446744073709551615,
        "s": "a\"\\\/\b\f\n\r\t\u00e9\ud83d\udd08", "l": [1, [2], {}], "m": {"": 1}})",
                   "it");
    REQUIRE(read.ok());
    CHECK(read->find("n").is_null());
    CHECK(*read->find("t").flag());
    CHECK_FALSE(*read->find("f").flag());
    CHECK(*read->find("i").number() == -5);
    CHECK(*read->find("d").number() == 0.1);
    CHECK(*read->find("e").number() == 100);
    CHECK(*read->find("big").number() == 18446744073709551615.0);
    CHECK(*read->find("s").text() == "a\"\\/\b\f\n\r\té\U0001F508");
    CHECK(read->find("l").list()->size() == 3);
    CHECK(*read->find("m").find("").number() == 1);
    CHECK(read->map()->front().first == "n");
    CHECK(*parse_json("\"plain\"", "it") == Value("plain"));
    CHECK(*parse_json(" 5 ", "it") == Value(5.0));
}

TEST_CASE("a key that stands twice is refused by its pointer") {
    CHECK(why_not(R"({"a": 1, "a": 2})") == "it, at /a: This key is given twice. Keep one.");
    CHECK(why_not(R"({"rooms": [{"id": "r"}, {"name": "A", "id": "b", "name": "B"}]})") ==
          "it, at /rooms/1/name: This key is given twice. Keep one.");
    CHECK(why_not(R"({"a\u0062": 1, "ab": 2})") == "it, at /ab: This key is given twice. Keep one.");
    CHECK(why_not(R"({"a/b~c": 1, "a/b~c": 2})") == "it, at /a~1b~0c: This key is given twice. Keep one.");
    CHECK(why_not(R"({"": 1, "": 2})") == "it, at /: This key is given twice. Keep one.");
    std::string many = "{";
    for (int i = 0; i < 1000; ++i) many += "\"k" + std::to_string(i) + "\": 0, ";
    CHECK(why_not(many + "\"k7\": 1}") == "it, at /k7: This key is given twice. Keep one.");
    CHECK(why_not(many + "\"k\": 1}") == "it was read");
    CHECK(why_not(R"({"a": {"a": {"a": 1}}, "b": [{"a": 1}, {"a": 1}]})") == "it was read");
}

TEST_CASE("nesting is bounded, a million brackets too") {
    CHECK(why_not(repeated("[", 12) + repeated("]", 12)) == "it was read");
    CHECK(why_not(repeated("[", 13)).ends_with("Lists and maps are nested more than 12 levels deep."));
    CHECK(why_not(repeated("[", 1'000'000)) == why_not(repeated("[", 13)));
    CHECK(why_not(repeated("{\"a\":", 1'000'000)) ==
          "it, at " + repeated("/a", 12) + ": Lists and maps are nested more than 12 levels deep.");
}

TEST_CASE("sizes are bounded: bytes, texts, keys, values") {
    const std::string ten_megabytes(10'000'000, 'x');
    CHECK(why_not("{\"name\": \"" + ten_megabytes + "\"}") ==
          "it, at /name: This text has 10000000 bytes. At most 1000000 are read.");
    CHECK(why_not("\"" + ten_megabytes + "\"") == "it: This text has 10000000 bytes. At most 1000000 are read.");
    CHECK(why_not("{\"" + ten_megabytes + "\": 1}").ends_with(": This key is longer than 1000000 bytes."));
    CHECK(why_not("[1, 2, 3]", {.values = 3}) == "it: There are more than 3 values.");
    CHECK(why_not("[1, 2, 3]", {.values = 4}) == "it was read");
    CHECK(why_not("[1, 2, 3]", {.bytes = 8}) == "it: It has 9 bytes. At most 8 are read.");
}

TEST_CASE("numbers are finite") {
    CHECK(why_not(R"({"zones": [{"limit_w": 1e999}]})") == "it, at /zones/0/limit_w: The number 1e999 is too large.");
    CHECK(why_not("-1e999") == "it: The number -1e999 is too large.");
    CHECK(why_not("1" + std::string(400, '0')).find("is too large") != std::string::npos);
    CHECK(*parse_json("1e307", "it") == Value(1e307));
    CHECK(*parse_json("1e-999", "it") == Value(0.0));
    for (const char* text :
         {"NaN", "nan", "Infinity", "-Infinity", "+1", "01", ".5", "5.x", "1ex", "0x10", "--1", "1,5"})
        CHECK_MESSAGE(why_not(text).find("This is not JSON (RFC 8259)") != std::string::npos, text);
}

TEST_CASE("what is not JSON is refused with its line and column") {
    CHECK(why_not("") == "it: It is empty. Give a JSON text.");
    CHECK(why_not(" ") == "it, line 1, column 2: The text ends before its JSON is complete.");
    CHECK(why_not("{\"a\": [1, 2") == "it, line 1, column 12: The text ends before its JSON is complete.");
    CHECK(why_not("{\n  \"é\": x\n}").starts_with("it, line 2, column 8: This is not JSON (RFC 8259), from “"));
    for (const char* text :
         {"{} {}", "[1,]", "{\"a\":1,}", "{a: 1}", "{'a': 1}", "[1] // note", "/* note */ 1", "\"a\nb\"", "\"\\x\"",
          "\"\\ud800\"", "\"\\u12\"", "tru", "nul", "%PDF-1.7", "{\"a\" 1}", "]", "\"a"})
        CHECK_MESSAGE(!parse_json(text, "it").ok(), text);
}

TEST_CASE("bytes that are not text are refused") {
    CHECK(why_not("\"\xe2\x82\"") == "it: It is not UTF-8 text. Save it as UTF-8 JSON.");
    CHECK(why_not("{\"a\": \"\xc3") == "it: It is not UTF-8 text. Save it as UTF-8 JSON.");
    CHECK(why_not("\xff\xd8\xff\xe0") == "it: It is not UTF-8 text. Save it as UTF-8 JSON.");
    CHECK(why_not(std::string_view("{}\0{}", 5)) ==
          "it, line 1, column 3: There is a zero byte, which JSON does not have.");
    CHECK(why_not(std::string_view("\0", 1)) ==
          "it, line 1, column 1: There is a zero byte, which JSON does not have.");
    CHECK(why_not(std::string_view("\"a\0b\"", 5)).find("zero byte") != std::string::npos);
}

TEST_CASE("cut anywhere, a text is refused and never half taken") {
    const std::string whole =
        R"({"tapwright_job": 1, "job": {"name": "H\u00e4user", "line_v": 70.7}, "rooms": [{"id": "r1", "plenum": true}]})";
    REQUIRE(parse_json(whole, "it").ok());
    for (std::size_t size = 0; size < whole.size(); ++size) CHECK_FALSE(parse_json(whole.substr(0, size), "it").ok());
}
