#include "core/session/session.h"

#include <doctest/doctest.h>

#include "core/exchange/job_json.h"
#include "core/session/changes.h"
#include "core/words/words.h"
#include "tests/session/people.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

Watts tap(const Session& session, const char* id) {
    return session.job().find<Point>(Id(id))->tap_w.value_or(Watts(-1));
}

}  // namespace

TEST_CASE("what was kept is there when the file is opened again") {
    const TemporaryFolder folder;
    Clock clock;
    std::string live;
    {
        Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
        REQUIRE(session);
        REQUIRE(session->request(command({set(Kind::point, "p1", {{"tap_w", 10.0}})}), ana, clock.next()));
        live = write_job(session->job());
    }
    const Result<Session> again = Session::open(folder.file("a.tapjob"), Access::read);
    REQUIRE(again);
    CHECK(write_job(again->job()) == live);
    CHECK(tap(*again, "p1") == Watts(10));
}

TEST_CASE("a reading is held against the record of its day, whatever is set afterwards") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    // Two loudspeakers on 5 W at 70.7 V: 70.7^2 / 10 = 499.8 ohm, without cable.
    REQUIRE(session->request(command({add(Kind::reading, "r", {{"at", "z1"}, {"quantity", "ohms"}, {"value", 495.0}})}),
                             ana, clock.next()));
    const std::optional<Ohms> then = session->job().all<Reading>().front().expected_ohm;
    REQUIRE(then);
    CHECK(then->value() == doctest::Approx(499.849).epsilon(1e-6));
    CHECK(session->derived().readings.front().verdict == Verdict::agrees);
    // Half the load: the reading of before is not half a load that nobody recorded.
    REQUIRE(
        session->request(command({set(Kind::point, "p1", {{"tap_w", 2.5}}), set(Kind::point, "p2", {{"tap_w", 2.5}})}),
                         ana, clock.next()));
    CHECK(session->derived().readings.front().verdict == Verdict::agrees);
    CHECK(session->derived().zones.front().margin.unrecorded == Watts(0));
    CHECK(session->derived().zones.front().ohms.value() == doctest::Approx(999.698).epsilon(1e-6));
    // How it was taken is corrected: then what it lets expect is worked out anew.
    REQUIRE(session->request(command({set(Kind::reading, "r", {{"hz", 1000.0}})}), ana, clock.next()));
    CHECK(session->job().all<Reading>().front().expected_ohm->value() == doctest::Approx(999.698).epsilon(1e-6));
}

TEST_CASE("a refused request changes nothing, on screen or on disk") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    const std::string before = write_job(session->job());
    CHECK_FALSE(
        session
            ->request(command({set(Kind::point, "p1", {{"tap_w", 10.0}}), set(Kind::point, "p2", {{"tap_w", 7.0}})}),
                      ana, clock.next())
            .ok());
    CHECK(write_job(session->job()) == before);
    CHECK(session->batch_count() == 1);
}

TEST_CASE("undo takes back one's own changes, redo brings them again") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    REQUIRE(session->request(command({set(Kind::point, "p1", {{"tap_w", 10.0}})}), ana, clock.next()));
    REQUIRE(session->request(command({set(Kind::point, "p2", {{"tap_w", 2.5}})}), ben, clock.next()));
    REQUIRE(session->undo(ana, clock.next()));
    CHECK(tap(*session, "p1") == Watts(5));
    CHECK(tap(*session, "p2") == Watts(2.5));
    REQUIRE(session->redo(ana, clock.next()));
    CHECK(tap(*session, "p1") == Watts(10));
    REQUIRE(session->undo(ben, clock.next()));
    CHECK(tap(*session, "p2") == Watts(5));
    CHECK_FALSE(session->undo(ben, clock.next()).ok());
}

TEST_CASE("a removed point comes back with all it had, in its place") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    const std::string before = write_job(session->job());
    REQUIRE(session->request(command(removal(session->job(), Kind::point, Id("p1"))), ana, clock.next()));
    CHECK(session->job().count(Kind::point) == 1);
    REQUIRE(session->undo(ana, clock.next()));
    CHECK(write_job(session->job()) == before);
}

TEST_CASE("a removed id is not given again") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    REQUIRE(session->request(command({remove(Kind::point, "p2")}), ana, clock.next()));
    const Result<Outcome> again =
        session->request(command({add(Kind::point, "p2", {{"kind", "splice"}, {"label", "S"}})}), ana, clock.next());
    REQUIRE_FALSE(again.ok());
    CHECK(in_english(again.refusal()).find("removed") != std::string::npos);
}

TEST_CASE("a proposal shows what would be and writes nothing") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    const Result<Proposal> proposal =
        session->propose(command({set(Kind::point, "p1", {{"tap_w", 10.0}})}), ana, clock.next());
    REQUIRE(proposal);
    CHECK(proposal->derived.zones[0].margin.load == Watts(15));
    CHECK(session->derived().zones[0].margin.load == Watts(10));
    CHECK(session->batch_count() == 1);
}

