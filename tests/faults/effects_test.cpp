// What one change does to every place, in constant time, against full solutions of the changed line.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "core/faults/line_effects.h"
#include "tests/faults/dense_line.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// A random line with attenuators of both builds, as rows and as a full set of equations.
struct Both {
    LineTree<double> tree;
    DenseLine dense;
};

class Lines {
public:
    explicit Lines(std::uint64_t seed) : random_(seed) {}

    Both draw(std::size_t points, bool with_off) {
        Both both;
        both.tree.add_source(Volts(70.7));
        while (both.dense.nodes.size() <= points) {
            const std::size_t feed = below(both.dense.nodes.size());
            if (feed > 0 && !both.dense.nodes[feed].is_output && below(6) == 0)
                add_attenuator(both, feed, with_off);
            else
                add_point(both, feed);
        }
        return both;
    }

    AttenuatorNetwork network(bool with_off) {
        if (with_off && below(4) == 0) return switched_off();
        const Decibels step(-3.0 * static_cast<double>(1 + below(6)));
        return below(2) == 0 ? autotransformer(step, Decibels(0.5)) : l_pad(step, Ohms(300));
    }
    double uniform(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
    std::size_t below(std::size_t count) { return std::uniform_int_distribution<std::size_t>(0, count - 1)(random_); }

private:
    void add_point(Both& both, std::size_t feed) {
        const double run = uniform(0.05, 4);
        const double load = uniform(0.0001, 0.01);
        both.tree.add_point(static_cast<LineRow>(feed), Ohms(run), load);
        both.dense.nodes.push_back({static_cast<int>(feed), run, load, false, {}});
    }
    void add_attenuator(Both& both, std::size_t feed, bool with_off) {
        const AttenuatorNetwork made = network(with_off);
        both.tree.add_attenuator(static_cast<LineRow>(feed), made);
        both.dense.nodes.push_back({static_cast<int>(feed), 0, 0, true, made});
    }

    std::mt19937_64 random_;
};

LineChange random_change(Lines& lines, const Both& both, bool with_off) {
    using What = LineChange::What;
    while (true) {
        const std::size_t row = 1 + lines.below(both.dense.nodes.size() - 1);
        const auto at = static_cast<LineRow>(row);
        if (both.dense.nodes[row].is_output) return {What::network, at, 0, lines.network(with_off)};
        switch (lines.below(5)) {
            case 0:
                return {What::load_is, at, lines.below(2) == 0 ? 0.0 : 2.0};
            case 1:
                return {What::load_times, at, lines.uniform(0.1, 4)};
            case 2:
                return {What::across, at, 1 / lines.uniform(1, 3000)};
            case 3:
                return {What::run_ohm, at, infinite};
            default:
                return {What::run_ohm, at, both.dense.nodes[row].run + lines.uniform(1, 200)};
        }
    }
}

void put_in(DenseLine& line, const LineChange& change) {
    DenseNode& node = line.nodes[change.row];
    switch (change.what) {
        case LineChange::What::load_is:
            node.load = change.value;
            return;
        case LineChange::What::load_times:
            node.load *= change.value;
            return;
        case LineChange::What::across:
            node.load += change.value;
            return;
        case LineChange::What::run_ohm:
            node.run = change.value;
            return;
        case LineChange::What::network:
            node.network = change.network;
            return;
    }
}

double off_by(double a, double b) {
    return std::abs(a - b) / std::max({std::abs(a), std::abs(b), 1e-7});  // less is open to any meter
}

// How the siemens at `upper` move with each load behind it, found by nudging them one by one.
std::vector<double> movements(const DenseLine& line, std::size_t upper) {
    std::vector<double> moves(line.nodes.size(), 0);
    for (std::size_t node = 1; node < line.nodes.size(); ++node) {
        if (!line.is_behind(node, upper)) continue;
        // Both ways, so that what is left is of third order.
        DenseLine more = line;
        DenseLine less = line;
        const double nudge = 1e-6;
        more.nodes[node].load += nudge;
        less.nodes[node].load -= nudge;
        moves[node] = (more.siemens(upper) - less.siemens(upper)) / (2 * nudge);
    }
    return moves;
}

}  // namespace

