// Attenuators: an L-pad keeps its input impedance, an autotransformer's grows; and the example of three looped through.
#include "core/line/attenuator.h"

#include <doctest/doctest.h>

#include <array>

#include "core/line/tree.h"
#include "tests/line/nearness.h"

namespace tapwright {

namespace {

// Ohms at the input of `network` with `load` behind it.
double input_ohms(const AttenuatorNetwork& network, double load_ohm) {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(1));
    tree.add_point(tree.add_attenuator(source, network), Ohms(0), 1 / load_ohm);
    return solve(tree).ohms_at(source).value();
}

// Three 50 W autotransformers looped through at their inputs, four 5 W loudspeakers behind each, on 70.7 V.
LineSolution<double> three_looped_through(const std::array<AttenuatorNetwork, 3>& knobs) {
    LineTree<double> tree;
    LineRow at_input = tree.add_source(Volts(70.7));
    for (const AttenuatorNetwork& knob : knobs) {
        at_input = tree.add_point(at_input, Ohms(0), 0);
        LineRow behind = tree.add_attenuator(at_input, knob);
        for (int k = 0; k < 4; ++k) behind = tree.add_point(behind, Ohms(0), 5 / (70.7 * 70.7));
    }
    return solve(tree);
}

}  // namespace

TEST_CASE("an autotransformer's input impedance grows by 10^(a/10)") {
    // Turns ratio squared: 3 dB 1.995262, 6 dB 3.981072, 9 dB 7.943282, 12 dB 15.848932.
    CHECK(relative_error(input_ohms(autotransformer(Decibels(-3), Decibels(0)), 100), 199.5262315) < 1e-9);
    CHECK(relative_error(input_ohms(autotransformer(Decibels(-6), Decibels(0)), 100), 398.1071706) < 1e-9);
    CHECK(relative_error(input_ohms(autotransformer(Decibels(-9), Decibels(0)), 100), 794.3282347) < 1e-9);
    CHECK(relative_error(input_ohms(autotransformer(Decibels(-12), Decibels(0)), 100), 1584.893192) < 1e-9);
}

TEST_CASE("insertion loss takes volts from what is behind but asks no less of the line") {
    LineTree<double> tree;
    const LineRow source = tree.add_source(Volts(70.7));
    const LineRow behind = tree.add_attenuator(source, autotransformer(Decibels(0), Decibels(0.5)));
    tree.add_point(behind, Ohms(0), 0.01);
    const auto solution = solve(tree);
    CHECK(relative_error(solution.volts_at(behind).value(), 70.7 * std::pow(10, -0.5 / 20)) < 1e-14);
    CHECK(relative_error(solution.lines[0].ohms, 100) < 1e-14);
    CHECK(relative_error(solution.lines[0].attenuator_w / solution.lines[0].watts, 0.108749062) < 1e-8);
}

TEST_CASE("an L-pad shows its own impedance at the input when that is behind it, at every step") {
    for (const double step : {-0.5, -1.0, -3.0, -6.0, -10.0, -20.0, -40.0, -60.0}) {
        CAPTURE(step);
        CHECK(relative_error(input_ohms(l_pad(Decibels(step), Ohms(8)), 8), 8) < 1e-13);
    }
}

TEST_CASE("the wrong shunt formula Z k/(k - 1) does not keep the input impedance") {
    // It is printed on at least one public page: 16.038 ohm at 6 dB, and 9.328 ohm at the input instead of 8.
    const double k = std::pow(10, 6.0 / 20);
    AttenuatorNetwork wrong = l_pad(Decibels(-6), Ohms(8));
    const double wrong_shunt = 8 * k / (k - 1);
    wrong.shunt_s = 1 / wrong_shunt;
    CHECK(wrong_shunt == doctest::Approx(16.038).epsilon(1e-4));
    CHECK(input_ohms(wrong, 8) == doctest::Approx(9.328).epsilon(1e-4));
    CHECK(relative_error(l_pad_parts(Decibels(-6), Ohms(8)).shunt.value(), wrong_shunt) > 0.4);
}

