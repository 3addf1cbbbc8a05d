// The open job, the jobs before it and the person's settings, without a window.
#include "platform/jobs/jobs.h"
#include "platform/jobs/file_name.h"

#include <doctest/doctest.h>
#include <signal.h>

#include <filesystem>

#include "core/words/words.h"
#include "tests/jobs/home.h"
#include "tests/system/small_files.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

Id a_visit(Session& session, const Stamp& stamp) {
    const Command command{
        .changes = {{ChangeOp::add, Kind::visit, Id(), {{"purpose", "service"}}}}, .fill_in = true, .place = {}};
    const Result<Outcome> made = session.request(command, {"Ada Quill", {}}, stamp);
    REQUIRE(made.ok());
    return made->ids.front();
}

}  // namespace

TEST_CASE("a new job lies in the home folder under its name, and is open") {
    Home home;
    Jobs jobs;
    CHECK(jobs.session() == nullptr);
    CHECK(jobs.recent().empty());
    REQUIRE(jobs.create({"Mill House", "100", "Ada Quill"}, home.stamp()).ok());
    CHECK(jobs.path() == home.folder.file("Mill House.tapjob"));
    REQUIRE(jobs.session() != nullptr);
    CHECK(jobs.session()->job().info().name == "Mill House");
    CHECK(jobs.session()->job().info().line_v == Volts(100));
    CHECK(jobs.author().person == "Ada Quill");
    REQUIRE(jobs.recent().size() == 1);
    CHECK(jobs.recent().front().name == "Mill House");
    CHECK(jobs.recent().front().folder == home.folder.path().string());
}

TEST_CASE("a_job_closed_after_an_error_could_not_be_opened_again_in_the_same_window") {
    Home home;
    Jobs jobs;
    REQUIRE(jobs.create({"Mill House", "100", "Ada Quill"}, home.stamp()).ok());
    int notes = 0;
    const auto note = [&] {
        const Value text(std::string(4000, 'n') + std::to_string(++notes));
        const Command command{
            .changes = {{ChangeOp::set, Kind::job, job_id(), {{"notes", text}}}}, .fill_in = false, .place = {}};
        return jobs.session()->request(command, jobs.author(), home.stamp()).ok();
    };
    for (int i = 0; i < 100; ++i) REQUIRE(note());
    ::signal(SIGXFSZ, SIG_IGN);  // as the program does: a write then fails
    {
        // What has been written behind the limit can be neither finished nor taken back.
        const SmallFiles limit(fs::file_size(jobs.path()) / 2);
        CHECK_FALSE(note());
        REQUIRE(jobs.session()->is_closed());
        CHECK_FALSE(jobs.recent().front().is_open);
    }
    CHECK_FALSE(note());
    REQUIRE(jobs.open(jobs.path()).ok());
    CHECK(jobs.recent().front().is_open);
    CHECK(jobs.session()->verify().ok());
    CHECK(jobs.session()->batch_count() == 101);
    CHECK(note());
}

TEST_CASE("a second job of the same name gets a number, and both are remembered by the next start") {
    Home home;
    {
        Jobs jobs;
        REQUIRE(jobs.create({"Mill House", "", "Ada Quill"}, home.stamp()).ok());
        REQUIRE(jobs.create({"Mill House", "", ""}, home.stamp()).ok());
        CHECK(jobs.path() == home.folder.file("Mill House 2.tapjob"));
        CHECK(jobs.author().person == "Ada Quill");
    }
    Jobs jobs;
    REQUIRE(jobs.recent().size() == 2);
    CHECK(jobs.recent()[0].name == "Mill House 2");
    CHECK(jobs.recent()[1].name == "Mill House");
    REQUIRE(jobs.open(jobs.recent()[1].path).ok());
    CHECK(jobs.recent()[0].name == "Mill House");
    CHECK(jobs.recent().size() == 2);
    fs::remove(home.folder.file("Mill House 2.tapjob"));
    CHECK(jobs.recent().size() == 1);
}

TEST_CASE("a job that cannot be opened or made leaves the open one open") {
    Home home;
    Jobs jobs;
    REQUIRE(jobs.create({"Mill House", "", ""}, home.stamp()).ok());
    const Session* before = jobs.session();
    put(home.folder.file("no.tapjob"), "no job");
    CHECK_FALSE(jobs.open(home.folder.file("no.tapjob")).ok());
    CHECK_FALSE(jobs.open(home.folder.file("missing.tapjob")).ok());
    CHECK_FALSE(jobs.import(home.folder.file("no.tapjob"), home.stamp()).ok());
    const Result<void> made = jobs.create({"Barn", "many", "Somebody Else"}, home.stamp());
    REQUIRE_FALSE(made.ok());
    CHECK(has(in_english(made.refusal()), "Line voltage"));
    CHECK(jobs.session() == before);
    CHECK(jobs.path() == home.folder.file("Mill House.tapjob"));
    CHECK(jobs.author().person == "");
    CHECK_FALSE(fs::exists(home.folder.file("Barn.tapjob")));
}

