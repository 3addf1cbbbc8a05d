// The tree: its shape, its hard zeros, its depth, and the closed form of the uniform ladder.
#include "core/line/tree.h"

#include <doctest/doctest.h>

#include <limits>

#include "core/base/ensure.h"
#include "tests/line/line_networks.h"
#include "tests/line/nearness.h"

namespace tapwright {

namespace {

constexpr double unbounded = std::numeric_limits<double>::infinity();

template <class Scalar>
LineTree<Scalar> chain(std::size_t points, double run_ohm, Scalar load_s) {
    LineTree<Scalar> tree;
    tree.reserve(points + 1);
    LineRow feed = tree.add_source(Volts(100));
    for (std::size_t k = 0; k < points; ++k) feed = tree.add_point(feed, Ohms(run_ohm), load_s);
    return tree;
}

// The uniform ladder of n steps, run r then load g at each: with cosh(theta) = 1 + r g/2 the volts fall as
// V_k/V_0 = cosh((n - k + 1/2) theta) / cosh((n + 1/2) theta), and the head admittance is
// 2 sinh(n theta) sinh(theta/2) / (r cosh((n + 1/2) theta)). Derivation: docs/calculations.md.
template <class Scalar>
struct Ladder {
    double n;
    double run_ohm;
    Scalar theta;
    Ladder(std::size_t points, double run, Scalar load)
        : n(static_cast<double>(points)), run_ohm(run), theta(2.0 * std::asinh(std::sqrt(run * load) / 2.0)) {}
    Scalar share(std::size_t k) const {
        return std::cosh((n - static_cast<double>(k) + 0.5) * theta) / std::cosh((n + 0.5) * theta);
    }
    Scalar admittance() const {
        return 2.0 * std::sinh(n * theta) * std::sinh(theta / 2.0) / (run_ohm * std::cosh((n + 0.5) * theta));
    }
};

template <class Scalar>
void check_ladder(std::size_t points, double run_ohm, Scalar load_s) {
    CAPTURE(points);
    const auto solution = solve(chain<Scalar>(points, run_ohm, load_s));
    const Ladder<Scalar> closed(points, run_ohm, load_s);
    CHECK(relative_error(solution.admittance[0], closed.admittance()) < 1e-12);
    double worst = 0;
    for (std::size_t k = 1; k <= points; ++k) {
        worst = std::max(worst, relative_error(solution.volts[k], 100.0 * closed.share(k)));
    }
    CHECK(worst < 1e-12);
}

}  // namespace

TEST_CASE("the uniform ladder agrees with its closed form within 1e-12") {
    for (const std::size_t points : {1u, 2u, 3u, 12u, 100u, 1000u}) {
        check_ladder<double>(points, 0.2095, 1 / 999.698);
        check_ladder<std::complex<double>>(points, 0.2095, {1e-3, -2e-4});
    }
    check_ladder<double>(3, 1e-6, 1e-6);  // next to nothing
    check_ladder<double>(3, 1e6, 1e-1);   // next to everything
    check_ladder<double>(20, 10.0, 0.5);
}

TEST_CASE("twelve loudspeakers without cable") {
    const auto solution = solve(twelve_speakers<double>(70.7, 0).tree);
    CHECK(solution.lines[0].ohms == unbounded);
    LineTree<double> tree = chain<double>(12, 0, 5 / (70.7 * 70.7));
    tree.set_source(0, Volts(70.7));
    const auto lossless = solve(tree);
    CHECK(relative_error(lossless.lines[0].ohms, 83.308167) < 1e-8);
    CHECK(relative_error(lossless.lines[0].watts, 60) < 1e-14);
    CHECK(lossless.lines[0].cable_w == 0);
    for (const double volts : lossless.volts) CHECK(volts == 70.7);
}

TEST_CASE("a line that draws nothing: unbounded ohms, full volts, no watts, no NaN") {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(70.7));
    const LineRow splice = tree.add_point(source, Ohms(3), 0);
    const LineRow behind = tree.add_attenuator(splice, l_pad(Decibels(0), Ohms(8)));
    const LineRow end = tree.add_point(behind, Ohms(0), 0);
    const auto solution = solve(tree);
    for (const LineRow row : {source, splice, behind, end}) {
        CHECK(solution.volts[row] == 70.7);
        CHECK(solution.ohms_at(row).value() == unbounded);
        CHECK(solution.load_w[row] == 0);
        CHECK(solution.lost_w[row] == 0);
    }
    CHECK(solution.lines[0].amps == 0);
    CHECK(solution.lines[0].watts == 0);
    CHECK(solution.lines[0].ohms == unbounded);
}

