// One advice: where to measure next is the same measurement in `check`, `read`, `faults` and the technician's sheet,
// for jobs at random on which something is made not to fit.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <filesystem>

#include "tests/cli/program.h"
#include "tests/oracle/random_story.h"
#include "tests/oracle/voices.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::oracle;

namespace {

class AskedJob {
public:
    explicit AskedJob(const std::string& json) {
        test::write_bytes(folder_.file("job.json"), json);
        REQUIRE(call({"import", folder_.file("job.json"), file_}).status == 0);
    }
    test::Ran call(const std::vector<std::string>& arguments) const {
        return test::tapwright(folder_.path().string(), arguments);
    }
    Json answer(std::vector<std::string> arguments) const {
        arguments.insert(arguments.begin() + 1, file_);
        arguments.push_back("--json");
        const test::Ran ran = call(arguments);
        return ran.out.empty() ? Json() : Json::parse(ran.out);
    }
    std::string exported() const {
        const std::string again = folder_.file("again.json");
        std::filesystem::remove(again);
        REQUIRE(call({"export", file_, again}).status == 0);
        return test::read_bytes(again);
    }

private:
    test::TemporaryFolder folder_;
    std::string file_ = folder_.file("job.tapjob");
};

// The first of what `faults` would measure next; null where it would measure nothing or does not answer.
Json first_of(const Json& faults) {
    const bool has_next = faults.is_object() && !faults["next"].empty();
    return has_next ? faults["next"][0] : Json();
}

struct Counted {
    int advised = 0;
    int on_sheet = 0;
};

// Makes the zone read other than it should, `by` so much, and asks everybody.
void ask_everybody(const AskedJob& job, const Json& zone, double by, Counted& counted) {
    const std::string id = zone["id"];
    CAPTURE(id);
    const double ohms = std::round(zone["ohms"].get<double>() * by * 10) / 10;
    const Json read = job.answer({"read", id, "ohms=" + std::to_string(ohms), "isolated=yes"});
    // With one loudspeaker there is nothing to look for, and what cannot be judged has its own next step: the sentence
    // says it.
    if (!read.is_object() || read["verdict"] == "agrees" || read["verdict"] == "not_judged" || read["speakers"] < 2)
        return;
    CAPTURE(read.dump());
    const Json next = first_of(job.answer({"faults", id}));
    CHECK(read.value("next", Json()) == next);
    const Json check = job.answer({"check"});
    bool is_in_check = false;
    for (const Json& reading : check["readings"])
        if (reading["at"] == id && reading.contains("next")) {
            CHECK(reading["next"] == next);
            is_in_check = true;
        }
    CHECK(is_in_check == !next.is_null());
    if (next.is_null()) return;
    ++counted.advised;
    const std::string records = job.exported();
    const Voices voices(records);
    const document::Table* found = table_in(voices.technician, "What does not fit");
    const std::string name = zone["name"];
    if (!found || !is_unique(voices.records, "zones", "name", name)) return;
    const std::string said = cell_in(*found, name, "Next");
    CHECK(said == next["text"].get<std::string>());
    ++counted.on_sheet;
}

}  // namespace

TEST_CASE("whoever is asked names the same next measurement, on fifty jobs at random") {
    Counted counted;
    int jobs = 0;
    CHECK(rc::check("one advice", [&] {
        if (jobs >= 50) return;
        Json records = Json::parse(with_rare_parts(random_story(6)->exported()));
        for (Json& reading : records["readings"])
            reading["time"] = "2026-01-02T10:00:00Z";  // what is read now is newer
        const AskedJob job(records.dump());
        const Json before = job.answer({"check"});
        double by = jobs % 2 ? 1.3 : 0.75;
        for (const Json& zone : before["zones"]) {
            if (zone.value("ohms", Json()).is_number()) ask_everybody(job, zone, by, counted);
            by = 2 - by;
        }
        ++jobs;
    }));
    CHECK(jobs == 50);
    CHECK(counted.advised >= 15);
    CHECK(counted.on_sheet >= 10);
}
