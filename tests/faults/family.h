// A family of simulated lines with one fault each: healthy lines drawn at random, every loudspeaker and all of a line
// off by their spreads, one fault by the weights, and what a meter would read everywhere, by full solutions
// (dense_line.h).
#pragma once

#include <random>
#include <vector>

#include "core/derive/derived.h"
#include "core/faults/cause.h"
#include "tests/derive/job_builder.h"
#include "tests/faults/dense_line.h"

namespace tapwright::test {

struct FamilyOptions {
    std::size_t speakers = 12;
    double meter = 0.01;
    double common = 0.06;
    double unit = 0.04;
    bool attenuators = false;     // one in the line
    bool positions_noted = true;  // where it stands
    int faults = 1;               // 0: healthy; 2: two dead, or a dead one and a wrong tap; 3: three dead
    bool each_shows = false;      // of several: each alone moves the zone by more than a twentieth
    bool rooms = false;           // each loudspeaker in one, with a ceiling, a height and an order
    double stray = 0;             // how far each reading after the baseline is off besides, whatever it is of
};

struct Truth {
    FaultKind kind = FaultKind::none;
    std::size_t at = 0;  // loudspeaker
    double value = 0;
};

struct SimulatedLine {
    JobBuilder job;
    std::vector<Truth> truths;
    std::vector<int> feed;     // by loudspeaker: the loudspeaker before it; -1: the zone
    std::vector<double> seen;  // ohms: the zone, then into each loudspeaker, then into the attenuator, if any
    std::vector<double> tap;   // watts as they are really set; 0: on the bypass setting
    std::vector<double> recorded_tap;
    double baseline = 0;
    double dc_ohms = 0;  // at the zone
    static constexpr double range = 20e3;

    // What a repair needs: the line without a fault, and what reads it.
    DenseLine healthy;
    DenseLine copper;       // the same as a DC ohmmeter sees it
    std::size_t input = 0;  // the attenuator's own, if any
    double step = 0;        // where it stands
    double volts = 70.7;
    double meter = 0.01;
    std::mt19937_64 noise;

    // One of the truths is made as recorded; every place can be read anew.
    void put_right(std::size_t truth);
    void read_again(double stray);

    static std::string label(std::size_t speaker) { return "p" + std::to_string(speaker); }
    bool is_over_range(std::size_t place) const { return seen[place] >= range; }
    // Where a reading at a record is in `seen`.
    std::size_t place_of(const Id& id) const;
    bool is_silent(std::size_t speaker) const;
};

class Family {
public:
    Family(FamilyOptions options, std::uint64_t seed) : options_(options), random_(seed) {}
    SimulatedLine draw();

private:
    struct Healthy;
    double uniform(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
    double normal(double deviation) {
        return deviation > 0 ? std::normal_distribution<double>(0, deviation)(random_) : 0.0;
    }
    std::size_t below(std::size_t count) { return std::uniform_int_distribution<std::size_t>(0, count - 1)(random_); }
    void add_records(const Healthy& line, JobBuilder& job) const;
    void add_rooms(JobBuilder& job, std::uint64_t seed) const;
    Truth draw_truth(const Healthy& line);
    bool draw_several(const Healthy& line, std::vector<Truth>& truths);
    bool shows_alone(const Healthy& line, const Truth& truth) const;
    void add_attenuator(Healthy& line);

    FamilyOptions options_;
    std::mt19937_64 random_;
};

}  // namespace tapwright::test
