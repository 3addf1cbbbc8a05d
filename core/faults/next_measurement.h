// Which measurement settles most for the least work: of every measurement there could be, how much is expected to be
// known afterwards of the place of the fault, over the minutes it takes.
//
// Greedy by information over cost, after D. Golovin and A. Krause, "Adaptive submodularity", Journal of Artificial
// Intelligence Research 42, 2011: greedy is close to the best there is where each answer helps less the more is known.
// Here that holds only nearly (readings are noisy), so how well it does was measured: docs/calculations.md, "Faults".
//
// What can be heard is heard first only where that leaves fewer minutes to be expected than a reading does: a wrong tap
// or a joint looks like a dead loudspeaker, and a walk that only rules that out is no gain.
//
// In steps, one measurement or so many causes each, so that a window can go on drawing:
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
    bool is_open = false;                 // over range
    bool is_silent = false;               // of what is heard
    std::vector<std::uint32_t> silent{};  // of several: which are silent, points
    bool is_bypass = false;               // of a tap: its low-impedance setting
};

struct Measurement {
    Id at{};  // of several loudspeakers: their room, else the first
    Asked asked = Asked::ohms;
    bool at_zone = false;
    std::optional<std::uint32_t> turned{};  // ohms at the zone with this attenuator off, or down as far as it goes
    bool turned_off = false;
    std::uint32_t condition = 0;
    LineRow row = 0;
    double bits = 0;
    double minutes = 0;
    double minutes_left = 0;                // that are to be expected afterwards
    std::vector<ExpectedShown> expected{};  // of the best few alone
    std::vector<std::uint32_t> heard{};     // of several listened to on one walk: points, as the line has them
};

class NextMeasurement {
public:
    // `diagnosis` and `job` outlive it.
    NextMeasurement(const Job& job, const Diagnosis& diagnosis, const NextOptions& options);

    // Weighs some hundred causes, or looks at one more measurement. Returns: whether there is more to do.
    bool step();
    // The best first, those of no use left out; nothing once one place is sure. Requires: step() returned false.
    std::vector<Measurement> best(std::size_t most = 5) const;

private:
    // What is left once an answer is there: of the place, bits; and minutes until it is sure, roughly.
    struct Left {
        double bits = 0;
        double minutes = 0;
    };
    // An answer, and the chances of the places that give it; those of one place come together.
    struct Answered {
        double all = 0;
        double most = 0;  // of one place
        double logs = 0;
        double mine = 0;  // of the place at hand
        std::uint32_t place = 0xFFFFFFFFu;
        void add(double chance, std::uint32_t of);
        void close();
    };
    Left left_of(std::vector<Answered>& answered) const;
    struct Live {
        std::uint32_t cause = 0;
        double chance = 0;
        std::uint32_t place = 0;
        CauseFit fit;
    };
    void keep_live(std::size_t most);
    void settle_live();
    bool list_candidates(std::size_t most);
    void list_at(std::uint32_t place, LineRow row, bool is_heard);
    void list_at_zone();
    void list_walks();
    std::vector<std::uint32_t> suspects() const;
    using Stretches = std::vector<std::pair<std::uint32_t, std::uint32_t>>;
    Stretches silent_of(const Measurement& walk, const Cause& cause) const;
    bool is_read(LineRow row, std::uint32_t condition, Measured quantity) const;
    bool is_wanted(Asked asked) const { return !options_.only || *options_.only == asked; }
    double minutes_for(double entropy, double most) const;
    Left left_now() const;
    Left left_after_ohms(const Measurement& measurement);
    template <class ChanceOf>
    Left left_after(std::size_t answers, const ChanceOf& chance_of) const;
    Left left_after_listening(const Measurement& measurement) const;
    Left left_after_walk(const Measurement& measurement) const;
    Left left_after_look(const Measurement& measurement) const;
    bool listening_is_worth_it() const;
    double minutes_of(const Measurement& measurement) const;
    double minutes_of_walk(const Measurement& measurement) const;
    double minutes_at(std::uint32_t point, double at_loudspeaker) const;
    double walk_to(const std::optional<Id>& room) const;
    Look look_of(const Measurement& measurement) const;
    void add_expected(Measurement& measurement) const;
    ExpectedShown shown_by(const Measurement& measurement, const Live& live) const;
    std::size_t tap_answer(std::uint32_t point, const Cause& cause) const;

    const Job& job_;
    const Diagnosis& diagnosis_;
    const FaultLine& line_;
    NextOptions options_;
    Likelihood likelihood_;
    mutable CauseEffects effects_;
    std::vector<Live> live_;  // by place
    std::vector<Measurement> candidates_;
    std::size_t weighed_ = 0;   // of the diagnosis's causes, for live_
    std::uint32_t listed_ = 0;  // points
    bool is_listed_ = false;
    std::size_t done_ = 0;
    Left now_;
    double climb_ = 0;  // minutes of the cheapest reading away from the amplifier
    std::optional<Id> room_;
    std::optional<std::uint32_t> ladder_;  // the loudspeaker where the latest reading was taken
};

}  // namespace tapwright
