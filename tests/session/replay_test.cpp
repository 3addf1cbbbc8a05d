// Properties of the whole road: after any sequence of commands, undos and redos the live job, the replayed job and the
// exported and imported job are one and the same.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "core/exchange/job_json.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// A random wish about a small system; many of them are refused, which is part of the game.
Command random_wish(const Job& job) {
    const auto some_point = [&]() -> std::string {
        const auto points = job.all<Point>();
        return points.empty() ? "p1" : points[*rc::gen::inRange<std::size_t>(0, points.size())].id.text();
    };
    const double tap = *rc::gen::element(2.5, 5.0, 10.0, 7.0);
    switch (*rc::gen::inRange(0, 7)) {
        case 0:
            return command({set(Kind::point, some_point(), {{"tap_w", tap}})});
        case 1:
            return command(
                {set(Kind::point, some_point(),
                     {{"tap_w", Value()}, {"notes", *rc::gen::arbitrary<bool>() ? Value("höher") : Value("")}})});
        case 2:
            return command({add(
                Kind::point, "",
                {{"kind", "speaker"}, {"label", "N"}, {"type", "t1"}, {"tap_w", tap}, {"fed_from", some_point()}})});
        case 3:
            return command(removal(job, Kind::point, Id(some_point())));
        case 4:
            return command({set(Kind::point, some_point(), {{"fed_from", some_point()}})});
        case 5:
            return command({set(Kind::speaker_type, "t1",
                                {{"taps_w", List{2.5, 5.0, 10.0, tap}}, {"tap_marks", Map{{"5", "red"}}}})});
        default:
            return command({add(Kind::snag, "", {{"about", some_point()}, {"text", "buzz"}})});
    }
}

}  // namespace

TEST_CASE("replay equals the live state after any sequence of commands, undos and redos") {
    CHECK(rc::check([] {
        const TemporaryFolder folder;
        Clock clock;
        const Author people[] = {{"Ana", ""}, {"Ben", ""}};
        std::string live;
        {
            Result<Session> session =
                Session::create(folder.file("a.tapjob"), command(small_system()), people[0], clock.next());
            RC_ASSERT(session.ok());
            const int steps = *rc::gen::inRange(1, 25);
            for (int i = 0; i < steps; ++i) {
                const Author& who = people[*rc::gen::inRange(0, 2)];
                const int kind = *rc::gen::inRange(0, 6);
                const std::string before = write_job(session->job());
                const Result<Outcome> outcome = kind == 0 ? session->undo(who, clock.next())
                                                : kind == 1
                                                    ? session->redo(who, clock.next())
                                                    : session->request(random_wish(session->job()), who, clock.next());
                if (!outcome) RC_ASSERT(write_job(session->job()) == before);
            }
            live = write_job(session->job());
        }
        const Result<Session> again = Session::open(folder.file("a.tapjob"), Access::read);
        RC_ASSERT(again.ok());
        RC_ASSERT(write_job(again->job()) == live);
        RC_ASSERT(again->verify().ok());
    }));
}
