// Where is the fault: the causes of a line of 40 and one of 1,000 loudspeakers, a baseline and a reading; and one step
// of the search for the next measurement. Ends with status 1 when a required figure (docs/benchmarks.md) is missed.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>

#include "core/base/ensure.h"
#include "core/faults/next_measurement.h"
#include "tests/derive/job_builder.h"

namespace tapwright {
namespace {

// Three of four fed from the one before, the others from one a little earlier.
JobBuilder made_line(int count) {
    JobBuilder job;
    job.info("line_v", 100.0);
    job.add("speaker_type", "s", {{"taps_w", List{0.75, 1.5, 3.0, 6.0}}, {"low_z_ohm", 8.0}});
    job.add("cable_type", "c", {{"ohm_per_km", 7.5}});
    job.add("zone", "z", {{"emergency", "no"}});
    for (int i = 0; i < count; ++i) {
        const int feed = i % 4 == 3 ? i / 2 : i - 1;
        job.speaker("p" + std::to_string(i), feed < 0 ? "z" : "p" + std::to_string(feed), i % 2 == 0 ? 3 : 6,
                    {{"state", "tested"}, {"cable", "c"}, {"length_m", 2.0}});
    }
    return job;
}

double milliseconds_now() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) * 1e3 + static_cast<double>(now.tv_nsec) * 1e-6;
}

// The line solved anew with a change in it. A run that is open is one whose branch draws nothing: right for every place
// before it.
std::vector<double> solved_with(const LineEffects& line, const LineChange& change) {
    LineTree<double> tree = line.tree();
    const double load = tree.loads_s()[change.row];
    switch (change.what) {
        case LineChange::What::load_times:
            tree.set_load(change.row, load * change.value);
            break;
        case LineChange::What::load_is:
            tree.set_load(change.row, change.value);
            break;
        case LineChange::What::across:
            tree.set_load(change.row, load + change.value);
            break;
        case LineChange::What::run_ohm:
            if (std::isfinite(change.value)) {
                tree.set_run(change.row, Ohms(change.value));
                break;
            }
            for (LineRow row = change.row; row < tree.rows(); ++row)
                if (line.is_behind(row, change.row)) tree.set_load(row, 0);
            break;
        case LineChange::What::network:
            tree.set_attenuator(change.row, change.network);
            break;
    }
    return admittances(tree);
}

// Every single cause at every place of 40 loudspeakers: the update against full solutions.
bool compare() {
    JobBuilder job = made_line(40);
    job.read("now", "z", derive(job).zones[0].ohms.value());
    FaultQuestion question;
    question.zone = Id("z");
    const Result<Diagnosis> diagnosis = Diagnosis::of(job, derive(job), question);
    TAPWRIGHT_ENSURE(diagnosis.ok());
    const LineEffects& line = *diagnosis->line().conditions.front().effects;
    double worst = 0;
    double updates = 0;
    double solutions = 0;
    std::size_t places = 0;
    for (const Cause& cause : diagnosis->line().causes) {
        if (cause.faults.empty() || cause.faults.front().changes.size() != 1) continue;
        const LineChange& change = cause.faults.front().changes.front();
        double start = milliseconds_now();
        const std::vector<double> solved = solved_with(line, change);
        solutions += milliseconds_now() - start;
        start = milliseconds_now();
        const SingleEffect effect(line, change);
        std::vector<double> updated;
        for (LineRow row = 0; row < line.rows(); ++row) updated.push_back(effect.at(row).siemens);
        updates += milliseconds_now() - start;
        const bool is_open = change.what == LineChange::What::run_ohm && std::isinf(change.value);
        for (LineRow row = 0; row < line.rows(); ++row) {
            if (is_open && line.is_behind(row, change.row)) continue;
            ++places;
            worst = std::max(worst, std::abs(updated[row] - solved[row]) / std::max(solved[row], 1e-7));
        }
    }
    std::printf("%zu places: %.0f ns each by the update, uncertainty included; %.0f ns by full solutions; worst %.1e\n",
                places, updates * 1e6 / static_cast<double>(places), solutions * 1e6 / static_cast<double>(places),
                worst);
    return worst < 1e-9;
}

double admittance_into(const JobBuilder& job, const std::string& point) {
    FaultQuestion question;
    question.zone = Id("z");
    const Result<Diagnosis> diagnosis = Diagnosis::of(job, derive(job), question);
    TAPWRIGHT_ENSURE(diagnosis.ok());
    const FaultLine& line = diagnosis->line();
    return line.conditions.front().effects->as_recorded(line.row_of(*job.job().place<Point>(Id(point)))).siemens;
}

// `readings`: one at the zone, else two more along the line, so that pairs are tried as well.
bool measure(int count, int readings, double required) {
    JobBuilder job = made_line(count);
    const double expected = derive(job).zones[0].ohms.value();
    job.read("base", "z", expected, {{"baseline", true}}).read("now", "z", expected * 1.08);
    for (int i = 1; i < readings; ++i) {
        const std::string at = "p" + std::to_string(count * i / 4);
        job.read("r" + std::to_string(i), at, 1 / admittance_into(job, at) * 1.05);
    }
    const Derived derived = derive(job);
    FaultQuestion question;
    question.zone = Id("z");
    double causes = 1e9;
    double step = 0;
    std::size_t hypotheses = 0;
    for (int i = 0; i < 20; ++i) {
        const double start = milliseconds_now();
        const Result<Diagnosis> diagnosis = Diagnosis::of(job, derived, question);
        causes = std::min(causes, milliseconds_now() - start);
        TAPWRIGHT_ENSURE(diagnosis.ok());
        hypotheses = diagnosis->line().causes.size();
        if (i > 0) continue;
        double before = milliseconds_now();
        const auto count_step = [&] {
            const double now = milliseconds_now();
            step = std::max(step, now - before);
            before = now;
        };
        NextMeasurement next(job, *diagnosis, {});
        count_step();
        for (bool more = true; more;) {
            more = next.step();
            count_step();
        }
        TAPWRIGHT_ENSURE(!next.best().empty());
        count_step();
    }
    std::printf("%5d loudspeakers, %d readings, %6zu causes: %.2f ms (required %.0f), longest step %.2f ms\n", count,
                readings, hypotheses, causes, required, step);
    return causes <= required;
}

}  // namespace
}  // namespace tapwright

int main() {
    const bool small = tapwright::measure(40, 1, 3) && tapwright::measure(40, 3, 3);
    const bool large = tapwright::measure(1000, 1, 100) && tapwright::measure(1000, 3, 100);
    const bool same = tapwright::compare();
    return small && large && same ? 0 : 1;
}
