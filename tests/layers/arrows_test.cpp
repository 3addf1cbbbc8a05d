// Includes point down. First the search itself is tested on small made trees, then it is let loose on the repository.
#include "tests/layers/arrows.h"

#include <doctest/doctest.h>

#include <string>

namespace {

const ArrowTable& table() {
    static const ArrowTable read = read_arrow_table(read_source_tree().at("platform/cmake/arrows.txt"));
    return read;
}

std::vector<std::string> violations_of(const std::string& path, const std::string& text) {
    return follow_arrows(table(), {{path, text}}).violations;
}

bool is_allowed(const std::string& path, const std::string& text) {
    return violations_of(path, text).empty();
}

}  // namespace

TEST_CASE("an arrow that points up or sideways is caught, with its place") {
    const auto found = violations_of("core/job/kind.h", "#pragma once\n\n#include \"core/calc/loads.h\"\n");
    REQUIRE(found.size() == 1);
    CHECK(found[0].starts_with("core/job/kind.h:3 includes core/calc/loads.h: "));

    CHECK_FALSE(is_allowed("core/base/text.cpp", "#include \"core/units/quantity.h\"\n"));
    CHECK_FALSE(is_allowed("core/line/tree.h", "#include \"core/job/id.h\"\n"));
    CHECK_FALSE(is_allowed("core/job/id.h", "#include \"core/line/tree.h\"\n"));
    CHECK_FALSE(is_allowed("core/calc/loads.cpp", "#include \"core/journal/journal.h\"\n"));
    CHECK_FALSE(is_allowed("core/journal/journal.cpp", "#include \"core/calc/loads.h\"\n"));
    CHECK_FALSE(is_allowed("core/exchange/csv.cpp", "#include \"core/journal/journal.h\"\n"));
    CHECK_FALSE(is_allowed("core/exchange/csv.cpp", "#include \"core/session/session.h\"\n"));
    CHECK_FALSE(is_allowed("core/findings/findings.cpp", "#include \"core/derive/derived.h\"\n"));
    CHECK_FALSE(is_allowed("core/session/decide.cpp", "#include \"core/words/words.h\"\n"));
    CHECK_FALSE(is_allowed("ui/frame/text.cpp", "#include \"ui/widgets/buttons.h\"\n"));
    CHECK_FALSE(is_allowed("platform/print/pdf.cpp", "#include \"platform/cli/command.h\"\n"));
    CHECK_FALSE(is_allowed("platform/desktop/window.cpp", "#include \"platform/shell/open_window.h\"\n"));
    CHECK_FALSE(is_allowed("core/session/session.cpp", "  # include \"ui/frame/theme.h\"\n"));
    CHECK_FALSE(is_allowed("core/session/session.cpp", "#include <platform/print/pdf.h>\n"));
    CHECK_FALSE(is_allowed("ui/app/app.cpp", "#include \"core/journal/journal.h\"\n"));
    CHECK_FALSE(is_allowed("ui/app/app.cpp", "#include \"platform/desktop/window.h\"\n"));
    CHECK_FALSE(is_allowed("platform/cli/main.cpp", "#include \"tests/layers/arrows.h\"\n"));
    CHECK_FALSE(is_allowed("core/stray.h", "#include \"core/base/text.h\"\n"));
}

TEST_CASE("an arrow that points down is allowed") {
    CHECK(is_allowed("core/units/quantity.cpp", "#include \"core/base/result.h\"\n"));
    CHECK(is_allowed("core/calc/loads.cpp", "#include \"core/line/tree.h\"\n#include \"core/job/id.h\"\n"));
    CHECK(is_allowed("core/sheet/sheet.cpp", "#include \"core/calc/loads.h\"\n#include \"core/sheet/document.h\"\n"));
    CHECK(
        is_allowed("core/session/session.cpp", "#include \"core/journal/journal.h\"\n#include \"core/plan/fit.h\"\n"));
    CHECK(is_allowed("ui/screens/rooms/rooms.cpp",
                     "#include \"core/session/session.h\"\n#include \"ui/frame/mark.h\"\n#include \"imgui.h\"\n"));
    CHECK(is_allowed("platform/desktop/window.cpp",
                     "#include <GLFW/glfw3.h>\n#include \"ui/app/app.h\"\n#include <thread>\n"));
}

TEST_CASE("core and ui do not reach outside") {
    for (const char* header :
         {"imgui.h", "GLFW/glfw3.h", "cairo.h", "pango/pango.h", "filesystem", "fstream", "iostream", "thread", "mutex",
          "atomic", "chrono", "ctime", "random", "unistd.h", "sys/stat.h"}) {
        CAPTURE(header);
        CHECK_FALSE(is_allowed("core/job/kind.cpp", "#include <" + std::string(header) + ">\n"));
    }
    for (const char* header :
         {"sqlite3.h", "fstream", "filesystem", "thread", "chrono", "nlohmann/json.hpp", "GLFW/glfw3.h"}) {
        CAPTURE(header);
        CHECK_FALSE(is_allowed("ui/app/app.cpp", "#include <" + std::string(header) + ">\n"));
    }
    CHECK(is_allowed("core/journal/journal.cpp", "#include <sqlite3.h>\n"));
    CHECK_FALSE(is_allowed("core/job/kind.cpp", "#include <sqlite3.h>\n"));
    CHECK(is_allowed("core/journal/beside.cpp", "#include <sys/stat.h>\n"));
    CHECK_FALSE(is_allowed("core/journal/journal.cpp", "#include <sys/stat.h>\n"));
    CHECK(is_allowed("core/exchange/json.cpp", "#include <nlohmann/json.hpp>\n"));
    CHECK_FALSE(is_allowed("core/exchange/json.h", "#include <nlohmann/json.hpp>\n"));
    CHECK_FALSE(is_allowed("core/calc/loads.cpp", "#include <nlohmann/json.hpp>\n"));
}

TEST_CASE("calls that <cstdio> and <cstdlib> would let through are caught") {
    CHECK_FALSE(is_allowed("ui/app/app.cpp", "    FILE* file = fopen(path, \"rb\");\n"));
    CHECK_FALSE(is_allowed("core/job/kind.cpp", "auto home = std::getenv(\"HOME\");\n"));
    CHECK_FALSE(is_allowed("core/job/kind.cpp", "int dice() { return rand() % 6; }\n"));
    CHECK(is_allowed("core/job/kind.cpp", "// fopen(path) is for platform\nbrand(x); dice.rand(); job::system(x);\n"));
    CHECK(is_allowed("platform/cli/files.cpp", "FILE* file = fopen(path, \"rb\");\n"));
}

TEST_CASE("a circle in the table is found, and a folder without a row") {
    CHECK(circles_in(read_arrow_table("a: b\nb:\n")).empty());
    const auto circle = circles_in(read_arrow_table("a: b\nb: c\nc: b\n"));
    REQUIRE(circle.size() == 1);
    CHECK(circle[0] == "b -> c -> b");
    CHECK(circles_in(read_arrow_table("# a comment\na: b\n")).size() == 1);
}

TEST_CASE("the table has no circle, and a row for each folder that holds sources") {
    for (const std::string& circle : circles_in(table())) FAIL_CHECK(circle);
    CHECK(table().size() >= 30);
}

TEST_CASE("every include of the program points down") {
    const Arrows arrows = follow_arrows(table(), read_source_tree());
    for (const std::string& violation : arrows.violations) FAIL_CHECK(violation);
    // A search that reads nothing finds nothing: these floors are well below what the program holds.
    CHECK(arrows.files >= 300);
    CHECK(arrows.includes >= 1500);
}
