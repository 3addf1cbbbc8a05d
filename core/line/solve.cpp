// Elimination on a tree, after the general observation that a symmetric matrix whose graph is a tree factors without
// fill-in when leaves go first (from memory: S. Parter, "The use of linear graphs in Gauss elimination", 1961).
//
// Up, for a point with admittance Y at its terminals behind a run R:
//     share = 1 / (1 + R Y)        what is left of the feed's volts
//     Y seen by the feed = Y share
// Down: V = V of the feed x share; into the load |V|^2 Re(load); in the run |V Y|^2 R. Nothing is found by
// subtracting two near-equal numbers, so a run of a micro-ohm keeps all its digits.
#include "core/line/tree.h"

namespace tapwright {

namespace {

using Complex = std::complex<double>;

// std::complex's own * and / test for infinities on every call, which costs several times the arithmetic. All values
// here are far inside the range (see RANGE in the header), so the schoolbook formulas are exact enough and safe.
inline double product(double a, double b) {
    return a * b;
}
inline Complex product(Complex a, Complex b) {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}
inline double squared(double a) {
    return a * a;
}
inline double squared(Complex a) {
    return a.real() * a.real() + a.imag() * a.imag();
}
inline double reciprocal(double a) {
    return 1 / a;
}
inline Complex reciprocal(Complex a) {
    const double scale = 1 / squared(a);
    return {a.real() * scale, -a.imag() * scale};
}
// Two divisions by the same number are cheaper than waiting for one and multiplying.
inline double quotient(double a, double b) {
    return a / b;
}
inline Complex quotient(Complex a, Complex b) {
    return product(a, reciprocal(b));
}
inline double real_part(double a) {
    return a;
}
inline double real_part(Complex a) {
    return a.real();
}

// Folds the rows first + 1 .. last, all of them points, into their feeds, the last first.
//
// In a daisy chain the feed is the row just before. Its sum is then carried in a register: going through memory would
// add the time of a store and a load to the one thing the loop waits for.
template <bool KeepShares, class Scalar>
inline void fold_points(const LineTree<Scalar>& tree, LineRow first, LineRow last, Scalar* admittance, Scalar* share) {
    const LineRow* feed = tree.feeds().data();
    const double* run = tree.runs_ohm().data();
    Scalar here = admittance[last];
    for (LineRow row = last; row > first; --row) {
        const Scalar whole = 1.0 + run[row] * here;
        const Scalar passed_on = quotient(here, whole);
        if constexpr (KeepShares) share[row] = reciprocal(whole);
        admittance[row] = here;
        here = admittance[row - 1];
        if (feed[row] == row - 1) {
            here += passed_on;
        } else {
            admittance[feed[row]] += passed_on;
        }
    }
    admittance[first] = here;
}

template <bool KeepShares, class Scalar>
inline void fold_attenuator(const AttenuatorNetwork& network, LineRow row, LineRow feed, Scalar* admittance,
                            Scalar* share) {
    const Scalar across = admittance[row] + network.shunt_s;
    const Scalar kept = reciprocal(1.0 + network.series_ohm * across);
    if constexpr (KeepShares) share[row] = network.voltage_gain * kept;
    admittance[feed] += network.admittance_gain * product(across, kept);
}

// The upward pass. On return `admittance` is final; `share`, if kept, is V of the row / V of its feed.
template <bool KeepShares, class Scalar>
void fold(const LineTree<Scalar>& tree, std::vector<Scalar>& admittance, Scalar* share) {
    const auto loads = tree.loads_s();
    admittance.assign(loads.begin(), loads.end());
    const auto specials = tree.specials();
    LineRow end = static_cast<LineRow>(tree.rows());
    for (auto special = specials.rbegin(); special != specials.rend(); ++special) {
        const LineRow row = special->row;
        fold_points<KeepShares>(tree, row, end - 1, admittance.data(), share);
        if (!special->is_source) {
            fold_attenuator<KeepShares>(special->network, row, tree.feeds()[row], admittance.data(), share);
        }
        end = row;
    }
}

// Down over the points (first, end); `volts` holds shares there and becomes voltages.
template <class Scalar>
inline void spread_points(const LineTree<Scalar>& tree, LineRow first, LineRow end, LineSolution<Scalar>& solution,
                          LineTotals& line) {
    const LineRow* feed = tree.feeds().data();
    const double* run = tree.runs_ohm().data();
    const Scalar* load = tree.loads_s().data();
    const Scalar* admittance = solution.admittance.data();
    Scalar* volts = solution.volts.data();
    double* load_w = solution.load_w.data();
    double* lost_w = solution.lost_w.data();
    double delivered = 0;
    double cable = 0;
    Scalar here = volts[first];
    for (LineRow row = first + 1; row < end; ++row) {
        here = product(feed[row] == row - 1 ? here : volts[feed[row]], volts[row]);
        volts[row] = here;
        const double square = squared(here);
        const double in_load = square * real_part(load[row]);
        const double in_run = square * squared(admittance[row]) * run[row];
        load_w[row] = in_load;
        lost_w[row] = in_run;
        delivered += in_load;
        cable += in_run;
    }
    line.delivered_w += delivered;
    line.cable_w += cable;
}

template <class Scalar>
inline void spread_attenuator(const AttenuatorNetwork& network, LineRow row, LineRow feed,
                              LineSolution<Scalar>& solution, LineTotals& line) {
    const Scalar before = solution.volts[feed];
    const Scalar here = product(before, solution.volts[row]);
    solution.volts[row] = here;
    // An L-pad's series part carries what its shunt part and all behind it draw. Core loss is an autotransformer's.
    const double series_amps_squared = squared(here) * squared(solution.admittance[row] + network.shunt_s);
    const double lost = network.core_loss * squared(before) * real_part(solution.admittance[row]) +
                        series_amps_squared * network.series_ohm + squared(here) * network.shunt_s;
    solution.load_w[row] = 0;
    solution.lost_w[row] = lost;
    line.attenuator_w += lost;
}

template <class Scalar>
LineTotals begin_line(double source_v, LineRow row, LineSolution<Scalar>& solution) {
    solution.volts[row] = source_v;
    solution.load_w[row] = 0;
    solution.lost_w[row] = 0;
    const Scalar admittance = solution.admittance[row];
    LineTotals line;
    line.source = row;
    line.volts = source_v;
    line.amps = source_v * std::abs(admittance);
    line.watts = source_v * source_v * real_part(admittance);
    line.ohms = ohms_of_admittance(admittance).value();
    return line;
}

}  // namespace

template <class Scalar>
void solve(const LineTree<Scalar>& tree, LineSolution<Scalar>& into) {
    into.lines.clear();
    into.load_w.resize(tree.rows());
    into.lost_w.resize(tree.rows());
    into.volts.resize(tree.rows());
    fold<true>(tree, into.admittance, into.volts.data());
    // Beyond this point admittances are final; `volts` holds shares until each row's turn comes.
    const auto specials = tree.specials();
    for (std::size_t i = 0; i < specials.size(); ++i) {
        const auto& special = specials[i];
        if (special.is_source) {
            into.lines.push_back(begin_line(special.source_v, special.row, into));
        } else {
            spread_attenuator(special.network, special.row, tree.feeds()[special.row], into, into.lines.back());
        }
        const LineRow end = i + 1 < specials.size() ? specials[i + 1].row : static_cast<LineRow>(tree.rows());
        spread_points(tree, special.row, end, into, into.lines.back());
    }
}

template <class Scalar>
LineSolution<Scalar> solve(const LineTree<Scalar>& tree) {
    LineSolution<Scalar> solution;
    solve(tree, solution);
    return solution;
}

template <class Scalar>
void admittances(const LineTree<Scalar>& tree, std::vector<Scalar>& into) {
    fold<false, Scalar>(tree, into, nullptr);
}

template <class Scalar>
std::vector<Scalar> admittances(const LineTree<Scalar>& tree) {
    std::vector<Scalar> admittance;
    admittances(tree, admittance);
    return admittance;
}

template LineSolution<double> solve(const LineTree<double>&);
template LineSolution<Complex> solve(const LineTree<Complex>&);
template void solve(const LineTree<double>&, LineSolution<double>&);
template void solve(const LineTree<Complex>&, LineSolution<Complex>&);
template void admittances(const LineTree<double>&, std::vector<double>&);
template void admittances(const LineTree<Complex>&, std::vector<Complex>&);
template std::vector<double> admittances(const LineTree<double>&);
template std::vector<Complex> admittances(const LineTree<Complex>&);

}  // namespace tapwright
