// Making room: worked by hand, and against every combination there is on random small zones.
#include <cmath>
#include <random>

#include "core/findings/findings.h"
#include "core/job/relations.h"
#include "core/plan/fit_solve.h"
#include "tests/plan/fitting.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// ---- every combination there is ----

struct Best {
    bool found = false;
    double first = 1e300;   // ladders, or the worst dB
    double second = 1e300;  // the worst dB, or the sum of squares
    double third = 1e300;   // for `fewest`: the sum of squares
    bool takes(double a, double b, double c) {
        constexpr double same = 1e-7;
        const bool better = a < first - same || (std::abs(a - first) <= same &&
                                                 (b < second - same || (std::abs(b - second) <= same && c < third)));
        if (found && !better) return false;
        found = true;
        first = a;
        second = b;
        third = c;
        return true;
    }
};

// Ladders, worst and sum of squares of one combination.
struct Score {
    double ladders = 0, worst = 0, squares = 0;
};
Score score_of(const FitProblem& problem, const Picks& picks, Aim aim) {
    Score score;
    for (std::size_t i = 0; i < picks.size(); ++i) {
        const FitChoice& choice = problem.slots[i].choices[picks[i]];
        const double off = aim == Aim::wanted ? choice.wanted_db : choice.today_db;
        score.ladders += choice.touches;
        score.worst = std::max(score.worst, std::abs(off));
        score.squares += off * off * static_cast<double>(problem.slots[i].count);
    }
    return score;
}

// The job with these picks made real, and whether everything in it is within what the trade allows.
bool is_within_limits(const JobBuilder& job, const FitProblem& problem, const Picks& picks) {
    JobBuilder tried = job;
    for (std::size_t i = 0; i < picks.size(); ++i) {
        const FitSlot& slot = problem.slots[i];
        const double tap = slot.choices[picks[i]].marked.value();
        if (slot.point != nowhere) tried.set("point", job.job().all<Point>()[slot.point].id.text(), "tap_w", tap);
        for (std::size_t n = 0; slot.point == nowhere && n < slot.count; ++n)
            tried.speaker("new" + std::to_string(i) + std::to_string(n), "z", tap);
    }
    const Derived derived = derive(tried);
    if (derived.zones[0].margin.headroom && *derived.zones[0].margin.headroom < Watts(-1e-6)) return false;
    if (derived.amplifiers[0].margin.headroom < Watts(-1e-6)) return false;
    for (const PointOnLine& point : derived.points)
        if (point.rating && point.behind > *point.rating + Watts(1e-6)) return false;
    return true;
}

void take(Best& best, const Score& score, Aim aim) {
    if (aim == Aim::fewest)
        best.takes(score.ladders, score.worst, score.squares);
    else
        best.takes(score.worst, score.squares, 0);
}

template <class Visit>
void each_combination(const FitProblem& problem, Visit&& visit) {
    Picks picks(problem.slots.size(), 0);
    while (true) {
        visit(picks);
        std::size_t i = 0;
        while (i < picks.size() && ++picks[i] == problem.slots[i].choices.size()) picks[i++] = 0;
        if (i == picks.size()) return;
    }
}

// A zone of up to five loudspeakers of two types, some behind attenuators, one of them within another.
JobBuilder random_zone(std::mt19937& random) {
    const auto pick = [&](std::vector<double> list) { return list[random() % list.size()]; };
    JobBuilder job = one_zone(70.7, pick({3, 8, 12, 20, 30, 45}), pick({4, 10, 20, 60}));
    job.add("speaker_type", "odd", {{"taps_w", List{0.63, 1.25, 2.5}}, {"taps_v", pick({70.7, 100, 50})}});
    job.set("speaker_type", "s", "taps_w", List{1.0, 2.5, 6.0, 10.0}).set("speaker_type", "s", "sens_db", 90.0);
    job.set("speaker_type", "s", "cone_deg", 90.0).set("speaker_type", "s", "max_w", pick({7, 20}));
    job.add("room", "r", {{"length_m", 6.0}, {"width_m", 5.0}, {"height_m", 3.0}, {"wanted_dba", pick({80, 85, 92})}});
    job.add("attenuator_type", "a", {{"rated_w", pick({2, 4, 10, 25})}, {"steps_db", List{0.0, -6.0}}});
    std::vector<std::string> feeds{"z"};
    for (int i = 0; i < 2; ++i) {
        if (random() % 2) continue;
        const std::string id = "w" + std::to_string(i);
        job.add("point", id,
                {{"kind", "attenuator"},
                 {"type", "a"},
                 {"fed_from", feeds[random() % feeds.size()]},
                 {"feed_side", random() % 2 ? "in" : "out"}});
        feeds.push_back(id);
    }
    const int count = 1 + static_cast<int>(random() % 5);
    for (int i = 0; i < count; ++i) {
        const bool odd = random() % 3 == 0;
        const std::string id = "p" + std::to_string(i);
        job.speaker(id, feeds[random() % feeds.size()], odd ? pick({0.63, 1.25, 2.5}) : pick({1, 2.5, 6, 10}),
                    {{"feed_side", random() % 2 ? "in" : "out"}});
        if (odd) job.set("point", id, "type", "odd");
        if (random() % 2) job.set("point", id, "room", "r");
        if (random() % 2) feeds.push_back(id);
    }
    return job;
}

}  // namespace

