#include "core/plan/loss_cure.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/calc/line_state.h"
#include "core/line/conductor.h"
#include "core/line/loss.h"

namespace tapwright {
namespace {

// Volts at a point with every attenuator bypassed, as share of the line voltage. Only its own zone is solved.
Volts volts_at(const Job& job, const Wiring& wiring, std::uint32_t point) {
    return solve_lines(job, wiring, {.knobs = Knobs::bypassed}).points[point].volts;
}

std::vector<std::uint32_t> way_to(const Wiring& wiring, std::uint32_t point) {
    std::vector<std::uint32_t> way;
    for (std::uint32_t at = point; at != nowhere; at = wiring.points[at].feed) way.push_back(at);
    return way;
}

std::uint32_t cable_at(const Job& job, std::uint32_t point) {
    const auto& cable = job.all<Point>()[point].cable;
    return cable ? job.place<CableType>(*cable).value_or(nowhere) : nowhere;
}

// Requires: its size is known.
ConductorSize size_of(const CableType& cable) {
    if (cable.area_mm2) return *cable.area_mm2;
    return Gauge{static_cast<int>(*cable.awg)};
}

// The same cable one size up; nothing where its size is not known or is the last.
std::optional<CableType> thicker(CableType cable) {
    if (cable.ohm_per_km) return std::nullopt;
    if (cable.area_mm2) {
        cable.area_mm2 = next_area_up(*cable.area_mm2);
        return cable.area_mm2 ? std::optional(cable) : std::nullopt;
    }
    if (!cable.awg) return std::nullopt;
    cable.awg = next_awg_up(*cable.awg);
    return cable.awg ? std::optional(cable) : std::nullopt;
}

// Those runs of a cable thicker, until `point` keeps the limit.
std::optional<ThickerCable> thicker_cable(const Job& job, Wiring wiring, std::uint32_t point,
                                          const std::vector<std::uint32_t>& of_runs, std::uint32_t cable,
                                          Decibels limit) {
    const CableType& present = job.all<CableType>()[cable];
    const Celsius celsius = job.info().cable_c.value_or(Defaults::cable_c);
    const Volts line = wiring.zones[wiring.points[point].zone].line_v;
    const double before = conductor_of(present, celsius).value_or(OhmsPerKm(0)).value();
    std::vector<double> runs;
    for (const WiredPoint& wired : wiring.points) runs.push_back(wired.run_ohm);
    for (std::optional<CableType> next = thicker(present); next; next = thicker(*next)) {
        const auto conductor = conductor_of(*next, celsius);
        if (!conductor || !(before > 0)) break;
        for (const std::uint32_t i : of_runs) wiring.points[i].run_ohm = runs[i] * conductor->value() / before;
        const Decibels loss = -decibels_of_power(std::pow(volts_at(job, wiring, point) / line, 2));
        if (keeps_most(loss, limit)) return ThickerCable{size_of(present), size_of(*next), loss};
    }
    return std::nullopt;
}

// The points whose run is of that cable.
std::vector<std::uint32_t> runs_of(const Job& job, const Wiring& wiring, std::uint32_t cable) {
    std::vector<std::uint32_t> runs;
    for (std::uint32_t i = 0; i < wiring.points.size(); ++i)
        if (cable_at(job, i) == cable) runs.push_back(i);
    return runs;
}

// How long `run` may be.
ShorterRun shorter_run(const Job& job, Wiring wiring, std::uint32_t point, std::uint32_t run, Decibels limit) {
    const Volts line = wiring.zones[wiring.points[point].zone].line_v;
    const Ohms present(wiring.points[run].run_ohm);
    const Volts now = volts_at(job, wiring, point);
    wiring.points[run].run_ohm = 0;
    const Volts without = volts_at(job, wiring, point);
    const Volts wanted = line * voltage_ratio(-limit);
    const bool solvable = now > Volts(0) && without > Volts(0) && wanted > Volts(0);
    const std::optional<Ohms> allowed = solvable ? run_for_volts(present, now, without, wanted) : std::nullopt;
    const Point& fed = job.all<Point>()[run];
    ShorterRun shorter{fed.id, fed.length_m.value_or(Metres(0)), {}};
    if (allowed) shorter.allowed = shorter.length * (*allowed / present);
    return shorter;
}

}  // namespace

std::optional<LossCure> loss_cure(const Job& job, const Wiring& wiring, std::uint32_t point, Decibels limit) {
    const std::vector<std::uint32_t> way = way_to(wiring, point);
    const std::uint32_t run = *std::max_element(way.begin(), way.end(), [&](std::uint32_t a, std::uint32_t b) {
        return wiring.points[a].run_ohm < wiring.points[b].run_ohm;
    });
    if (!(wiring.points[run].run_ohm > 0)) return std::nullopt;
    LossCure cure;
    cure.shorter = shorter_run(job, wiring, point, run, limit);
    const std::uint32_t cable = cable_at(job, run);
    if (cable != nowhere) cure.thicker = thicker_cable(job, wiring, point, runs_of(job, wiring, cable), cable, limit);
    cure.home_run_to = job.all<Point>()[way.back()].id;
    const std::uint32_t home = cable_at(job, way.back());
    if (home != nowhere && wiring.points[way.back()].run_ohm > 0 && runs_of(job, wiring, home).size() > 1)
        cure.home_run = thicker_cable(job, wiring, point, {way.back()}, home, limit);
    return cure;
}

}  // namespace tapwright
