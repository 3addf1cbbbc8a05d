#include "core/faults/line_effects.h"

#include <algorithm>
#include <cmath>

#include "core/base/ensure.h"

namespace tapwright {
namespace {

constexpr std::int32_t no_network = -1;

}  // namespace

LineEffects::LineEffects(LineTree<double> tree, std::vector<double> unsure)
    : tree_(std::move(tree)),
      feed_(tree_.feeds().begin(), tree_.feeds().end()),
      run_(tree_.runs_ohm().begin(), tree_.runs_ohm().end()),
      load_(tree_.loads_s().begin(), tree_.loads_s().end()),
      networks_(feed_.size(), no_network) {
    TAPWRIGHT_ENSURE(tree_.lines() == 1 && unsure.size() == feed_.size());
    for (std::size_t i = 0; i < tree_.specials().size(); ++i)
        if (!tree_.specials()[i].is_source) networks_[tree_.specials()[i].row] = static_cast<std::int32_t>(i);
    moves_.resize(feed_.size());
    for (std::size_t row = 0; row < feed_.size(); ++row) moves_[row] = load_[row] * unsure[row];
    number_rows();
    fold();
    // Beyond this point all that is seen looking away from the amplifier is final.
    spread();
}

LineEffects::Link LineEffects::run_link(double siemens, double run) {
    if (std::isinf(run)) return {0, 0, 0};
    const double share = 1 / (1 + run * siemens);
    return {siemens * share, share, share * share};
}

LineEffects::Link LineEffects::network_link(double siemens, const AttenuatorNetwork& network) {
    const double across = siemens + network.shunt_s;
    const double share = 1 / (1 + network.series_ohm * across);
    return {network.admittance_gain * across * share, network.voltage_gain * share,
            network.admittance_gain * share * share};
}

LineEffects::Link LineEffects::link(LineRow row, double siemens, double run, std::int32_t network) const {
    if (row == 0) return {0, 0, 0};
    if (network == no_network) return run_link(siemens, run);
    return network_link(siemens, tree_.specials()[static_cast<std::size_t>(network)].network);
}

void LineEffects::number_rows() {
    std::vector<std::uint32_t> size(rows(), 1);
    for (std::size_t row = rows() - 1; row > 0; --row) size[feed_[row]] += size[row];
    enter_.assign(rows(), 0);
    leave_.assign(rows(), size[0]);
    std::vector<std::uint32_t> next(rows(), 1);
    for (std::size_t row = 1; row < rows(); ++row) {
        enter_[row] = next[feed_[row]];
        next[feed_[row]] += size[row];
        next[row] = enter_[row] + 1;
        leave_[row] = enter_[row] + size[row];
    }
}

void LineEffects::fold() {
    siemens_ = load_;
    linear_ = load_;
    squares_.resize(rows());
    links_.resize(rows());
    for (std::size_t row = 0; row < rows(); ++row) squares_[row] = moves_[row] * moves_[row];
    for (auto row = static_cast<LineRow>(rows()); row-- > 1;) {
        links_[row] = link(row, siemens_[row]);
        const double passed = links_[row].passing;
        siemens_[feed_[row]] += links_[row].siemens;
        squares_[feed_[row]] += squares_[row] * passed * passed;
        linear_[feed_[row]] += linear_[row] * passed;
    }
    links_[0] = {0, 0, 0};
}

void LineEffects::spread() {
    root_.assign(rows(), 0);
    forward_.assign(rows(), 1);
    through_.assign(rows(), 1);
    impedance_.assign(rows(), 0);
    steepness_.assign(rows(), 0);
    sums_.resize(rows());
    for (LineRow row = 1; row < rows(); ++row) {
        const Link& up = links_[row];
        const LineRow feed = feed_[row];
        root_[row] = row;
        if (!(up.passing > 0)) continue;
        root_[row] = root_[feed];
        forward_[row] = forward_[feed] * up.forward;
        through_[row] = through_[feed] * up.passing;
        // While the feed is held, a row sees its own run, or its attenuator's series part, beside what hangs on it.
        const bool is_run = networks_[row] == no_network;
        const double series =
            is_run ? run_[row] : tree_.specials()[static_cast<std::size_t>(networks_[row])].network.series_ohm;
        const double shunt = is_run ? 0 : tree_.specials()[static_cast<std::size_t>(networks_[row])].network.shunt_s;
        const double own = series / (1 + series * (siemens_[row] + shunt));
        impedance_[row] = own + up.passing * impedance_[feed];
        steepness_[row] = impedance_[row] / through_[row];
        Sums& sums = sums_[row] = sums_[feed];
        double squares =
            std::max(0.0, squares_[feed] - squares_[row] * up.passing * up.passing) * through_[feed] * through_[feed];
        double linear = std::max(0.0, linear_[feed] - linear_[row] * up.passing) * through_[feed];
        for (std::size_t i = 0; i < 5; ++i, squares *= steepness_[feed]) sums.squares[i] += squares;
        for (std::size_t i = 0; i < 3; ++i, linear *= steepness_[feed]) sums.linear[i] += linear;
    }
}

double LineEffects::passing(LineRow upper, LineRow lower) const {
    return root_[upper] == root_[lower] ? through_[lower] / through_[upper] : 0;
}

WatchedRow LineEffects::watched(LineRow row) const {
    WatchedRow watched{row, std::vector<double>(rows())};
    for (LineRow other = 0; other < rows(); ++other)
        watched.meeting[other] = is_behind(row, other) ? steepness_[other] : watched.meeting[feed_[other]];
    return watched;
}

}  // namespace tapwright
