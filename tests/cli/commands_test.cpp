// Every command as the contract says it, on real files, through the real program.
#include <doctest/doctest.h>

#include "core/job/json.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct Bench {
    TemporaryFolder folder;
    std::string file = folder.file("a.tapjob");

    Ran run(std::vector<std::string> arguments) const {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    }
    // Runs and expects this exit status.
    Ran run(int status, std::vector<std::string> arguments) const {
        const Ran ran = run(arguments);
        REQUIRE_MESSAGE(ran.status == status, arguments[0] << ": " << ran.out << ran.err);
        return ran;
    }
    std::string added(std::vector<std::string> arguments) const {
        arguments.insert(arguments.begin(), {"add", file});
        arguments.push_back("--json");
        const Ran ran = run(arguments);
        REQUIRE_MESSAGE(ran.status != 2, ran.err);
        return *json_of(ran).find("id").text();
    }
};

// Worked example A of the trade arithmetic (common practice, no single source): an amplifier of 180 W, zones of 100 W
// carrying 40, 60, 22.5, 30 and 15 W.
void fill_example_a(const Bench& bench) {
    bench.run(0, {"new", bench.file, "--name", "Example A"});
    bench.added({"amplifier", "id=a1", "name=Amplifier", "rated_w=180"});
    bench.added({"channel", "id=c1", "name=Output", "amplifier=a1"});
    const struct {
        const char* zone;
        const char* type;
        const char* tap;
        int count;
    } zones[] = {{"z1", "t5", "5", 8},
                 {"z2", "t5", "5", 12},
                 {"z3", "t75", "7.5", 3},
                 {"z4", "t30", "30", 1},
                 {"z5", "t15", "15", 1}};
    bench.added({"speaker_type", "id=t5", "name=Five", "taps_w=5"});
    bench.added({"speaker_type", "id=t75", "name=Seven", "taps_w=7.5"});
    bench.added({"speaker_type", "id=t30", "name=Thirty", "taps_w=30"});
    bench.added({"speaker_type", "id=t15", "name=Fifteen", "taps_w=15"});
    for (const auto& zone : zones) {
        bench.added({"zone", std::string("id=") + zone.zone, "name=Zone", "channel=c1", "limit_w=100 W"});
        for (int i = 0; i < zone.count; ++i)
            bench.added({"point", "kind=speaker", "label=S", std::string("fed_from=") + zone.zone,
                         std::string("type=") + zone.type, std::string("tap_w=") + zone.tap});
    }
}

std::vector<double> numbers(const Value& records, std::string_view key) {
    std::vector<double> list;
    for (const Value& record : *records.list()) list.push_back(*record.find(key).number());
    return list;
}

}  // namespace

TEST_CASE("example A through the command line: loads, headroom, what can be added") {
    const Bench bench;
    fill_example_a(bench);
    const Value check = json_of(bench.run(0, {"check", bench.file, "--json"}));
    CHECK(numbers(check.find("zones"), "load_w") == std::vector<double>{40, 60, 22.5, 30, 15});
    CHECK(numbers(check.find("zones"), "headroom_w") == std::vector<double>{40, 20, 57.5, 50, 65});
    CHECK(numbers(check.find("zones"), "can_add_w") == std::vector<double>{0, 0, 0, 0, 0});
    CHECK(numbers(check.find("amplifiers"), "load_w") == std::vector<double>{167.5});
    CHECK(numbers(check.find("amplifiers"), "headroom_w") == std::vector<double>{-23.5});
}

TEST_CASE("check --json has exactly the keys of the contract, in its order") {
    const Bench bench;
    fill_example_a(bench);
    const Value check = json_of(bench.run(0, {"check", bench.file, "--json"}));
    CHECK(keys(check) == std::vector<std::string>{"zones", "channels", "amplifiers", "findings", "readings"});
    CHECK(keys((*check.find("zones").list())[0]) == std::vector<std::string>{"id",
                                                                             "name",
                                                                             "channel",
                                                                             "line_v",
                                                                             "speakers",
                                                                             "basis",
                                                                             "load_w",
                                                                             "limit_w",
                                                                             "reserve_w",
                                                                             "headroom_w",
                                                                             "used_pct",
                                                                             "unrecorded_w",
                                                                             "headroom_recorded_w",
                                                                             "can_add_w",
                                                                             "ohms",
                                                                             "ohms_full",
                                                                             "ohms_all",
                                                                             "connected",
                                                                             "planned",
                                                                             "not_recorded"});
    CHECK(keys((*check.find("channels").list())[0]) == std::vector<std::string>{"id", "name", "load_w", "rated_w",
                                                                                "reserve_w", "unrecorded_w",
                                                                                "headroom_w", "used_pct"});
    REQUIRE_FALSE(check.find("findings").list()->empty());
    CHECK(keys((*check.find("findings").list())[0]) ==
          std::vector<std::string>{"code", "severity", "at", "text", "why", "against_limit"});
}

