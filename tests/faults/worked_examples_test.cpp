// The examples of docs/calculations.md, "Faults".
#include <doctest/doctest.h>

#include <cmath>

#include "core/faults/diagnosis.h"
#include "tests/derive/job_builder.h"
#include "tests/line/worked_examples.h"

using namespace tapwright;

namespace {

// Three 10 W loudspeakers on 100 V, 2 ohm to each: the middle one goes.
LineTree<double> three_in_a_row() {
    LineTree<double> tree;
    LineRow row = tree.add_source(Volts(100));
    for (int i = 0; i < 3; ++i) row = tree.add_point(row, Ohms(2), 0.001);
    return tree;
}

double middle_dead_ohms() {
    const LineEffects line(three_in_a_row(), std::vector<double>(4, 1));
    return 1 / SingleEffect(line, {LineChange::What::load_is, 2, 0, {}}).at(0).siemens;
}

double middle_impedance() {
    // The volts a change of one siemens leaves at itself: 1 / (1 + Z).
    const LineEffects line(three_in_a_row(), std::vector<double>(4, 1));
    const SingleEffect effect(line, {LineChange::What::across, 2, 1, {}});
    const WatchedRow row = line.watched(2);
    return line.volts(2) / effect.volts(row) - 1;
}

double spread_of_zone() {
    const LineEffects line(three_in_a_row(), std::vector<double>(4, 1));
    const RowView view = line.as_recorded(0);
    return 100 * FaultSpreads{}.unit * std::sqrt(view.squares) / view.siemens;
}

// Six on 6 W at 100 V, baseline 277.8 ohm; now 333.3: five draw.
double one_of_six_dead() {
    JobBuilder job = one_zone(100, 100);
    job.chain("p", 6, "z", 6, {{"state", "tested"}}).read("base", "z", 277.8, {{"baseline", true}});
    job.read("now", "z", 333.3);
    FaultQuestion question;
    question.zone = Id("z");
    const Result<Diagnosis> diagnosis = Diagnosis::of(job, derive(job), question);
    REQUIRE(diagnosis.ok());
    double sum = 0;
    for (const Cause& cause : diagnosis->causes())
        if (cause.faults.size() == 1 && cause.faults.front().kind == FaultKind::dead) sum += cause.chance;
    return 100 * sum;
}

}  // namespace

TEST_CASE("the worked examples of faults are what the program computes") {
    check_worked_examples("faults", {{"middle_dead", {middle_dead_ohms, "ohm"}},
                                     {"middle_impedance", {middle_impedance, "ohm"}},
                                     {"spread_of_zone", {spread_of_zone, "%"}},
                                     {"one_of_six_dead", {one_of_six_dead, "%"}}});
}
