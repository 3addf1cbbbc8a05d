// Which measurement settles most for the least work: of every measurement there could be, how much is expected to be
// known afterwards of the place of the fault, over the minutes it takes.
//
// Greedy by information over cost, after D. Golovin and A. Krause, "Adaptive submodularity", Journal of Artificial
// Intelligence Research 42, 2011: greedy is close to the best there is where each answer helps less the more is known.
// Here that holds only nearly (readings are noisy), so how well it does was measured: docs/calculations.md, "Faults".
//
// In steps, one measurement each, so that a window can go on drawing:
//     NextMeasurement next(job, diagnosis, {});
//     while (next.step()) {}
//     next.best();
#pragma once

#include "core/faults/diagnosis.h"

namespace tapwright {

enum class Asked : std::uint8_t { ohms, dc_ohms, heard, tap_w };
std::string_view word(Asked asked);
std::optional<Asked> asked_named(std::string_view word);

struct NextOptions {
    std::optional<Asked> only;
    bool equal_costs = false;
    MeasurementCosts costs{};
    // Where the person is: a room; else where the latest reading was taken.
    std::optional<Id> room{};
};

// What some of the likeliest causes would show.
struct ExpectedShown {
    std::vector<std::uint32_t> causes;  // in Diagnosis::causes(), of those shown
    double value = 0;                   // ohms, or the tap's watts
    double low = 0;                     // of ohms: 95 of 100 lie between
    double high = 0;
    bool is_open = false;    // over range
    bool is_silent = false;  // of what is heard
    bool is_bypass = false;  // of a tap: its low-impedance setting
};

struct Measurement {
    Id at{};
    Asked asked = Asked::ohms;
    bool at_zone = false;
    std::optional<std::uint32_t> turned{};  // ohms at the zone with this attenuator off, or down as far as it goes
    bool turned_off = false;
    std::uint32_t condition = 0;
    LineRow row = 0;
    double bits = 0;
    double minutes = 0;
    std::vector<ExpectedShown> expected{};  // of the best few alone
};

class NextMeasurement {
public:
    // `diagnosis` and `job` outlive it.
    NextMeasurement(const Job& job, const Diagnosis& diagnosis, const NextOptions& options);

    // Looks at one more. Returns: whether there is more to look at.
    bool step();
    // The best first, those of no use left out; nothing once one place is sure. Requires: step() returned false.
    std::vector<Measurement> best(std::size_t most = 5) const;

private:
    struct Live {
        std::uint32_t cause = 0;
        double chance = 0;
        std::uint32_t place = 0;
        CauseFit fit;
    };
    void list_candidates();
    void keep_live();
    double entropy_now() const;
    double left_after_ohms(const Measurement& measurement);
    template <class ChanceOf>
    double left_after(std::size_t answers, const ChanceOf& chance_of) const;
    double left_after_listening(const Measurement& measurement) const;
    double left_after_look(const Measurement& measurement) const;
    double minutes_of(const Measurement& measurement) const;
    double minutes_at(std::uint32_t point, double at_loudspeaker) const;
    double walk_to(const std::optional<Id>& room) const;
    Look look_of(const Measurement& measurement) const;
    void add_expected(Measurement& measurement) const;
    ExpectedShown shown_by(const Measurement& measurement, const Live& live) const;
    std::size_t tap_answer(const Measurement& measurement, const Cause& cause) const;

    const Job& job_;
    const Diagnosis& diagnosis_;
    const FaultLine& line_;
    NextOptions options_;
    Likelihood likelihood_;
    mutable CauseEffects effects_;
    std::vector<Live> live_;  // by place
    std::vector<Measurement> candidates_;
    std::size_t done_ = 0;
    double entropy_ = 0;
    std::optional<Id> room_;
};

}  // namespace tapwright
