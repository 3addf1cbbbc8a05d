// Outlook: what a meter sees from one place, away from the amplifier, according to the record.
//
// A zone looks into its whole line, a channel into all its zones, a point into its own branch. Everything is kept as
// conductance, so that a low-impedance zone, where watts mean nothing, is judged like any other.
#pragma once

#include "core/calc/line_state.h"

namespace tapwright {

struct Outlook {
    Kind kind = Kind::zone;  // zone, channel or point
    std::uint32_t place = 0;
    std::vector<Stretch> stretches;  // empty: nothing is traced to this place
    Volts line_v{0};
    bool low_impedance = false;
    std::optional<Watts> limit;     // the least one known on the way to the amplifier
    std::optional<Ohms> min_ohm;    // of its channel
    std::uint32_t known = nowhere;  // points from here on in job.all<Point>() were not in the record yet
    std::uint32_t newest = 0;       // one past the last of its points in job.all<Point>()

    bool emergency = false;

    // Its loudspeakers that are connected, as far as they were in the record.
    std::uint32_t speakers = 0;
    std::uint32_t planned = 0;  // not connected yet
    std::uint32_t without_tap = 0;
    std::uint32_t modelled = 0;  // with a transformer model
    // Conductance of the smallest and the largest tap; 0: none is known. A loudspeaker without a tap has at least the
    // smallest its type offers.
    double smallest_s = 0;
    double largest_s = 0;
    double total_s = 0;  // all taps, every attenuator at 0 dB
    std::vector<std::uint32_t> attenuators;
    // A type whose taps are marked for another line voltage, the first met; nowhere: none.
    std::uint32_t other_marks = nowhere;
    Volts other_marks_v{0};  // and the line voltage it is on
};

// Nothing where `at` names no zone, channel or traced point.
// `taken`: by reading, whether it had been taken then (SolveOptions::taken); what was found later was not in the
// record.
std::optional<Outlook> outlook_from(const Job& job, const Wiring& wiring, const Id& at, std::uint32_t known,
                                    const std::vector<bool>* taken = nullptr);

// What the record expects there. The sum over its stretches.
std::complex<double> expected_siemens(const Job& job, const Wiring& wiring, const Outlook& outlook,
                                      const SolveOptions& options);

}  // namespace tapwright
