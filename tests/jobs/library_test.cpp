// The person's own library of types and cables, without a window.
#include "platform/jobs/library.h"

#include <doctest/doctest.h>

#include <filesystem>

#include "core/words/words.h"
#include "platform/jobs/jobs.h"
#include "platform/system/files.h"
#include "tests/jobs/home.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

Id ask(Home& home, Jobs& jobs, const tapwright::Change& change) {
    const Command command{.changes = {change}, .fill_in = true, .place = {}};
    const Result<Outcome> made = jobs.session()->request(command, {"Ada Quill", {}}, home.stamp());
    REQUIRE(made.ok());
    return made->ids.front();
}

tapwright::Change a_type(const char* name, double watts) {
    return {ChangeOp::add, Kind::speaker_type, Id(), {{"name", name}, {"taps_w", List{watts}}}};
}

std::vector<double> taps_of(const Job& job, const std::string& name) {
    for (const SpeakerType& type : job.all<SpeakerType>())
        if (type.name == name) return {type.taps_w->front().value()};
    return {};
}

}  // namespace

TEST_CASE("types and cables of a job are there for the next one, after the next start as well") {
    Home home;
    {
        Jobs jobs;
        REQUIRE(jobs.create({"First", "100", "Ada Quill"}, home.stamp()).ok());
        ask(home, jobs, a_type("Ceiling 6", 6));
        ask(home, jobs, {ChangeOp::add, Kind::cable_type, Id(), {{"name", "Two by 1.5"}, {"area_mm2", 1.5}}});
        ask(home, jobs, {ChangeOp::add, Kind::room, Id(), {{"name", "Hall"}}});
        REQUIRE(jobs.create({"Second", "", ""}, home.stamp()).ok());
        CHECK(taps_of(jobs.library(), "Ceiling 6") == std::vector<double>{6});
        CHECK(jobs.library().count(Kind::cable_type) == 1);
        CHECK(jobs.library().count(Kind::room) == 0);
        CHECK(jobs.settings().line_v.empty());
        ask(home, jobs, a_type("Horn", 20));
    }
    CHECK(file_exists(home.folder.file("configuration/tapwright/library.json")));
    Jobs jobs;
    CHECK(taps_of(jobs.library(), "Horn") == std::vector<double>{20});
}

TEST_CASE("a type changed in a job is changed in the library, and opening an old job takes nothing back") {
    Home home;
    Jobs jobs;
    REQUIRE(jobs.create({"First", "", ""}, home.stamp()).ok());
    ask(home, jobs, a_type("Ceiling 6", 6));
    REQUIRE(jobs.create({"Second", "", ""}, home.stamp()).ok());
    ask(home, jobs, a_type("Ceiling 6", 7.5));
    REQUIRE(jobs.open(home.folder.file("First.tapjob")).ok());
    CHECK(taps_of(jobs.library(), "Ceiling 6") == std::vector<double>{7.5});
    const Id old = jobs.session()->job().all<SpeakerType>().front().id;
    ask(home, jobs, {ChangeOp::set, Kind::speaker_type, old, {{"taps_w", List{5.0}}}});
    REQUIRE(jobs.open(home.folder.file("Second.tapjob")).ok());
    CHECK(taps_of(jobs.library(), "Ceiling 6") == std::vector<double>{5});
    CHECK(jobs.library().count(Kind::speaker_type) == 1);
}

TEST_CASE("types are exported as JSON and taken in again from it, and from any job") {
    Home home;
    const std::string file = home.folder.file("types.json");
    {
        Jobs jobs;
        REQUIRE(jobs.create({"First", "", ""}, home.stamp()).ok());
        ask(home, jobs, a_type("Ceiling 6", 6));
        REQUIRE(jobs.export_types(file).ok());
    }
    Home other;
    Jobs jobs;
    CHECK(jobs.library().count(Kind::speaker_type) == 0);
    CHECK(*jobs.import_types(file) == 1);
    CHECK(*jobs.import_types(file) == 0);
    CHECK(taps_of(jobs.library(), "Ceiling 6") == std::vector<double>{6});
    // It is a job like any other.
    REQUIRE(jobs.import(file, other.stamp()).ok());
    CHECK(jobs.session()->job().count(Kind::speaker_type) == 1);
}

TEST_CASE("a damaged library is said, left as it is, and keeps nobody from working") {
    Home home;
    const std::string file = home.folder.file("configuration/tapwright/library.json");
    REQUIRE(make_folder(std::filesystem::path(file).parent_path().string()).ok());
    REQUIRE(write_file(file, "{").ok());
    Jobs jobs;
    std::vector<Message> remarks;
    jobs.set_hooks({.show = [](Session*) {}, .remark = [&](const Message& sentence) { remarks.push_back(sentence); }});
    REQUIRE(remarks.size() == 1);
    REQUIRE(jobs.create({"First", "", ""}, home.stamp()).ok());
    ask(home, jobs, a_type("Ceiling 6", 6));
    REQUIRE(jobs.create({"Second", "", ""}, home.stamp()).ok());
    CHECK(*read_file(file, 100) == "{");
    CHECK(taps_of(jobs.library(), "Ceiling 6") == std::vector<double>{6});
    const Result<int> refused = jobs.import_types(file);
    CHECK_FALSE(refused.ok());
}
