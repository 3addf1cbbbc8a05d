// By whom and when: what the log tells of a value that a point has now.
#include "core/session/recorders.h"

#include <doctest/doctest.h>

#include "core/words/words.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

class HouseOfTwo {
public:
    HouseOfTwo() : session_(make()) {}

    void change(const std::string& person, ChangeList changes) {
        const Result<Outcome> kept = session_.request(command(std::move(changes)), {person, ""}, clock_.next());
        REQUIRE_MESSAGE(kept.ok(), (kept.ok() ? "" : in_english(kept.refusal())));
    }
    void hear(const std::string& person, const std::string& how) {
        change(person, {set(Kind::point, "p1", {{"heard", how}})});
    }
    Session& session() { return session_; }
    Stamp next() { return clock_.next(); }
    // Who heard p1; "" where nobody is known.
    std::string who() const {
        const Result<Recorders> all = recorders_of(session_, {"heard"});
        REQUIRE(all.ok());
        const auto field = all->find("heard");
        if (field == all->end() || !field->second.contains("p1")) return {};
        CHECK(field->second.at("p1").day.size() == 10);
        return field->second.at("p1").person;
    }

private:
    Session make() {
        ChangeList changes = small_system();
        changes.push_back(set(Kind::point, "p2", {{"heard", "ok"}}));
        Result<Session> made = Session::create(folder_.file("a.tapjob"), command(changes), {"Ana", ""}, clock_.next());
        REQUIRE(made.ok());
        return std::move(*made);
    }

    TemporaryFolder folder_;
    Clock clock_;
    Session session_;
};

}  // namespace

TEST_CASE("who set a field last is who recorded it, on the day of the clock") {
    HouseOfTwo house;
    CHECK(house.who().empty());
    house.hear("Ana", "ok");
    CHECK(house.who() == "Ana");
    house.hear("Bo", "silent");
    CHECK(house.who() == "Bo");
    house.change("Cy", {set(Kind::point, "p1", {{"tap_w", 2.5}})});
    CHECK(house.who() == "Bo");
    house.change("Cy", {set(Kind::point, "p1", {{"heard", Value()}})});
    CHECK(house.who().empty());
}

TEST_CASE("an undo gives a value back to whom it came from") {
    HouseOfTwo house;
    house.hear("Ana", "ok");
    house.hear("Bo", "silent");
    REQUIRE(house.session().undo({"Bo", ""}, house.next()).ok());
    CHECK(house.who() == "Ana");
    REQUIRE(house.session().redo({"Bo", ""}, house.next()).ok());
    CHECK(house.who() == "Bo");
}

TEST_CASE("what came with a point itself, as from a file, was recorded by nobody known") {
    HouseOfTwo house;
    house.change("Ana", {add(Kind::point, "new", {{"kind", "speaker"}, {"label", "C-3"}, {"heard", "ok"}})});
    const Result<Recorders> all = recorders_of(house.session(), {"heard", "tap_w"});
    REQUIRE(all.ok());
    CHECK(all->empty());
    house.change("Ana", {set(Kind::point, "p1", {{"heard", "ok"}}), remove(Kind::point, "new")});
    const Result<Recorders> after = recorders_of(house.session(), {"heard"});
    REQUIRE(after.ok());
    CHECK(after->at("heard").size() == 1);
}
