// How the program answers as a whole: without a word, asked for help, and to machines when something is wrong.
#include <doctest/doctest.h>

#include <cstdlib>

#include "core/job/json.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// No test of the command line opens a window, whatever display there is.
[[maybe_unused]] const bool has_no_display = ::unsetenv("DISPLAY") == 0 && ::unsetenv("WAYLAND_DISPLAY") == 0;

// What a machine is told, and that it is all it is told.
Value complaint(const Ran& ran) {
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    const Result<Value> said = parse_json(ran.err, "standard error");
    REQUIRE_MESSAGE(said.ok(), ran.err);
    REQUIRE(said->map());
    REQUIRE(said->map()->size() == 2);
    CHECK(said->find("error").text()->ends_with("."));
    return *said;
}

}  // namespace

TEST_CASE("tapwright_alone_without_a_display_says_so") {
    const TemporaryFolder folder;
    const Ran ran = tapwright::test::tapwright(folder.path().string(), {});
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(has(ran.err, "`tapwright help`"));
}

TEST_CASE("command_help_prints_what_the_command_takes") {
    const TemporaryFolder folder;
    const auto run = [&](const std::vector<std::string>& call) {
        return tapwright::test::tapwright(folder.path().string(), call);
    };
    const std::string help = run({"help", "fit"}).out;
    REQUIRE(has(help, "--add"));
    for (const std::vector<std::string>& call :
         {std::vector<std::string>{"fit", "--help"}, {"fit", "-h"}, {"fit", "a.tapjob", "z-1", "--help"}}) {
        const Ran ran = run(call);
        CHECK(ran.status == 0);
        CHECK(ran.out == help);
        CHECK(ran.err.empty());
    }
    CHECK(run({"new", "--name", "x", "--", "--help"}).status == 0);  // after -- it is the name of a file
    CHECK(std::filesystem::remove("--help"));
}

TEST_CASE("with_json_an_error_is_json_too") {
    const TemporaryFolder folder;
    const std::string file = folder.file("a.tapjob");
    const auto run = [&](const std::vector<std::string>& call) {
        return tapwright::test::tapwright(folder.path().string(), call);
    };
    REQUIRE(run({"new", file, "--name", "Inn"}).status == 0);
    CHECK(complaint(run({"check", folder.file("none.tapjob"), "--json"})).find("at").is_null());
    CHECK(complaint(run({"solve", file, "--hz", "fast", "--json"})).find("at") == Value("--hz"));
    CHECK(complaint(run({"add", file, "room", "name=a", "height_m=tall", "--json"})).find("at") == Value("height_m"));
    CHECK(has(*complaint(run({"frobnicate", "--json"})).find("error").text(), "`tapwright help`"));
    CHECK(has(*complaint(run({"check", file, "--loud", "--json"})).find("error").text(), "--loud"));
    CHECK(has(*complaint(run({"check", "--json"})).find("error").text(), "tapwright check FILE"));
    // In English whoever reads it, as all that is for machines.
    CHECK(complaint(
              tapwright::test::tapwright(folder.path().string(), {"solve", file, "--hz", "fast", "--json"}, "pseudo"))
              .find("error") == complaint(run({"solve", file, "--hz", "fast", "--json"})).find("error"));
    const Ran text = run({"check", folder.file("none.tapjob"), "--", "--json"});
    CHECK(text.err.starts_with("tapwright: "));
}

TEST_CASE("solve_gave_exact_figures_for_a_zone_with_a_run_without_a_length_and_said_nothing_of_it") {
    const TemporaryFolder folder;
    const std::string file = folder.file("site.tapjob");
    const auto run = [&](const std::vector<std::string>& call) {
        return tapwright::test::tapwright(folder.path().string(), call);
    };
    REQUIRE(run({"import", std::string(TAPWRIGHT_SOURCE_DIR) + "/assets/demo.json", file}).status <= 1);
    const std::string missing = "1 run has no cable or length.";
    const auto told = [&] {
        const std::string out = run({"solve", file}).out;
        return out.substr(0, out.find("point")).find(missing) != std::string::npos;
    };
    CHECK_FALSE(told());
    REQUIRE(run({"set", file, "s-106", "length_m="}).status <= 1);
    CHECK(told());
}
