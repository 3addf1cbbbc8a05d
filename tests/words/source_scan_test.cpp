// The sources say nothing that translators do not see, and fill every place they name.
#include "tests/words/source_scan.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

namespace {

namespace fs = std::filesystem;

std::string only_problem(std::string_view source) {
    const Scan scan = scan_source(source, "a.cpp");
    REQUIRE(scan.problems.size() == 1);
    return scan.problems.front();
}

std::size_t sound(std::string_view source) {
    const Scan scan = scan_source(source, "a.cpp");
    for (const std::string& problem : scan.problems) FAIL_CHECK(problem);
    return scan.checked;
}

std::string read_file(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace

TEST_CASE("the scanner takes what is right") {
    CHECK(sound(R"(Message("Done."))") == 1);
    CHECK(sound(R"(Message("{a}: {b}", {{"a", entered(f("x, (", y))}, {"b", Watts(5)}}))") == 1);
    CHECK(sound(R"(Message("Two literals " "and {a}", {{"a", 1}}))") == 1);
    CHECK(sound(R"__(Message(R"(raw "{a}")", {{"a", 1}}))__") == 1);
    CHECK(sound(R"(plural("{count} lamp in {room}", "{count} lamps in {room}", n, {{"room", entered(r)}}))") == 1);
    CHECK(sound(R"(plural("one lamp", "{count} lamps", n))") == 1);
    CHECK(sound(R"(in_context("snag", "open"))") == 1);
    CHECK(sound(R"(cold ? Message("Cold.") : Message("Warm."))") == 2);
    CHECK(sound(R"(Message("It is {what}.", {{"what", Message("{a} now", {{"a", 1}})}}))") == 2);
    CHECK(sound(R"(Message("{a}", named))") == 0);  // made elsewhere: not for a scanner to say
    CHECK(sound("Message(pattern) + Message(entered(\"name\"))") == 0);
    CHECK(sound("// Message(\"{a}\")\n/* Message(cold ? \"a\" : \"b\") */ '\"' 1'000") == 0);
    CHECK(sound("const std::string text = \"Message(\\\"{a}\\\")\";") == 0);
    CHECK(sound("const Message name = Message(\"A.\"); Message other(int count);") == 1);
}

TEST_CASE("the scanner finds what is wrong") {
    CHECK(only_problem("\n\nMessage(\"{a} is on.\");") == "a.cpp:3: the place {a} has no argument");
    CHECK(only_problem(R"(Message("On.", {{"a", 1}}))") == "a.cpp:1: the argument \"a\" has no place");
    CHECK(only_problem(R"(plural("{n} lamp", "{count} lamps", 2))") == "a.cpp:1: the place {n} has no argument");
    CHECK(only_problem(R"(in_context("x", "{a}"))") == "a.cpp:1: the place {a} has no argument");
    const std::string chosen = "a.cpp:1: a pattern must be one literal, not chosen or joined in its place";
    CHECK(only_problem(R"(Message(cold ? "Cold." : "Warm."))") == chosen);
    CHECK(only_problem(R"(Message("Cold in " + name))") == chosen);
    CHECK(only_problem(R"(Message(PREFIX "cold"))") == chosen);
    CHECK(only_problem("const Message name(\"Cold.\");") ==
          "a.cpp:1: xgettext does not see this pattern; write name = Message(...)");
    CHECK(only_problem("Pattern name{\"Cold.\"};") ==
          "a.cpp:1: xgettext does not see this pattern; write name = Pattern(...)");
}

TEST_CASE("no pattern of the program hides, and every place has its argument") {
    std::size_t patterns = 0;
    std::size_t checked = 0;
    for (const char* folder : {"core", "ui", "platform"})
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(TAPWRIGHT_SOURCE_DIR) / folder)) {
            const std::string ending = entry.path().extension().string();
            if (!entry.is_regular_file() || (ending != ".cpp" && ending != ".h" && ending != ".def")) continue;
            const std::string name = entry.path().lexically_relative(TAPWRIGHT_SOURCE_DIR).generic_string();
            if (name == "core/base/message.h") continue;  // what the others call
            const Scan scan = scan_source(read_file(entry.path()), name);
            patterns += scan.patterns;
            checked += scan.checked;
            for (const std::string& problem : scan.problems) FAIL_CHECK(problem);
        }
    CHECK(patterns > 500);
    CHECK(checked > 100);
}
