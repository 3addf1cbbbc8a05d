// What the command line says before somebody touches a line: once for each line of a visit, and never about a fire
// line.
#include <doctest/doctest.h>

#include "core/job/json.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// The demo job, in a file of its own.
class Demo {
public:
    Demo() { said(0, {"import", TAPWRIGHT_SOURCE_DIR "/assets/demo.json", file}); }
    Ran run(std::vector<std::string> arguments) const {
        return tapwright::test::tapwright(folder_.path().string(), arguments);
    }
    std::string said(int status, std::vector<std::string> arguments) const {
        const Ran ran = run(std::move(arguments));
        REQUIRE_MESSAGE(ran.status == status, ran.out << ran.err);
        return ran.out;
    }
    // Sets a field, whatever findings there are.
    void set(const char* id, const char* field) const { REQUIRE(run({"set", file, id, field}).status != 2); }

private:
    TemporaryFolder folder_;

public:
    const std::string file = folder_.file("demo.tapjob");
};

}  // namespace

TEST_CASE("read says what to mind before the verdict, once for each line of a visit") {
    const Demo demo;
    demo.said(0, {"add", demo.file, "visit", "id=v-new", "purpose=service"});
    const auto read = [&](const char* at, const char* figure, const char* visit) {
        return demo.said(0, {"read", demo.file, at, figure, "--visit", visit});
    };
    const std::string first = read("z-1", "ohms=118", "v-new");
    const std::size_t caution = first.find("1. Not a fire, voice-alarm or emergency line?");
    const std::size_t last = first.find("5. Attenuators full, or note each position.");
    REQUIRE(caution == 0);
    REQUIRE(last != std::string::npos);
    CHECK(first.find("118 Ω read") > last);
    CHECK_FALSE(has(read("z-1", "ohms=117", "v-new"), "voice-alarm"));
    CHECK(has(read("z-2", "ohms=69", "v-new"), "1. Not a fire, voice-alarm"));  // the next line is another
    // Other measurements have their own.
    const std::string live = read("z-1", "volts=20", "v-new");
    CHECK(has(live, "The line is live: up to 70.7 V"));
    CHECK_FALSE(has(live, "Disconnect both conductors"));
    CHECK(has(read("z-1", "earth_ohms=40000000", "v-new"), "500 V"));
    // The next visit begins anew.
    demo.said(0, {"add", demo.file, "visit", "id=v-next", "purpose=service"});
    CHECK(has(read("z-1", "ohms=118", "v-next"), "voice-alarm"));
}

TEST_CASE("read --json holds data alone") {
    const Demo demo;
    const std::string out = demo.said(0, {"read", demo.file, "z-1", "ohms=118", "dry", "--json"});
    CHECK(out.starts_with("{"));
    CHECK_FALSE(has(out, "voice-alarm"));
}

TEST_CASE("read refuses a fire or emergency line in a sentence, and saves nothing") {
    const Demo demo;
    demo.set("z-1", "emergency=yes");
    const std::string before = read_bytes(demo.file);
    for (const bool dry : {false, true}) {
        std::vector<std::string> call{"read", demo.file, "z-1", "ohms=118"};
        if (dry) call.emplace_back("dry");
        const Ran ran = demo.run(call);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(has(ran.err, "Foyer is part of a fire or emergency system"));
        CHECK(has(ran.err, "qualified people"));
        CHECK(read_bytes(demo.file) == before);
    }
    const Ran fit = demo.run({"fit", demo.file, "z-1", "--add", "t-w130x1"});
    CHECK(fit.status == 2);
}

TEST_CASE("fit asks about a line that others made until somebody has answered") {
    const Demo demo;
    demo.set("z-2", "emergency=");
    demo.set("s-141", "origin=existing");
    const std::vector<std::string> call{"fit", demo.file, "z-2", "--add", "t-w130x1"};
    CHECK(has(demo.said(0, call), "Could this be a fire, voice-alarm or emergency line?"));
    std::vector<std::string> as_data = call;
    as_data.emplace_back("--json");
    const Value made = json_of(demo.run(as_data));
    const List& cautions = *made.find("cautions").list();
    REQUIRE(cautions.size() == 2);
    CHECK(*cautions[0].find("code").text() == "could_be_emergency");
    CHECK(*cautions[1].find("code").text() == "leave_it");
    CHECK_FALSE(cautions[0].find("source").text()->empty());
    demo.set("z-2", "emergency=no");
    CHECK_FALSE(has(demo.said(0, call), "Could this be"));
    CHECK(json_of(demo.run(as_data)).find("cautions").is_null());
}
