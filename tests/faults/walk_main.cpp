// The figures of docs/benchmarks.md, "Faults": walk_faults LINES.
#include <algorithm>
#include <cstdio>
#include <cstdlib>

#include "tests/faults/walk.h"

namespace {

using namespace tapwright;
using namespace tapwright::test;

WalkOptions ohms_alone() {
    WalkOptions options;
    options.next.only = Asked::ohms;
    options.next.equal_costs = true;
    return options;
}

void print(const char* what, std::size_t speakers, const Tally& tally) {
    std::printf(
        "%-24s %3zu: %.2f measurements, %.1f %% right, %.1f %% sure and wrong, %zu of %zu between 0.8 and 0.9\n", what,
        speakers, tally.mean(), 100 * tally.share(tally.right), 100 * tally.share(tally.sure_and_wrong),
        tally.right_80_to_90, tally.in_80_to_90);
    std::fflush(stdout);
}

void compare_minutes(std::size_t speakers, std::size_t lines) {
    Family family({.speakers = speakers}, 2000 + speakers);
    WalkOptions alone = ohms_alone();
    alone.next.equal_costs = false;
    const WalkOptions all;
    std::size_t fewer = 0;
    std::size_t equal = 0;
    Tally right;
    double minutes_alone = 0;
    double minutes_all = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        const SimulatedLine line = family.draw();
        const Walk with_all = walk_to_fault(line, all);
        const Walk with_ohms = walk_to_fault(line, alone);
        add_to(right, line, with_all);
        fewer += with_all.minutes < with_ohms.minutes;
        equal += with_all.minutes == with_ohms.minutes;
        minutes_all += with_all.minutes;
        minutes_alone += with_ohms.minutes;
    }
    std::printf(
        "listening and costs      %3zu: %.1f min instead of %.1f; fewer on %.1f %%, equal on %.1f %%; %.1f %% right\n",
        speakers, minutes_all / static_cast<double>(lines), minutes_alone / static_cast<double>(lines),
        100.0 * static_cast<double>(fewer) / static_cast<double>(lines),
        100.0 * static_cast<double>(equal) / static_cast<double>(lines), 100 * right.share(right.right));
    std::fflush(stdout);
}

void count_pairs(std::size_t speakers, std::size_t lines) {
    Family family({.speakers = speakers, .faults = 2}, 3000 + speakers);
    std::size_t found = 0;
    std::size_t wondered = 0;
    std::size_t sure_of_one = 0;
    std::size_t one = 0;
    std::size_t needed = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        const SimulatedLine line = family.draw();
        WalkOptions options = ohms_alone();
        options.looks_there = true;
        const Walk walk = walk_to_fault(line, options);
        one += !walk.is_pair && walk.place && (walk.place == line.truths[0].at || walk.place == line.truths[1].at);
        needed += walk.measurements;
        const auto has = [&](std::size_t at) { return std::count(walk.pair.begin(), walk.pair.end(), at) > 0; };
        const bool is_found = walk.is_pair && has(line.truths[0].at) && has(line.truths[1].at);
        found += is_found;
        wondered += !is_found && walk.unexplained > 0.05;
        sure_of_one += !walk.is_pair && walk.chance >= sure_chance;
    }
    std::printf(
        "two faults               %3zu: found in %.1f %%, else unexplained in %.1f %%, sure of one in %.1f %% (right "
        "%.1f %%), %.2f measurements\n",
        speakers, 100.0 * static_cast<double>(found) / static_cast<double>(lines),
        100.0 * static_cast<double>(wondered) / static_cast<double>(lines),
        100.0 * static_cast<double>(sure_of_one) / static_cast<double>(lines),
        100.0 * static_cast<double>(one) / static_cast<double>(lines),
        static_cast<double>(needed) / static_cast<double>(lines));
    std::fflush(stdout);
}

void count_healthy(std::size_t speakers, std::size_t lines) {
    Family family({.speakers = speakers, .faults = 0}, 4000 + speakers);
    std::size_t healthy = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        WalkOptions options = ohms_alone();
        options.most = 0;
        healthy += walk_to_fault(family.draw(), options).is_none;
    }
    std::printf("healthy                  %3zu: called so in %.1f %%\n", speakers,
                100.0 * static_cast<double>(healthy) / static_cast<double>(lines));
    std::fflush(stdout);
}

}  // namespace

int main(int count, char** arguments) {
    const std::size_t lines = count > 1 ? std::strtoul(arguments[1], nullptr, 10) : 100;
    const char which = count > 2 ? arguments[2][0] : 'a';
    for (const std::size_t speakers : {8, 12, 24, 40}) {
        if (which == 'a' || which == 'f')
            print("the family", speakers, tally({.speakers = speakers}, ohms_alone(), lines, 1000 + speakers));
        if (which == 'a' || which == 'm') compare_minutes(speakers, lines);
        if (which == 'a' || which == 'p') count_pairs(speakers, lines);
        if (which == 'a' || which == 'h') count_healthy(speakers, lines);
        if (which == 'a' || which == 'b') {
            print("attenuators", speakers,
                  tally({.speakers = speakers, .attenuators = true}, ohms_alone(), lines, 5000));
            print("positions not noted", speakers,
                  tally({.speakers = speakers, .attenuators = true, .positions_noted = false}, ohms_alone(), lines,
                        6000));
            print("common spread 10 %", speakers,
                  tally({.speakers = speakers, .common = 0.10}, ohms_alone(), lines, 7000));
            print("a meter of 3 %", speakers, tally({.speakers = speakers, .meter = 0.03}, ohms_alone(), lines, 8000));
        }
    }
    return 0;
}
