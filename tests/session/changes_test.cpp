// What was changed, as a technician reads it, and which changes came after the last handover.
#include "core/session/changes.h"

#include <doctest/doctest.h>

#include "core/words/words.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

class House {
public:
    explicit House(ChangeList more = {}) : session_(make(std::move(more))) {}

    // On a day of March 2026.
    Batch change(int day, const std::string& visit, ChangeList changes) {
        const Result<Outcome> kept = session_.request(command(std::move(changes)), {"Ana", visit}, on(day));
        REQUIRE_MESSAGE(kept.ok(), (kept.ok() ? "" : in_english(kept.refusal())));
        return *session_.undoable({"Ana", ""});
    }
    void undo(int day) { REQUIRE(session_.undo({"Ana", ""}, on(day)).ok()); }
    void redo(int day) { REQUIRE(session_.redo({"Ana", ""}, on(day)).ok()); }

    std::vector<std::string> since_handover() const {
        const Result<std::vector<ChangeLine>> lines = changes_since_handover(session_);
        REQUIRE(lines.ok());
        return told(*lines);
    }
    std::vector<std::string> all() const {
        const Result<std::vector<ChangeLine>> lines =
            changes_of(session_, [](const Batch&, std::size_t number) { return number > 0; });
        REQUIRE(lines.ok());
        return told(*lines);
    }
    const Session& session() const { return session_; }

private:
    using Told = std::vector<std::string>;
    static Told told(const std::vector<ChangeLine>& lines) {
        Told all;
        for (const ChangeLine& line : lines)
            for (const Message& what : line.what) all.push_back(line.time.substr(8, 2) + " " + in_english(what));
        return all;
    }
    Stamp on(int day) {
        Stamp stamp = clock_.next();
        stamp.time.replace(8, 2, day < 10 ? "0" + std::to_string(day) : std::to_string(day));
        return stamp;
    }
    Session make(ChangeList more) {
        ChangeList content = small_system();
        content.insert(content.end(), more.begin(), more.end());
        Result<Session> made = Session::create(folder_.file("a.tapjob"), command(content), {"Ana", ""}, on(1));
        REQUIRE(made.ok());
        return std::move(*made);
    }

    TemporaryFolder folder_;
    Clock clock_;
    Session session_;
};

using Lines = std::vector<std::string>;

const Change handover = add(Kind::visit, "v1", {{"purpose", "handover"}, {"date", "2026-03-03"}});

}  // namespace

TEST_CASE("changes are told by the names of records and the titles of fields, with what was before") {
    House house;
    house.change(2, "", {set(Kind::point, "p1", {{"tap_w", 10.0}, {"heard", "ok"}})});
    house.change(2, "", {set(Kind::point, "p1", {{"heard", Value()}})});
    house.change(2, "", {set(Kind::job, "job", {{"site", "Mill Lane"}})});
    house.change(2, "", {add(Kind::point, "p3", {{"kind", "splice"}, {"label", "J-1"}, {"fed_from", "p2"}})});
    house.change(2, "", {remove(Kind::point, "p3")});
    house.change(2, "", {add(Kind::reading, "m", {{"at", "p2"}, {"quantity", "tap_w"}, {"value", 5.0}})});
    house.change(2, "", {set(Kind::reading, "m", {{"value", 2.5}})});
    const Lines told = house.all();
    REQUIRE(told.size() == 7);
    CHECK(told[0] == "02 C-1: Tap 10 W (was 5 W) and Heard heard, sounds right");
    CHECK(told[1] == "02 C-1: Heard cleared");
    CHECK(told[2] == "02 Job settings: Site Mill Lane");
    CHECK(told[3].starts_with("02 Point J-1 added: "));
    CHECK(told[4] == "02 Point J-1 removed");
    CHECK(told[5].starts_with("02 Reading of C-2 added: "));
    CHECK(told[6].starts_with("02 Reading of C-2: Value 2.5"));
}

TEST_CASE("private snags stay out of what a sheet tells, and are told to their maker") {
    House house;
    const Batch batch =
        house.change(2, "", {add(Kind::snag, "s", {{"text", "the owner smokes"}, {"share", "private"}})});
    CHECK(house.all().empty());
    CHECK(in_english(*own_change(house.session(), batch)) == "Snag added");
}

TEST_CASE("of many changes in one go their maker is told how many, and the first") {
    House house;
    const Batch batch =
        house.change(2, "", {set(Kind::point, "p1", {{"tap_w", 10.0}}), set(Kind::point, "p2", {{"tap_w", 10.0}})});
    CHECK(in_english(*own_change(house.session(), batch)) == "2 changes, the first: C-1: Tap 10 W (was 5 W)");
}

TEST_CASE("without a handover nothing came after it") {
    House house;
    house.change(2, "", {set(Kind::point, "p1", {{"tap_w", 10.0}})});
    CHECK(house.since_handover().empty());
}

TEST_CASE("a handover that changed nothing ends with its day") {
    House house({handover});
    house.change(2, "", {set(Kind::point, "p1", {{"tap_w", 10.0}})});
    house.change(3, "", {set(Kind::point, "p1", {{"tap_w", 2.5}})});
    house.change(4, "", {set(Kind::point, "p2", {{"tap_w", 2.5}})});
    CHECK(house.since_handover() == Lines{"04 C-2: Tap 2.5 W (was 5 W)"});
}

TEST_CASE("a handover that changed something ends with its last change, whatever the day") {
    House house({handover});
    house.change(3, "v1", {set(Kind::point, "p1", {{"tap_w", 10.0}})});
    house.change(3, "", {set(Kind::point, "p1", {{"tap_w", 2.5}})});
    CHECK(house.since_handover() == Lines{"03 C-1: Tap 2.5 W (was 10 W)"});
}

TEST_CASE("of two handovers the later counts") {
    House house({handover, add(Kind::visit, "v2", {{"purpose", "handover"}, {"date", "2026-03-06"}})});
    house.change(5, "", {set(Kind::point, "p1", {{"tap_w", 10.0}})});
    house.change(7, "", {set(Kind::point, "p2", {{"tap_w", 10.0}})});
    CHECK(house.since_handover() == Lines{"07 C-2: Tap 10 W (was 5 W)"});
}

TEST_CASE("what was taken back since is no change; brought back it is one; taking back something older is one") {
    House house({handover});
    house.change(2, "", {set(Kind::point, "p1", {{"tap_w", 10.0}})});
    house.change(4, "", {set(Kind::point, "p2", {{"tap_w", 10.0}})});
    house.undo(4);
    CHECK(house.since_handover().empty());
    house.redo(4);
    CHECK(house.since_handover() == Lines{"04 C-2: Tap 10 W (was 5 W)"});
    house.undo(4);
    house.undo(5);  // the change of before the handover
    CHECK(house.since_handover() == Lines{"05 C-1: Tap 5 W (was 10 W)"});
}
