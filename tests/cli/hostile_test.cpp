// Whatever is handed to the program: one sentence with place and remedy, exit status 2, and nothing written.
#include <doctest/doctest.h>

#include <algorithm>

#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// A job around one list of points, so that a wrong field has a place.
std::string with_point(const std::string& fields) {
    return "{\"tapwright_job\":1,\"job\":{\"name\":\"x\"},\"zones\":[{\"id\":\"z1\",\"name\":\"Z\"}],"
           "\"speaker_types\":[{\"id\":\"t1\",\"name\":\"T\",\"taps_w\":[5,10]}],"
           "\"points\":[{\"id\":\"p1\",\"kind\":\"speaker\",\"label\":\"S1\"" +
           fields + "}]}";
}

struct Bad {
    const char* what;
    std::string text;
    const char* said;  // what the sentence must contain
};

std::vector<Bad> bad_jobs() {
    return {
        {"wrong type", with_point(",\"tap_w\":\"five\""), "/points/0/tap_w"},
        {"unknown key", with_point(",\"tapp\":5"), "/points/0/tapp"},
        {"unknown top-level key", "{\"tapwright_job\":1,\"job\":{\"name\":\"x\"},\"speakers\":[]}", "/speakers"},
        {"repeated key", with_point(",\"label\":\"S2\""), "given twice"},
        {"dangling id", with_point(",\"room\":\"r9\""), "no record with the id r9"},
        {"feed loop", with_point(",\"fed_from\":\"p1\""), "in a circle"},
        {"duplicate id",
         "{\"tapwright_job\":1,\"job\":{\"name\":\"x\"},\"rooms\":[{\"id\":\"r\",\"name\":\"a\"},{\"id\":\"r\","
         "\"name\":\"b\"}]}",
         "/rooms/1/id"},
        {"id shared across kinds",
         "{\"tapwright_job\":1,\"job\":{\"name\":\"x\"},\"rooms\":[{\"id\":\"r\",\"name\":\"a\"}],\"zones\":[{\"id\":"
         "\"r\",\"name\":\"b\"}]}",
         "r is already used (Room). Every id must be unique; change one."},
        {"no id", "{\"tapwright_job\":1,\"job\":{\"name\":\"x\"},\"rooms\":[{\"name\":\"a\"}]}", "/rooms/0/id"},
        {"tap not offered", with_point(",\"type\":\"t1\",\"tap_w\":7"), "7 W"},
        {"NaN", with_point(",\"tap_w\":NaN"), "not JSON"},
        {"1e999", with_point(",\"tap_w\":1e999"), "too large"},
        {"1e307 W", with_point(",\"tap_w\":1e307"), "/points/0/tap_w"},
        {"negative length", with_point(",\"length_m\":-1"), "/points/0/length_m"},
        {"null", with_point(",\"tap_w\":null"), "leave it out"},
        {"10 MB string", with_point(",\"notes\":\"" + std::string(10 << 20, 'n') + "\""), "/points/0/notes"},
        {"20,001 characters", with_point(",\"notes\":\"" + std::string(20001, 'n') + "\""), "20001"},
        {"a million nested brackets", std::string(1000000, '['), "nested more than 12 levels deep"},
        {"nested maps",
         [] {
             std::string text;
             for (int i = 0; i < 100000; ++i) text += "{\"a\":";
             return text;
         }(),
         "nested more than 12 levels deep"},
        {"truncated UTF-8", with_point(",\"notes\":\"\xE2\x82\""), "UTF-8"},
        {"empty", "", "empty"},
        {"no version", "{\"job\":{\"name\":\"x\"}}", "tapwright_job"},
        {"a newer version", "{\"tapwright_job\":9,\"job\":{\"name\":\"x\"}}", "newer"},
        {"no job", "{\"tapwright_job\":1}", "no \"job\""},
        {"no name", "{\"tapwright_job\":1,\"job\":{}}", "name"},
        {"a list", "[]", "It is not a job of this program."},
        {"cut short", with_point("").substr(0, 60), "ends before"},
        {"a PDF", "%PDF-1.5\n1 0 obj", "not JSON"},
        {"a JPEG", "\xFF\xD8\xFF\xE0\x10JFIF", "UTF-8"},
        {"reserve of everything", "{\"tapwright_job\":1,\"job\":{\"name\":\"x\",\"reserve_pct\":100}}",
         "/job/reserve_pct"},
    };
}

