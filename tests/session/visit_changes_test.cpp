// As found and as left: what a visit met and what it changed.
#include "core/session/visit_changes.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "core/words/words.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

class VisitedHouse {
public:
    VisitedHouse() : session_(make()) {}

    void change(const std::string& visit, ChangeList changes) {
        const Result<Outcome> kept = session_.request(command(std::move(changes)), {"Ana", visit}, clock_.next());
        REQUIRE_MESSAGE(kept.ok(), (kept.ok() ? "" : in_english(kept.refusal())));
    }
    void undo(const std::string& visit) { REQUIRE(session_.undo({"Ana", visit}, clock_.next()).ok()); }
    // A tap somebody looked at; the visit is filled in.
    void look(const std::string& visit, const std::string& point, double watts) {
        change(visit, {add(Kind::reading, "", {{"at", point}, {"quantity", "tap_w"}, {"value", watts}})});
    }
    std::vector<VisitPoint> met(const std::string& visit) const {
        const Result<std::vector<VisitPoint>> points = visit_changes(session_, Id(visit));
        REQUIRE(points.ok());
        return *points;
    }
    const Session& session() const { return session_; }

private:
    Session make() {
        Result<Session> made =
            Session::create(folder_.file("a.tapjob"), command(content()), {"Ana", ""}, clock_.next());
        REQUIRE(made.ok());
        return std::move(*made);
    }
    static ChangeList content() {
        ChangeList changes = small_system();
        changes.push_back(add(Kind::visit, "v1", {{"purpose", "second_fix"}}));
        changes.push_back(add(Kind::visit, "v2", {{"purpose", "service"}}));
        return changes;
    }

    TemporaryFolder folder_;
    Clock clock_;
    Session session_;
};

const VisitField* field_of(const VisitPoint& point, std::string_view name) {
    for (const VisitField& field : point.fields)
        if (field.field->name == name) return &field;
    return nullptr;
}

}  // namespace

TEST_CASE("the tap before a visit's first change and after its last, and the other fields that differ") {
    VisitedHouse house;
    house.change("v1", {set(Kind::point, "p1", {{"tap_w", 10.0}})});
    house.change("v2", {set(Kind::point, "p1", {{"tap_w", 2.5}, {"heard", "buzz"}})});
    house.change("v2", {set(Kind::point, "p1", {{"tap_w", 5.0}, {"heard", "ok"}, {"notes", "cone rubbed"}})});
    house.change("", {set(Kind::point, "p1", {{"tap_w", 10.0}})});  // afterwards, on no visit
    const std::vector<VisitPoint> met = house.met("v2");
    REQUIRE(met.size() == 1);
    CHECK(met[0].point == Id("p1"));
    CHECK(met[0].label == "C-1");
    CHECK(met[0].kind == PointKind::speaker);
    CHECK(met[0].tap_found == Watts(10));
    CHECK(met[0].tap_left == Watts(5));
    CHECK_FALSE(met[0].tap_was_read);
    REQUIRE(met[0].fields.size() == 2);
    CHECK(field_of(met[0], "heard")->found.is_null());
    CHECK(field_of(met[0], "heard")->left == Value("ok"));
    CHECK(field_of(met[0], "notes")->left == Value("cone rubbed"));
    CHECK(house.met("v1")[0].tap_found == Watts(5));
    CHECK(house.met("v1")[0].tap_left == Watts(10));
}

TEST_CASE("a tap that was read goes before the record, and is listed where nothing was changed") {
    VisitedHouse house;
    house.look("v2", "p1", 10);
    house.look("v2", "p2", 5);
    house.change("v2", {set(Kind::point, "p1", {{"tap_w", 2.5}})});
    const std::vector<VisitPoint> met = house.met("v2");
    REQUIRE(met.size() == 2);
    CHECK(met[0].tap_found == Watts(10));
    CHECK(met[0].tap_left == Watts(2.5));
    CHECK(met[0].tap_was_read);
    CHECK(met[1].point == Id("p2"));
    CHECK(met[1].tap_found == Watts(5));
    CHECK(met[1].tap_left == Watts(5));
    CHECK(house.met("v1").empty());
}