TEST_CASE("exact: equal to trying every combination, on 500 random small zones for each aim") {
    std::mt19937 random(20260101);
    int feasible = 0;
    for (int round = 0; round < 500; ++round) {
        CAPTURE(round);
        const JobBuilder job = random_zone(random);
        FitRequest request{.zone = Id("z")};
        if (round % 3 == 0) request.add = {{.type = Id("s"), .count = 1 + random() % 3}};
        const Result<FitProblem> problem = fit_problem(job, derive(job), request);
        REQUIRE(problem.ok());
        Best best[3];
        each_combination(*problem, [&](const Picks& picks) {
            if (!is_within_limits(job, *problem, picks)) return;
            for (const Aim aim : {Aim::fewest, Aim::level, Aim::wanted})
                take(best[static_cast<int>(aim)], score_of(*problem, picks, aim), aim);
        });
        REQUIRE(best[0].found == !shortage_of(*problem));
        if (!best[0].found) continue;
        ++feasible;
        for (const Aim aim : {Aim::fewest, Aim::level, Aim::wanted}) {
            const auto [picks, is_proven] = solve_fit(*problem, aim);
            CHECK(is_proven);
            CHECK(is_within_limits(job, *problem, picks));
            const Score score = score_of(*problem, picks, aim);
            const Best& expected = best[static_cast<int>(aim)];
            if (aim == Aim::fewest) {
                CHECK(score.ladders == expected.first);
                CHECK(score.worst == doctest::Approx(expected.second).epsilon(1e-9));
                CHECK(score.squares == doctest::Approx(expected.third).epsilon(1e-7));
            } else {
                CHECK(score.worst == doctest::Approx(expected.first).epsilon(1e-9));
                CHECK(score.squares == doctest::Approx(expected.second).epsilon(1e-7));
            }
        }
    }
    // Zones that fit and zones that do not are both among them.
    CHECK(feasible > 200);
    CHECK(feasible < 500);
}

TEST_CASE("by hand: ten on 5 W fill 50 of 80 W; four more of 10 W want 10 W back (common practice, no single source)") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 10, "z", 5);
    job.set("amplifier", "amp", "rated_w", 500.0);
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 4, .tap = Watts(10)}}};
    const Result<Fit> made = fitted(job, request);
    REQUIRE(made.ok());
    REQUIRE(made->options.size() == 3);
    // Fewest: 50 + 40 - 80 = 10 W are missing; 5 to 1 W frees 4, so three are enough, at -7 dB; 5 to 2.5 W would take
    // four.
    const FitOption& fewest = made->options[0];
    CHECK(fewest.visits == 3);
    CHECK(fewest.worst.value() == doctest::Approx(-6.9897));
    // Level: nobody more than 3 dB down, so four from 5 to 2.5 W.
    const FitOption& level = made->options[1];
    CHECK(level.visits == 4);
    CHECK(level.worst.value() == doctest::Approx(-3.0103));
    CHECK(level.load == Watts(80));
    CHECK(level.headroom == Watts(0));
    CHECK(level.added.size() == 4);
    // What is written made real: nothing in it is into its reserve.
    JobBuilder after = job;
    int number = 0;
    for (const Change& change : changes_of(job, request, level)) {
        if (change.op == ChangeOp::add)
            after.add("point", "n" + std::to_string(++number), change.fields);
        else
            for (const auto& [key, value] : change.fields) after.set("point", change.id.text(), key, value);
    }
    CHECK(broken_relations(after).empty());
    CHECK(derive(after).zones[0].margin.load == Watts(80));
    CHECK_FALSE(has_finding(derive(after), "zone_into_reserve"));
    CHECK(says(fit_text(job, request, *made),
               "4 loudspeakers to re-tap. At most 3.01 dB quieter than today. Zone load 80 W, nothing spare."));
}

