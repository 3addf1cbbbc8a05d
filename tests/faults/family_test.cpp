// Simulated lines, always the same ones and fewer than `ninja faults-600` walks, held to the bounds of those.
#include <doctest/doctest.h>

#include "tests/faults/walk.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

WalkOptions ohms_alone() {
    WalkOptions options;
    options.next.only = Asked::ohms;
    options.next.equal_costs = true;
    return options;
}

}  // namespace

TEST_CASE("simulated_faults_are_found_in_about_two_measurements") {
    std::size_t sure_and_wrong = 0;
    std::size_t right = 0;
    std::size_t lines = 0;
    struct Size {
        std::size_t speakers;
        double most;  // what an independent reference needs, and 0.3 more
        std::size_t lines;
    };
    // Means of 60 short lines lie between 1.6 and 2.3, and each standard library draws other lines.
    for (const Size& size : {Size{8, 2.25, 240}, Size{12, 2.51, 160}, Size{24, 2.77, 60}}) {
        const Tally found = tally({.speakers = size.speakers}, ohms_alone(), size.lines, 1000 + size.speakers);
        CHECK(found.mean() <= size.most);
        sure_and_wrong += found.sure_and_wrong;
        right += found.right;
        lines += found.lines;
    }
    CHECK(static_cast<double>(right) >= 0.95 * static_cast<double>(lines));
    CHECK(static_cast<double>(sure_and_wrong) <= 0.015 * static_cast<double>(lines));
}

TEST_CASE("listening_and_costs_take_fewer_minutes_than_ohms_alone_at_equal_costs") {
    for (const bool rooms : {false, true}) {
        CAPTURE(rooms);
        Family family({.speakers = 12, .rooms = rooms}, 2012);
        std::size_t no_more = 0;
        double minutes = 0;
        double minutes_alone = 0;
        constexpr std::size_t lines = 40;
        for (std::size_t i = 0; i < lines; ++i) {
            const SimulatedLine line = family.draw();
            const Walk all = walk_to_fault(line, {});
            const Walk ohms = walk_to_fault(line, ohms_alone());
            no_more += all.minutes <= ohms.minutes;
            minutes += all.minutes;
            minutes_alone += ohms.minutes;
        }
        // Not on every line: a fault that nobody can hear costs the listening.
        CHECK(no_more >= lines * 8 / 10);
        CHECK(minutes < 0.7 * minutes_alone);
    }
}

TEST_CASE("where_nobody_noted_an_attenuators_position_the_fault_is_found_all_the_same") {
    constexpr std::size_t lines = 60;
    const Tally found =
        tally({.speakers = 12, .attenuators = true, .positions_noted = false}, ohms_alone(), lines, 6512);
    CHECK(found.right >= lines * 9 / 10);
    CHECK(found.sure_and_wrong <= 2);
}

TEST_CASE("two_faults_at_once_are_found_one_after_the_other") {
    Family family({.speakers = 10, .faults = 2}, 3010);
    std::size_t found = 0;
    std::size_t misled = 0;
    constexpr std::size_t lines = 40;
    for (std::size_t i = 0; i < lines; ++i) {
        // Whoever is sent to where nothing is wrong gives up.
        const Repairs repairs = walk_and_repair(family.draw(), ohms_alone(), 0);
        found += repairs.end == RepairEnd::all_found;
        misled += repairs.end == RepairEnd::misled && repairs.unexplained < 0.05;
    }
    CHECK(found >= lines * 6 / 10);
    CHECK(misled <= lines * 2 / 10);
}

TEST_CASE("two_faults_of_which_each_shows_are_found_by_one_who_notes_where_nothing_is_wrong") {
    Family family({.speakers = 10, .faults = 2, .each_shows = true}, 3110);
    std::size_t found = 0;
    constexpr std::size_t lines = 30;
    for (std::size_t i = 0; i < lines; ++i)
        found += walk_and_repair(family.draw(), ohms_alone(), 3).end == RepairEnd::all_found;
    CHECK(found >= lines * 9 / 10);
}

TEST_CASE("readings_beyond_every_cause_are_called_unexplained") {
    // One fault, but every reading after the baseline strays by 30 % whatever it is of.
    Family family({.speakers = 24, .stray = 0.3}, 4510);
    std::size_t said = 0;
    constexpr std::size_t lines = 30;
    for (std::size_t i = 0; i < lines; ++i)
        said += walk_and_repair(family.draw(), ohms_alone(), 0).end == RepairEnd::said_unexplained;
    CHECK(said >= lines * 7 / 10);
}

TEST_CASE("a_healthy_line_is_called_healthy") {
    Family family({.speakers = 12, .faults = 0}, 4012);
    WalkOptions options = ohms_alone();
    options.most = 0;
    std::size_t healthy = 0;
    for (std::size_t i = 0; i < 100; ++i) healthy += walk_to_fault(family.draw(), options).is_none;
    CHECK(healthy >= 97);
}
