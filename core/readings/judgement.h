// Judgement: what one reading means, as data: its verdict, and what it proves and cannot prove.
// core/readings/readings.h makes it, core/words says it, and no member is a sentence.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "core/calc/figures.h"

namespace tapwright {

enum class Verdict : std::uint8_t { not_judged, open, shorted, more_load, less_load, drifted, agrees };
std::string_view word(Verdict verdict);  // "short" for shorted
enum class LimitState : std::uint8_t { ok, warn, stop };
std::string_view word(LimitState state);

// Why a reading is not judged.
enum class Unjudged : std::uint8_t {
    not_compared,         // of another quantity, or without a value: kept beside the record
    no_place,             // at no zone, output or traced point
    emergency,            // on a fire or emergency line, which is left to qualified people
    amplifier_connected,  // the line was not disconnected from the amplifier, so that was measured too
    signal_present,       // something was playing
    stray_voltage,        // so many volts were on the line, by the last reading of it before this one
    range_too_small,      // over range, on a range that could not have shown what is expected
    frequency,            // a line no longer shows its taps at that frequency
    taps_unknown,         // some loudspeaker has neither a tap nor a planned one; the reading may be valid all the same
};
std::string_view word(Unjudged why);

// Whether both conductors were disconnected from the amplifier.
enum class Isolation : std::uint8_t { disconnected, not_stated, connected };
std::string_view word(Isolation isolation);

// What the range in use must show before "over range" says anything: so many times what is expected.
inline constexpr double least_range_ratio = 3;
// Stray volts from which no reading of ohms is believed.
inline constexpr Volts least_stray_volts{1};
// What expected_ohm holds where an open line was expected: no meter reads that on a line, and V^2 over it is no load.
inline constexpr Ohms open_line_ohms{1e9};
// The other end of what expected_ohm holds: less is a short whatever it is.
inline constexpr Ohms least_expected_ohms{1e-6};

// What limits the place it was taken at. A low-impedance zone has no limit in watts.
struct ReadingLimit {
    std::optional<Watts> limit;   // the least known on the way to the amplifier
    std::optional<Watts> over;    // how far what was measured is above it
    std::optional<Ohms> min_ohm;  // what the output may be loaded with
    bool is_below_min_ohm = false;
};

// A reading held against the newest baseline at its place.
struct AgainstBaseline {
    std::uint32_t reading = 0;  // the baseline, in job.all<Reading>()
    Percent drift{0};           // (reading / expected) / (baseline / expected then) - 1
    Percent allowed{0};
    bool same_conditions = false;  // meter, frequency, positions and override
    bool is_rescaled = false;      // other ohms were expected of the baseline: the plain ratio is another figure
};

// What a drift from the baseline stands for: ohms higher by d mean that the share d / (1 + d) of the load is gone.
struct DriftShare {
    Percent of_load{0};                         // never negative
    bool is_gone = true;                        // else it has come
    std::optional<std::uint32_t> loudspeakers;  // so many, where all taps are equal and the share is a whole number
};

// Whether a reading that matches the record would show one open loudspeaker: with N equal taps one moves the impedance
// by 1 / (N - 1), so a band of 20 % is blind to it from N = 6 on, a baseline of 5 % from N = 21 on.
struct OpenSpeakerSight {
    Percent moves{0};             // what the smallest tap, if open, moves the impedance by
    bool is_equal = true;         // all taps are equal; else it is said of the smallest
    Percent band{0};              // ohms_tol_pct
    Percent baseline{0};          // baseline_tol_pct
    bool band_shows = false;      // none is open, unless another fault hides it
    bool baseline_shows = false;  // a baseline under the same conditions would show it
    bool has_baseline = false;    // and this reading was held against one
};

// A loudspeaker type there whose taps are marked for another line voltage. Its impedance is the same on either line, so
// no reading of ohms can reveal it.
struct HiddenMarks {
    std::uint32_t type = 0;  // in job.all<SpeakerType>(); the first of several
    Volts marked{0};
    Volts line{0};
    double drawn_ratio = 1;  // watts drawn / watts marked
};

// How the attenuators there stood.
struct PositionsNoted {
    std::uint32_t attenuators = 0;
    std::uint32_t noted = 0;       // with the reading; the others count as left, else at 0 dB
    bool override_active = false;  // those with an override count as straight through
};

// What one reading means. Only readings of ohms at a zone, output or traced point are judged.
struct Judgement {
    std::optional<Ohms> expected;  // absent where nothing can be expected (not traced, taps unknown)
    std::optional<Ohms> low;       // the band: expected -/+ ohms_tol_pct
    std::optional<Ohms> high;
    std::optional<Watts> measured;  // V^2/ohms
    std::optional<Watts> expected_w;
    std::optional<Watts> difference;
    // Of the loudspeakers that are connected and whose taps are known; `expected` itself where that is all of them.
    std::optional<Ohms> expected_known;
    // Of all that is planned too, where that is another figure. Of a draft, and of the newest reading at a place.
    std::optional<Ohms> expected_all;
    // Where the record has changed since the reading so that other ohms are expected under the same conditions: what is
    // expected now, and the reading is to be taken again. Of the newest reading at a place alone.
    std::optional<Ohms> expected_now;
    Verdict verdict = Verdict::not_judged;
    LimitState limit = LimitState::ok;

    Unjudged unjudged = Unjudged::not_compared;  // where the verdict is not_judged
    Isolation isolation = Isolation::not_stated;
    // Whether it proves what it says: disconnected from the amplifier, and no reason not to believe it. Only such a one
    // is a baseline, makes an unknown headroom known or lowers what is unrecorded.
    bool is_valid = false;
    std::optional<std::uint32_t> stray;  // the reading of stray volts that speaks against it, in job.all<Reading>()
    std::optional<Ohms> least_range;     // over range: the smallest range that says something, where one is known
    // Of a zone: what was measured beyond what the record knew then, >= 0. Absent where nothing was measured.
    std::optional<Watts> beyond;
    Volts line_v{0};                // of the place
    std::uint32_t speakers = 0;     // connected there, as far as they were in the record
    std::uint32_t planned = 0;      // in the record there, but not connected
    std::uint32_t without_tap = 0;  // of those connected, with neither a tap nor a planned one
    PositionsNoted positions;
    ReadingLimit against_limit;
    std::optional<AgainstBaseline> baseline;
    std::optional<DriftShare> drift_share;  // where the verdict is drifted
    std::optional<OpenSpeakerSight> sight;  // where it agrees, and cable and positions leave the figure to the taps
    std::optional<HiddenMarks> hidden_marks;
};

// The figures of a job with its readings judged.
struct Judged : Figures {
    std::vector<Judgement> readings;  // one a reading of the job
};

}  // namespace tapwright