TEST_CASE("the history says who changed what") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    REQUIRE(session->request(command({set(Kind::point, "p1", {{"tap_w", 10.0}, {"heard", "ok"}})}), ben, clock.next()));
    REQUIRE(session->undo(ben, clock.next()));
    const Result<std::vector<HistoryLine>> lines = session->history(10, 10);
    REQUIRE(lines);
    REQUIRE(lines->size() == 3);
    CHECK((*lines)[0].is_undo);
    CHECK((*lines)[1].is_undone);
    CHECK((*lines)[1].person == "Ben");
    REQUIRE((*lines)[1].what.size() == 2);
    CHECK(in_english((*lines)[1].what[0]) == "C-1: Tap 10 W");
    CHECK(in_english((*lines)[1].what[1]) == "C-1: Heard heard, sounds right");
    CHECK(in_english((*lines)[2].what[0]) == "Job settings: Name Mill House");
    CHECK(in_english((*lines)[2].what[1]) == "Room Hall added");
}

TEST_CASE("what one command sets and then removes is gone, now and when the file is opened again") {
    const TemporaryFolder folder;
    Clock clock;
    {
        Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
        REQUIRE(session);
        const std::string before = write_job(session->job());
        REQUIRE(session->request(command({set(Kind::point, "p2", {{"tap_w", 10.0}, {"notes", "louder"}}),
                                          add(Kind::point, "n", {{"kind", "splice"}, {"label", "J"}}),
                                          remove(Kind::point, "n"), remove(Kind::point, "p2")}),
                                 ana, clock.next()));
        CHECK_FALSE(session->job().has(Kind::point, Id("p2")));
        CHECK_FALSE(session->job().has(Kind::point, Id("n")));
        CHECK(session->conflicts().empty());
        REQUIRE(session->undo(ana, clock.next()));
        CHECK(write_job(session->job()) == before);
        REQUIRE(session->redo(ana, clock.next()));
    }
    const Result<Session> again = Session::open(folder.file("a.tapjob"), Access::read);
    REQUIRE(again);
    CHECK_FALSE(again->job().has(Kind::point, Id("p2")));
    CHECK(again->verify().ok());
}

TEST_CASE("the revision changes with every kept change and with reopening, and with nothing else") {
    const TemporaryFolder folder;
    Clock clock;
    std::uint64_t last = 0;
    {
        Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
        REQUIRE(session);
        const std::uint64_t first = session->revision();
        REQUIRE(session->request(command({set(Kind::point, "p1", {{"tap_w", 5.0}})}), ana, clock.next()));
        CHECK_FALSE(session->request(command({set(Kind::point, "p1", {{"tap_w", 7.0}})}), ana, clock.next()).ok());
        CHECK(session->revision() == first);
        REQUIRE(session->request(command({set(Kind::point, "p1", {{"tap_w", 10.0}})}), ana, clock.next()));
        const std::uint64_t changed = session->revision();
        CHECK(changed != first);
        REQUIRE(session->undo(ana, clock.next()));
        last = session->revision();
        CHECK(last != changed);
        CHECK(last != first);
    }
    const Result<Session> again = Session::open(folder.file("a.tapjob"), Access::read);
    REQUIRE(again);
    CHECK(again->revision() != last);
}

TEST_CASE("undo and redo say what they did, and what they had to leave") {
    const TemporaryFolder folder;
    Clock clock;
    Result<Session> session = Session::create(folder.file("a.tapjob"), command(small_system()), ana, clock.next());
    REQUIRE(session);
    const auto undo = [&](const Author& author) {
        const Result<Batch> batch = session->undoable(author);
        REQUIRE(batch);
        const Result<Outcome> outcome = session->undo(author, clock.next());
        return outcome ? in_english(*undone(*session, *batch, *outcome)) : in_english(outcome.refusal());
    };
    REQUIRE(session->request(command({set(Kind::point, "p1", {{"tap_w", 10.0}})}), ana, clock.next()));
    CHECK(undo(ana) == "Undone: C-1: Tap 10 W (was 5 W).");
    const Result<Batch> redoable = session->redoable(ana);
    const Result<Outcome> again = session->redo(ana, clock.next());
    REQUIRE(again);
    CHECK(in_english(*redone(*session, *redoable, *again)) == "Redone: C-1: Tap 10 W (was 5 W).");

    REQUIRE(
        session->request(command({set(Kind::point, "p1", {{"tap_w", 2.5}, {"heard", "buzz"}})}), ana, clock.next()));
    REQUIRE(session->request(command({set(Kind::point, "p1", {{"tap_w", 5.0}})}), ben, clock.next()));
    CHECK(undo(ana) == "Undone, except Tap of C-1 (changed later by Ben).");
    CHECK_FALSE(session->job().find<Point>(Id("p1"))->heard.has_value());

    REQUIRE(session->request(command({set(Kind::point, "p2", {{"tap_w", 2.5}})}), ana, clock.next()));
    REQUIRE(session->request(command({set(Kind::point, "p2", {{"tap_w", 10.0}})}), ben, clock.next()));
    CHECK(undo(ana) == "This cannot be undone: Tap of C-2 (changed later by Ben). Change it by hand.");
    CHECK(in_english(session->undo({"Carl", ""}, clock.next()).refusal()) == "You have nothing to undo.");
}
