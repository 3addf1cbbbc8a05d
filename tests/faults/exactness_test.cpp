// The chances against plain enumeration: every cause put into a full set of equations, every movement found by nudging,
// Bayes' rule written out.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/faults/diagnosis.h"
#include "tests/faults/family.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct ReadPlace {
    std::size_t node = 0;
    double log_ohms = 0;
    bool is_before = false;
};

DenseLine dense_from(const FaultLine& line) {
    const LineTree<double>& tree = line.conditions.front().effects->tree();
    DenseLine dense;
    for (LineRow row = 1; row < tree.rows(); ++row)
        dense.nodes.push_back(
            {static_cast<int>(tree.feeds()[row]), tree.runs_ohm()[row], tree.loads_s()[row], false, {}});
    return dense;
}

struct Changed {
    DenseLine line;
    std::vector<double> unsure;  // by node: siemens that move with the loudspeaker
};

Changed changed_by(const DenseLine& healthy, const Cause& cause) {
    Changed changed{healthy, std::vector<double>(healthy.nodes.size())};
    for (std::size_t node = 0; node < healthy.nodes.size(); ++node) changed.unsure[node] = healthy.nodes[node].load;
    for (const Fault& fault : cause.faults)
        for (const LineChange& change : fault.changes) {
            DenseNode& node = changed.line.nodes[change.row];
            switch (change.what) {
                case LineChange::What::load_is:
                    node.load = change.value;
                    changed.unsure[change.row] = 0;
                    break;
                case LineChange::What::load_times:
                    node.load *= change.value;
                    changed.unsure[change.row] *= change.value;
                    break;
                case LineChange::What::across:
                    node.load += change.value;
                    break;
                case LineChange::What::run_ohm:
                    node.run = change.value;
                    break;
                case LineChange::What::network:
                    FAIL("no attenuators here");
            }
        }
    return changed;
}

// Of the logarithm of what is read, with each loudspeaker's logarithm.
std::vector<double> slopes(const Changed& line, std::size_t at) {
    std::vector<double> slopes(line.unsure.size(), 0);
    const double siemens = line.line.siemens(at);
    for (std::size_t node = 1; node < slopes.size(); ++node) {
        if (line.unsure[node] == 0 || !line.line.is_behind(node, at)) continue;
        // Both ways, so that what is left is of third order.
        const double step = 1e-4;
        Changed up = line;
        Changed down = line;
        up.line.nodes[node].load += step * line.unsure[node];
        down.line.nodes[node].load -= step * line.unsure[node];
        slopes[node] = -(up.line.siemens(at) - down.line.siemens(at)) / (2 * step) / siemens;
    }
    return slopes;
}

// The logarithm of the chance of all readings under a cause, with a meter that strays so much; jointly normal, by
// Gauss.
double log_chance_with(double meter, const DenseLine& healthy, const Cause& cause, const std::vector<ReadPlace>& read,
                       const FaultSpreads& spreads) {
    const Changed before = changed_by(healthy, {});
    const Changed now = changed_by(healthy, cause);
    const std::size_t n = read.size();
    std::vector<std::vector<double>> a(n, std::vector<double>(n + 1));
    std::vector<std::vector<double>> moves;
    for (std::size_t i = 0; i < n; ++i) {
        const Changed& line = read[i].is_before ? before : now;
        moves.push_back(slopes(line, read[i].node));
        a[i][n] = read[i].log_ohms + std::log(line.line.siemens(read[i].node));
    }
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j) {
            double sum_i = 0;
            double sum_j = 0;
            for (std::size_t node = 0; node < moves[i].size(); ++node) {
                a[i][j] += spreads.unit * spreads.unit * moves[i][node] * moves[j][node];
                sum_i += moves[i][node];
                sum_j += moves[j][node];
            }
            a[i][j] += spreads.common * spreads.common * sum_i * sum_j;
            if (i == j) a[i][j] += meter * meter;
        }
    std::vector<double> right(n);
    for (std::size_t i = 0; i < n; ++i) right[i] = a[i][n];
    double log_determinant = 0;
    for (std::size_t column = 0; column < n; ++column) {
        log_determinant += std::log(a[column][column]);
        for (std::size_t row = column + 1; row < n; ++row) {
            const double factor = a[row][column] / a[column][column];
            for (std::size_t k = column; k <= n; ++k) a[row][k] -= factor * a[column][k];
        }
    }
    double quadratic = 0;
    std::vector<double> x(n);
    for (std::size_t row = n; row-- > 0;) {
        x[row] = a[row][n];
        for (std::size_t k = row + 1; k < n; ++k) x[row] -= a[row][k] * x[k];
        x[row] /= a[row][row];
        quadratic += x[row] * right[row];
    }
    return -0.5 * (quadratic + log_determinant);
}

