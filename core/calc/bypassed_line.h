// The line of one zone by itself, every attenuator bypassed, to be solved again and again with other runs: what a
// thicker or a shorter cable would do. The rest of the job is not touched, so the answers for all zones of a job
// together take a time that is linear in its points.
#pragma once

#include "core/calc/wiring.h"
#include "core/line/tree.h"

namespace tapwright {

class BypassedLine {
public:
    // Requires: zone < number of zones. `wiring` outlives it.
    BypassedLine(const Job& job, const Wiring& wiring, std::uint32_t zone);

    // The run that feeds a point of the zone. Requires: the point is on this line; 0 <= run <= largest_value.
    void set_run(std::uint32_t point, double ohms);
    // All runs as they are recorded.
    void reset_runs();
    // At the incoming terminals of a point of the zone, as solve_lines() has it.
    Volts volts_at(std::uint32_t point);

private:
    LineRow row_of(std::uint32_t point) const;

    const Wiring& wiring_;
    const WiredZone& zone_;
    LineTree<double> tree_;
    std::vector<LineRow> rows_;  // by position in Wiring::order, from the zone's first
    LineSolution<double> solution_;
};

}  // namespace tapwright