TEST_CASE("a source with no points is a line all the same") {
    LineTree<double> tree;
    tree.add_source(Volts(100));
    tree.add_source(Volts(70.7));
    const auto solution = solve(tree);
    REQUIRE(solution.lines.size() == 2);
    CHECK(solution.lines[1].volts == 70.7);
    CHECK(solution.lines[1].ohms == unbounded);
}

TEST_CASE("no rows at all") {
    CHECK(solve(LineTree<double>()).lines.empty());
    CHECK(admittances(LineTree<std::complex<double>>()).empty());
}

TEST_CASE("an unloaded L-pad still draws through its own parts") {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(70.7));
    tree.add_attenuator(source, l_pad(Decibels(-6), Ohms(8)));
    const LPadParts parts = l_pad_parts(Decibels(-6), Ohms(8));
    const auto line = solve(tree).lines[0];
    CHECK(relative_error(line.ohms, (parts.series + parts.shunt).value()) < 1e-14);
    CHECK(relative_error(line.attenuator_w, line.watts) < 1e-14);
}

TEST_CASE("a short of the largest load behind cable and without") {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(100));
    const LineRow far = tree.add_point(source, Ohms(2), largest_value);
    auto solution = solve(tree);
    CHECK(relative_error(solution.lines[0].ohms, 2) < 1e-11);
    CHECK(relative_error(solution.lines[0].cable_w, 5000) < 1e-11);
    CHECK(solution.volts[far] < 1e-9);
    tree.set_run(far, Ohms(0));
    solution = solve(tree);
    CHECK(relative_error(solution.lines[0].ohms, 1e-12) < 1e-14);
    CHECK(std::isfinite(solution.lines[0].watts));
}

TEST_CASE("a million shorts behind the longest runs overflow nothing") {
    const auto solution = solve(chain<std::complex<double>>(1000, largest_value, {largest_value, largest_value}));
    for (std::size_t row = 0; row < solution.volts.size(); ++row) {
        CHECK(std::isfinite(std::abs(solution.volts[row])));
        CHECK(std::isfinite(solution.lost_w[row]));
    }
    LineTree<double> star;
    const LineRow source = star.add_source(Volts(largest_value));
    for (int k = 0; k < 1'000'000; ++k) star.add_point(source, Ohms(0), largest_value);
    CHECK(std::isfinite(solve(star).lines[0].watts));
}

TEST_CASE("off opens the circuit: nothing behind it is fed, what is looped through is") {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(100));
    const LineRow wall = tree.add_point(source, Ohms(1), 0);
    const LineRow behind = tree.add_attenuator(wall, switched_off());
    const LineRow dead = tree.add_point(behind, Ohms(1), 0.01);
    const LineRow looped = tree.add_point(wall, Ohms(1), 0.01);
    const auto solution = solve(tree);
    CHECK(solution.volts[dead] == 0);
    CHECK(solution.load_w[dead] == 0);
    CHECK(relative_error(solution.ohms_at(wall).value(), 101) < 1e-14);
    CHECK(relative_error(solution.volts[looped], 100 * 100 / 102.0) < 1e-14);
    // Looking into the dead branch from its own terminals still tells what hangs there.
    CHECK(relative_error(solution.ohms_at(behind).value(), 101) < 1e-14);
}