TEST_CASE("what sentences conclude stands in --json as data: limits, drift, sight, where to measure next") {
    const Bench bench;
    bench.run(0, {"import", TAPWRIGHT_SOURCE_DIR "/assets/demo.json", bench.file});
    const Value check = json_of(bench.run(0, {"check", bench.file, "--json"}));
    bool is_reserve_seen = false;
    for (const Value& finding : *check.find("findings").list()) {
        if (*finding.find("code").text() != "zone_into_reserve") continue;
        is_reserve_seen = true;
        const Value& held = finding.find("against_limit");
        CHECK(*held.find("load_w").number() + *held.find("reserve_w").number() ==
              doctest::Approx(*held.find("limit_w").number() + *held.find("into_reserve_w").number()));
    }
    CHECK(is_reserve_seen);
    bool is_drift_seen = false;
    bool is_next_seen = false;
    for (const Value& reading : *check.find("readings").list()) {
        // What is sure already asks for no other measurement; what is not says which, at its newest reading.
        if (const Value& next = reading.find("next"); !next.is_null()) {
            is_next_seen = true;
            CHECK(*reading.find("verdict").text() == "more_load");
            CHECK(*next.find("minutes").number() > 0);
            CHECK_FALSE(next.find("text").text()->empty());
        }
        if (*reading.find("verdict").text() != "drifted") continue;
        is_drift_seen = true;
        const Value& baseline = reading.find("baseline");
        CHECK(std::abs(*baseline.find("drift_pct").number()) > *baseline.find("allowed_pct").number());
        CHECK(*reading.find("drift_share").find("of_load_pct").number() > 0);
        CHECK(reading.find("next").is_null());
    }
    CHECK(is_drift_seen);
    CHECK(is_next_seen);
    const Value read = json_of(bench.run(0, {"read", bench.file, "z-1", "ohms=118", "dry", "--json"}));
    CHECK(*read.find("sight").find("one_open_moves_pct").number() == doctest::Approx(100.0 / 33));
    CHECK_FALSE(*read.find("sight").find("band_shows").flag());
}

TEST_CASE("two of 60 W on one zone break 100 W, and the exit status says so") {
    const Bench bench;
    fill_example_a(bench);
    bench.added({"speaker_type", "id=t60", "name=Sixty", "taps_w=60"});
    bench.added({"zone", "id=z6", "name=Yard", "limit_w=100"});
    bench.added({"point", "kind=speaker", "label=Y1", "fed_from=z6", "type=t60", "tap_w=60"});
    const Ran ran =
        bench.run({"add", bench.file, "point", "kind=speaker", "label=Y2", "fed_from=z6", "type=t60", "tap_w=60"});
    CHECK(ran.status == 1);
    const Ran check = bench.run(1, {"check", bench.file});
    CHECK(check.out.find("120 W") != std::string::npos);
    CHECK(check.out.find("Stop") != std::string::npos);
}

TEST_CASE("example B: a reading against what is expected, dry and kept") {
    Bench bench;
    bench.run(0, {"new", bench.file, "--name", "Example B", "--line-v", "70.7"});
    bench.added({"zone", "id=z1", "name=Zone", "limit_w=100"});
    bench.added({"speaker_type", "id=t5", "name=Five", "taps_w=5"});
    for (int i = 0; i < 12; ++i) bench.added({"point", "kind=speaker", "label=S", "fed_from=z1", "type=t5", "tap_w=5"});
    const Value dry = json_of(bench.run(0, {"read", bench.file, "z1", "ohms=69.0", "dry", "--json"}));
    CHECK(keys(dry) == std::vector<std::string>{"expected_ohms", "low_ohms", "high_ohms", "measured_w", "expected_w",
                                                "difference_w", "verdict", "limit", "text", "why", "line_v", "speakers",
                                                "planned", "without_tap", "valid", "isolation", "positions", "limit_w",
                                                "sight"});
    CHECK(*dry.find("expected_ohms").number() == doctest::Approx(83.308167).epsilon(1e-8));
    CHECK(*dry.find("measured_w").number() == doctest::Approx(72.44).epsilon(1e-4));
    CHECK(*dry.find("verdict").text() == "agrees");
    CHECK(*dry.find("limit").text() == "ok");
    CHECK(bench.run(0, {"export", bench.file, bench.folder.file("dry.json")}).status == 0);
    CHECK(read_bytes(bench.folder.file("dry.json")).find("readings") == std::string::npos);
    bench.run(0, {"read", bench.file, "z1", "ohms=69.0", "isolated=yes", "baseline=yes", "instrument=meter"});
    const Value later = json_of(bench.run(0, {"read", bench.file, "z1", "ohms=75.27", "instrument=meter", "--json"}));
    CHECK(*later.find("verdict").text() == "drifted");
}

