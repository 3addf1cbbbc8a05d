// Nothing that the field table allows, and nothing that a command takes, reaches an assertion or a figure that is none.
#include <doctest/doctest.h>
#include <rapidcheck.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "core/job/json.h"
#include "tests/extremes/captured.h"
#include "tests/extremes/extreme_jobs.h"

using namespace tapwright;
using namespace tapwright::test;
namespace fs = std::filesystem;

namespace {

class Folder {
public:
    Folder() : path_(fs::temp_directory_path() / ("tapwright-extremes-" + std::to_string(::getpid()))) {
        fs::create_directories(path_);
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string operator/(const char* name) const { return (path_ / name).string(); }
    std::string path() const { return path_.string(); }

private:
    fs::path path_;
};

bool holds(const std::string& text, std::string_view what) {
    return text.find(what) != std::string::npos;
}

// An answer is there, and no figure in it is endless or none. "open" is what an endless impedance is called.
void answers(const Folder& folder, const std::vector<std::string>& arguments) {
    const Captured ran = captured(folder.path(), arguments);
    std::string call;
    for (const std::string& argument : arguments) call += argument + " ";
    RC_LOG(call + "\n" + ran.out + ran.err);
    RC_ASSERT(ran.status >= 0);
    RC_ASSERT(ran.status <= 2);
    RC_ASSERT(ran.status == 2 || ran.err.empty());
    RC_ASSERT(ran.status != 2 || !ran.err.empty());
    for (const char* none : {"\u221E", "inf ", "nan ", "-inf", "infinite", "NaN"}) RC_ASSERT(!holds(ran.out, none));
    const bool is_json = arguments.back() == "--json";
    if (is_json && ran.status != 2) RC_ASSERT(parse_json(ran.out, "out").ok());
}

void write(const std::string& path, const std::string& text) {
    std::ofstream(path, std::ios::binary) << text;
}

void ask_everything(const Folder& folder, const std::string& file) {
    answers(folder, {"check", file, "--why"});
    answers(folder, {"check", file, "--json"});
    for (const char* hz : {"1", "1000", "200000"}) answers(folder, {"solve", file, "--hz", hz, "--json"});
    answers(folder, {"solve", file, "--knobs", "full"});
    for (const char* type : {"s1", "s2"}) {
        answers(folder, {"survey", file, "r1", type, "--json"});
        answers(folder, {"survey", file, "r2", type, "--wanted", "140"});
        answers(folder, {"fit", file, "z1", "--add", std::string(type) + "x3", "--aim", "wanted", "--json"});
        answers(folder, {"fit", file, "z2", "--add", std::string(type) + "x1"});
    }
    answers(folder, {"trial", file, folder / "changes.json", "--json"});
    answers(folder, {"trial", file, folder / "changes.json"});
    for (const char* id : {"z1", "p1", "m1", "s1"}) answers(folder, {"show", file, id});
}

void write_everything(const Folder& folder, const std::string& file) {
    answers(folder, {"sheet", file, folder / "technician.html", "--replace"});
    answers(folder, {"sheet", file, folder / "owner.html", "--for", "owner", "--replace"});
    answers(folder, {"labels", file, folder / "labels.html", "--replace"});
    answers(folder, {"export", file, folder / "again.json", "--replace"});
}

// What is written in between is held against a job of its own figures.
void change_things(const Folder& folder, const std::string& file) {
    answers(folder, {"read", file, "z1", "ohms=0", "isolated=true", "--json"});
    answers(folder, {"read", file, "z1", "ohms=0.000001", "isolated=true"});
    answers(folder, {"read", file, "z2", "ohms=1000000000", "isolated=true", "--json"});
    answers(folder, {"set", file, "p1", "tap_w=5", "--json"});
    answers(folder, {"remove", file, "p2"});
    answers(folder, {"check", file, "--json"});
    answers(folder, {"undo", file});
    answers(folder, {"verify", file});
}

}  // namespace

TEST_CASE("no job within the ranges of the field table brings a command down") {
    const Folder folder;
    const std::string changes =
        R"([{"op": "set", "kind": "zone", "id": "z1", "fields": {"limit_w": 0.001}},)"
        R"( {"op": "set", "kind": "job", "id": "job", "fields": {"line_v": 1000, "reserve_pct": 0}}])";
    write(folder / "changes.json", changes);
    const bool held = rc::check("every command answers", [&] {
        const Map job = any_extreme_job();
        const std::string file = folder / "extreme.tapjob";
        write(folder / "extreme.json", pretty_json(job));
        fs::remove(file);
        const Captured made = captured(folder.path(), {"import", folder / "extreme.json", file});
        RC_LOG(made.err);
        RC_ASSERT(made.status < 2);
        ask_everything(folder, file);
        write_everything(folder, file);
        change_things(folder, file);
    });
    CHECK(held);
}

TEST_CASE("no figure that is typed brings `cable` down") {
    const Folder folder;
    for (const char* load : {"0", "0.0009", "0.001", "60", "100000", "1e-308", "1e308"})
        for (const char* length : {"0", "0.01", "40", "100000", "1e-300", "1e300"})
            for (const char* volts : {"1", "70.7", "1000", "1e-200", "1e200"})
                for (const char* limit : {"0.01", "1", "40", "1e-12", "1e300"}) {
                    const Captured ran =
                        captured(folder.path(), {"cable", "--load", load, "--length", length, "--volts", volts,
                                                 "--size", "1.5mm2", "--limit-db", limit, "--json"});
                    CAPTURE(ran.out);
                    CAPTURE(ran.err);
                    CHECK((ran.status == 0 || ran.status == 2));
                    CHECK(parse_json(ran.status == 0 ? ran.out : ran.err, "answer").ok());
                }
}
