// Files with right hashes that no program of ours can have written. What is wrong in them stands nowhere: it was
// replaced, removed or outranked, and would come back by undo, redo or a choice. So it is refused at opening.
#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <map>

#include "core/session/changes.h"
#include "core/words/words.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

constexpr Writer ann = 0xaa;
constexpr Writer eve = 0xee;

Op op(std::string id, std::string field, std::string value, std::vector<OpAddress> parents = {},
      std::string kind = "zone") {
    return {std::move(kind), std::move(id), std::move(field), std::move(value), std::move(parents)};
}

struct Step {
    Writer writer = ann;
    std::vector<Op> ops;
    std::optional<BatchAddress> undoes;
};

// Makes a job of one zone by Ann, and then these steps, each hashed as it should be.
std::string forged(const TemporaryFolder& folder, const std::vector<Step>& steps) {
    static int count = 0;
    const std::string path = folder.file("forged" + std::to_string(++count) + ".tapjob");
    const auto batch_of = [](const Step& step, std::int64_t clock) {
        Batch batch;
        batch.writer = step.writer;
        batch.clock = clock;
        batch.person = step.writer == ann ? "Ann" : "Eve";
        batch.time = "2026-03-02T08:00:00Z";
        batch.undoes = step.undoes;
        batch.ops = step.ops;
        return batch;
    };
    const Step first{ann, {op("job", "name", "\"x\"", {}, "job"), op("z", "", "true"), op("z", "name", "\"Z\"")}, {}};
    auto created = Journal::create(path, batch_of(first, 1));
    REQUIRE(created.ok());
    std::vector<Batch> more;
    std::map<Writer, std::uint32_t> last{{ann, 1}};
    Digest before = created->first.hash;
    for (const Step& step : steps) {
        Batch batch = batch_of(step, static_cast<std::int64_t>(more.size()) + 2);
        batch.n = ++last[step.writer];
        batch.prev = {before};
        batch.hash = hash_of(batch);
        before = batch.hash;
        more.push_back(batch);
    }
    REQUIRE(created->journal.take(more).ok());
    return path;
}

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

// Why the file is refused, for reading and for writing alike, and unharmed; or "opened".
std::string outcome(const std::string& path) {
    const std::string before = bytes_of(path);
    std::string said;
    for (const Access access : {Access::read, Access::write}) {
        const Result<Session> session = Session::open(path, access);
        const std::string now = session ? "opened" : in_english(session.refusal());
        CHECK((said.empty() || said == now));
        said = now;
    }
    CHECK(bytes_of(path) == before);
    return said;
}

void check_refused(const std::string& path, const std::string& place) {
    const std::string said = outcome(path);
    CHECK_MESSAGE(said.starts_with("This job file cannot be read at " + place + ". "), said);
    CHECK_MESSAGE(said.ends_with(" Another program wrote it; nothing was changed."), said);
}

}  // namespace

TEST_CASE("a_value_out_of_form_that_was_replaced_is_refused_at_opening_not_at_undo") {
    const TemporaryFolder folder;
    const auto replaced = [&](const std::string& value) {
        return forged(folder,
                      {{eve, {op("z", "limit_w", value)}, {}}, {ann, {op("z", "limit_w", "50", {{eve, 1, 0}})}, {}}});
    };
    for (const char* value : {"\"garbage\"", "-5", "{", "1e999", "true", "[1]", "\"\xC3\xA9\"", "1 2"})
        check_refused(replaced(value), "zone/z/limit_w");

    const std::string good = replaced("60");
    REQUIRE(outcome(good) == "opened");
    Clock clock;
    Result<Session> session = Session::open(good, Access::write);
    REQUIRE(session.ok());
    REQUIRE(session->undo({"Ann", ""}, clock.next()).ok());
    CHECK(session->job().find<Zone>(Id("z"))->limit_w->value() == 60);
}

TEST_CASE("a_value_replaced_within_its_own_change_is_looked_at_too") {
    const TemporaryFolder folder;
    const auto twice = [&](const std::string& value) {
        return forged(folder, {{eve, {op("z", "limit_w", value), op("z", "limit_w", "50", {{eve, 1, 0}})}, {}}});
    };
    check_refused(twice("\"garbage\""), "zone/z/limit_w");
    CHECK(outcome(twice("60")) == "opened");
}

TEST_CASE("a_record_of_no_kind_is_refused_though_it_was_removed") {
    const TemporaryFolder folder;
    const auto removed = [&](const std::string& kind, const std::string& id) {
        return forged(folder, {{eve, {op(id, "", "true", {}, kind), op(id, "name", "\"n\"", {}, kind)}, {}},
                               {ann, {op(id, "", "null", {{eve, 1, 0}, {eve, 1, 1}}, kind)}, {}}});
    };
    check_refused(removed("bogus", "q"), "bogus/q");
    check_refused(removed("job", "second"), "job/second");
    CHECK(outcome(removed("room", "r")) == "opened");
}

TEST_CASE("a_second_job_record_is_refused") {
    const TemporaryFolder folder;
    check_refused(forged(folder, {{eve, {op("second", "name", "\"n\"", {}, "job")}, {}}}), "job/second");
}