TEST_CASE("one_change_is_seen_everywhere_as_by_a_full_solution") {
    Lines lines(7);
    double worst = 0;
    for (int i = 0; i < 200; ++i) {
        const Both both = lines.draw(14, i % 3 == 0);
        const LineEffects effects(both.tree, std::vector<double>(both.tree.rows(), 1));
        const LineChange change = random_change(lines, both, false);
        if (!SingleEffect::can_be_single(effects, change)) continue;
        const SingleEffect effect(effects, change);
        DenseLine changed = both.dense;
        put_in(changed, change);
        for (LineRow row = 0; row < both.tree.rows(); ++row) {
            worst = std::max(worst, off_by(effect.at(row).siemens, changed.siemens(row)));
            const double volts = changed.volts(0, row);
            worst = std::max(worst, std::abs(effect.volts(effects.watched(row)) - volts));
        }
    }
    CHECK(worst < 1e-9);
}

TEST_CASE("several_changes_at_once_too_and_positions_that_were_off") {
    Lines lines(8);
    double worst = 0;
    for (int i = 0; i < 200; ++i) {
        const Both both = lines.draw(14, true);
        const LineEffects effects(both.tree, std::vector<double>(both.tree.rows(), 1));
        WalkedEffect effect(effects);
        std::vector<LineChange> changes;
        while (changes.size() < 3) {
            const LineChange change = random_change(lines, both, true);
            bool is_new = true;
            for (const LineChange& other : changes) is_new &= other.row != change.row;
            if (is_new) changes.push_back(change);
        }
        effect.walk(changes);
        DenseLine changed = both.dense;
        for (const LineChange& change : changes) put_in(changed, change);
        for (LineRow row = 0; row < both.tree.rows(); ++row)
            worst = std::max(worst, off_by(effect.at(row).siemens, changed.siemens(row)));
    }
    CHECK(worst < 1e-9);
}

TEST_CASE("movements_of_the_changed_line_are_those_found_by_nudging_each_loudspeaker") {
    Lines lines(9);
    for (int i = 0; i < 40; ++i) {
        const Both both = lines.draw(10, false);
        const LineEffects effects(both.tree, std::vector<double>(both.tree.rows(), 1));
        const LineChange change = random_change(lines, both, false);
        const SingleEffect single(effects, change);
        WalkedEffect walked(effects);
        walked.walk({change});
        DenseLine changed = both.dense;
        put_in(changed, change);
        // What was uncertain of each load, before and now.
        std::vector<double> unsure_before(both.dense.nodes.size());
        std::vector<double> unsure(both.dense.nodes.size());
        for (std::size_t node = 0; node < unsure.size(); ++node) {
            unsure_before[node] = unsure[node] = both.dense.nodes[node].load;
            if (node != change.row) continue;
            if (change.what == LineChange::What::load_is) unsure[node] = 0;
            if (change.what == LineChange::What::load_times) unsure[node] *= change.value;
        }
        for (LineRow row = 0; row < both.tree.rows(); ++row) {
            const std::vector<double> now = movements(changed, row);
            const std::vector<double> before = movements(both.dense, row);
            double squares = 0;
            double crossed = 0;
            for (std::size_t node = 0; node < now.size(); ++node) {
                squares += std::pow(now[node] * unsure[node], 2);
                crossed += now[node] * unsure[node] * before[node] * unsure_before[node];
            }
            for (const RowView& view : {single.at(row), walked.at(row)}) {
                CHECK(off_by(view.squares, squares) < 1e-5);
                CHECK(off_by(view.crossed, crossed) < 1e-5);
            }
        }
    }
}

TEST_CASE("ways_that_share_a_stretch_pass_a_movement_on_alike") {
    Lines lines(10);
    double worst = 0;
    for (int i = 0; i < 100; ++i) {
        const Both both = lines.draw(14, false);
        const LineEffects effects(both.tree, std::vector<double>(both.tree.rows(), 1));
        const LineChange change = random_change(lines, both, false);
        const SingleEffect single(effects, change);
        WalkedEffect walked(effects);
        walked.walk({change});
        for (LineRow lower = 0; lower < both.tree.rows(); ++lower) {
            const WatchedRow watched = effects.watched(lower);
            for (LineRow upper = 0; upper < both.tree.rows(); ++upper) {
                if (!effects.is_behind(lower, upper) || lower == upper) continue;
                worst = std::max(worst, off_by(single.passing(upper, watched), walked.passing(upper, watched)));
            }
        }
    }
    CHECK(worst < 1e-9);
}