TEST_CASE("where an L-pad's watts go") {
    // Fractions of the input, series part then shunt part: circuit theory; the 20 dB case printed in a public
    // worksheet.
    struct Share {
        double step, series, shunt;
    };
    for (const Share& share : {Share{-3, 0.292054, 0.206759}, Share{-6, 0.498813, 0.249999},
                               Share{-10, 0.683772, 0.216228}, Share{-20, 0.9, 0.09}}) {
        CAPTURE(share.step);
        LineTree<double> tree;
        const LineRow source = tree.add_source(Volts(20));
        const LineRow behind = tree.add_attenuator(source, l_pad(Decibels(share.step), Ohms(8)));
        tree.add_point(behind, Ohms(0), 1.0 / 8);
        const auto line = solve(tree).lines[0];
        CHECK(relative_error(line.attenuator_w / line.watts, share.series + share.shunt) < 2e-6);
        CHECK(relative_error(line.delivered_w / line.watts, std::pow(10, share.step / 10)) < 1e-12);
    }
}

TEST_CASE("0 dB of an L-pad is straight through") {
    CHECK(input_ohms(l_pad(Decibels(0), Ohms(8)), 100) == 100);
}

TEST_CASE("an L-pad's load is its largest draw over all its steps") {
    const std::array steps{0.0, -3.0, -6.0, -12.0, -30.0};
    const double v = 70.7;
    // Matched, every step draws the same.
    CHECK(relative_error(largest_l_pad_draw(Volts(v), Ohms(250), steps, 1.0 / 250).value(), v * v / 250) < 1e-12);
    // With little behind a low-impedance pad the low steps draw the most: V^2 / (series + shunt across the load).
    const LPadParts low = l_pad_parts(Decibels(-30), Ohms(50));
    const double across = 1 / (1 / low.shunt.value() + 1 / 1000.0);
    CHECK(relative_error(largest_l_pad_draw(Volts(v), Ohms(50), steps, 1.0 / 1000).value(),
                         v * v / (low.series.value() + across)) < 1e-12);
    // With much behind a high-impedance pad the open step does.
    CHECK(relative_error(largest_l_pad_draw(Volts(v), Ohms(1000), steps, 1.0 / 50).value(), v * v / 50) < 1e-12);
    CHECK(relative_error(largest_l_pad_draw(Volts(v), Ohms(50), {}, 0.001).value(), v * v / 1000) < 1e-12);
}

TEST_CASE("three autotransformers looped through") {
    // Worked by hand, common practice, no single source.
    const auto full = autotransformer(Decibels(0), Decibels(0));
    const auto all_full = three_looped_through({full, full, full}).lines[0];
    CHECK(all_full.ohms == doctest::Approx(83.31).epsilon(1e-4));
    CHECK(all_full.watts == doctest::Approx(60).epsilon(1e-12));

    const auto one_down = three_looped_through({full, autotransformer(Decibels(-6), Decibels(0)), full}).lines[0];
    CHECK(one_down.watts == doctest::Approx(45.02).epsilon(1e-4));
    CHECK(one_down.ohms == doctest::Approx(111.0).epsilon(1e-3));
    CHECK(one_down.attenuator_w == 0);

    const auto one_off = three_looped_through({full, switched_off(), full}).lines[0];
    CHECK(one_off.ohms == doctest::Approx(124.96).epsilon(1e-4));

    const auto lossy = autotransformer(Decibels(0), Decibels(0.5));
    const auto all_lossy = three_looped_through({lossy, lossy, lossy}).lines[0];
    CHECK(all_lossy.watts == doctest::Approx(60).epsilon(1e-12));
    CHECK(all_lossy.delivered_w == doctest::Approx(53.48).epsilon(1e-4));
    CHECK(all_lossy.attenuator_w == doctest::Approx(6.52).epsilon(1e-3));
}

}  // namespace tapwright