TEST_CASE("fields_of_a_removed_record_are_looked_at") {
    const TemporaryFolder folder;
    const auto removed = [&](const std::string& field, const std::string& value) {
        return forged(folder, {{eve, {op("r", "", "true", {}, "room"), op("r", field, value, {}, "room")}, {}},
                               {ann, {op("r", "", "null", {{eve, 1, 0}, {eve, 1, 1}}, "room")}, {}}});
    };
    check_refused(removed("name", "5"), "room/r/name");
    check_refused(removed("no_such_field", "5"), "room/r/no_such_field");
    CHECK(outcome(removed("name", "\"Hall\"")) == "opened");
}

TEST_CASE("a_value_that_lost_a_conflict_is_looked_at_for_it_may_be_chosen") {
    const TemporaryFolder folder;
    const auto outranked = [&](const std::string& value) {
        return forged(folder, {{eve, {op("z", "limit_w", value)}, {}}, {ann, {op("z", "limit_w", "50")}, {}}});
    };
    check_refused(outranked("\"garbage\""), "zone/z/limit_w");
    CHECK(outcome(outranked("60")) == "opened");
}

TEST_CASE("a_field_nobody_knows_is_refused_though_it_was_only_ever_cleared") {
    const TemporaryFolder folder;
    check_refused(forged(folder, {{eve, {op("z", "no_such_field", "null")}, {}}}), "zone/z/no_such_field");
}

TEST_CASE("whatever_a_file_is_accepted_with_can_be_undone_and_redone_to_its_beginning") {
    const TemporaryFolder folder;
    const std::string path =
        forged(folder, {{ann, {op("z", "limit_w", "60")}, {}},
                        {ann, {op("z", "limit_w", "50", {{ann, 2, 0}})}, {}},
                        {ann, {op("z", "limit_w", "60", {{ann, 3, 0}})}, BatchAddress{ann, 3}},
                        {ann, {op("r", "", "true", {}, "room"), op("r", "name", "\"Hall\"", {}, "room")}, {}},
                        {ann, {op("r", "", "null", {{ann, 5, 0}, {ann, 5, 1}}, "room")}, {}},
                        {ann, {op("z", "limit_w", "null", {{ann, 4, 0}})}, {}}});
    Clock clock;
    Result<Session> session = Session::open(path, Access::write);
    REQUIRE_MESSAGE(session.ok(), (session.ok() ? std::string() : in_english(session.refusal())));
    const Author author{"Ann", ""};
    int undone = 0;
    while (session->can_undo(author) && session->undo(author, clock.next()).ok()) ++undone;
    CHECK(undone >= 4);
    int redone = 0;
    while (session->can_redo(author) && session->redo(author, clock.next()).ok()) ++redone;
    CHECK(redone == undone);
    { const Session closed = std::move(*session); }
    CHECK(outcome(path) == "opened");
}

// A removal that does not name all there is of a record leaves it, unmade; taking the removal back makes it.
TEST_CASE("a_record_that_is_made_after_it_was_changed_is_listed_where_the_next_opening_lists_it") {
    const TemporaryFolder folder;
    const std::string path = forged(
        folder,
        {{ann, {op("c1", "name", "\"First\"", {}, "control")}, {}},
         {ann, {op("c2", "name", "\"Second\"", {}, "control")}, {}},
         {ann, {op("c1", "", "null", {{ann, 2, 0}}, "control"), op("c1", "notes", "\"n\"", {}, "control")}, {}}});
    const auto order = [](const Session& session) {
        std::vector<std::string> ids;
        for (const Control& control : session.job().all<Control>()) ids.push_back(control.id.text());
        return ids;
    };
    std::vector<std::string> live;
    {
        Clock clock;
        Result<Session> session = Session::open(path, Access::write);
        REQUIRE(session.ok());
        CHECK(order(*session) == std::vector<std::string>{"c1", "c2"});
        REQUIRE(session->undo({"Ann", ""}, clock.next()).ok());
        live = order(*session);
    }
    const Result<Session> again = Session::open(path, Access::read);
    REQUIRE(again.ok());
    CHECK(order(*again) == live);
    CHECK(live == std::vector<std::string>{"c2", "c1"});
}

TEST_CASE("a_job_whose_own_record_is_taken_away_says_nothing_now_and_after_the_next_opening") {
    const TemporaryFolder folder;
    // Its name is part of the first batch; a removal that names it covers it.
    const std::string path = forged(folder, {{ann, {op("job", "", "null", {{ann, 1, 0}}, "job")}, {}}});
    Clock clock;
    std::string live;
    {
        Result<Session> session = Session::open(path, Access::write);
        REQUIRE_MESSAGE(session.ok(), (session.ok() ? std::string() : in_english(session.refusal())));
        REQUIRE(session->undo({"Ann", ""}, clock.next()).ok());
        CHECK(session->job().info().name == "x");
        REQUIRE(session->redo({"Ann", ""}, clock.next()).ok());
        live = session->job().info().name.value_or("");
    }
    const Result<Session> again = Session::open(path, Access::read);
    REQUIRE(again.ok());
    CHECK(again->job().info().name.value_or("") == live);
    CHECK(live.empty());
}

TEST_CASE("an_op_of_another_field_named_as_replaced_is_not_told_as_the_value_before") {
    const TemporaryFolder folder;
    // Of the first batch: op 0 is the job's name, op 2 the zone's.
    const std::string path = forged(folder, {{ann, {op("z", "limit_w", "40", {{ann, 1, 2}})}, {}}});
    Result<Session> session = Session::open(path, Access::write);
    REQUIRE(session);
    const Result<Batch> batch = session->undoable({"Ann", ""});
    REQUIRE(batch);
    CHECK(in_english(*own_change(*session, *batch)) == "Z: Limit 40 W");
}
