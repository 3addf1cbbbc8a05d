// The container: records by id and in the order they were made.
#include "core/job/job.h"

#include <algorithm>
#include <map>
#include <random>

#include "tests/job/made.h"

using namespace tapwright;

namespace {

std::string order_of(const Job& job) {
    std::string ids;
    for (const Point& point : job.all<Point>()) ids += (ids.empty() ? "" : " ") + point.id.text();
    return ids;
}

}  // namespace

TEST_CASE("a new job has its one nameless record and nothing else") {
    const Job job;
    CHECK(job.info().id == job_id());
    CHECK_FALSE(job.info().name.has_value());
    CHECK(job.count(Kind::job) == 1);
    for (std::size_t i = 1; i < kind_count; ++i) CHECK(job.count(kind_at(i)) == 0);
    CHECK(job.kind_of(job_id()) == Kind::job);
    CHECK(line_voltage(job) == Volts(70.7));
}

TEST_CASE("records stand in the order they were made, whatever order they come in") {
    Job job;
    job.make(Kind::point, Id("c"), {.clock = 3});
    job.make(Kind::point, Id("a"), {.clock = 1});
    job.make(Kind::point, Id("d"), {.clock = 3, .writer = 1});
    job.make(Kind::point, Id("b"), {.clock = 2});
    job.make(Kind::point, Id("e"), {.clock = 3, .writer = 1, .batch = 1});
    job.make(Kind::point, Id("f"), {.clock = 3, .writer = 1, .batch = 1, .index = 1});
    CHECK(order_of(job) == "a b c d e f");
    job.remove(Kind::point, Id("c"));
    CHECK(order_of(job) == "a b d e f");
    CHECK(job.find<Point>(Id("c")) == nullptr);
    CHECK(job.place<Point>(Id("d")) == 2);
    job.make(Kind::point, Id("c"), {.clock = 9});
    CHECK(order_of(job) == "a b d e f c");
    CHECK(job.fields_of(Kind::point, Id("c")).empty());
}

TEST_CASE("any sequence of makings and removals keeps ids, places and order true") {
    std::mt19937 random(5);
    Job job;
    std::map<MadeRank, std::string> model;
    for (int step = 0; step < 3000; ++step) {
        if (!model.empty() && random() % 3 == 0) {
            const auto at = std::next(model.begin(), static_cast<std::ptrdiff_t>(random() % model.size()));
            job.remove(Kind::room, Id(at->second));
            model.erase(at);
        } else {
            const MadeRank rank{.clock = static_cast<std::int64_t>(random() % 50),
                                .writer = random() % 3,
                                .batch = static_cast<std::uint32_t>(step)};
            const std::string id = "r" + std::to_string(step);
            job.make(Kind::room, Id(id), rank);
            model.emplace(rank, id);
        }
        REQUIRE(job.count(Kind::room) == model.size());
        if (random() % 100 == 0) REQUIRE(job.all<Room>().size() == model.size());
    }
    std::uint32_t place = 0;
    for (const auto& [rank, id] : model) {
        CHECK(job.all<Room>()[place].id.text() == id);
        CHECK(job.place<Room>(Id(id)) == place++);
    }
}

TEST_CASE("a record removed and made again before anybody looks is the new one") {
    Job job;
    for (std::int64_t i = 0; i < 100; ++i) {
        const Id id("p" + std::to_string(i));
        job.make(Kind::point, id, {.clock = i});
        REQUIRE(job.set(Kind::point, id, *find_field(Kind::point, "label"), "old").ok());
    }
    for (std::int64_t i = 0; i < 100; i += 2) {
        const Id id("p" + std::to_string(i));
        job.remove(Kind::point, id);
        CHECK_FALSE(job.has(Kind::point, id));
        if (i % 4 == 0) job.make(Kind::point, id, {.clock = 200 - i});
    }
    CHECK(job.count(Kind::point) == 75);
    CHECK(job.all<Point>().front().id == Id("p1"));
    CHECK(job.all<Point>().back().id == Id("p0"));
    CHECK_FALSE(job.find<Point>(Id("p0"))->label.has_value());
    CHECK(job.find<Point>(Id("p1"))->label == "old");
    CHECK(job.find<Point>(Id("p2")) == nullptr);
}

TEST_CASE("taking back a large import costs each record one move, whatever the order") {
    Job job;
    for (std::int64_t i = 0; i < 20'000; ++i) job.make(Kind::point, Id("p" + std::to_string(i)), {.clock = 20'000 - i});
    CHECK(job.all<Point>().front().id == Id("p19999"));
    for (std::int64_t i = 1; i < 20'000; ++i) job.remove(Kind::point, Id("p" + std::to_string(i)));
    CHECK(job.all<Point>().size() == 1);
    CHECK(job.place<Point>(Id("p0")) == 0);
}

TEST_CASE("an id may be held by several kinds after a merge, and each is found") {
    Job job;
    made::add(job, Kind::zone, "x", {{"name", "Hall"}});
    made::add(job, Kind::room, "x", {{"name", "Foyer"}});
    CHECK(job.kinds_of(Id("x")) == std::vector<Kind>{Kind::room, Kind::zone});
    CHECK(job.kind_of(Id("x")) == Kind::room);
    CHECK(job.has(Kind::zone, Id("x")));
    CHECK_FALSE(job.has(Kind::point, Id("x")));
    CHECK_FALSE(job.kind_of(Id("y")).has_value());
}

TEST_CASE("a record is called by its name or label, else by its id") {
    Job job;
    made::add(job, Kind::zone, "z1", {{"name", "Hall"}});
    made::add(job, Kind::point, "p1", {{"label", "S1"}});
    made::add(job, Kind::point, "p2", {});
    CHECK(name_of(job, Id("z1")) == "Hall");
    CHECK(name_of(job, Id("p1")) == "S1");
    CHECK(name_of(job, Id("p2")) == "p2");
    made::add(job, Kind::room, "r1", {{"name", " \u200b"}});  // nothing to read in it
    CHECK(name_of(job, Id("r1")) == "r1");
    CHECK(name_of(job, Id("gone")) == "gone");
    CHECK(name_of(job, std::optional<Id>()) == "unknown");
}

TEST_CASE("line voltage: the zone's, else its channel's, else the job's, else 70.7") {
    Job job;
    made::add(job, Kind::channel, "c1", {{"name", "1"}});
    made::add(job, Kind::zone, "z1", {{"name", "A"}, {"channel", "c1"}});
    const auto volts = [&] { return line_voltage(job, *job.find<Zone>(Id("z1"))); };
    CHECK(volts() == Volts(70.7));
    made::set(job, Kind::job, "job", "line_v", 100.0);
    CHECK(volts() == Volts(100));
    made::set(job, Kind::channel, "c1", "line_v", 50.0);
    CHECK(volts() == Volts(50));
    made::set(job, Kind::zone, "z1", "line_v", 25.0);
    CHECK(volts() == Volts(25));
    job.remove(Kind::channel, Id("c1"));
    made::set(job, Kind::zone, "z1", "line_v", Value());
    CHECK(volts() == Volts(100));
}

TEST_CASE("a job is a value: a copy does not follow") {
    Job job;
    made::add(job, Kind::room, "r1", {{"name", "Foyer"}});
    Job copy = job;
    made::set(copy, Kind::room, "r1", "name", "Hall");
    copy.remove(Kind::room, Id("r1"));
    CHECK(name_of(job, Id("r1")) == "Foyer");
}