TEST_CASE("taps that reach the limit exactly fit, whatever their sum rounds to") {
    JobBuilder job = one_zone(100, 60, 60);
    job.info("reserve_pct", 0.0).set("speaker_type", "s", "taps_w", List{1.2}).set("speaker_type", "s", "taps_v", 99.9);
    // What 50 of 1.2 W marked for 99.9 V draw on 100 V: no decimal.
    job.set("zone", "z", "limit_w", 60 * (100 / 99.9) * (100 / 99.9));
    job.set("amplifier", "amp", "rated_w", 1000.0);
    job.chain("p", 40, "z", 1.2);
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 10, .tap = Watts(1.2)}}};
    const auto made = fitted(job, request);
    REQUIRE(made);
    CHECK_FALSE(made->missing);
    REQUIRE_FALSE(made->options.empty());
    CHECK(made->options[0].can_add.value() == doctest::Approx(0).epsilon(1e-6));
    REQUIRE(made->options[0].headroom);
    CHECK_FALSE(*made->options[0].headroom < Watts(0));
    request.add[0].count = 11;
    const auto one_more = fitted(job, request);
    REQUIRE(one_more);
    CHECK(one_more->missing);
}

TEST_CASE("an added loudspeaker without a tap gets the one that is commonest beside it, where there is room") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 10, "z", 5);
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 2}}};
    Result<Fit> made = fitted(job, request);
    CHECK(made->options[1].changes.empty());
    CHECK(made->options[1].added[1].tap == Watts(5));
    job.set("zone", "z", "limit_w", 70.0);  // 56 W: 6 W for the two
    made = fitted(job, request);
    CHECK(made->options[0].visits == 0);
    CHECK(made->options[0].added[0].tap == Watts(2.5));
}

TEST_CASE("what a reading shows beyond the record is kept free, and so is the amplifier's reserve") {
    JobBuilder job = one_zone(100, 100, 500).chain("p", 6, "z", 6).read("r", "z", 185.2);  // 18 W unrecorded
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 1, .tap = Watts(30)}}};
    // 80 - 18 - 30 = 32 W for six that draw 36.
    Result<Fit> made = fitted(job, request);
    CHECK(made->options[0].visits == 1);
    CHECK(made->options[0].load <= Watts(62.01));
    CHECK(made->options[0].unrecorded.value() == doctest::Approx(18).epsilon(1e-3));
    CHECK(says(fit_text(job, request, *made), "The zone then carries 79 W: 61 W recorded and 18 W more as measured."));
    job.set("amplifier", "amp", "rated_w", 75.0);  // 60 - 18 - 30 = 12 W
    made = fitted(job, request);
    CHECK(made->options[0].load <= Watts(42.01));
}

TEST_CASE("an attenuator's rating is held, and what it cannot carry is named") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"rated_w", 20.0}, {"steps_db", List{0.0, -6.0}}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}}).chain("p", 4, "w", 5);
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 1, .tap = Watts(5), .fed_from = Id("w")}}};
    Result<Fit> made = fitted(job, request);
    CHECK(made->options[1].visits == 2);  // 5 W too much: two to 2.5 W
    request.add[0].tap = Watts(30);
    made = fitted(job, request);
    CHECK(made->options.empty());
    CHECK(made->missing == Watts(14));  // 30 + 4 x 1 - 20
    CHECK(made->missing_at == Id("w"));
    CHECK(made->misfit == Misfit::attenuator_rating);
    CHECK(in_english(statement_of(job, request, *made).text) ==
          "Does not fit behind attenuator w: on the taps asked for it is 14 W over its rating, even with the others on "
          "their lowest. 1 of s on 15 W would fit.");
    job.set("attenuator_type", "a", "rated_w", Value());
    CHECK(says(fit_text(job, {.zone = Id("z")}, *fitted(job, {.zone = Id("z")})),
               "Rating of attenuator w unknown: nothing was added behind it."));
}

