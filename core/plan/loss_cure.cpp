#include "core/plan/loss_cure.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/calc/bypassed_line.h"
#include "core/line/conductor.h"
#include "core/line/loss.h"

namespace tapwright {
namespace {

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

// The loudspeaker in question, and the line it is on.
struct Ailing {
    const Job& job;
    const Wiring& wiring;
    std::uint32_t point;
    Decibels limit;
    BypassedLine line;

    Volts line_v() const { return wiring.zones[wiring.points[point].zone].line_v; }
};

// Those runs of a cable thicker, until the limit is kept.
std::optional<ThickerCable> thicker_cable(Ailing& ailing, const std::vector<std::uint32_t>& of_runs,
                                          std::uint32_t cable) {
    const CableType& present = ailing.job.all<CableType>()[cable];
    const Celsius celsius = ailing.job.info().cable_c.value_or(Defaults::cable_c);
    const double before = conductor_of(present, celsius).value_or(OhmsPerKm(0)).value();
    std::optional<ThickerCable> found;
    for (std::optional<CableType> next = thicker(present); next && !found; next = thicker(*next)) {
        const auto conductor = conductor_of(*next, celsius);
        if (!conductor || !(before > 0)) break;
        for (const std::uint32_t i : of_runs)
            ailing.line.set_run(i, ailing.wiring.points[i].run_ohm * conductor->value() / before);
        const Decibels loss = -decibels_of_power(std::pow(ailing.line.volts_at(ailing.point) / ailing.line_v(), 2));
        if (keeps_most(loss, ailing.limit)) found = ThickerCable{size_of(present), size_of(*next), loss};
    }
    ailing.line.reset_runs();
    return found;
}

// The points of the line whose run is of that cable.
std::vector<std::uint32_t> runs_of(const Ailing& ailing, std::uint32_t cable) {
    const WiredZone& zone = ailing.wiring.zones[ailing.wiring.points[ailing.point].zone];
    std::vector<std::uint32_t> runs;
    for (std::uint32_t i = zone.first; i < zone.last; ++i)
        if (cable_at(ailing.job, ailing.wiring.order[i]) == cable) runs.push_back(ailing.wiring.order[i]);
    return runs;
}

// How long `run` may be.
ShorterRun shorter_run(Ailing& ailing, std::uint32_t run) {
    const Ohms present(ailing.wiring.points[run].run_ohm);
    const Volts now = ailing.line.volts_at(ailing.point);
    ailing.line.set_run(run, 0);
    const Volts without = ailing.line.volts_at(ailing.point);
    ailing.line.reset_runs();
    const Volts wanted = ailing.line_v() * voltage_ratio(-ailing.limit);
    const bool solvable = now > Volts(0) && without > Volts(0) && wanted > Volts(0);
    const std::optional<Ohms> allowed = solvable ? run_for_volts(present, now, without, wanted) : std::nullopt;
    const Point& fed = ailing.job.all<Point>()[run];
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
    Ailing ailing{job, wiring, point, limit, BypassedLine(job, wiring, wiring.points[point].zone)};
    LossCure cure;
    cure.shorter = shorter_run(ailing, run);
    const std::uint32_t cable = cable_at(job, run);
    if (cable != nowhere) cure.thicker = thicker_cable(ailing, runs_of(ailing, cable), cable);
    cure.home_run_to = job.all<Point>()[way.back()].id;
    const std::uint32_t home = cable_at(job, way.back());
    if (home != nowhere && wiring.points[way.back()].run_ohm > 0 && wiring.cable_runs[home] > 1)
        cure.home_run = thicker_cable(ailing, {way.back()}, home);
    return cure;
}

}  // namespace tapwright
