// Where attenuators stand whose position nobody noted. A baseline and a reading both depend on it, so it is no fault
// that came since: of each position the line is held against all that was read and heard, whatever is wrong with it.
#include <algorithm>
#include <cmath>

#include "core/base/sort.h"
#include "core/faults/likelihood.h"

namespace tapwright {

std::vector<std::uint32_t> unnoted_attenuators(const Job& job, const FaultLine& line) {
    const WiredZone& zone = line.wiring.zones[line.zone];
    std::vector<std::uint32_t> unnoted;
    for (std::uint32_t i = zone.first; i < zone.last; ++i) {
        const std::uint32_t place = line.wiring.order[i];
        const WiredPoint& point = line.wiring.points[place];
        if (point.kind != PointKind::attenuator || point.attenuator_type == nowhere) continue;
        const bool has_steps = job.all<AttenuatorType>()[point.attenuator_type].steps_db.has_value();
        if (has_steps && !job.all<Point>()[place].knob_db) unnoted.push_back(place);
    }
    const LineEffects& effects = *line.conditions.front().effects;
    const auto behind = [&](std::uint32_t place) { return effects.as_recorded(line.row_of(place)).siemens; };
    sort_by(unnoted, [&](std::uint32_t a, std::uint32_t b) { return behind(a) > behind(b); });
    return unnoted;
}

double log_evidence(const FaultLine& line) {
    const Likelihood likelihood(line);
    CauseEffects effects(line);
    std::vector<double> logs;
    for (const Cause& cause : line.causes) {
        effects.set(cause);
        logs.push_back(std::log(cause.weight) + likelihood.log_of_readings(effects, 0) +
                       likelihood.of_the_rest(cause, effects));
    }
    const double top = *std::max_element(logs.begin(), logs.end());
    double sum = 0;
    for (const double log : logs) sum += std::exp(log - top);
    return top + std::log(sum);
}

}  // namespace tapwright
