// What a job file or a call holds reaches a terminal, a page and a label as signs that do nothing.
#include <doctest/doctest.h>

#include "core/base/harmless.h"
#include "core/base/text.h"
#include "core/job/json.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Every sign that does something, as a file may hold it (U+0000 is refused).
std::string every_harm() {
    std::string text =
        "x\x1b[31m\x1b]0;"
        "t\x07\r\n\b\x7f\u0080\u009b2J\u009f\u202egnorw\u202a\u2066\u2067\u2068\u2069\u200e\u200f\u061c";
    return text + "\u2028\u2029\nForged line.";
}

// The same without what a command refuses to record: U+001B and the like reach a job only by a forged file, and by the
// name of a person, which a batch holds.
std::string every_harm_that_is_kept() {
    std::string text;
    for (const char c : every_harm())
        if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\r')
            if (c != 0x7f) text += c;
    return text;
}

// The first sign that does something, as a number; 0: there is none. Line ends are the program's own.
char32_t harm_in(std::string_view text, bool with_tabs = false) {
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        if (length == 0) return 0xFFFFFFFF;
        const char32_t code = code_point(text.substr(0, length));
        if (code != '\n' && !(with_tabs && code == '\t') && does_something(code)) return code;
        text.remove_prefix(length);
    }
    return 0;
}

Map harmful_job() {
    const Value harm = every_harm_that_is_kept();
    return Map{
        {"tapwright_job", 1.0},
        {"job", Map{{"name", harm},
                    {"site", harm},
                    {"client", harm},
                    {"contractor", harm},
                    {"contact", harm},
                    {"notes", harm}}},
        {"rooms", List{Value(Map{{"id", "r"},
                                 {"name", harm},
                                 {"floor", harm},
                                 {"length_m", 9.0},
                                 {"width_m", 6.0},
                                 {"height_m", 3.0},
                                 {"wanted_dba", 70.0},
                                 {"access", harm},
                                 {"notes", harm}})}},
        {"amplifiers",
         List{Value(Map{{"id", "amp"}, {"name", harm}, {"model", harm}, {"breaker", harm}, {"rated_w", 4.0}})}},
        {"channels", List{Value(Map{{"id", "ch"}, {"name", harm}, {"amplifier", "amp"}, {"rated_w", 4.0}})}},
        {"zones",
         List{Value(Map{{"id", "z"}, {"name", harm}, {"channel", "ch"}, {"limit_w", 4.0}, {"terminal", harm}})}},
        {"speaker_types", List{Value(Map{{"id", "t"},
                                         {"name", harm},
                                         {"taps_w", List{2.5, 5.0}},
                                         {"tap_marks", Map{{"5", harm}}},
                                         {"sens_db", 90.0},
                                         {"cone_deg", 90.0},
                                         {"max_w", 2.0}})}},
        {"points", List{Value(Map{{"id", "p"},
                                  {"kind", "speaker"},
                                  {"label", harm},
                                  {"room", "r"},
                                  {"fed_from", "z"},
                                  {"type", "t"},
                                  {"tap_w", 5.0},
                                  {"serial", harm},
                                  {"notes", harm}})}},
        {"visits", List{Value(Map{{"id", "v"}, {"purpose", "service"}, {"person", harm}})}},
        {"readings",
         List{Value(Map{{"id", "m"}, {"at", "z"}, {"quantity", "ohms"}, {"value", 100.0}, {"instrument", harm}})}},
        {"snags", List{Value(Map{{"id", "s"}, {"about", "p"}, {"text", harm}})}}};
}

}  // namespace

