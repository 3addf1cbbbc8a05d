// Making room where something stands in the way of any answer, and what is left as it is.
#include "core/plan/fit_solve.h"
#include "core/words/fit_text.h"
#include "tests/plan/fitting.h"

using namespace tapwright;
using namespace tapwright::test;

TEST_CASE("where the headroom is unknown there is no answer, but what to record") {
    const auto refused = [](const JobBuilder& job) {
        const Result<Fit> made = fitted(job, {.zone = Id("z"), .add = {{.type = Id("s")}}});
        REQUIRE_FALSE(made.ok());
        CHECK_FALSE(derive(job).zones[0].can_add);
        return in_english(made.refusal());
    };
    const JobBuilder whole = one_zone(70.7, 100).chain("p", 4, "z", 5);
    CHECK(derive(whole.job()).zones[0].can_add);
    CHECK(refused(JobBuilder(whole).set("zone", "z", "channel", Value())) ==
          "What may be added to z is unknown. Record the output that feeds z, then try again.");
    CHECK(
        refused(JobBuilder(whole).set("channel", "out", "amplifier", Value()).set("channel", "out", "rated_w", 60.0)) ==
        "What may be added to z is unknown. Record the amplifier that feeds z, then try again.");
    CHECK(refused(JobBuilder(whole).set("zone", "z", "limit_w", Value())) ==
          "What may be added to z is unknown. Record the limit of z, then try again.");
    CHECK(refused(JobBuilder(whole).set("zone", "z", "limit_w", Value()).set("amplifier", "amp", "rated_w", Value())) ==
          "What may be added to z is unknown. Record the limit of z and the rating of out, then try again.");
    JobBuilder two = whole;
    two.add("channel", "other", {{"amplifier", "amp"}, {"rated_w", 50.0}});
    CHECK(refused(two) == "What may be added to z is unknown. Record the rating of out, then try again.");
    two.set("channel", "out", "rated_w", 100.0);
    two.add("zone", "y", {{"channel", "out"}, {"limit_w", 100.0}})
        .speaker("q", "y", 5)
        .set("point", "q", "tap_w", Value());
    CHECK(refused(two) == "What may be added to z is unknown. Record every tap on out, then try again.");
    JobBuilder emergency = whole;
    emergency.set("zone", "z", "emergency", "yes");
    CHECK(says(refused(emergency), "z is part of a fire or emergency system"));
}

TEST_CASE("example G: what a valid reading shows bounds taps nobody knows; such loudspeakers are left as they are") {
    JobBuilder job = one_zone(100, 60, 200);
    job.set("channel", "out", "rated_w", 200.0);
    job.speaker("p1", "z", 6, {{"origin", "existing"}}).set("point", "p1", "tap_w", Value());
    job.read("r", "z", 250);
    REQUIRE(derive(job.job()).zones[0].can_add);
    CHECK(derive(job.job()).zones[0].can_add->value() == doctest::Approx(8));
    const FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 1, .tap = Watts(6)}}};
    const Result<Fit> made = fitted(job, request);
    REQUIRE(made.ok());
    REQUIRE_FALSE(made->options.empty());
    CHECK(made->options[0].changes.empty());
    CHECK(made->options[0].headroom->value() == doctest::Approx(2));
    CHECK(says(fit_text(job, request, *made), "1 loudspeaker has no tap recorded. The reading covers it"));
    CHECK(says(fit_text(job, request, *made),
               "The zone then carries 46 W: 6 W recorded and 40 W more as measured. 2 W spare."));
    CHECK_FALSE(fitted(job, {.zone = Id("z"), .add = {{.type = Id("s"), .tap = Watts(10)}}})->missing == std::nullopt);
}

TEST_CASE("equal new loudspeakers get one tap") {
    // 80 - 60 = 20 W for three: 6 W each makes 18, while 5, 5 and 10 W would fill it.
    JobBuilder job = one_zone(70.7, 100).chain("p", 6, "z", 10);
    const FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 3}}, .leave = [] {
                                 std::vector<Id> all;
                                 for (int i = 1; i <= 6; ++i) all.emplace_back("p" + std::to_string(i));
                                 return all;
                             }()};
    const Result<Fit> made = fitted(job, request);
    REQUIRE(made.ok());
    for (const FitOption& option : made->options) {
        CHECK(option.changes.empty());
        REQUIRE(option.added.size() == 3);
        for (const FitAdded& added : option.added) CHECK(added.tap == Watts(6));
        CHECK(option.load == Watts(78));
    }
}

