// The figures of docs/benchmarks.md, "Faults": walk_faults LINES [FIGURES [SEED [LOUDSPEAKERS]]].
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

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

double percent(std::size_t count, std::size_t lines) {
    return lines == 0 ? 0 : 100.0 * static_cast<double>(count) / static_cast<double>(lines);
}

// Lines where the first reading is enough are not asked for anything, and are left out.
void compare_minutes(std::size_t speakers, std::size_t lines, std::uint64_t seed) {
    Family family({.speakers = speakers}, seed);
    WalkOptions alone = ohms_alone();
    alone.next.equal_costs = false;
    std::size_t asked = 0;
    std::size_t fewer = 0;
    std::size_t equal = 0;
    std::size_t audible = 0;
    std::size_t fewer_audible = 0;
    Tally right;
    double minutes_alone = 0;
    double minutes_all = 0;
    double minutes_lost = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        const SimulatedLine line = family.draw();
        const Walk with_all = walk_to_fault(line, {});
        const Walk with_ohms = walk_to_fault(line, alone);
        add_to(right, line, with_all);
        if (with_all.measurements == 0 && with_ohms.measurements == 0) continue;
        ++asked;
        const FaultKind kind = line.truths.front().kind;
        const bool is_audible = kind == FaultKind::dead || kind == FaultKind::broken;
        audible += is_audible;
        fewer_audible += is_audible && with_all.minutes < with_ohms.minutes;
        fewer += with_all.minutes < with_ohms.minutes;
        equal += with_all.minutes == with_ohms.minutes;
        minutes_all += with_all.minutes;
        minutes_alone += with_ohms.minutes;
        if (with_all.minutes > with_ohms.minutes) minutes_lost += with_all.minutes - with_ohms.minutes;
    }
    const std::size_t more = asked - fewer - equal;
    std::printf(
        "listening and costs      %3zu: %zu asked: %.1f min instead of %.1f; fewer on %.1f %%, as many on %.1f %%, "
        "more "
        "on %.1f %% (by %.1f min); where something is silenced (%zu) fewer on %.1f %%; %.1f %% right\n",
        speakers, asked, minutes_all / static_cast<double>(asked), minutes_alone / static_cast<double>(asked),
        percent(fewer, asked), percent(equal, asked), percent(more, asked),
        more > 0 ? minutes_lost / static_cast<double>(more) : 0, audible, percent(fewer_audible, audible),
        percent(right.right, lines));
    std::fflush(stdout);
}

void count_repairs(const char* what, const FamilyOptions& options, std::size_t lines, std::uint64_t seed,
                   std::size_t pardoned) {
    Family family(options, seed);
    std::size_t ends[4] = {};
    std::size_t grown = 0;
    std::size_t one = 0;
    std::size_t misled = 0;
    std::size_t measurements = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        const Repairs repairs = walk_and_repair(family.draw(), ohms_alone(), pardoned);
        ++ends[static_cast<std::size_t>(repairs.end)];
        one += repairs.found >= 1;
        misled += repairs.misled > 0;
        measurements += repairs.measurements;
        grown += repairs.end != RepairEnd::all_found && repairs.end != RepairEnd::said_unexplained &&
                 repairs.unexplained >= 0.05;
    }
    std::printf(
        "%-24s %3zu, pardoned %zu: all found %.1f %%, at least one %.1f %%, said unexplained %.1f %% (5 %% or more on "
        "%.1f %% besides), said right %.1f %%, misled to the end %.1f %%, ever %.1f %%; %.2f measurements\n",
        what, options.speakers, pardoned, percent(ends[0], lines), percent(one, lines), percent(ends[2], lines),
        percent(grown, lines), percent(ends[1], lines), percent(ends[3], lines), percent(misled, lines),
        static_cast<double>(measurements) / static_cast<double>(lines));
    std::fflush(stdout);
}

void count_healthy(std::size_t speakers, std::size_t lines, std::uint64_t seed) {
    Family family({.speakers = speakers, .faults = 0}, seed);
    std::size_t healthy = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        WalkOptions options = ohms_alone();
        options.most = 0;
        healthy += walk_to_fault(family.draw(), options).is_none;
    }
    std::printf("healthy                  %3zu: called so in %.1f %%\n", speakers, percent(healthy, lines));
    std::fflush(stdout);
}

}  // namespace

// `which` figures: f the family, m minutes, p pairs, u beyond every cause, h healthy, b beyond the family; a all. What
// is not the family itself or healthy is walked a third as often.
int main(int count, char** arguments) {
    const std::size_t lines = count > 1 ? std::strtoul(arguments[1], nullptr, 10) : 100;
    const std::size_t third = std::max<std::size_t>(1, lines / 3);
    const std::string which = count > 2 ? arguments[2] : "a";
    const std::uint64_t seed = count > 3 ? std::strtoul(arguments[3], nullptr, 10) : 1;
    const auto wants = [&](char figures) {
        return which.find('a') != std::string::npos || which.find(figures) != std::string::npos;
    };
    std::vector<std::size_t> sizes{8, 12, 24, 40};
    if (count > 4) sizes.assign(1, std::strtoul(arguments[4], nullptr, 10));
    for (const std::size_t speakers : sizes) {
        const std::uint64_t own = seed * 1000000 + speakers;
        if (wants('f')) print("the family", speakers, tally({.speakers = speakers}, ohms_alone(), lines, own + 1000));
        if (wants('h')) count_healthy(speakers, lines, own + 5000);
        if (wants('m')) compare_minutes(speakers, third, own + 2000);
        if (wants('p')) {
            for (const std::size_t pardoned : {0, 3}) {
                count_repairs("two faults", {.speakers = speakers, .faults = 2}, third, own + 3000, pardoned);
                count_repairs("two that show", {.speakers = speakers, .faults = 2, .each_shows = true}, third,
                              own + 3500, pardoned);
            }
        }
        if (wants('u')) {
            count_repairs("three dead", {.speakers = speakers, .faults = 3}, third, own + 4000, 0);
            count_repairs("readings that stray", {.speakers = speakers, .stray = 0.3}, third, own + 4500, 0);
        }
        if (!wants('b')) continue;
        FamilyOptions beyond{.speakers = speakers, .attenuators = true};
        print("attenuators", speakers, tally(beyond, ohms_alone(), third, own + 6000));
        beyond.positions_noted = false;
        print("positions not noted", speakers, tally(beyond, ohms_alone(), third, own + 6500));
        print("common spread 10 %", speakers,
              tally({.speakers = speakers, .common = 0.10}, ohms_alone(), third, own + 7000));
        print("a meter of 3 %", speakers,
              tally({.speakers = speakers, .meter = 0.03}, ohms_alone(), third, own + 8000));
    }
    return 0;
}
