// The figures of docs/benchmarks.md, "Faults": walk_faults LINES [FIGURES [SEED [LOUDSPEAKERS]]].
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "tests/faults/least_walk.h"
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

// What listening and costs save against one way of walking with ohms alone, by the same table of minutes.
struct Saved {
    std::size_t asked = 0;
    std::size_t fewer = 0;
    std::size_t equal = 0;
    std::size_t audible = 0;
    std::size_t fewer_audible = 0;
    double minutes_alone = 0;
    double minutes_all = 0;
    double minutes_lost = 0;

    // Lines where the first reading is enough are not asked for anything, and are left out.
    void add(const Walk& all, const Walk& ohms, bool is_audible) {
        if (all.measurements == 0 && ohms.measurements == 0) return;
        // Sums of the same costs in another order are the same.
        const bool is_equal = std::abs(all.minutes - ohms.minutes) < 1e-6;
        const bool is_fewer = !is_equal && all.minutes < ohms.minutes;
        ++asked;
        audible += is_audible;
        fewer += is_fewer;
        equal += is_equal;
        fewer_audible += is_audible && is_fewer;
        minutes_all += all.minutes;
        minutes_alone += ohms.minutes;
        if (!is_equal && !is_fewer) minutes_lost += all.minutes - ohms.minutes;
    }

    void print(const char* what, std::size_t speakers) const {
        const std::size_t more = asked - fewer - equal;
        std::printf(
            "%-32s %3zu: %zu asked: %.1f min instead of %.1f; fewer on %.1f %%, as many on %.1f %%, more on %.1f %% "
            "(by "
            "%.1f min); where something is silenced (%zu) fewer on %.1f %%\n",
            what, speakers, asked, minutes_all / static_cast<double>(asked), minutes_alone / static_cast<double>(asked),
            percent(fewer, asked), percent(equal, asked), percent(more, asked),
            more > 0 ? minutes_lost / static_cast<double>(more) : 0, audible, percent(fewer_audible, audible));
        std::fflush(stdout);
    }
};

void compare_minutes(const FamilyOptions& options, std::size_t lines, std::uint64_t seed) {
    Family family(options, seed);
    WalkOptions by_minutes = ohms_alone();
    by_minutes.next.equal_costs = false;
    Saved against_equal;
    Saved against_minutes;
    Tally right;
    for (std::size_t i = 0; i < lines; ++i) {
        const SimulatedLine line = family.draw();
        const Walk all = walk_to_fault(line, {});
        add_to(right, line, all);
        const FaultKind kind = line.truths.front().kind;
        const bool is_audible = kind == FaultKind::dead || kind == FaultKind::broken;
        against_equal.add(all, walk_to_fault(line, ohms_alone()), is_audible);
        against_minutes.add(all, walk_to_fault(line, by_minutes), is_audible);
    }
    print(options.rooms ? "rooms, all" : "all", options.speakers, right);
    against_equal.print(options.rooms ? "rooms, against equal costs" : "against equal costs", options.speakers);
    against_minutes.print(options.rooms ? "rooms, against minutes" : "against minutes", options.speakers);
}

// On how many of the lines that compare_minutes() walks anything at all takes fewer minutes than ohms alone.
void count_least(std::size_t speakers, std::size_t lines, std::uint64_t seed) {
    Family family({.speakers = speakers}, seed);
    std::size_t asked = 0;
    std::size_t fewer = 0;
    std::size_t possible = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        const SimulatedLine line = family.draw();
        const Walk all = walk_to_fault(line, {});
        const Walk ohms = walk_to_fault(line, ohms_alone());
        if (all.measurements == 0 && ohms.measurements == 0) continue;
        const bool is_fewer = all.minutes < ohms.minutes - 1e-6;
        ++asked;
        fewer += is_fewer;
        possible += is_fewer || could_be_sure_within(line, ohms.minutes);
    }
    std::printf(
        "fewer minutes            %3zu: %zu asked, the program on %.1f %%; one who knows all answers on %.1f %%\n",
        speakers, asked, percent(fewer, asked), percent(possible, asked));
    std::fflush(stdout);
}

void count_repairs(const char* what, const FamilyOptions& options, std::size_t lines, std::uint64_t seed,
                   std::size_t pardoned) {
    Family family(options, seed);
    std::size_t ends[4] = {};
    std::size_t grown = 0;
    std::size_t one = 0;
    std::size_t at_once = 0;
    std::size_t misled = 0;
    std::size_t measurements = 0;
    for (std::size_t i = 0; i < lines; ++i) {
        const Repairs repairs = walk_and_repair(family.draw(), ohms_alone(), pardoned);
        ++ends[static_cast<std::size_t>(repairs.end)];
        one += repairs.found >= 1;
        at_once += repairs.is_at_once;
        misled += repairs.misled > 0;
        measurements += repairs.measurements;
        grown += repairs.end != RepairEnd::all_found && repairs.end != RepairEnd::said_unexplained &&
                 repairs.unexplained >= 0.05;
    }
    std::printf(
        "%-24s %3zu, pardoned %zu: all found %.1f %% (at once %.1f %%), at least one %.1f %%, said unexplained %.1f %% "
        "(5 %% or more on "
        "%.1f %% besides), said right %.1f %%, misled to the end %.1f %%, ever %.1f %%; %.2f measurements\n",
        what, options.speakers, pardoned, percent(ends[0], lines), percent(at_once, lines), percent(one, lines),
        percent(ends[2], lines), percent(grown, lines), percent(ends[1], lines), percent(ends[3], lines),
        percent(misled, lines), static_cast<double>(measurements) / static_cast<double>(lines));
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

// `which` figures: f the family, m minutes, l the least minutes there are, p pairs, u beyond every cause, h healthy, b
// beyond the family; a all but l, which takes long. What is not the family itself or healthy is walked a third as
// often.
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
        if (wants('m')) {
            compare_minutes({.speakers = speakers}, third, own + 2000);
            compare_minutes({.speakers = speakers, .rooms = true}, third, own + 2500);
        }
        if (which.find('l') != std::string::npos) count_least(speakers, third, own + 2000);
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
