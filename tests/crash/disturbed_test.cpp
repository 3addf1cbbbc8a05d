// Disturbs every command of the command line, and looks at what is left each time.
//
//   test_disturbed memory|disk MOST [COMMAND [FROM [TO]]]
//                                     fails the n-th allocation, or call to the system, once and from then on; at most
//                                     MOST different n a command and way, spread over it; 0: every n. COMMAND is part
//                                     of a command's line ("undo"): only those. FROM is the first n to be tried, TO the
//                                     first that is not
//   test_disturbed kill KILLS PROGRAM [SEED]   kills the real program at random moments
//
// Exit status 0 when every run ended as it must.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <random>
#include <string_view>

#include "tests/crash/faults.h"
#include "tests/crash/scene.h"

namespace {

using namespace tapwright::test;

struct Tally {
    long runs = 0;
    long refused = 0;
    long done = 0;
};

void arm() {
    *faults().count = 0;
    faults().armed = true;
}
void disarm() {
    faults().armed = false;
}

void fail_one(Scene& scene, const Given& given, Tally& tally) {
    scene.lay_out();
    const Ended ended = run_forked(scene, given.words, arm, disarm);
    if (!ended.by_itself) fail("signal " + std::to_string(ended.status) + ". " + ended.err);
    ++tally.runs;
    ++(ended.status >= 2 ? tally.refused : tally.done);
    Faults& now = faults();
    now.at = -1;
    scene.check(ended, now.kind == Fault::disk && now.for_good);
}

struct Which {
    std::string_view command;  // part of its line
    std::int64_t from = 0;
    std::int64_t to = std::numeric_limits<std::int64_t>::max();
};

Tally fail_each(Scene& scene, Fault kind, std::int64_t most, const Which& which) {
    Tally tally;
    for (const Given& given : Scene::all_given()) {
        if (line_of(given.words).find(which.command) == std::string::npos) continue;
        scene.begin(given);
        faults() = {false, kind, false, -1, faults().count};
        run_forked(scene, given.words, arm, disarm);
        const std::int64_t count = *faults().count;
        const std::int64_t step = most == 0 ? 1 : std::max<std::int64_t>(1, count / most);
        for (const bool for_good : {false, true}) {
            const Tally before = tally;
            for (std::int64_t at = which.from + (for_good ? step / 2 : 0); at < std::min(count, which.to); at += step) {
                where() = line_of(given.words) + (for_good ? ", from " : ", only ") + std::to_string(at);
                faults() = {false, kind, for_good, at, faults().count};
                fail_one(scene, given, tally);
            }
            std::printf("%-60s %7lld %s: %ld runs, %ld refused\n", line_of(given.words).c_str(),
                        static_cast<long long>(count), for_good ? "for good" : "once", tally.runs - before.runs,
                        tally.refused - before.refused);
        }
    }
    return tally;
}

Tally kill_each(Scene& scene, int kills, const std::string& program, std::mt19937_64& random) {
    using Clock = std::chrono::steady_clock;
    Tally tally;
    const std::vector<Given> all = Scene::all_given();
    constexpr int commands_that_write = 16;
    for (int i = 0; i < commands_that_write; ++i) {
        const Given& given = all[static_cast<std::size_t>(i)];
        scene.begin(given);
        const auto start = Clock::now();
        run_program(scene, given.words, program, {});
        const auto whole = std::chrono::duration_cast<std::chrono::microseconds>(Clock::now() - start).count();
        for (int kill = i; kill < kills; kill += commands_that_write) {
            const auto after = std::uniform_int_distribution<long>(1, whole + whole / 8)(random);
            where() = line_of(given.words) + ", killed after " + std::to_string(after) + " us";
            scene.lay_out();
            const Ended ended = run_program(scene, given.words, program, std::chrono::microseconds(after));
            ++tally.runs;
            ++(ended.by_itself ? tally.done : tally.refused);
            scene.check(ended, true);
        }
    }
    return tally;
}

}  // namespace

int main(int count, char** arguments) {
    faults();  // before anything else of SQLite
    const std::string_view way = count > 2 ? arguments[1] : "";
    const int number = count > 2 ? std::atoi(arguments[2]) : -1;
    if (number < 0 || (way != "memory" && way != "disk" && (way != "kill" || count < 4)))
        fail("test_disturbed memory|disk MOST [COMMAND [FROM [TO]]], or kill KILLS PROGRAM [SEED]");
    Scene scene;
    const auto start = std::chrono::steady_clock::now();
    Tally tally;
    if (way == "kill") {
        const unsigned long long seed = count > 4 ? std::strtoull(arguments[4], nullptr, 10) : std::random_device()();
        std::printf("seed %llu\n", seed);
        std::mt19937_64 random(seed);
        tally = kill_each(scene, number, arguments[3], random);
    } else {
        Which which;
        if (count > 3) which.command = arguments[3];
        if (count > 4) which.from = std::atoll(arguments[4]);
        if (count > 5) which.to = std::atoll(arguments[5]);
        tally = fail_each(scene, way == "memory" ? Fault::memory : Fault::disk, number, which);
        if (tally.runs == 0) fail("there is no such command");
    }
    const auto seconds = std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now() - start);
    std::printf("%s: %ld runs in %lld s, %ld ended at once or with a sentence, %ld did all they were asked\n",
                arguments[1], tally.runs, static_cast<long long>(seconds.count()), tally.refused, tally.done);
    return 0;
}
