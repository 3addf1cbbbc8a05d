// Making room: 40 and 400 loudspeakers of 6 taps each, for each aim and for all three together.
//
// Three rooms with a level wanted, mixed taps of today, ten wall controls with a rating for the larger zone, and four
// loudspeakers to add on any tap; the limit is such that much has to be changed. Ends with status 1 when a required
// figure (docs/benchmarks.md) is missed.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <ctime>

#include "core/base/ensure.h"
#include "core/plan/fit.h"
#include "tests/derive/job_builder.h"

namespace tapwright {
namespace {

JobBuilder made_zone(int count) {
    const double taps[] = {0.63, 1.25, 2.5, 5, 10, 20};
    JobBuilder job;
    job.info("line_v", 70.7);
    job.add("speaker_type", "s",
            {{"taps_w", List{0.63, 1.25, 2.5, 5.0, 10.0, 20.0}}, {"sens_db", 90.0}, {"cone_deg", 90.0}});
    job.add("attenuator_type", "a", {{"rated_w", 150.0}, {"steps_db", List{0.0, -6.0}}});
    job.add("amplifier", "amp", {{"rated_w", 10000.0}});
    job.add("channel", "out", {{"amplifier", "amp"}});
    double load = 0;
    for (int i = 0; i < count; ++i) load += taps[2 + i * 7 % 3];
    job.add("zone", "z", {{"channel", "out"}, {"limit_w", load}});  // so a fifth of it is too much
    for (int i = 0; i < 3; ++i)
        job.add("room", "r" + std::to_string(i),
                {{"length_m", 12.0}, {"width_m", 9.0}, {"height_m", 3.0}, {"wanted_dba", 78.0 + 4 * i}});
    std::string feed = "z";
    for (int i = 0; i < count; ++i) {
        if (count > 100 && i % 40 == 0) {
            feed = "w" + std::to_string(i / 40);
            job.add("point", feed, {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}});
        }
        const std::string id = "p" + std::to_string(i);
        job.speaker(id, feed, taps[2 + i * 7 % 3], {{"room", "r" + std::to_string(i % 3)}});
        feed = id;
    }
    return job;
}

double processor_ms() {
    return 1000.0 * static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

bool report(int count, int runs, double most_ms) {
    const JobBuilder job = made_zone(count);
    const Derived derived = derive(job);
    FitRequest request{.zone = Id("z"), .add = {{.type = Id("s"), .count = 4}}};
    bool good = true;
    for (const std::vector<Aim>& aims :
         {std::vector<Aim>{Aim::fewest}, {Aim::level}, {Aim::wanted}, {Aim::fewest, Aim::level, Aim::wanted}}) {
        request.aims = aims;
        double least = 1e30;
        std::size_t ladders = 0;
        for (int run = 0; run < runs; ++run) {
            const double start = processor_ms();
            const Result<Fit> made = fit(job, derived, request);
            least = std::min(least, processor_ms() - start);
            TAPWRIGHT_ENSURE(made.ok() && made->options.size() == aims.size());
            ladders = made->options.back().visits;
        }
        std::printf("%4d loudspeakers, %-10s %9.2f ms processor   (at most %.0f ms; %zu ladders)\n", count,
                    aims.size() == 1 ? std::string(word(aims.front())).c_str() : "all three", least, most_ms, ladders);
        good = least <= most_ms && good;
    }
    return good;
}

}  // namespace
}  // namespace tapwright

int main() {
    const bool small = tapwright::report(40, 10, 100);
    const bool large = tapwright::report(400, 3, 2000);
    return small && large ? EXIT_SUCCESS : EXIT_FAILURE;
}