TEST_CASE("what export writes imports again to the same bytes") {
    const Bench bench;
    fill_example_a(bench);
    bench.run(0, {"export", bench.file, bench.folder.file("one.json")});
    bench.run(0, {"import", bench.folder.file("one.json"), bench.folder.file("two.tapjob")});
    bench.run(0, {"export", bench.folder.file("two.tapjob"), bench.folder.file("two.json")});
    CHECK(read_bytes(bench.folder.file("one.json")) == read_bytes(bench.folder.file("two.json")));
    CHECK(read_bytes(bench.folder.file("one.json"))
              .starts_with("{\n  \"tapwright_job\": 5,\n  \"job\": {\n    \"name\": \"Example A\"\n  },\n"));
}

TEST_CASE("CSV follows RFC 4180 and holds no formula") {
    Bench bench;
    bench.run(0, {"new", bench.file, "--name", "=1+1"});
    bench.added({"room", "id=r1", "name=Hall, \"upper\"", "notes=-2 steps", "height_m=3"});
    bench.run(0, {"export", bench.file, bench.folder.file("csv")});
    CHECK(read_bytes(bench.folder.file("csv/job.csv")).find(",'=1+1,") != std::string::npos);
    const std::string rooms = read_bytes(bench.folder.file("csv/rooms.csv"));
    CHECK(rooms.starts_with("id,name,floor,use,order,"));
    CHECK(rooms.find("r1,\"Hall, \"\"upper\"\"\",,,,") != std::string::npos);
    CHECK(rooms.ends_with(",'-2 steps\r\n"));
}

TEST_CASE("set, remove, undo, redo, history, verify, seal") {
    const Bench bench;
    fill_example_a(bench);
    bench.run(0, {"set", bench.file, "z1", "limit_w=120", "notes=Küche", "--person", "Ana"});
    CHECK(*(*json_of(bench.run(0, {"check", bench.file, "--json"})).find("zones").list())[0].find("limit_w").number() ==
          120);
    bench.run(0, {"undo", bench.file, "--person", "Ana"});
    CHECK(*(*json_of(bench.run(0, {"check", bench.file, "--json"})).find("zones").list())[0].find("limit_w").number() ==
          100);
    bench.run(0, {"redo", bench.file, "--person", "Ana"});
    bench.run(2, {"undo", bench.file, "--person", "Ben"});
    CHECK(bench.run(0, {"history", bench.file}).out.find("Ana") != std::string::npos);
    CHECK(bench.run(2, {"remove", bench.file, "c1"}).err.find("is still used") != std::string::npos);
    bench.run(0, {"verify", bench.file});
    const Value sealed = json_of(bench.run(0, {"seal", bench.file, bench.folder.file("sealed.tapjob"), "--json"}));
    CHECK(*sealed.find("sha256").text() == hex(sha256(read_bytes(bench.folder.file("sealed.tapjob")))));
    bench.run(0, {"check", bench.folder.file("sealed.tapjob")});
    bench.run(2, {"seal", bench.file, bench.folder.file("sealed.tapjob")});
}

TEST_CASE("the sheet is written as a PDF, the same bytes for the same job and time") {
    const Bench bench;
    fill_example_a(bench);
    for (const char* reader : {"owner", "technician"}) {
        const std::string out = bench.folder.file("sheet.pdf");
        const Value first = json_of(bench.run(0, {"sheet", bench.file, out, "--for", reader, "--json", "--replace"}));
        CHECK(read_bytes(out).starts_with("%PDF-1."));
        CHECK(*first.find("sha256").text() == hex(sha256(read_bytes(out))));
        CHECK(*first.find("pages").number() >= 1);
        CHECK(*json_of(bench.run(0, {"sheet", bench.file, out, "--for", reader, "--json", "--replace"}))
                   .find("sha256")
                   .text() == *first.find("sha256").text());
    }
}

TEST_CASE("help names every command and what it takes") {
    const Bench bench;
    const std::string help = bench.run(0, {"help"}).out;
    for (const char* name :
         {"new",   "import", "export", "check", "solve",  "add",     "set",  "remove", "read", "survey",
          "trial", "fit",    "sheet",  "photo", "labels", "history", "undo", "redo",   "seal", "verify"}) {
        CHECK(help.find(std::string("  ") + name + " ") != std::string::npos);
        CHECK(bench.run(0, {"help", name}).out.starts_with(std::string("tapwright ") + name));
    }
}
