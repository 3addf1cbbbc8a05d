// Properties every line must have, on lines drawn by rapidcheck (which shrinks a failing one and prints how to redo
// it).
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "tests/line/drawn_line.h"
#include "tests/line/nearness.h"

namespace tapwright {

namespace {

using Complex = std::complex<double>;

rc::Gen<double> between(double low, double high) {
    return rc::gen::map(rc::gen::inRange<std::int64_t>(0, 1'000'001),
                        [=](std::int64_t parts) { return low + (high - low) * static_cast<double>(parts) / 1e6; });
}

rc::Gen<DrawnPoint> points() {
    return rc::gen::build<DrawnPoint>(
        rc::gen::set(&DrawnPoint::hangs_on, rc::gen::inRange<std::uint32_t>(0, 1000)),
        rc::gen::set(&DrawnPoint::looped, rc::gen::arbitrary<bool>()),
        rc::gen::set(
            &DrawnPoint::kind,
            rc::gen::weightedElement<DrawnKind>(
                {{8, DrawnKind::point}, {2, DrawnKind::autotransformer}, {2, DrawnKind::l_pad}, {1, DrawnKind::off}})),
        rc::gen::set(&DrawnPoint::run_ohm, rc::gen::oneOf(rc::gen::just(0.0), between(0, 5))),
        rc::gen::set(&DrawnPoint::load_ohm,
                     rc::gen::weightedOneOf<double>(
                         {{1, rc::gen::just(0.0)}, {1, rc::gen::just(8.0)}, {6, between(50, 20'000)}})),
        rc::gen::set(&DrawnPoint::step_db, rc::gen::element(0.0, -1.5, -3.0, -6.0, -12.0, -27.0)),
        rc::gen::set(&DrawnPoint::insertion_db, rc::gen::element(0.0, 0.3, 0.6)),
        rc::gen::set(&DrawnPoint::pad_ohm, between(4, 2000)));
}

rc::Gen<DrawnLine> lines() {
    return rc::gen::build<DrawnLine>(
        rc::gen::set(&DrawnLine::volts, rc::gen::element(25.0, 50.0, 70.7, 100.0)),
        rc::gen::set(&DrawnLine::points, rc::gen::container<std::vector<DrawnPoint>>(points())));
}

// The same line with a transformer model for every loudspeaker.
DrawnLine with_transformers(DrawnLine line) {
    line.hz = *rc::gen::element(50.0, 330.0, 1000.0, 10'000.0);
    line.transformer = TransformerModel{.primary = Ohms(*between(0, 0.1)),
                                        .secondary = Ohms(*between(0, 0.1)),
                                        .leakage = Henries(*between(0, 2e-5)),
                                        .magnetising = Henries(*between(5e-4, 5e-3))};
    return line;
}

template <class Scalar>
void check_balance(const DrawnLine& line) {
    const LineTotals totals = solve(tree_of<Scalar>(line).tree).lines[0];
    const double sum = totals.delivered_w + totals.cable_w + totals.attenuator_w;
    RC_ASSERT(totals.delivered_w >= 0);
    RC_ASSERT(totals.cable_w >= 0);
    RC_ASSERT(totals.attenuator_w >= 0);
    RC_ASSERT(std::abs(sum - totals.watts) <= 1e-11 * std::max(totals.watts, 1e-9));
}

// Any order of the points that keeps feeds before what they feed.
std::vector<std::size_t> shuffled_order(const DrawnLine& line) {
    std::vector<std::size_t> order;
    std::vector<bool> placed(line.points.size(), false);
    while (order.size() < line.points.size()) {
        std::vector<std::size_t> ready;
        for (std::size_t k = 0; k < placed.size(); ++k) {
            const auto feed = line.feed_of(k);
            if (!placed[k] && (!feed || placed[*feed])) ready.push_back(k);
        }
        const std::size_t next = ready[*rc::gen::inRange<std::size_t>(0, ready.size())];
        placed[next] = true;
        order.push_back(next);
    }
    return order;
}

template <class Scalar>
void check_reordering(const DrawnLine& line) {
    const auto drawn = tree_of<Scalar>(line);
    const auto other = tree_of<Scalar>(line, shuffled_order(line));
    const auto a = solve(drawn.tree);
    const auto b = solve(other.tree);
    for (std::size_t k = 0; k < line.points.size(); ++k) {
        RC_ASSERT(relative_error(a.volts[drawn.in[k]], b.volts[other.in[k]]) < 1e-12);
        RC_ASSERT(relative_error(a.volts[drawn.out[k]], b.volts[other.out[k]]) < 1e-12);
        RC_ASSERT(relative_error(a.admittance[drawn.in[k]], b.admittance[other.in[k]]) < 1e-12);
    }
    RC_ASSERT(relative_error(a.lines[0].watts, b.lines[0].watts) < 1e-12);
    RC_ASSERT(relative_error(a.lines[0].attenuator_w, b.lines[0].attenuator_w) < 1e-11);
}

}  // namespace

TEST_CASE("source watts are delivered, cable and attenuator watts") {
    CHECK(rc::check("resistive", [] { check_balance<double>(*lines()); }));
    CHECK(rc::check("with transformers", [] { check_balance<Complex>(with_transformers(*lines())); }));
}

TEST_CASE("voltage never rises away from the source") {
    CHECK(rc::check([] {
        const auto made = tree_of<double>(*lines());
        const auto solution = solve(made.tree);
        for (LineRow row = 0; row < made.tree.rows(); ++row) {
            const double feed_volts = solution.volts[made.tree.feeds()[row]];
            RC_ASSERT(solution.volts[row] >= 0);
            RC_ASSERT(solution.volts[row] <= feed_volts);
        }
    }));
}

TEST_CASE("adding a load lowers the head impedance and every voltage") {
    CHECK(rc::check([] {
        auto line = *rc::gen::suchThat(lines(), [](const DrawnLine& any) { return !any.points.empty(); });
        const auto before = solve(tree_of<double>(line).tree);
        DrawnPoint added;
        added.hangs_on = *rc::gen::inRange<std::uint32_t>(0, 1000);
        added.load_ohm = *between(50, 5000);
        line.points.push_back(added);
        const auto made = tree_of<double>(line);
        const auto after = solve(made.tree);
        for (LineRow row = 0; row < before.volts.size(); ++row) {
            RC_ASSERT(after.volts[row] <= before.volts[row] * (1 + 1e-14));
        }
        // Lower, not merely not higher, where the new load gets enough to show in sixteen digits.
        const double share = after.load_w.back() / after.lines[0].watts;
        RC_ASSERT(after.lines[0].ohms <= before.lines[0].ohms * (1 + 1e-14));
        if (share > 1e-10) RC_ASSERT(after.lines[0].ohms < before.lines[0].ohms);
    }));
}

TEST_CASE("the same R/Z is the same decibels at any line voltage") {
    CHECK(rc::check([] {
        const DrawnLine line = *lines();
        DrawnLine other = line;
        other.volts = *between(1, 500);
        const double scale = (other.volts / line.volts) * (other.volts / line.volts);
        for (DrawnPoint& point : other.points) {
            point.run_ohm *= scale;
            point.load_ohm *= scale;
            point.pad_ohm *= scale;
        }
        const auto a = solve(tree_of<double>(line).tree);
        const auto b = solve(tree_of<double>(other).tree);
        for (LineRow row = 0; row < a.volts.size(); ++row) {
            RC_ASSERT(relative_error(b.volts[row] / other.volts, a.volts[row] / line.volts) < 1e-12);
        }
        RC_ASSERT(relative_error(b.lines[0].watts, a.lines[0].watts) < 1e-12);
    }));
}

TEST_CASE("every voltage scales with the source") {
    CHECK(rc::check([] {
        DrawnLine line = with_transformers(*lines());
        const auto a = solve(tree_of<Complex>(line).tree);
        line.volts *= 3;
        const auto b = solve(tree_of<Complex>(line).tree);
        for (std::size_t row = 0; row < a.volts.size(); ++row) {
            RC_ASSERT(relative_error(b.volts[row], 3.0 * a.volts[row]) < 1e-12);
        }
    }));
}

TEST_CASE("re-ordering points changes nothing") {
    CHECK(rc::check("resistive", [] { check_reordering<double>(*lines()); }));
    CHECK(rc::check("with transformers", [] { check_reordering<Complex>(with_transformers(*lines())); }));
}

TEST_CASE("a resistive line is the same in real and in complex numbers") {
    CHECK(rc::check([] {
        const DrawnLine line = *lines();
        const auto a = solve(tree_of<double>(line).tree);
        const auto b = solve(tree_of<Complex>(line).tree);
        for (std::size_t row = 0; row < a.volts.size(); ++row) {
            RC_ASSERT(relative_error(b.volts[row], Complex(a.volts[row])) < 1e-12);
            RC_ASSERT(b.volts[row].imag() == 0);
            RC_ASSERT(relative_error(b.lost_w[row], a.lost_w[row]) < 1e-11);
        }
    }));
}

TEST_CASE("the current into a point's terminals is what the points behind it draw") {
    CHECK(rc::check([] {
        const DrawnLine line = *lines();
        const auto made = tree_of<double>(line);
        const auto solution = solve(made.tree);
        // Kirchhoff at every pair of terminals, from the definition alone: own load plus what each run leading away and
        // each attenuator hung on takes, found from the volts at both its ends and its parts.
        std::vector<double> drawn(made.tree.rows(), 0);
        for (LineRow row = 0; row < made.tree.rows(); ++row)
            drawn[row] = solution.volts[row] * made.tree.loads_s()[row];
        for (std::size_t k = line.points.size(); k-- > 0;) {
            if (made.out[k] != made.in[k]) {
                const DrawnPoint& point = line.points[k];
                const double behind = drawn[made.out[k]];
                if (point.kind == DrawnKind::autotransformer) {
                    drawn[made.in[k]] += behind * std::pow(10, (point.step_db + point.insertion_db) / 20);
                } else if (point.kind == DrawnKind::l_pad) {
                    drawn[made.in[k]] += behind + solution.volts[made.out[k]] * drawn_network(point).shunt_s;
                }
            }
            drawn[made.tree.feeds()[made.in[k]]] += drawn[made.in[k]];
        }
        for (LineRow row = 1; row < made.tree.rows(); ++row) {
            const double run = made.tree.runs_ohm()[row];
            const double feed_volts = solution.volts[made.tree.feeds()[row]];
            const bool is_run = std::find(made.in.begin(), made.in.end(), row) != made.in.end();
            if (is_run) RC_ASSERT(std::abs(feed_volts - solution.volts[row] - run * drawn[row]) < 1e-11 * line.volts);
        }
        RC_ASSERT(relative_error(solution.lines[0].amps, drawn[0]) < 1e-11);
    }));
}

}  // namespace tapwright
