// Includes point down. First the search itself is tested on small made trees, then it is let loose on the repository.
#include "tests/layers/arrows.h"

#include <doctest/doctest.h>

#include <string>

namespace {

std::vector<std::string> violations_of(const std::string& path, const std::string& text) {
    return follow_arrows({{path, text}}).violations;
}

bool is_allowed(const std::string& path, const std::string& text) {
    return violations_of(path, text).empty();
}

}  // namespace

TEST_CASE("an arrow that points up or sideways is caught, with its place") {
    const auto found = violations_of("core/job/kind.h", "#pragma once\n\n#include \"core/calc/load.h\"\n");
    REQUIRE(found.size() == 1);
    CHECK(found[0].starts_with("core/job/kind.h:3 includes core/calc/load.h: "));

    CHECK_FALSE(is_allowed("core/base/text.cpp", "#include \"core/units/quantity.h\"\n"));
    CHECK_FALSE(is_allowed("core/line/tree.h", "#include \"core/job/id.h\"\n"));
    CHECK_FALSE(is_allowed("core/job/id.h", "#include \"core/line/tree.h\"\n"));
    CHECK_FALSE(is_allowed("core/calc/load.cpp", "#include \"core/journal/journal.h\"\n"));
    CHECK_FALSE(is_allowed("core/journal/journal.cpp", "#include \"core/calc/load.h\"\n"));
    CHECK_FALSE(is_allowed("core/exchange/csv.cpp", "#include \"core/journal/journal.h\"\n"));
    CHECK_FALSE(is_allowed("core/exchange/csv.cpp", "#include \"core/session.h\"\n"));
    CHECK_FALSE(is_allowed("core/session.cpp", "  # include \"ui/frame/theme.h\"\n"));
    CHECK_FALSE(is_allowed("core/session.cpp", "#include <platform/print/pdf.h>\n"));
    CHECK_FALSE(is_allowed("ui/app/app.cpp", "#include \"core/journal/journal.h\"\n"));
    CHECK_FALSE(is_allowed("ui/app/app.cpp", "#include \"platform/desktop/window.h\"\n"));
    CHECK_FALSE(is_allowed("platform/cli/main.cpp", "#include \"tests/layers/arrows.h\"\n"));
    CHECK_FALSE(is_allowed("core/stray.h", "#include \"core/base/text.h\"\n"));
}

TEST_CASE("an arrow that points down is allowed") {
    CHECK(is_allowed("core/units/quantity.cpp", "#include \"core/base/result.h\"\n"));
    CHECK(is_allowed("core/calc/load.cpp", "#include \"core/line/tree.h\"\n#include \"core/job/id.h\"\n"));
    CHECK(is_allowed("core/sheet/sheet.cpp",
                     "#include \"core/calc/load.h\"\n#include \"core/sheet/document.h\"\n"));
    CHECK(is_allowed("core/session.cpp", "#include \"core/journal/journal.h\"\n#include \"core/exchange/csv.h\"\n"));
    CHECK(is_allowed("ui/screens/rooms/rooms.cpp",
                     "#include \"core/session.h\"\n#include \"ui/frame/mark.h\"\n#include \"imgui.h\"\n"));
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
    CHECK(is_allowed("core/exchange/json.cpp", "#include <nlohmann/json.hpp>\n"));
    CHECK_FALSE(is_allowed("core/exchange/json.h", "#include <nlohmann/json.hpp>\n"));
    CHECK_FALSE(is_allowed("core/calc/load.cpp", "#include <nlohmann/json.hpp>\n"));
}

TEST_CASE("calls that <cstdio> and <cstdlib> would let through are caught") {
    CHECK_FALSE(is_allowed("ui/app/app.cpp", "    FILE* file = fopen(path, \"rb\");\n"));
    CHECK_FALSE(is_allowed("core/job/kind.cpp", "auto home = std::getenv(\"HOME\");\n"));
    CHECK_FALSE(is_allowed("core/job/kind.cpp", "int dice() { return rand() % 6; }\n"));
    CHECK(is_allowed("core/job/kind.cpp", "// fopen(path) is for platform\nbrand(x); dice.rand(); job::system(x);\n"));
    CHECK(is_allowed("platform/cli/files.cpp", "FILE* file = fopen(path, \"rb\");\n"));
}

TEST_CASE("every include of the program points down") {
    const Arrows arrows = follow_arrows(read_source_tree());
    for (const std::string& violation : arrows.violations) FAIL_CHECK(violation);
    // A search that reads nothing finds nothing: these floors are well below what the program holds.
    CHECK(arrows.files >= 40);
    CHECK(arrows.includes >= 150);
}