// The meter is as good as it says, or three times worse.
double log_chance(const DenseLine& healthy, const Cause& cause, const std::vector<ReadPlace>& read,
                  const FaultSpreads& spreads) {
    const double good = log_chance_with(0.01, healthy, cause, read, spreads);
    const double poor = log_chance_with(0.03, healthy, cause, read, spreads);
    return good + std::log(0.9 + 0.1 * std::exp(poor - good));
}

}  // namespace

TEST_CASE("the_chances_are_those_of_plain_enumeration_with_full_solutions") {
    double worst = 0;
    std::size_t compared = 0;
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        Family family({.speakers = static_cast<std::size_t>(3 + seed % 4)}, 900 + seed);
        const SimulatedLine drawn = family.draw();
        FaultQuestion question;
        question.zone = Id("z");
        question.weights.pairs = 1e-300;  // single faults alone are enumerated here
        for (const std::size_t place : {std::size_t{0}, std::size_t{2}}) {
            if (drawn.is_over_range(place)) continue;
            Reading reading;
            reading.at = place == 0 ? Id("z") : Id(SimulatedLine::label(place - 1));
            reading.quantity = Measured::ohms;
            reading.value = drawn.seen[place];
            question.with.push_back(reading);
        }
        if (question.with.empty()) continue;
        const Derived derived = derive(drawn.job);
        const Result<Diagnosis> diagnosis = Diagnosis::of(drawn.job, derived, question);
        REQUIRE(diagnosis.ok());
        const FaultLine& line = diagnosis->line();
        const DenseLine dense = dense_from(line);
        std::vector<ReadPlace> read{{0, std::log(drawn.baseline), true}};
        for (const Reading& reading : question.with)
            read.push_back({reading.at == Id("z") ? 0 : line.row_of(*drawn.job.job().place<Point>(*reading.at)),
                            std::log(*reading.value), false});
        // Of what can explain the readings at all: an open line shows no figure.
        std::vector<double> logs;
        double top = -std::numeric_limits<double>::infinity();
        for (const Cause& cause : line.causes) {
            const DenseLine changed = changed_by(dense, cause).line;
            bool is_open = false;
            for (const ReadPlace& one : read) is_open |= !one.is_before && changed.siemens(one.node) < 1e-9;
            logs.push_back(is_open ? -1e9 : std::log(cause.weight) + log_chance(dense, cause, read, question.spreads));
            top = std::max(top, logs.back());
        }
        double sum = 0;
        for (const double log : logs) sum += std::exp(log - top);
        const double known = 1 - diagnosis->unexplained();
        if (known < 0.5) continue;  // what is left of the causes is not what the answer rests on
        ++compared;
        for (const Cause& cause : diagnosis->causes()) {
            if (cause.faults.size() > 1 || cause.chance < 1e-6) continue;
            for (std::size_t i = 0; i < line.causes.size(); ++i) {
                const bool is_same =
                    line.causes[i].faults.size() == cause.faults.size() &&
                    (cause.faults.empty() || (line.causes[i].faults.front().kind == cause.faults.front().kind &&
                                              line.causes[i].faults.front().points == cause.faults.front().points &&
                                              line.causes[i].faults.front().value == cause.faults.front().value &&
                                              line.causes[i].faults.front().feed == cause.faults.front().feed));
                if (is_same) worst = std::max(worst, std::abs(cause.chance / known - std::exp(logs[i] - top) / sum));
            }
        }
    }
    CHECK(compared > 200);
    CHECK(worst < 1e-5);
}