TEST_CASE("many lines in one tree are the lines alone") {
    LineTree<double> forest;
    std::vector<LineSolution<double>> alone;
    for (const reference::Network* network : reference::resistive) {
        const auto made = tree_of<double>(*network);
        alone.push_back(solve(made.tree));
        const LineRow offset = static_cast<LineRow>(forest.rows());
        forest.add_source(Volts(network->source_v));
        for (LineRow row = 1; row < made.tree.rows(); ++row) {
            const LineRow feed = offset + made.tree.feeds()[row];
            const auto specials = made.tree.specials();
            const bool attenuator = specials.size() > 1 && specials[1].row == row;
            if (attenuator) {
                forest.add_attenuator(feed, specials[1].network);
            } else {
                forest.add_point(feed, Ohms(made.tree.runs_ohm()[row]), made.tree.loads_s()[row]);
            }
        }
    }
    const auto together = solve(forest);
    REQUIRE(together.lines.size() == alone.size());
    for (std::size_t line = 0; line < alone.size(); ++line) {
        const LineTotals& here = together.lines[line];
        const LineTotals& there = alone[line].lines[0];
        CHECK(here.watts == there.watts);
        CHECK(here.delivered_w == there.delivered_w);
        CHECK(here.cable_w == there.cable_w);
        CHECK(here.attenuator_w == there.attenuator_w);
        for (LineRow row = 0; row < alone[line].volts.size(); ++row) {
            CHECK(together.volts[here.source + row] == alone[line].volts[row]);
        }
    }
}

TEST_CASE("changing a load, a run, an attenuator or the source is the same as building anew") {
    const auto built = [](double volts, double run, double load, double step) {
        LineTree<double> tree;
        const LineRow wall = tree.add_point(tree.add_source(Volts(volts)), Ohms(run), 0);
        tree.add_point(tree.add_attenuator(wall, autotransformer(Decibels(step), Decibels(0.5))), Ohms(1), load);
        return tree;
    };
    LineTree<double> changed = built(70.7, 1, 0.001, 0);
    changed.set_source(0, Volts(100));
    changed.set_run(1, Ohms(2));
    changed.set_attenuator(2, autotransformer(Decibels(-9), Decibels(0.5)));
    changed.set_load(3, 0.004);
    CHECK(solve(changed).volts == solve(built(100, 2, 0.004, -9)).volts);
}

TEST_CASE("the upward pass alone gives the same admittances, and a reused solution holds nothing old") {
    const auto first = tree_of<std::complex<double>>(reference::n4_l_pad);
    const auto second = twelve_speakers<std::complex<double>>(70.7, n3_speaker(330).admittance);
    LineSolution<std::complex<double>> reused;
    std::vector<std::complex<double>> reused_admittances;
    for (const auto* tree : {&second.tree, &first.tree, &second.tree}) {
        solve(*tree, reused);
        const auto fresh = solve(*tree);
        admittances(*tree, reused_admittances);
        CHECK(reused_admittances == fresh.admittance);
        CHECK(reused.admittance == fresh.admittance);
        CHECK(reused.volts == fresh.volts);
        CHECK(reused.load_w == fresh.load_w);
        CHECK(reused.lost_w == fresh.lost_w);
        CHECK(reused.lines.size() == fresh.lines.size());
    }
}

TEST_CASE("a chain of 100,000 and a million points: no recursion, no loss of digits") {
    for (const std::size_t points : {100'000u, 1'000'000u}) {
        const double n = static_cast<double>(points);
        const double run = 10 / n;  // 10 ohm of cable and 100 W in all, however many points
        const double load = 0.01 / n;
        const auto solution = solve(chain<double>(points, run, load));
        const Ladder<double> closed(points, run, load);
        CHECK(relative_error(solution.admittance[0], closed.admittance()) < 1e-11);
        CHECK(relative_error(solution.volts[points], 100 * closed.share(points)) < 1e-11);
        const LineTotals& line = solution.lines[0];
        CHECK(relative_error(line.delivered_w + line.cable_w, line.watts) < 1e-9);
    }
}

}  // namespace tapwright