TEST_CASE("a level no tap reaches is said with the loudspeaker and its room, not blamed on the choice") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 4, "z", 5);
    job.set("speaker_type", "s", "sens_db", 90.0).set("speaker_type", "s", "cone_deg", 90.0);
    // 1.4 m below the ceiling 1 W gives 87.08 dB, and 1 W is the lowest tap.
    job.add("room", "r", {{"length_m", 6.0}, {"width_m", 5.0}, {"height_m", 3.0}, {"wanted_dba", 62.0}});
    job.set("point", "p3", "room", "r");
    const FitRequest request{.zone = Id("z")};
    Result<Fit> made = fitted(job, request);
    const FitOption& wanted = made->options[2];
    CHECK(wanted.worst.value() == doctest::Approx(90 - 20 * std::log10(1.4) - 62));
    CHECK(wanted.worst_at == Id("p3"));
    CHECK(wanted.worst_is_given);
    CHECK(wanted.changes.size() == 1);  // the others stay as they are
    CHECK(wanted.is_out_of_reach);
    CHECK_FALSE(made->options[0].is_out_of_reach);
    std::string text = fit_text(job, request, *made);
    CHECK(says(text,
               "p3 in r is 25.1 dB too loud even on its lowest tap. Turn down its volume control or the amplifier, or "
               "check the room's wanted level."));
    job.set("room", "r", "wanted_dba", 120.0);
    CHECK(says(fit_text(job, request, *fitted(job, request)), "p3 in r is 15.1 dB too quiet even on its highest tap."));
    // A level some tap reaches to within half a step needs no such words.
    job.set("room", "r", "wanted_dba", 94.0);
    made = fitted(job, request);
    text = fit_text(job, request, *made);
    CHECK_FALSE(made->options[2].is_out_of_reach);
    CHECK_FALSE(says(text, "too loud"));
    // The three in no room are held to today's level, and that is said.
    CHECK(says(text, "3 loudspeakers have no wanted level; today's level was used."));
    CHECK_FALSE(says(
        fit_text(job, {.zone = Id("z"), .aims = {Aim::level}}, *fitted(job, {.zone = Id("z"), .aims = {Aim::level}})),
        "no wanted level"));
}

TEST_CASE("a plan that is not fitted yet is changed on paper: nobody has to re-tap") {
    // 25 W of 25 W: one more on 5 W, when p1 hangs and p5 is only planned.
    JobBuilder job = one_zone(70.7, 31.25).chain("p", 5, "z", 5);
    job.set("point", "p5", "tap_w", Value())
        .set("point", "p5", "planned_tap_w", 5.0)
        .set("point", "p5", "state", "planned");
    const FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .tap = Watts(2.5)}}, .aims = {Aim::fewest}};
    const Result<Fit> made = fitted(job, request);
    const FitOption& option = made->options[0];
    CHECK(option.visits == 0);
    REQUIRE(option.changes.size() == 1);
    CHECK(option.changes[0].point == Id("p5"));
    CHECK(says(fit_text(job, request, *made), "0 loudspeakers to re-tap."));
    CHECK(changes_of(job, request, option)[0].fields[0].first == "planned_tap_w");
}

