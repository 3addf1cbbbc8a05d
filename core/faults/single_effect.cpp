// One change in constant time. See line_effects.h for what is behind it.
#include <cmath>

#include "core/faults/line_effects.h"

namespace tapwright {

bool SingleEffect::can_be_single(const LineEffects& line, const LineChange& change) {
    return change.what != LineChange::What::network || line.links_[change.row].passing > 0;
}

SingleEffect::SingleEffect(const LineEffects& line, const LineChange& change) : line_(line) {
    const LineRow row = change.row;
    row_ = row;
    here_ = line.as_recorded(row);
    const double load = line.load_[row];
    switch (change.what) {
        case LineChange::What::load_times:
            change_load(load * change.value, line.moves_[row] * change.value);
            return;
        case LineChange::What::load_is:
            change_load(change.value, 0);
            return;
        case LineChange::What::across:
            across_ = change.value;
            here_.siemens += change.value;
            return;
        case LineChange::What::run_ohm:
            change_link(row, LineEffects::run_link(line.siemens_[row], change.value));
            return;
        case LineChange::What::network:
            change_link(row, LineEffects::network_link(line.siemens_[row], change.network));
            return;
    }
}

void SingleEffect::change_load(double siemens, double moves) {
    const double load = line_.load_[row_];
    const double before = line_.moves_[row_];
    across_ = siemens - load;
    here_.siemens += siemens - load;
    here_.squares += moves * moves - before * before;
    here_.crossed += (moves - before) * before;
    // What is not uncertain does not move with the others either.
    here_.linear += (moves > 0 ? siemens : 0) - load;
}

void SingleEffect::change_link(LineRow row, const LineEffects::Link& link) {
    const LineEffects::Link& before = line_.links_[row];
    row_ = line_.feed_[row];
    here_ = line_.as_recorded(row_);
    across_ = link.siemens - before.siemens;
    here_.siemens += across_;
    here_.squares += line_.squares_[row] * (link.passing * link.passing - before.passing * before.passing);
    here_.crossed += line_.squares_[row] * (link.passing - before.passing) * before.passing;
    here_.linear += line_.linear_[row] * (link.passing - before.passing);
    has_link_ = true;
    link_row_ = row;
    passing_ratio_ = link.passing / before.passing;
    forward_ratio_ = link.forward / before.forward;
}

// With the line held at `upper`, the volts at a row that meets the way to the change where the steepness is s are
// those of before times a - b s.
struct SingleEffect::Seen {
    double moved = 0;  // the change over 1 + change x Z
    double a = 1;
    double b = 0;
    double through = 0;  // T R from `upper` to the change
    double left(double steepness) const { return a - b * steepness; }
};

SingleEffect::Seen SingleEffect::seen_from(LineRow upper) const {
    Seen seen;
    seen.through = line_.through_[row_] / line_.through_[upper];
    const double impedance = std::fmax(0.0, line_.impedance_[row_] - seen.through * line_.impedance_[upper]);
    seen.moved = across_ / (1 + across_ * impedance);
    seen.b = line_.through_[row_] * seen.moved;
    seen.a = 1 + line_.steepness_[upper] * seen.b;
    return seen;
}

RowView SingleEffect::at(LineRow row) const {
    RowView view = line_.as_recorded(row);
    if (row == row_) return here_;
    if (!line_.is_behind(row_, row) || line_.root_[row] != line_.root_[row_]) return view;
    const Seen seen = seen_from(row);
    view.siemens += seen.through * seen.moved;
    const double a = seen.a;
    const double b = -seen.b;
    const double in_a4[5] = {a * a * a * a, 4 * a * a * a * b, 6 * a * a * b * b, 4 * a * b * b * b, b * b * b * b};
    const double in_a2[3] = {a * a, 2 * a * b, b * b};
    const LineEffects::Sums& behind = line_.sums_[row_];
    const LineEffects::Sums& before = line_.sums_[row];
    view.squares = view.crossed = view.linear = 0;
    for (std::size_t i = 0; i < 5; ++i) view.squares += in_a4[i] * (behind.squares[i] - before.squares[i]);
    for (std::size_t i = 0; i < 3; ++i) {
        view.crossed += in_a2[i] * (behind.squares[i] - before.squares[i]);
        view.linear += in_a2[i] * (behind.linear[i] - before.linear[i]);
    }
    const double upper = line_.through_[row];
    const double left = seen.left(line_.steepness_[row_]);
    const double arriving = seen.through * left * left;
    view.squares = std::fmax(0.0, view.squares / (upper * upper)) + here_.squares * arriving * arriving;
    view.crossed = view.crossed / (upper * upper) + here_.crossed * arriving * seen.through;
    view.linear = view.linear / upper + here_.linear * arriving;
    return view;
}

double SingleEffect::passing(LineRow upper, const WatchedRow& lower) const {
    const double before = line_.passing(upper, lower.row);
    if (!line_.is_behind(row_, upper) || line_.root_[upper] != line_.root_[row_]) return before;
    const double left = seen_from(upper).left(lower.meeting[row_]);
    const bool is_by_link = has_link_ && line_.is_behind(lower.row, link_row_);
    return before * left * left * (is_by_link ? passing_ratio_ : 1);
}

double SingleEffect::volts(const WatchedRow& row) const {
    const double before = line_.volts(row.row);
    if (line_.root_[row_] != 0) return before;
    const bool is_by_link = has_link_ && line_.is_behind(row.row, link_row_);
    return before * seen_from(0).left(row.meeting[row_]) * (is_by_link ? forward_ratio_ : 1);
}

}  // namespace tapwright
