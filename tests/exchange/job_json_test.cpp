// A job as JSON: what is written is read again, and what is wrong is refused whole, by its place.
#include "core/exchange/job_json.h"

#include "core/words/words.h"
#include "tests/job/made.h"

using namespace tapwright;

namespace {

std::string why_not(std::string_view text) {
    const Result<JobText> read = read_job(text, "house.json");
    return read.ok() ? "it was read" : in_english(read.refusal());
}

std::string why_not_changes(std::string_view text) {
    const Result<ChangeList> read = read_changes(text, "try.json");
    return read.ok() ? "it was read" : in_english(read.refusal());
}

Job house() {
    Job job;
    made::set(job, Kind::job, "job", "name", "House");
    made::add(job, Kind::zone, "z1", {{"name", "Hall"}, {"limit_w", 100.0}});
    made::add(job, Kind::point, "p1", {{"kind", "speaker"}, {"label", "L-1"}, {"fed_from", "z1"}, {"tap_w", 7.5}});
    return job;
}

Job made_of(const JobText& text) {
    Job job;
    std::int64_t made = 0;
    for (const Change& change : text.changes) {
        if (change.op == ChangeOp::add) job.make(change.kind, change.id, MadeRank{.clock = ++made});
        for (const auto& [name, value] : change.fields)
            REQUIRE(job.set(change.kind, change.id, *find_field(change.kind, name), value).ok());
    }
    return job;
}

}  // namespace

TEST_CASE("what is written is read again, to the byte") {
    const std::string text = write_job(house());
    const Result<JobText> read = read_job(text, "house.json");
    REQUIRE(read.ok());
    CHECK(write_job(made_of(*read)) == text);
    CHECK(read->pointers == std::vector<std::string>{"/job", "/zones/0", "/points/0"});
    CHECK(in_english(read->place_of(2, "tap_w")) == "house.json, at /points/0/tap_w");
}

TEST_CASE("a file of a newer version is refused, naming both") {
    const std::string newer = std::to_string(job_table_version + 2);
    CHECK(why_not("{\"tapwright_job\": " + newer + ", \"job\": {\"name\": \"A\"}, \"wonders\": 5}") ==
          "house.json: This file is of version " + newer + "; this Tapwright reads up to " +
              std::to_string(job_table_version) + ". Install a newer Tapwright.");
    CHECK(why_not("{\"tapwright_job\": 1, \"job\": {\"name\": \"A\"}}") == "it was read");
    for (const char* version : {"0", "1.5", "-1", "\"1\"", "null"})
        CHECK(why_not("{\"tapwright_job\": " + std::string(version) + ", \"job\": {}}")
                  .starts_with("house.json: It is not a job of this program."));
}

TEST_CASE("what has not the shape of a job is refused by its place") {
    CHECK(why_not("[]") == "house.json: It is not a job of this program. A job begins { \"tapwright_job\": " +
                               std::to_string(job_table_version) + ", ....");
    CHECK(why_not("{\"tapwright_job\": 1}") ==
          "house.json: It has no \"job\". Give it at least { \"name\": \"...\" }.");
    CHECK(why_not("{\"tapwright_job\": 1, \"job\": 5}") == "house.json, at /job: Write a map of fields.");
    CHECK(why_not("{\"tapwright_job\": 1, \"job\": {}, \"points\": 5}") ==
          "house.json, at /points: Write a list of records.");
    CHECK(why_not("{\"tapwright_job\": 1, \"job\": {}, \"points\": [5]}") ==
          "house.json, at /points/0: Write a map with an id and fields.");
    const std::string id = ": Write an id of 1 to 40 characters from A-Z a-z 0-9 _ -, unique in the job.";
    CHECK(why_not("{\"tapwright_job\": 1, \"job\": {}, \"points\": [{}]}") == "house.json, at /points/0/id" + id);
    CHECK(why_not("{\"tapwright_job\": 1, \"job\": {}, \"points\": [{\"id\": \"a b\"}]}") ==
          "house.json, at /points/0/id" + id);
    CHECK(why_not("{\"tapwright_job\": 1, \"job\": {}, \"pionts\": []}")
              .starts_with("house.json, at /pionts: There is no such key. A job has tapwright_job, job, rooms, "));
    CHECK(why_not("{\"tapwright_job\": 1").starts_with("house.json, line 1, column "));
}

TEST_CASE("changes are a list, alone or in a trial") {
    const std::string change = R"({"op": "set", "kind": "point", "id": "p1", "fields": {"tap_w": 2.5}})";
    CHECK(why_not_changes("[" + change + "]") == "it was read");
    CHECK(why_not_changes("{\"name\": \"Try\", \"changes\": [" + change + "]}") == "it was read");
    CHECK(why_not_changes("{\"name\": \"Try\"}").starts_with("try.json: It has no list of changes."));
    CHECK(why_not_changes("5").starts_with("try.json: It has no list of changes."));
    CHECK(why_not_changes("{\"changes\": [], \"why\": 1}") ==
          "try.json: “why” is not a key of a trial. A trial has id, name and changes.");
    CHECK(why_not_changes("[5]").starts_with("try.json: Change 1: Write it in this form: "));
    CHECK(read_changes("[" + change + "]", "try.json")->front().id == Id("p1"));
}