TEST_CASE("opening the open job again changes nothing, under any of its names") {
    Home home;
    Jobs jobs;
    REQUIRE(jobs.create({"Mill House", "", ""}, home.stamp()).ok());
    const Session* before = jobs.session();
    fs::create_symlink(home.folder.file("Mill House.tapjob"), home.folder.file("link.tapjob"));
    CHECK(jobs.open(home.folder.file("Mill House.tapjob")).ok());
    CHECK(jobs.open(home.folder.file("link.tapjob")).ok());
    CHECK(jobs.session() == before);
}

TEST_CASE("whoever shows the job is told before it goes and once the next is there") {
    Home home;
    Jobs jobs;
    std::vector<const Session*> shown;
    jobs.set_hooks({.show = [&](Session* session) { shown.push_back(session); }, .remark = [](const Message&) {}});
    CHECK(shown.empty());
    REQUIRE(jobs.create({"Mill House", "", ""}, home.stamp()).ok());
    CHECK(shown == std::vector<const Session*>{nullptr, jobs.session()});
    CHECK_FALSE(jobs.open(home.folder.file("missing")).ok());
    CHECK(shown.size() == 2);
    REQUIRE(jobs.create({"Barn", "", ""}, home.stamp()).ok());
    CHECK(shown.size() == 4);
    CHECK(shown.back() == jobs.session());
}

TEST_CASE("the visit in progress belongs to its job, and is none once it is no longer in the job") {
    Home home;
    Jobs jobs;
    REQUIRE(jobs.create({"Mill House", "", "Ada Quill"}, home.stamp()).ok());
    const std::string mill = jobs.path();
    const Id visit = a_visit(*jobs.session(), home.stamp());
    jobs.set_visit(visit);
    CHECK(jobs.author().visit == visit.text());
    REQUIRE(jobs.create({"Barn", "", ""}, home.stamp()).ok());
    CHECK(jobs.author().visit == "");
    REQUIRE(jobs.open(mill).ok());
    CHECK(jobs.author().visit == visit.text());
    const Command removing{.changes = {{ChangeOp::remove, Kind::visit, visit, {}}}, .fill_in = true, .place = {}};
    REQUIRE(jobs.session()->request(removing, jobs.author(), home.stamp()).ok());
    CHECK(jobs.author().visit == "");
    jobs.set_visit(Id());
    CHECK(jobs.settings().visits.empty());
}

TEST_CASE("a job comes in from JSON under that file's name; a refusal names the place in it") {
    Home home;
    Jobs jobs;
    put(home.folder.file("barn.json"), R"({"tapwright_job": 1, "job": {"name": "Barn"}})");
    REQUIRE(jobs.import(home.folder.file("barn.json"), home.stamp()).ok());
    CHECK(jobs.path() == home.folder.file("barn.tapjob"));
    CHECK(jobs.session()->job().info().name == "Barn");
    put(home.folder.file("bad.json"), R"({"tapwright_job": 1, "job": {"name": "Barn", "line_v": -5}})");
    const Result<void> bad = jobs.import(home.folder.file("bad.json"), home.stamp());
    REQUIRE_FALSE(bad.ok());
    CHECK(has(in_english(bad.refusal()), "/job/line_v"));
    CHECK_FALSE(fs::exists(home.folder.file("bad.tapjob")));
}

TEST_CASE("settings that cannot be read are said once somebody listens, and never written over") {
    Home home;
    fs::create_directories(fs::path(settings_path()).parent_path());
    put(settings_path(), "{");
    Jobs jobs;
    std::vector<Message> remarks;
    jobs.set_hooks({.show = [](Session*) {}, .remark = [&](const Message& remark) { remarks.push_back(remark); }});
    REQUIRE(remarks.size() == 1);
    CHECK(has(in_english(remarks.front()), settings_path()));
    jobs.set_person("Ada Quill");
    CHECK(bytes_of(settings_path()) == "{");
    CHECK(jobs.author().person == "Ada Quill");
}

TEST_CASE("settings that cannot be kept are said, and the job opens all the same") {
    Home home;
    put(home.folder.file("configuration"), "a file in the way");
    Jobs jobs;
    std::vector<Message> remarks;
    jobs.set_hooks({.show = [](Session*) {}, .remark = [&](const Message& remark) { remarks.push_back(remark); }});
    REQUIRE(jobs.create({"Mill House", "", ""}, home.stamp()).ok());
    CHECK(remarks.size() == 1);
    CHECK(jobs.session() != nullptr);
}

TEST_CASE("how the screen is liked is kept within what settings hold") {
    Home home;
    Jobs jobs;
    jobs.set_look("night", 9, "de");
    CHECK(Jobs().settings().theme == "night");
    CHECK(Jobs().settings().text_scale == 3);
}

TEST_CASE("any name of a job makes a name a file can have") {
    CHECK(file_name_of("Mill House") == "Mill House");
    CHECK(file_name_of("a/b\\c:d\n") == "a-b-c-d-");
    CHECK(file_name_of(" .. Mill. ") == "Mill");
    CHECK(file_name_of("..") == "job");
    CHECK(file_name_of("") == "job");
    CHECK(file_name_of("水車小屋") == "水車小屋");
    const std::string cut = file_name_of(std::string("a") + [] {
        std::string many;
        for (int i = 0; i < 100; ++i) many += "水";
        return many;
    }());
    CHECK(cut.size() == 199);  // a and 66 whole letters of three bytes
}