TEST_CASE("a tap asked for that makes it impossible is said to be the reason, with what would fit") {
    // Left at the lowest taps: 16 - 10 = 6 W for two.
    JobBuilder job = one_zone(70.7, 20).chain("p", 10, "z", 5);
    job.set("speaker_type", "s", "taps_w", List{1.0, 3.0, 5.0, 6.0});
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 2, .tap = Watts(6)}}};
    Result<Fit> made = fitted(job, request);
    REQUIRE(made.ok());
    CHECK(made->missing == Watts(6));
    REQUIRE(made->offer);
    CHECK(made->offer->tap == Watts(3));
    CHECK(made->offer->count == 2);
    CHECK(in_english(statement_of(job, request, *made).text) ==
          "Does not fit: on the taps asked for it is 6 W over, even with the others on their lowest. 2 of s on 3 W "
          "would fit.");
    request.add[0].tap = made->offer->tap;
    CHECK(fitted(job, request)->options.size() == 3);
    // No lower tap is low enough for nine; six on 1 W are.
    request.add[0] = {.type = Id("s"), .count = 9, .tap = Watts(1)};
    made = fitted(job, request);
    REQUIRE(made->offer);
    CHECK(made->offer->count == 6);
    CHECK(made->offer->tap == Watts(1));
    // Not one fits.
    job.set("zone", "z", "limit_w", 10.0);
    made = fitted(job, request);
    CHECK_FALSE(made->offer);
    CHECK(says(fit_text(job, request, *made), "Use another zone, a larger amplifier or fewer loudspeakers."));
}

TEST_CASE("a loudspeaker to be left keeps its tap; what is noted and planned stands beside one to be re-tapped") {
    JobBuilder job = one_zone(70.7, 62.5).chain("p", 10, "z", 5);  // 50 W, no more
    job.set("point", "p1", "notes", "keep loud").set("point", "p1", "planned_tap_w", 7.5);
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .tap = Watts(2.5)}}, .aims = {Aim::fewest}};
    Result<Fit> made = fitted(job, request);
    REQUIRE(made->options[0].changes.size() == 1);
    CHECK(made->options[0].changes[0].point == Id("p1"));
    CHECK(says(fit_text(job, request, *made), "p1: planned on 7.5 W and noted \"keep loud\"."));
    request.leave = {Id("p1")};
    made = fitted(job, request);
    REQUIRE(made->options[0].changes.size() == 1);
    CHECK(made->options[0].changes[0].point != Id("p1"));
    CHECK_FALSE(says(fit_text(job, request, *made), "keep loud"));
    CHECK(says(fit_text(job, request, *made), "1 loudspeaker is left as it is, as asked."));
    request.leave = {Id("q")};
    CHECK(says(in_english(fitted(job, request).refusal()), "q is not a loudspeaker of z, so it cannot be left"));
}

namespace {

// Loudspeakers each of a type of its own, whose taps are those of no other.
JobBuilder all_different(int count, double limit_w) {
    JobBuilder job = one_zone(70.7, limit_w);
    job.set("channel", "out", "rated_w", 1e6).set("amplifier", "amp", "rated_w", 1e6);
    for (int i = 0; i < count; ++i) {
        const double more = 1 + i * 0.00713;
        List taps;
        for (const double tap : {0.63, 1.25, 2.5, 5.0, 10.0, 20.0}) taps.emplace_back(tap * more);
        const std::string type = "t" + std::to_string(i);
        job.add("speaker_type", type, {{"name", type}, {"taps_w", std::move(taps)}});
        job.speaker("p" + std::to_string(i), "z", 10 * more, {{"type", type}});
    }
    return job;
}

}  // namespace

TEST_CASE("a search cut short gives an answer that fits and is close to the best, and says it is not proven") {
    for (const double limit : {900.0, 1300.0, 1500.0}) {
        const JobBuilder job = all_different(80, limit);
        const Result<FitProblem> problem = fit_problem(job, derive(job), {.zone = Id("z")});
        REQUIRE(problem.ok());
        if (shortage_of(*problem)) continue;
        for (const Aim aim : {Aim::fewest, Aim::level, Aim::wanted}) {
            const FitPicks best = solve_fit(*problem, aim);
            const FitPicks cut = solve_fit(*problem, aim, {0, 200'000});
            CHECK(best.is_proven);
            CHECK_FALSE(cut.is_proven);
            CHECK(load_of(*problem, cut.picks) <= problem->nodes[0].most);
            double ladders[2] = {}, squares[2] = {};
            for (std::size_t slot = 0; slot < problem->slots.size(); ++slot)
                for (const int which : {0, 1}) {
                    const auto pick = (which == 0 ? best : cut).picks[slot];
                    const FitChoice& choice = problem->slots[slot].choices[pick];
                    ladders[which] += choice.touches ? 1 : 0;
                    squares[which] += choice.today_db * choice.today_db;
                }
            CAPTURE(limit);
            if (aim == Aim::fewest) {
                CHECK(ladders[1] >= ladders[0]);
                CHECK(ladders[1] <= ladders[0] + 1);
            } else {
                CHECK(squares[1] >= squares[0] * (1 - 1e-9));
                CHECK(squares[1] <= squares[0] * 1.02);
            }
        }
    }
}

TEST_CASE("with few different taps every answer is proven, and nothing is said") {
    const JobBuilder job = all_different(6, 55);
    const Result<Fit> made = fitted(job, {.zone = Id("z"), .add = {{.type = Id("t0")}}});
    REQUIRE(made.ok());
    for (const FitOption& option : made->options) CHECK(option.is_proven);
    for (const Message& remark : made->remarks) CHECK_FALSE(says(in_english(remark), "better one"));
}