TEST_CASE("made, removed, changed back, undone") {
    VisitedHouse house;
    house.change("v2",
                 {add(Kind::point, "n",
                      {{"kind", "speaker"}, {"label", "C-3"}, {"fed_from", "p2"}, {"type", "t1"}, {"tap_w", 2.5}})});
    house.change("v2", {set(Kind::point, "p1", {{"tap_w", 10.0}})});
    house.undo("");  // later, and on no visit: still the visit's own change taken back
    house.change("v2", {set(Kind::point, "p2", {{"notes", "x"}})});
    house.change("v2", {set(Kind::point, "p2", {{"notes", Value()}})});
    std::vector<VisitPoint> met = house.met("v2");
    REQUIRE(met.size() == 1);
    CHECK(met[0].is_new);
    CHECK(met[0].label == "C-3");
    CHECK_FALSE(met[0].tap_found);
    CHECK(met[0].tap_left == Watts(2.5));
    house.change("v1", removal(house.session().job(), Kind::point, Id("p1")));
    met = house.met("v1");
    REQUIRE(met.size() == 2);
    const auto gone = std::find_if(met.begin(), met.end(), [](const VisitPoint& point) { return point.is_gone; });
    REQUIRE(gone != met.end());
    CHECK(gone->label == "C-1");
    CHECK(gone->tap_found == Watts(5));
    CHECK_FALSE(gone->tap_left);
    const VisitPoint& fed = met[gone == met.begin() ? 1 : 0];
    CHECK(field_of(fed, "fed_from")->found == Value("p1"));
    CHECK(field_of(fed, "fed_from")->left == Value("z1"));
    CHECK(field_of(fed, "length_m")->left == Value(18.0));
}

TEST_CASE("a job that came in as one file: what was read stands beside the record; an unknown visit is refused") {
    const TemporaryFolder folder;
    Clock clock;
    ChangeList content = small_system();
    content.push_back(add(Kind::visit, "v1", {{"purpose", "survey"}}));
    content.push_back(
        add(Kind::reading, "m1", {{"at", "p2"}, {"quantity", "tap_w"}, {"value", 10.0}, {"visit", "v1"}}));
    const Result<Session> session =
        Session::create(folder.file("a.tapjob"), command(content), {"Ana", ""}, clock.next());
    REQUIRE(session.ok());
    const Result<std::vector<VisitPoint>> met = visit_changes(*session, Id("v1"));
    REQUIRE(met->size() == 1);
    CHECK((*met)[0].tap_found == Watts(10));
    CHECK((*met)[0].tap_left == Watts(5));
    CHECK(in_english(visit_changes(*session, Id("v9")).refusal()).find("no visit v9") != std::string::npos);
}

TEST_CASE("all visits at once are what each is alone") {
    VisitedHouse house;
    house.change("v1", {set(Kind::point, "p1", {{"tap_w", 10.0}}), set(Kind::point, "p2", {{"heard", "buzz"}})});
    house.look("v2", "p2", 2.5);
    house.change("v2", {set(Kind::point, "p2", {{"tap_w", 2.5}}), set(Kind::point, "p1", {{"notes", "loose"}})});
    house.undo("v2");
    const Result<std::vector<VisitChanges>> all = changes_of_visits(house.session());
    REQUIRE(all.ok());
    REQUIRE(all->size() == 2);
    for (const VisitChanges& visit : *all) {
        const std::vector<VisitPoint> alone = house.met(visit.visit.text());
        REQUIRE(visit.points.size() == alone.size());
        for (std::size_t i = 0; i < alone.size(); ++i) {
            CHECK(visit.points[i].point == alone[i].point);
            const VisitWords words = words_of(house.session().job(), visit.points[i]);
            const VisitWords same = words_of(house.session().job(), alone[i]);
            CHECK(in_english(words.found) == in_english(same.found));
            CHECK(in_english(words.left) == in_english(same.left));
        }
    }
}

TEST_CASE("what was met and what was left, in words") {
    VisitedHouse house;
    house.look("v1", "p1", 10);
    house.change("v1",
                 {set(Kind::point, "p1", {{"tap_w", 2.5}, {"heard", "ok"}}),
                  set(Kind::point, "p2", {{"notes", "behind the beam"}}),
                  add(Kind::point, "p3",
                      {{"kind", "speaker"}, {"label", "C-3"}, {"fed_from", "p2"}, {"type", "t1"}, {"tap_w", 5.0}})});
    const std::vector<VisitPoint> met = house.met("v1");
    REQUIRE(met.size() == 3);
    const auto found = [&](const VisitPoint& point) {
        return in_english(words_of(house.session().job(), point).found);
    };
    const auto left = [&](const VisitPoint& point) { return in_english(words_of(house.session().job(), point).left); };
    CHECK(found(met[0]) == "10 W, as seen; Heard: not recorded");
    CHECK(left(met[0]) == "2.5 W; Heard: heard, sounds right");
    CHECK(found(met[1]) == "Notes: not recorded");  // its tap was neither looked at nor changed
    CHECK(left(met[1]) == "Notes: behind the beam");
    CHECK(found(met[2]) == "not there");
    CHECK(left(met[2]) == "5 W");
    house.change("v2", {remove(Kind::point, "p3")});
    const std::vector<VisitPoint> gone = house.met("v2");
    REQUIRE(gone.size() == 1);
    CHECK(found(gone[0]) == "5 W");
    CHECK(left(gone[0]) == "removed");
    house.change(
        "v2",
        {add(Kind::point, "p4",
             {{"kind", "speaker"}, {"label", "C-4"}, {"fed_from", "p2"}, {"type", "t1"}, {"planned_tap_w", 2.5}})});
    CHECK(left(house.met("v2").back()) == "2.5 W planned");
}
