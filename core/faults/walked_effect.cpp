// Several changes at once: what lies between them and the amplifier is folded again, and nothing else.
#include <algorithm>
#include <limits>

#include "core/faults/line_effects.h"

namespace tapwright {
namespace {

constexpr std::uint32_t no_slot = std::numeric_limits<std::uint32_t>::max();

}  // namespace

WalkedEffect::WalkedEffect(const LineEffects& line) : line_(line), slot_(line.rows(), no_slot) {}

WalkedEffect::Touched& WalkedEffect::touch(LineRow row) {
    if (slot_[row] == no_slot) {
        slot_[row] = static_cast<std::uint32_t>(touched_.size());
        touched_.push_back({line_.as_recorded(row), line_.links_[row], false, 0, false, {}});
        rows_.push_back(row);
    }
    return touched_[slot_[row]];
}

void WalkedEffect::apply(const LineChange& change) {
    Touched& touched = touch(change.row);
    const double load = line_.load_[change.row];
    const double before = line_.moves_[change.row];
    const auto replace = [&](double siemens, double moves) {
        touched.view.siemens += siemens - load;
        touched.view.squares += moves * moves - before * before;
        touched.view.crossed += (moves - before) * before;
        touched.view.linear += (moves > 0 ? siemens : 0) - load;
    };
    switch (change.what) {
        case LineChange::What::load_times:
            return replace(load * change.value, before * change.value);
        case LineChange::What::load_is:
            return replace(change.value, 0);
        case LineChange::What::across:
            touched.view.siemens += change.value;
            return;
        case LineChange::What::run_ohm:
            touched.has_run = true;
            touched.run = change.value;
            return;
        case LineChange::What::network:
            touched.has_network = true;
            touched.network = change.network;
            return;
    }
}

LineEffects::Link WalkedEffect::link_of(LineRow row) const {
    const Touched& touched = touched_[slot_[row]];
    if (row == 0) return {0, 0, 0};
    if (touched.has_network) return LineEffects::network_link(touched.view.siemens, touched.network);
    if (touched.has_run) return LineEffects::run_link(touched.view.siemens, touched.run);
    return line_.link(row, touched.view.siemens);
}

// Takes what is otherwise at a row to its feed.
void WalkedEffect::close(LineRow row) {
    const LineEffects::Link now = link_of(row);
    const LineEffects::Link& before = line_.links_[row];
    const RowView view = touched_[slot_[row]].view;
    touched_[slot_[row]].link = now;
    RowView& feed = touch(line_.feed_[row]).view;
    const double squares = line_.squares_[row] * before.passing * before.passing;
    feed.siemens += now.siemens - before.siemens;
    feed.squares += view.squares * now.passing * now.passing - squares;
    feed.crossed += view.crossed * now.passing * before.passing - squares;
    feed.linear += view.linear * now.passing - line_.linear_[row] * before.passing;
}

void WalkedEffect::walk(const std::vector<LineChange>& changes) {
    for (const LineRow row : rows_) slot_[row] = no_slot;
    rows_.clear();
    touched_.clear();
    for (const LineChange& change : changes) apply(change);
    std::vector<LineRow> front(rows_);
    std::sort(front.begin(), front.end());
    front.erase(std::unique(front.begin(), front.end()), front.end());
    // A feed is an earlier row, so the last row first: when its turn comes all that is behind it is final.
    while (!front.empty() && front.back() != 0) {
        const LineRow row = front.back();
        front.pop_back();
        close(row);
        const LineRow feed = line_.feed_[row];
        const auto place = std::lower_bound(front.begin(), front.end(), feed);
        if (place == front.end() || *place != feed) front.insert(place, feed);
    }
}

RowView WalkedEffect::at(LineRow row) const {
    return slot_[row] == no_slot ? line_.as_recorded(row) : touched_[slot_[row]].view;
}

double WalkedEffect::passing(LineRow upper, const WatchedRow& lower) const {
    double passed = 1;
    for (LineRow row = lower.row; row != upper; row = line_.feed_[row])
        passed *= (slot_[row] == no_slot ? line_.links_[row] : touched_[slot_[row]].link).passing;
    return passed;
}

double WalkedEffect::volts(const WatchedRow& row) const {
    double left = 1;
    for (LineRow at = row.row; at != 0; at = line_.feed_[at])
        left *= (slot_[at] == no_slot ? line_.links_[at] : touched_[slot_[at]].link).forward;
    return left;
}

}  // namespace tapwright
