// Building and changing a LineTree; what it means is in the header, its solution in solve.cpp.
#include "core/line/tree.h"

#include <algorithm>

#include "core/base/ensure.h"

namespace tapwright {

namespace {

bool in_range(double value) {
    return value >= 0 && value <= largest_value;
}
bool is_load(double load) {
    return in_range(load);
}
bool is_load(std::complex<double> load) {
    return in_range(load.real()) && std::abs(load.imag()) <= largest_value;
}

void ensure_network(const AttenuatorNetwork& network) {
    TAPWRIGHT_ENSURE(network.voltage_gain >= 0 && network.voltage_gain <= 1);
    TAPWRIGHT_ENSURE(network.admittance_gain >= 0 && network.admittance_gain <= 1);
    TAPWRIGHT_ENSURE(network.core_loss >= 0 && network.core_loss <= 1);
    TAPWRIGHT_ENSURE(in_range(network.series_ohm) && in_range(network.shunt_s));
}

}  // namespace

// ---- building -----------------------------------------------------------------------------------
template <class Scalar>
void LineTree<Scalar>::reserve(std::size_t rows) {
    feed_.reserve(rows);
    run_ohm_.reserve(rows);
    load_s_.reserve(rows);
}

template <class Scalar>
LineRow LineTree<Scalar>::append(LineRow feed, double run_ohm, Scalar load) {
    TAPWRIGHT_ENSURE(rows() < std::numeric_limits<LineRow>::max());
    feed_.push_back(feed);
    run_ohm_.push_back(run_ohm);
    load_s_.push_back(load);
    return static_cast<LineRow>(rows() - 1);
}

template <class Scalar>
LineRow LineTree<Scalar>::add_source(Volts volts) {
    TAPWRIGHT_ENSURE(volts.value() > 0 && in_range(volts.value()));
    const LineRow row = append(static_cast<LineRow>(rows()), 0, Scalar(0));
    current_source_ = row;
    ++lines_;
    specials_.push_back({.row = row, .is_source = true, .source_v = volts.value(), .network = {}});
    return row;
}

template <class Scalar>
LineRow LineTree<Scalar>::add_point(LineRow feed, Ohms run, Scalar load) {
    TAPWRIGHT_ENSURE(lines_ > 0 && feed >= current_source_ && feed < rows());
    TAPWRIGHT_ENSURE(in_range(run.value()));
    TAPWRIGHT_ENSURE(is_load(load));
    return append(feed, run.value(), load);
}

template <class Scalar>
LineRow LineTree<Scalar>::add_attenuator(LineRow feed, const AttenuatorNetwork& network) {
    TAPWRIGHT_ENSURE(lines_ > 0 && feed >= current_source_ && feed < rows());
    ensure_network(network);
    const LineRow row = append(feed, 0, Scalar(0));
    specials_.push_back({.row = row, .is_source = false, .source_v = 0, .network = network});
    return row;
}

// ---- changing -----------------------------------------------------------------------------------
template <class Scalar>
typename LineTree<Scalar>::Special* LineTree<Scalar>::find_special(LineRow row) {
    const auto found = std::lower_bound(specials_.begin(), specials_.end(), row,
                                        [](const Special& special, LineRow wanted) { return special.row < wanted; });
    return found != specials_.end() && found->row == row ? &*found : nullptr;
}

template <class Scalar>
void LineTree<Scalar>::set_load(LineRow point, Scalar load) {
    TAPWRIGHT_ENSURE(point < rows() && find_special(point) == nullptr);
    TAPWRIGHT_ENSURE(is_load(load));
    load_s_[point] = load;
}

template <class Scalar>
void LineTree<Scalar>::set_run(LineRow point, Ohms run) {
    TAPWRIGHT_ENSURE(point < rows() && find_special(point) == nullptr);
    TAPWRIGHT_ENSURE(in_range(run.value()));
    run_ohm_[point] = run.value();
}

template <class Scalar>
void LineTree<Scalar>::set_attenuator(LineRow attenuator, const AttenuatorNetwork& network) {
    Special* special = find_special(attenuator);
    TAPWRIGHT_ENSURE(special != nullptr && !special->is_source);
    ensure_network(network);
    special->network = network;
}

template <class Scalar>
void LineTree<Scalar>::set_source(LineRow source, Volts volts) {
    Special* special = find_special(source);
    TAPWRIGHT_ENSURE(special != nullptr && special->is_source);
    TAPWRIGHT_ENSURE(volts.value() > 0 && in_range(volts.value()));
    special->source_v = volts.value();
}

template class LineTree<double>;
template class LineTree<std::complex<double>>;

}  // namespace tapwright
