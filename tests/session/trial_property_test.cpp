// A trial made real and then undone leaves the job as it was, whatever it holds; and what it was shown to lead to is
// what it leads to.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>

#include "core/exchange/job_json.h"
#include "core/plan/trial.h"
#include "tests/session/people.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Six loudspeakers in a chain behind an attenuator.
ChangeList chained_system() {
    ChangeList changes = small_system();
    changes.push_back(
        add(Kind::attenuator_type, "at", {{"name", "Knob"}, {"rated_w", 20.0}, {"steps_db", List{0.0, -6.0}}}));
    changes.push_back(
        add(Kind::point, "w", {{"kind", "attenuator"}, {"label", "V"}, {"fed_from", "p2"}, {"type", "at"}}));
    std::string feed = "w";
    for (const char* id : {"p3", "p4", "p5", "p6"}) {
        changes.push_back(add(Kind::point, id,
                              {{"kind", "speaker"},
                               {"label", id},
                               {"fed_from", feed},
                               {"type", "t1"},
                               {"tap_w", 2.5},
                               {"length_m", 4.0}}));
        feed = id;
    }
    return changes;
}

Value random_change() {
    static const std::vector<std::string> points{"p1", "p2", "w", "p3", "p4", "p5", "p6"};
    const std::string point = *rc::gen::elementOf(points);
    const auto set_point = [&](Map fields) {
        return Value(Map{{"op", "set"}, {"kind", "point"}, {"id", point}, {"fields", std::move(fields)}});
    };
    switch (*rc::gen::inRange(0, 6)) {
        case 0:
            return set_point({{"tap_w", *rc::gen::element(2.5, 5.0, 10.0, 7.0)}});
        case 1:
            return set_point({{"fed_from", *rc::gen::elementOf(points)}});
        case 2:
            return Value(Map{{"op", "add"},
                             {"kind", "point"},
                             {"id", "n" + std::to_string(*rc::gen::inRange(0, 4))},
                             {"fields", Map{{"kind", "speaker"},
                                            {"label", "N"},
                                            {"type", "t1"},
                                            {"fed_from", point},
                                            {"planned_tap_w", 5.0}}}});
        case 3:
            return Value(Map{{"op", "set"},
                             {"kind", "amplifier"},
                             {"id", "a1"},
                             {"fields", Map{{"rated_w", *rc::gen::element(20.0, 500.0)}}}});
        default:
            return Value(Map{{"op", "remove"}, {"kind", "point"}, {"id", point}});
    }
}

List random_changes() {
    List changes;
    const int count = *rc::gen::inRange(1, 6);
    for (int i = 0; i < count; ++i) changes.push_back(random_change());
    return changes;
}

}  // namespace

TEST_CASE("a trial made real then undone leaves the job as it was; trying it writes nothing and foretells it") {
    std::size_t made_real = 0;
    CHECK(rc::check([&] {
        const TemporaryFolder folder;
        Clock clock;
        std::string before;
        {
            Result<Session> session =
                Session::create(folder.file("a.tapjob"), command(chained_system()), ana, clock.next());
            RC_ASSERT(session.ok());
            const Result<Outcome> kept =
                session->request(command({add(Kind::trial, "tr", {{"name", "More"}, {"changes", random_changes()}})}),
                                 ana, clock.next());
            RC_PRE(kept.ok());
            before = write_job(session->job());
            const std::size_t batches = session->batch_count();
            const Result<ChangeList> changes = make_real(session->job(), Id("tr"));
            RC_ASSERT(changes.ok());
            const Stamp stamp = clock.next();
            const Result<Proposal> tried = session->propose(command(*changes), ana, stamp);
            RC_ASSERT(session->batch_count() == batches);
            RC_ASSERT(write_job(session->job()) == before);
            const Result<Outcome> made = session->request(command(*changes), ana, stamp);
            RC_ASSERT(made.ok() == tried.ok());
            RC_CLASSIFY(made.ok(), "made real");
            if (!made) {
                RC_ASSERT(write_job(session->job()) == before);
                return;
            }
            ++made_real;
            // One batch, and the trial's record went with it.
            RC_ASSERT(session->batch_count() == batches + 1);
            RC_ASSERT(session->job().all<Trial>().empty());
            RC_ASSERT(write_job(session->job()) == write_job(tried->job));
            RC_ASSERT(compare(tried->job, tried->derived, session->job(), session->derived()).findings.empty());
            RC_ASSERT(session->undo(ana, clock.next()).ok());
            RC_ASSERT(write_job(session->job()) == before);
        }
        const Result<Session> again = Session::open(folder.file("a.tapjob"), Access::read);
        RC_ASSERT(again.ok());
        RC_ASSERT(write_job(again->job()) == before);
        RC_ASSERT(again->verify().ok());
    }));
    CHECK(made_real > 10);
}