TEST_CASE(
    "nothing in a job acts on a terminal: no control, no U+0080 to U+009F, no change of direction, no forged line") {
    const TemporaryFolder folder;
    const std::string file = folder.file("h.tapjob");
    const auto run = [&](std::vector<std::string> arguments) {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    };
    write_bytes(folder.file("h.json"), pretty_json(harmful_job()));
    write_bytes(folder.file("c.json"), R"([{"op": "set", "kind": "point", "id": "p", "fields": {"tap_w": 2.5}}])");
    REQUIRE(run({"import", folder.file("h.json"), file, "--person", every_harm()}).status < 2);
    for (const std::vector<std::string>& call : {std::vector<std::string>{"check", file, "--why"},
                                                 {"check", file, "--json"},
                                                 {"solve", file},
                                                 {"list", file, "points"},
                                                 {"list", file, "zones", "--json"},
                                                 {"show", file, "p"},
                                                 {"show", file, "r"},
                                                 {"show", file, "p", "--json"},
                                                 {"history", file},
                                                 {"undo", file, "--person", every_harm()},
                                                 {"history", file},
                                                 {"history", file, "--json"},
                                                 {"survey", file, "r", "t"},
                                                 {"trial", file, folder.file("c.json")},
                                                 {"fit", file, "z", "--add", "tx1"},
                                                 {"read", file, "z", "ohms=90", "dry"},
                                                 {"set", file, "p", "label=" + every_harm_that_is_kept() + "2"},
                                                 {"undo", file},
                                                 {"export", file, "-"}}) {
        const Ran ran = run(call);
        CAPTURE(call.front());
        CAPTURE(ran.out);
        CAPTURE(ran.err);
        CHECK(ran.status != 134);
        CHECK(static_cast<unsigned>(harm_in(ran.out)) == 0);
        CHECK(static_cast<unsigned>(harm_in(ran.err)) == 0);
        CHECK(ran.out.find("\nForged line.") == std::string::npos);
        CHECK(ran.err.find("\nForged line.") == std::string::npos);
    }
}

TEST_CASE("nothing in a call acts on a terminal either: names of files, ids, options, values") {
    const TemporaryFolder folder;
    const std::string file = folder.file("a.tapjob");
    const auto run = [&](std::vector<std::string> arguments) {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    };
    REQUIRE(run({"new", file, "--name", "x"}).status == 0);
    const std::string harm = every_harm();
    for (const std::vector<std::string>& call : {std::vector<std::string>{"check", folder.file("none") + harm},
                                                 {harm},
                                                 {"check", file, "--" + harm},
                                                 {"show", file, harm},
                                                 {"add", file, harm, "name=x"},
                                                 {"add", file, "room", harm + "=x"},
                                                 {"add", file, "room", "name=a", "length_m=" + harm},
                                                 {"set", file, "job", "line_v=" + harm},
                                                 {"import", harm, folder.file("b.tapjob")},
                                                 {"export", file, folder.file(harm) + "/x.json"},
                                                 {"solve", file, "--knobs", harm},
                                                 {"cable", "--load", harm},
                                                 {"undo", file, "--visit", harm},
                                                 {"new", file, "--name", "\x9b\xff"}}) {
        for (const bool json : {false, true}) {
            std::vector<std::string> arguments = call;
            if (json) arguments.emplace_back("--json");
            const Ran ran = run(arguments);
            CAPTURE(call.front());
            CAPTURE(ran.err);
            CHECK(ran.status == 2);
            CHECK(static_cast<unsigned>(harm_in(ran.out + ran.err)) == 0);
            CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
        }
    }
}

TEST_CASE("a page and labels show signs that do nothing; only our own isolates are there") {
    const TemporaryFolder folder;
    const std::string file = folder.file("h.tapjob");
    const auto run = [&](std::vector<std::string> arguments) {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    };
    write_bytes(folder.file("h.json"), pretty_json(harmful_job()));
    REQUIRE(run({"import", folder.file("h.json"), file}).status < 2);
    for (const std::vector<std::string>& call : {std::vector<std::string>{"sheet", file, folder.file("t.html")},
                                                 {"sheet", file, folder.file("o.html"), "--for", "owner"},
                                                 {"labels", file, folder.file("l.html")}}) {
        REQUIRE(run(call).status < 2);
        std::string page = read_bytes(call[2]);
        for (const std::string_view isolate : {"\u2068", "\u2069"})
            for (std::size_t at = 0; (at = page.find(isolate, at)) != std::string::npos;)
                page.erase(at, isolate.size());
        CHECK(static_cast<unsigned>(harm_in(page, true)) == 0);
    }
}

TEST_CASE("JSON keeps every byte of it, written so that a terminal does nothing") {
    const TemporaryFolder folder;
    const std::string file = folder.file("h.tapjob");
    const auto run = [&](std::vector<std::string> arguments) {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    };
    write_bytes(folder.file("h.json"), pretty_json(harmful_job()));
    REQUIRE(run({"import", folder.file("h.json"), file}).status < 2);
    const Value written = json_of(run({"export", file, "-"}));
    CHECK(*written.find("job").find("name").text() == every_harm_that_is_kept());
    CHECK(*(*written.find("points").list())[0].find("label").text() == every_harm_that_is_kept());
    const Value shown = json_of(run({"show", file, "p", "--json"}));
    CHECK(*shown.find("fields").find("label").text() == every_harm_that_is_kept());
    const Value checked = json_of(run({"check", file, "--json"}));
    CHECK(*(*checked.find("zones").list())[0].find("name").text() == every_harm_that_is_kept());
}
