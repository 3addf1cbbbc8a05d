// The whole road on a made job of 10,000 loudspeakers in 100 zones: import of its JSON, opening, one tap changed, a
// trial worked out beside it.
//
// Printed: wall and processor milliseconds, the least of five runs, and the peak memory of the process. Ends with
// status 1 when a required figure (docs/benchmarks.md) is missed in processor time.
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <functional>

#include "core/exchange/job_json.h"
#include "core/job/json.h"
#include "core/plan/trial.h"
#include "tests/session/temporary.h"

using namespace tapwright;

namespace {

std::string made_job() {
    List zones;
    List points;
    for (int zone = 0; zone < 100; ++zone) {
        const std::string id = "z" + std::to_string(zone);
        zones.emplace_back(
            Map{{"id", id}, {"name", "Zone " + id}, {"channel", "c" + std::to_string(zone / 10)}, {"limit_w", 800.0}});
        std::string feed = id;
        for (int i = 0; i < 100; ++i) {
            const std::string point = id + "p" + std::to_string(i);
            points.emplace_back(Map{{"id", point},
                                    {"kind", "speaker"},
                                    {"label", "C-" + std::to_string(zone * 100 + i)},
                                    {"room", "r1"},
                                    {"fed_from", feed},
                                    {"cable", "k1"},
                                    {"length_m", 5.0},
                                    {"type", "t1"},
                                    {"planned_tap_w", 5.0},
                                    {"tap_w", i % 3 == 0 ? 2.5 : 5.0},
                                    {"state", "fitted"}});
            feed = i % 10 == 9 ? id : point;
        }
    }
    List channels;
    for (int i = 0; i < 10; ++i)
        channels.emplace_back(
            Map{{"id", "c" + std::to_string(i)}, {"name", "Output"}, {"amplifier", "a1"}, {"rated_w", 8000.0}});
    return pretty_json(
        Map{{"tapwright_job", 1.0},
            {"job", Map{{"name", "Made job"}}},
            {"rooms", List{Map{{"id", "r1"}, {"name", "Hall"}}}},
            {"amplifiers", List{Map{{"id", "a1"}, {"name", "Amplifier"}, {"rated_w", 80000.0}}}},
            {"channels", std::move(channels)},
            {"zones", std::move(zones)},
            {"speaker_types", List{Map{{"id", "t1"}, {"name", "Ceiling"}, {"taps_w", List{2.5, 5.0, 10.0}}}}},
            {"cable_types", List{Map{{"id", "k1"}, {"name", "Pair"}, {"awg", 16.0}}}},
            {"points", std::move(points)}});
}

struct Spent {
    double wall_ms = 1e30;
    double processor_ms = 1e30;
};

Spent least(int runs, const std::function<void()>& before, const std::function<void()>& work) {
    Spent spent;
    for (int i = 0; i < runs; ++i) {
        before();
        const auto wall = std::chrono::steady_clock::now();
        const std::clock_t processor = std::clock();
        work();
        spent.processor_ms =
            std::min(spent.processor_ms, 1000.0 * static_cast<double>(std::clock() - processor) / CLOCKS_PER_SEC);
        spent.wall_ms = std::min(
            spent.wall_ms, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - wall).count());
    }
    return spent;
}

bool report(const char* what, const Spent& spent, double most_ms) {
    std::printf("%-34s %9.1f ms wall %9.1f ms processor   (at most %.0f ms)\n", what, spent.wall_ms, spent.processor_ms,
                most_ms);
    return spent.processor_ms <= most_ms;
}

}  // namespace

int main() {
    const test::TemporaryFolder folder;
    const std::string file = folder.file("made.tapjob");
    const std::string text = made_job();
    const Author author{"Bench", ""};
    test::Clock clock;
    bool good = true;

    const Spent import = least(
        5, [&] { std::filesystem::remove(file); },
        [&] {
            const Result<JobText> job = read_job(text, "made.json");
            const auto place = [&](std::size_t change, std::string_view field) { return job->place(change, field); };
            TAPWRIGHT_ENSURE(Session::create(file, Command{job->changes, false, place}, author, clock.next()).ok());
        });
    good = report("import of 10,000 loudspeakers", import, 1500) && good;

    const auto nothing = [] {};
    good = report("opening it", least(5, nothing, [&] { TAPWRIGHT_ENSURE(Session::open(file, Access::read).ok()); }),
                  1000) &&
           good;

    Result<Session> session = Session::open(file, Access::write);
    TAPWRIGHT_ENSURE(session.ok());
    good = report("verifying it once it is open", least(5, nothing, [&] { TAPWRIGHT_ENSURE(session->verify().ok()); }),
                  1000) &&
           good;
    int turn = 0;
    const Spent tap = least(20, nothing, [&] {
        const double watts = ++turn % 2 == 0 ? 5.0 : 10.0;
        TAPWRIGHT_ENSURE(
            session
                ->request(test::command({test::set(Kind::point, "z50p50", {{"tap_w", watts}})}), author, clock.next())
                .ok());
    });
    good = report("one tap changed, kept and derived", tap, 50) && good;

    const ChangeList wished{
        test::set(Kind::point, "z50p50", {{"tap_w", 2.5}}), test::remove(Kind::point, "z20p33"),
        test::add(
            Kind::point, "",
            {{"kind", "speaker"}, {"label", "N"}, {"fed_from", "z10p7"}, {"type", "t1"}, {"planned_tap_w", 10.0}})};
    std::size_t pairs = 0;
    const Spent trial = least(30, nothing, [&] {
        const Result<Proposal> tried =
            session->propose(test::command(trial_changes(session->job(), wished)), author, clock.next());
        TAPWRIGHT_ENSURE(tried.ok());
        pairs = compare(session->job(), session->derived(), tried->job, tried->derived).speakers.size();
    });
    TAPWRIGHT_ENSURE(pairs == 10001);
    good = report("a trial worked out and compared", trial, 10) && good;

    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("peak memory %ld MB   (at most 200 MB)\n", usage.ru_maxrss / 1024);
    return good && usage.ru_maxrss / 1024 <= 200 ? 0 : 1;
}