std::vector<std::string> files_in(const TemporaryFolder& folder) {
    std::vector<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
        if (entry.path().filename().string()[0] != '.') names.push_back(entry.path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

void check_sentence(const Ran& ran, const std::string& said) {
    CHECK(ran.status == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.starts_with("tapwright: "));
    CHECK(ran.err.ends_with(".\n"));
    CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
    CHECK(ran.err.size() < 1500);
    CHECK_MESSAGE(ran.err.find(said) != std::string::npos, ran.err);
}

}  // namespace

TEST_CASE("bad JSON jobs are refused whole, in one sentence, and leave nothing behind") {
    for (const Bad& bad : bad_jobs()) {
        CAPTURE(bad.what);
        const TemporaryFolder folder;
        write_bytes(folder.file("bad.json"), bad.text);
        check_sentence(tapwright::test::tapwright(folder.path().string(),
                                                  {"import", folder.file("bad.json"), folder.file("a.tapjob")}),
                       bad.said);
        CHECK(files_in(folder) == std::vector<std::string>{"bad.json"});
    }
}

TEST_CASE("what is no job file of ours is refused unharmed") {
    const TemporaryFolder folder;
    const auto run = [&](std::vector<std::string> arguments) {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    };
    REQUIRE(run({"new", folder.file("good.tapjob"), "--name", "x"}).status == 0);
    const std::string good = read_bytes(folder.file("good.tapjob"));
    std::string damaged = good;
    damaged[damaged.size() / 2 + 37] = static_cast<char>(damaged[damaged.size() / 2 + 37] ^ 0x5A);
    const struct {
        const char* what;
        std::string bytes;
    } files[] = {{"empty", ""},
                 {"a PDF", "%PDF-1.5\n" + std::string(5000, 'p')},
                 {"a JPEG", "\xFF\xD8\xFF\xE0" + std::string(5000, 'j')},
                 {"half of ours", good.substr(0, good.size() / 2)},
                 {"another database", std::string("SQLite format 3\0", 16) + std::string(4096, '\0')}};
    for (const auto& file : files) {
        CAPTURE(file.what);
        const std::string path = folder.file("bad.tapjob");
        write_bytes(path, file.bytes);
        for (const std::vector<std::string>& call :
             {std::vector<std::string>{"check", path}, {"set", path, "job", "name=y"}, {"verify", path}})
            check_sentence(run(call), "bad.tapjob");
        CHECK(read_bytes(path) == file.bytes);
    }
    check_sentence(run({"check", folder.path().string()}), folder.path().string());
    check_sentence(run({"check", folder.file("none.tapjob")}), "none.tapjob");
    CHECK_FALSE(std::filesystem::exists(folder.file("none.tapjob")));
    check_sentence(run({"import", folder.path().string(), folder.file("b.tapjob")}), "folder");
    check_sentence(run({"new", folder.file("good.tapjob"), "--name", "y"}), "good.tapjob");
    CHECK(read_bytes(folder.file("good.tapjob")) == good);
}

TEST_CASE("wrong calls say what the right one is") {
    const TemporaryFolder folder;
    const std::string file = folder.file("a.tapjob");
    const auto run = [&](std::vector<std::string> arguments) {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    };
    REQUIRE(run({"new", file, "--name", "x"}).status == 0);
    REQUIRE(run({"add", file, "zone", "id=z1", "name=Zone"}).status == 0);
    const std::string before = read_bytes(file);
    check_sentence(run({"frobnicate"}), "tapwright help");
    check_sentence(run({"check"}), "tapwright check FILE");
    check_sentence(run({"check", file, "--loud"}), "--json");
    check_sentence(run({"new", folder.file("b.tapjob")}), "--name");
    check_sentence(run({"add", file, "loudspeaker", "label=x"}), "point");
    check_sentence(run({"add", file, "room", "name"}), "field=value");
    check_sentence(run({"add", file, "room", "nam=x"}), "name");
    check_sentence(run({"add", file, "room", "name=a", "name=b"}), "twice");
    check_sentence(run({"add", file, "room", "name=a", "height_m=tall"}), "height_m");
    check_sentence(run({"add", file, "room", "name=a", "height_m=-3"}), "height_m");
    check_sentence(run({"add", file, "room", "name=a", "id=not an id"}), "id");
    check_sentence(run({"set", file, "r9", "name=b"}), "r9");
    check_sentence(run({"remove", file, "job"}), "job");
    check_sentence(run({"set", file, "job", "line_v=0"}), "line_v");
    check_sentence(run({"read", file, "z1", "ohms=0"}), "0 Ω");
    for (const char* ohms : {"ohms=-4", "ohms=inf", "ohms=nan", "ohms=1e999", "ohms=", "ohms=high"})
        check_sentence(run({"read", file, "z9", ohms}), "ohms");
    check_sentence(run({"read", file, "z9", "ohms=80"}), "z9");
    check_sentence(run({"read", file, "z9", "ohms=80", "hz=0"}), "hz");
    check_sentence(run({"solve", file, "--hz", "0"}), "--hz");
    check_sentence(run({"solve", file, "--knobs", "half"}), "--knobs");
    check_sentence(run({"sheet", file, folder.file("x.docx")}), ".pdf");
    check_sentence(run({"sheet", file, "/nowhere/at/all.pdf"}), "/nowhere/at/all.pdf");
    check_sentence(run({"undo", file, "--visit", "no such id!"}), "--visit");
    CHECK(read_bytes(file) == before);
}
