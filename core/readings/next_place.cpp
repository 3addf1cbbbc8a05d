#include "core/readings/next_place.h"

#include <algorithm>
#include <cmath>

#include "core/readings/assessment.h"

namespace tapwright {
namespace {

constexpr std::uint32_t fewest_to_split = 3;

double load_of(const Wiring& wiring, const Outlook& outlook) {
    double watts = 0;
    for (const Stretch& stretch : outlook.stretches)
        for (std::uint32_t i = stretch.first; i < stretch.last; i = wiring.branch_end[i])
            watts += wiring.points[wiring.order[i]].load_w;
    return watts;
}

std::uint32_t splitting_point(const Wiring& wiring, const Outlook& outlook, double whole) {
    std::uint32_t best = nowhere;
    double best_part = 0;
    for (const Stretch& stretch : outlook.stretches)
        for (std::uint32_t i = stretch.first; i < stretch.last; ++i) {
            const double branch = wiring.points[wiring.order[i]].load_w;
            const double part = std::min(branch, whole - branch);
            if (part > best_part * (1 + 1e-9)) {
                best_part = part;
                best = wiring.order[i];
            }
        }
    return best;
}

}  // namespace

std::optional<NextPlace> next_place(const Job& job, const Wiring& wiring, const Reading& reading, std::uint32_t known) {
    if (!is_judged(reading)) return std::nullopt;
    const std::optional<Outlook> outlook = outlook_from(job, wiring, *reading.at, known);
    if (!outlook || outlook->speakers < fewest_to_split) return std::nullopt;
    const double whole = load_of(wiring, *outlook);
    const std::uint32_t split = splitting_point(wiring, *outlook, whole);
    if (split == nowhere) return std::nullopt;
    const std::uint32_t position = wiring.position[split];
    const Stretch branch{wiring.points[split].zone, position, wiring.branch_end[position]};
    const double siemens = std::abs(siemens_of(job, wiring, branch, false, conditions_of(job, reading), known));
    if (!(siemens > 0)) return std::nullopt;
    return NextPlace{split, Ohms(1 / siemens), Percent(wiring.points[split].load_w / whole * 100)};
}

std::optional<NextPlace> next_place(const Job& job, const Wiring& wiring, std::uint32_t place) {
    return next_place(job, wiring, job.all<Reading>()[place], points_before(job, place));
}

}  // namespace tapwright