TEST_CASE("what is added hangs at the end of its room's branch, one behind the other, with the next labels") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("room", "r").add("room", "s1");
    job.speaker("p1", "z", 5, {{"label", "C-7"}, {"room", "r"}})
        .speaker("p2", "p1", 5, {{"label", "C-8"}, {"room", "r"}});
    job.speaker("p3", "p1", 5, {{"label", "X"}, {"room", "s1"}});
    const Derived derived = derive(job.job());
    CHECK(branch_end(job, derived, Id("z"), Id("r")) == Id("p2"));
    CHECK(branch_end(job, derived, Id("z"), Id("s1")) == Id("p3"));
    CHECK_FALSE(branch_end(job, derived, Id("z"), Id("nowhere")));
    const FitRequest request{
        .zone = Id("z"),
        .add = {{.type = Id("s"), .count = 2, .tap = Watts(5), .room = Id("r"), .fed_from = Id("p2")}},
        .aims = {Aim::level}};
    const Result<Fit> made = fitted(job, request);
    int number = 0;
    const ChangeList chained =
        changes_of(job, request, made->options[0], [&] { return Id("n" + std::to_string(++number)); });
    REQUIRE(chained.size() == 2);
    const auto field = [](const Change& change, std::string_view name) {
        for (const auto& [key, value] : change.fields)
            if (key == name) return value;
        return Value();
    };
    CHECK(field(chained[0], "label") == Value("C-9"));
    CHECK(field(chained[1], "label") == Value("C-10"));
    CHECK(field(chained[0], "fed_from") == Value("p2"));
    CHECK(field(chained[1], "fed_from") == Value("n1"));
    CHECK(field(chained[1], "room") == Value("r"));
    const ChangeList apart = changes_of(job, request, made->options[0]);
    CHECK(field(apart[1], "fed_from") == Value("p2"));
    CHECK(apart[1].id == Id());
}

TEST_CASE("taps beyond any line are refused, and a room that is not there") {
    JobBuilder job = one_zone(1000, 100);
    job.set("speaker_type", "s", "taps_w", List{1000000.0}).set("speaker_type", "s", "taps_v", 1.0);
    for (const std::size_t count : {std::size_t{1}, std::size_t{10}, std::size_t{18}, std::size_t{1000}}) {
        const FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = count}}};
        const Result<Fit> made = fit(job.job(), derive(job.job()), request);
        REQUIRE_FALSE(made.ok());
        CHECK(says(in_english(made.refusal()), "more than 100 MW"));
    }
    const FitRequest no_such_room{.zone = Id("z"), .add = {{.type = Id("s"), .room = Id("q")}}};
    CHECK(says(in_english(fit(job.job(), derive(job.job()), no_such_room).refusal()), "no room with the id q"));
}

TEST_CASE("what cannot be answered is a sentence") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 3, "z", 5);
    const auto refused = [](const Job& asked, const FitRequest& request) {
        const Result<Fit> made = fitted(asked, request);
        REQUIRE_FALSE(made.ok());
        return in_english(made.refusal());
    };
    CHECK(says(refused(job, {.zone = Id("q")}), "no zone with the id q"));
    CHECK(says(refused(job, {.zone = Id("z"), .add = {{.type = Id("q")}}}), "no loudspeaker type with the id q"));
    CHECK(says(refused(job, {.zone = Id("z"), .add = {{.type = Id("s"), .tap = Watts(3)}}}), "no tap of 3 W"));
    CHECK(says(refused(job, {.zone = Id("z"), .add = {{.type = Id("s"), .fed_from = Id("q")}}}),
               "q is not a point of z"));
    JobBuilder open = job;
    open.set("zone", "z", "limit_w", Value()).set("amplifier", "amp", "rated_w", Value());
    CHECK(says(refused(open, {.zone = Id("z")}), "Record the limit of z and the rating of out"));
    JobBuilder untapped = job;
    untapped.set("point", "p2", "tap_w", Value());
    CHECK(refused(untapped, {.zone = Id("z")}) ==
          "What may be added to z is unknown. Record the tap of p2, or a valid reading of z, then try again.");
    JobBuilder low = job;
    low.set("zone", "z", "output", "low_z");
    CHECK(says(refused(low, {.zone = Id("z")}), "low-impedance zone"));
    JobBuilder barred = job;
    barred.set("speaker_type", "s", "max_w", 0.5);
    CHECK(
        says(refused(barred, {.zone = Id("z")}), "Every tap of s draws more than its max power, 0.5 W, on this line."));
    JobBuilder full = job;
    full.set("zone", "z", "limit_w", 2.0);
    const Result<Fit> made = fitted(full, {.zone = Id("z")});
    CHECK(made->missing == Watts(1.4));  // 3 x 1 - 1.6
    CHECK(made->misfit == Misfit::zone_limit);
    CHECK(in_english(statement_of(full, {.zone = Id("z")}, *made).text) ==
          "Does not fit: still 1.4 W over on the lowest taps. Use another zone, a larger amplifier or fewer "
          "loudspeakers.");
}
