// The solution of whole lines: every voltage and watt of a forest of trees, exactly, in one pass up and one down.
//
// A line is a tree: an ideal source, runs of cable, loads across the far end of a run, attenuators in between. No
// iteration is needed. From the leaves towards the source every branch folds into one admittance (up); from the source
// towards the leaves every voltage is its feed's voltage times a share kept on the way up (down). This is Gaussian
// elimination in an order that fills nothing in; the cost is a few multiplications and one division a row.
// Derivation, limits and worked examples: docs/calculations.md.
//
// SHAPE. One row for each pair of terminals. Rows are numbered in the order they are added, and a row's feed is always
// an earlier row, so no recursion and no sorting happen here. There are three kinds of row:
//   a source      an ideal voltage source; begins a new line. All rows up to the next source belong to it.
//   a point       the far end of a run of cable (its pair's ohms, may be 0) with a load across it (siemens, may be 0).
//   an attenuator the OUTPUT terminals of an attenuator whose input terminals are the row it is fed from.
// A wall attenuator is hence two rows: a point with no load (its input terminals) and an attenuator row fed from it.
// What is looped through at its input is fed from the first, what hangs behind it from the second.
//
//   LineTree<double> tree;
//   const LineRow amplifier = tree.add_source(70.7_V);
//   const LineRow wall = tree.add_point(amplifier, 0.838_ohm, 0);
//   const LineRow behind = tree.add_attenuator(wall, autotransformer(-6.0_dB, 0.5_dB));
//   tree.add_point(behind, 0.419_ohm, 5 / (70.7 * 70.7));
//   const LineSolution<double> solution = solve(tree);
//
// SCALARS. LineTree<double> where everything is resistive, LineTree<std::complex<double>> where a transformer model
// gives admittances with a phase. Voltages are r.m.s. phasors relative to the source.
//
// RANGE. Loads have a real part >= 0. Runs, loads and L-pad parts are at most `largest_value` in ohms or siemens:
// within that no result overflows, a million rows included. A short is a large load or a run of 0 ohms, nothing
// special.
#pragma once

#include <cmath>
#include <complex>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "core/line/attenuator.h"
#include "core/units/quantity.h"

namespace tapwright {

using LineRow = std::uint32_t;

inline constexpr double largest_value = 1e12;

template <class Scalar>
class LineTree {
public:
    void reserve(std::size_t rows);

    // Begins a line. Requires: 0 < volts <= largest_value. Returns: the source's row.
    LineRow add_source(Volts volts);
    // Requires: feed is a row of the line begun last; 0 <= run <= largest_value; load: see RANGE.
    // Returns: the row of the point's terminals.
    LineRow add_point(LineRow feed, Ohms run, Scalar load);
    // Requires: feed as for add_point. Returns: the row of the attenuator's output terminals.
    LineRow add_attenuator(LineRow feed, const AttenuatorNetwork& network);

    // The same tree with another load, run, attenuator or source. Requires: row is of that kind; values as when adding.
    void set_load(LineRow point, Scalar load);
    void set_run(LineRow point, Ohms run);
    void set_attenuator(LineRow attenuator, const AttenuatorNetwork& network);
    void set_source(LineRow source, Volts volts);

    // What is not a run: an attenuator, or the source of a line. In the order of their rows.
    struct Special {
        LineRow row = 0;
        bool is_source = false;
        double source_v = 0;
        AttenuatorNetwork network;
    };

    // Plain arrays, one entry a row. A source is its own feed; run is 0 for sources and attenuators.
    std::size_t rows() const { return feed_.size(); }
    std::size_t lines() const { return lines_; }
    std::span<const LineRow> feeds() const { return feed_; }
    std::span<const double> runs_ohm() const { return run_ohm_; }
    std::span<const Scalar> loads_s() const { return load_s_; }
    std::span<const Special> specials() const { return specials_; }

private:
    LineRow append(LineRow feed, double run_ohm, Scalar load);
    Special* find_special(LineRow row);

    std::vector<LineRow> feed_;
    std::vector<double> run_ohm_;
    std::vector<Scalar> load_s_;
    std::vector<Special> specials_;
    std::size_t lines_ = 0;
    LineRow current_source_ = 0;
};

// One line as its source sees it. watts = delivered_w + cable_w + attenuator_w.
struct LineTotals {
    LineRow source = 0;
    double volts = 0;
    double amps = 0;
    double watts = 0;
    double ohms = 0;         // |V/I|; infinite where nothing draws
    double delivered_w = 0;  // into loads
    double cable_w = 0;
    double attenuator_w = 0;
};

// |1/Y|: infinite where nothing draws.
inline Ohms ohms_of_admittance(double siemens) {
    return Ohms(1 / std::abs(siemens));
}
inline Ohms ohms_of_admittance(std::complex<double> siemens) {
    return Ohms(1 / std::abs(siemens));
}

// Plain arrays, one entry a row; `lines` one entry a source, in their order.
template <class Scalar>
struct LineSolution {
    std::vector<Scalar> volts;       // between the row's terminals
    std::vector<Scalar> admittance;  // siemens, looking into the row's terminals away from the source
    std::vector<double> load_w;      // into the row's own load
    std::vector<double> lost_w;      // in what feeds the row: its run (cable) or the attenuator it is the output of
    std::vector<LineTotals> lines;

    Volts volts_at(LineRow row) const { return Volts(std::abs(volts[row])); }
    // Impedance looking into the row's terminals, after its own run, away from the source; infinite if nothing draws.
    Ohms ohms_at(LineRow row) const { return ohms_of_admittance(admittance[row]); }
};

// Linear in rows; allocates only the result. The second form reuses `into`, whatever it held.
template <class Scalar>
LineSolution<Scalar> solve(const LineTree<Scalar>& tree);
template <class Scalar>
void solve(const LineTree<Scalar>& tree, LineSolution<Scalar>& into);

// The upward pass alone: LineSolution::admittance, for expected ohms with other positions or another frequency.
template <class Scalar>
std::vector<Scalar> admittances(const LineTree<Scalar>& tree);
template <class Scalar>
void admittances(const LineTree<Scalar>& tree, std::vector<Scalar>& into);

extern template class LineTree<double>;
extern template class LineTree<std::complex<double>>;

}  // namespace tapwright
