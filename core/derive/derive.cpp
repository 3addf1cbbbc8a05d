#include "core/calc/line_state.h"
#include "core/calc/loads.h"
#include "core/calc/wiring.h"
#include "core/derive/derived.h"
#include "core/findings/findings.h"
#include "core/readings/readings.h"

namespace tapwright {
namespace {

Derived empty_for(const Job& job) {
    Derived derived;
    derived.zones.resize(job.all<Zone>().size());
    derived.channels.resize(job.all<Channel>().size());
    derived.amplifiers.resize(job.all<Amplifier>().size());
    derived.points.resize(job.all<Point>().size());
    derived.readings.resize(job.all<Reading>().size());
    return derived;
}

Ohms impedance(std::complex<double> siemens) {
    return ohms_of_admittance(siemens);
}

using Siemens = std::complex<double>;

// An admittance of each zone, summed over the zones of each output.
std::vector<Siemens> sums_over_zones(const std::vector<Siemens>& of_zones, const Derived& derived) {
    std::vector<Siemens> sums(derived.channels.size());
    for (std::size_t i = 0; i < of_zones.size(); ++i)
        if (const auto channel = derived.zones[i].channel) sums[*channel] += of_zones[i];
    return sums;
}

void add_impedances(const LineState& now, const LineState& all, Derived& derived) {
    for (std::size_t i = 0; i < derived.zones.size(); ++i) {
        derived.zones[i].ohms = now.zones[i].ohms;
        derived.zones[i].ohms_full = impedance(now.siemens_full[i]);
        derived.zones[i].ohms_all = all.zones[i].ohms;
    }
    const std::vector<Siemens> as_left = sums_over_zones(now.siemens, derived);
    const std::vector<Siemens> full = sums_over_zones(now.siemens_full, derived);
    const std::vector<Siemens> all_as_left = sums_over_zones(all.siemens, derived);
    const std::vector<Siemens> all_full = sums_over_zones(all.siemens_full, derived);
    for (std::size_t i = 0; i < derived.channels.size(); ++i) {
        ChannelState& channel = derived.channels[i];
        channel.ohms = impedance(as_left[i]);
        channel.ohms_full = impedance(full[i]);
        channel.ohms_all = impedance(all_as_left[i]);
        channel.ohms_all_full = impedance(all_full[i]);
    }
}

void add_line(const LineState& line, const LineState& all, Derived& derived) {
    add_impedances(line, all, derived);
    for (std::size_t i = 0; i < derived.points.size(); ++i) {
        const PointSolution& solved = line.points[i];
        PointOnLine& point = derived.points[i];
        point.volts = solved.volts;
        point.watts = solved.watts;
        point.ohms = solved.ohms;
        if (solved.ohms > Ohms(0)) point.carried = watts_of(solved.volts, solved.ohms);
        point.level = solved.level;
        point.cable = solved.cable;
        point.ohms_all = all.points[i].ohms;
        point.cable_all = all.points[i].cable;
    }
    derived.lines = line.zones;
}

}  // namespace

Derived derive(const Job& job) {
    Derived derived = empty_for(job);
    const Wiring wiring = wire(job);
    add_loads(job, wiring, derived);
    // Beyond this point loads, limits and reserves are final.
    const LineState line = solve_lines(job, wiring, {.hz = test_frequency(job)});
    // Only a job with loudspeakers that are planned and not connected has a second solution.
    std::optional<LineState> with_planned;
    if (wiring.has_planned) with_planned = solve_lines(job, wiring, {.planned = true, .hz = test_frequency(job)});
    add_line(line, with_planned ? *with_planned : line, derived);
    judge_readings(job, wiring, line, derived);
    // Beyond this point it is known what each zone draws beyond its record.
    add_headroom(job, wiring, derived);
    derived.findings = find(job, wiring, derived);
    return derived;
}

}  // namespace tapwright
