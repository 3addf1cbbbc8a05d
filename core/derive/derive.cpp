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

void add_line(const LineState& line, Derived& derived) {
    std::vector<std::complex<double>> as_left(derived.channels.size());
    std::vector<std::complex<double>> full(derived.channels.size());
    for (std::size_t i = 0; i < derived.zones.size(); ++i) {
        derived.zones[i].ohms = line.zones[i].ohms;
        if (const auto channel = derived.zones[i].channel) {
            as_left[*channel] += line.siemens[i];
            full[*channel] += line.siemens_full[i];
        }
    }
    for (std::size_t i = 0; i < derived.channels.size(); ++i) {
        derived.channels[i].ohms = impedance(as_left[i]);
        derived.channels[i].ohms_full = impedance(full[i]);
    }
    for (std::size_t i = 0; i < derived.points.size(); ++i) {
        const PointSolution& solved = line.points[i];
        PointOnLine& point = derived.points[i];
        point.volts = solved.volts;
        point.watts = solved.watts;
        point.ohms = solved.ohms;
        if (solved.ohms > Ohms(0)) point.carried = watts_of(solved.volts, solved.ohms);
        point.level = solved.level;
        point.cable = solved.cable;
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
    add_line(line, derived);
    judge_readings(job, wiring, line, derived);
    // Beyond this point it is known what each zone draws beyond its record.
    add_headroom(job, wiring, derived);
    derived.findings = find(job, wiring, derived);
    return derived;
}

}  // namespace tapwright
