// The line itself: every voltage, watt and impedance of a job's zones, from its records.
//
// core/line solves trees of plain numbers; here records become such trees. The source is the line voltage with zero
// output impedance; what is not recorded is taken as harmless and said in a finding: a run without cable or length has
// no resistance, an attenuator without a position stands at 0 dB. Definitions: docs/calculations.md.
#pragma once

#include <complex>
#include <span>
#include <vector>

#include "core/calc/wiring.h"
#include "core/line/tree.h"

namespace tapwright {

// How the attenuators stand. `full`: at their 0 dB step. `bypassed`: straight through and lossless.
enum class Knobs : std::uint8_t { as_left, full, bypassed };

struct SolveOptions {
    Knobs knobs = Knobs::as_left;
    const KnobMap* given = nullptr;  // where it names an attenuator, that position holds instead. Not owned
    bool override_active = false;    // attenuators whose type has an override are straight through
    bool planned = false;            // loudspeakers count that are not connected yet
    // By reading (in job.all<Reading>()), whether it had been taken: what was found by one that had not does not count.
    // Null: everything counts. Not owned
    const std::vector<bool>* taken = nullptr;
    std::optional<Hertz> hz{};  // absent: every loudspeaker is a plain conductance, transformer models unused
};

struct PointSolution {
    Volts volts{0};  // at its incoming terminals; an attenuator's are its input. Zero where nothing arrives
    Watts watts{0};  // into its own load: a loudspeaker's line terminals
    Ohms ohms{0};    // into its incoming terminals, away from the amplifier; infinite where nothing draws
    std::optional<Decibels> level;  // of a loudspeaker: 10 lg(watts / drawn); absent when silent
    std::optional<Decibels> cable;  // the same with every attenuator bypassed
};

struct LineState {
    std::vector<ZoneLine> zones;                     // parallel to job.all<Zone>()
    std::vector<PointSolution> points;               // parallel to job.all<Point>(); all zero where not traced
    std::vector<std::complex<double>> siemens;       // of each zone as its channel sees it
    std::vector<std::complex<double>> siemens_full;  // the same with every attenuator at 0 dB
};

// Linear in the points. For one answer from the command line, `solve_lines(job, wire(job), {.knobs = Knobs::full})`.
LineState solve_lines(const Job& job, const Wiring& wiring, const SolveOptions& options);

// A stretch of Wiring::order inside one zone: a whole zone, or a point with its branch.
struct Stretch {
    std::uint32_t zone = nowhere;
    std::uint32_t first = 0;
    std::uint32_t last = 0;
};

// Admittance looking into a stretch away from the amplifier: at the zone's terminals for a whole zone (`first` its
// first), else at the incoming terminals of the stretch's first point. Points at or after `known` in job.all<Point>()
// draw nothing: they were not in the record yet.
std::complex<double> siemens_of(const Job& job, const Wiring& wiring, const Stretch& stretch, bool at_zone,
                                const SolveOptions& options, std::uint32_t known);

// How attenuators (places in job.all<Point>()) stand under these options; where nobody says, at 0 dB.
std::vector<Knob> knobs_of(const Job& job, std::span<const std::uint32_t> attenuators, const SolveOptions& options);

}  // namespace tapwright
