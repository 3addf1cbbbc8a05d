// Recomputes the worked examples of docs/calculations.md, section "The line".
#include "tests/line/worked_examples.h"

#include <array>

#include "core/line/conductor.h"
#include "core/line/loss.h"
#include "tests/line/line_networks.h"

namespace tapwright {

namespace {

constexpr double v = 70.7;

double awg_18(Strand strand = Strand::solid) {
    return awg_resistance(18, strand)->value();
}

NetworkTree<double> twelve() {
    return twelve_speakers<double>(v, 5 / (v * v));
}

double home_run_for_69_v() {
    auto made = twelve();
    const LineRow last = made.rows.back();
    const Volts present = solve(made.tree).volts_at(last);
    made.tree.set_run(made.rows[1], Ohms(0));
    return run_for_volts(Ohms(1.676), present, solve(made.tree).volts_at(last), Volts(69))->value();
}

// `watts` of taps on 70.7 V behind one attenuator, no cable.
LineTotals behind(const AttenuatorNetwork& network, double watts) {
    LineTree<double> tree;
    tree.add_point(tree.add_attenuator(tree.add_source(Volts(v)), network), Ohms(0), watts / (v * v));
    return solve(tree).lines[0];
}

LineTotals looped_second_down() {
    LineTree<double> tree;
    LineRow input = tree.add_source(Volts(v));
    for (const double step : {0.0, -6.0, 0.0}) {
        input = tree.add_point(input, Ohms(0), 0);
        const LineRow output = tree.add_attenuator(input, autotransformer(Decibels(step), Decibels(0)));
        tree.add_point(output, Ohms(0), 20 / (v * v));
    }
    return solve(tree).lines[0];
}

double largest_draw() {
    const std::array steps{0.0, -6.0, -12.0, -30.0};
    return largest_l_pad_draw(Volts(v), Ohms(50), steps, 1.0 / 1000).value();
}

LineSolution<double> ladder() {
    LineTree<double> tree;
    LineRow feed = tree.add_source(Volts(1));
    for (int k = 0; k < 12; ++k) feed = tree.add_point(feed, Ohms(0.2095), 1 / 999.698);
    return solve(tree);
}

const std::map<std::string, WorkedExample> conductors{
    {"awg_18_diameter", {[] { return awg_diameter_mm(18); }, "mm"}},
    {"awg_18_solid", {[] { return awg_18(); }, "ohm/km"}},
    {"awg_18_stranded", {[] { return awg_18(Strand::stranded); }, "ohm/km"}},
    {"iec_1_5_mm2_class_5", {[] { return iec_resistance(SquareMm(1.5), 5)->value(); }, "ohm/km"}},
    {"copper_clad_18", {[] { return in_metal(OhmsPerKm(awg_18()), Metal::copper_clad_aluminium).value(); }, "ohm/km"}},
    {"awg_18_at_75", {[] { return at_temperature(OhmsPerKm(awg_18()), Celsius(75)).value(); }, "ohm/km"}},
    {"pair_of_40_m", {[] { return pair_resistance(OhmsPerKm(awg_18()), Metres(40)).value(); }, "ohm"}},
    {"next_after_18", {[] { return static_cast<double>(*next_awg_up(18)); }, "AWG"}},
};

const std::map<std::string, WorkedExample> losses{
    {"half_db_wire_to_load", {[] { return loss_of_decibels(Decibels(0.5)).wire_to_load; }, "ratio"}},
    {"ten_percent_of_power", {[] { return loss_of_power(0.1).level.value(); }, "dB"}},
    {"ten_percent_wire_to_load", {[] { return loss_of_wire_to_load(0.1).level.value(); }, "dB"}},
    {"ten_percent_of_volts", {[] { return loss_of_volts(0.1).level.value(); }, "dB"}},
    {"longest_run",
     {[] { return longest_run(ohms_of(Volts(v), Watts(60)), OhmsPerKm(awg_18()), Decibels(0.5)).value(); }, "m"}},
    {"home_run_for_69_v", {home_run_for_69_v, "ohm"}},
};

const std::map<std::string, WorkedExample> attenuators{
    {"autotransformer_input", {[] { return behind(autotransformer(Decibels(-6), {}), 20).ohms; }, "ohm"}},
    {"autotransformer_draw", {[] { return behind(autotransformer(Decibels(-6), {}), 20).watts; }, "W"}},
    {"insertion_delivered", {[] { return behind(autotransformer({}, Decibels(0.5)), 60).delivered_w; }, "W"}},
    {"insertion_kept", {[] { return behind(autotransformer({}, Decibels(0.5)), 60).attenuator_w; }, "W"}},
    {"l_pad_series", {[] { return l_pad_parts(Decibels(-6), Ohms(8)).series.value(); }, "ohm"}},
    {"l_pad_shunt", {[] { return l_pad_parts(Decibels(-6), Ohms(8)).shunt.value(); }, "ohm"}},
    {"l_pad_largest_draw", {largest_draw, "W"}},
    {"looped_second_down_watts", {[] { return looped_second_down().watts; }, "W"}},
    {"looped_second_down_ohms", {[] { return looped_second_down().ohms; }, "ohm"}},
};

const std::map<std::string, WorkedExample> whole_lines{
    {"transformer_1_khz", {[] { return ohms_of_admittance(n3_speaker(1000).admittance).value(); }, "ohm"}},
    {"twelve_first_volts", {[] { return solve(twelve().tree).volts[1]; }, "V"}},
    {"twelve_last_volts", {[] { return solve(twelve().tree).volts[12]; }, "V"}},
    {"twelve_last_level", {[] { return 20 * std::log10(solve(twelve().tree).volts[12] / v); }, "dB"}},
    {"twelve_ohms", {[] { return solve(twelve().tree).lines[0].ohms; }, "ohm"}},
    {"twelve_watts", {[] { return solve(twelve().tree).lines[0].watts; }, "W"}},
    {"twelve_cable", {[] { return solve(twelve().tree).lines[0].cable_w; }, "W"}},
    {"twelve_transformers_1_khz",
     {[] {
          const auto made = twelve_speakers<std::complex<double>>(v, n3_speaker(1000).admittance);
          return solve(made.tree).lines[0].ohms;
      },
      "ohm"}},
    {"ladder_far_volts_ratio", {[] { return ladder().volts[12]; }, "ratio"}},
    {"ladder_head", {[] { return ladder().lines[0].ohms; }, "ohm"}},
};

}  // namespace

TEST_CASE("the worked examples of docs/calculations.md are what the program computes") {
    std::map<std::string, WorkedExample> all = conductors;
    for (const auto& section : {losses, attenuators, whole_lines}) all.insert(section.begin(), section.end());
    check_worked_examples("line", all);
}

}  // namespace tapwright
