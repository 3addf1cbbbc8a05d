#include "core/calc/bypassed_line.h"

#include "core/calc/line_tree.h"

namespace tapwright {

BypassedLine::BypassedLine(const Job& job, const Wiring& wiring, std::uint32_t zone)
    : wiring_(wiring), zone_(wiring.zones[zone]), rows_(zone_.last - zone_.first) {
    const SolveOptions options{.knobs = Knobs::bypassed};
    TreeBuilder<double>(job, wiring, options, zone_.first).add({zone, zone_.first, zone_.last}, nowhere, tree_, rows_);
}

LineRow BypassedLine::row_of(std::uint32_t point) const {
    return rows_[wiring_.position[point] - zone_.first];
}

void BypassedLine::set_run(std::uint32_t point, double ohms) {
    tree_.set_run(row_of(point), Ohms(ohms));
}

void BypassedLine::reset_runs() {
    for (std::uint32_t i = zone_.first; i < zone_.last; ++i)
        tree_.set_run(rows_[i - zone_.first], Ohms(wiring_.points[wiring_.order[i]].run_ohm));
}

Volts BypassedLine::volts_at(std::uint32_t point) {
    solve(tree_, solution_);
    return solution_.volts_at(row_of(point));
}

}  // namespace tapwright
