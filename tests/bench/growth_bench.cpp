// How each command grows: the program itself, run on made jobs of n, 2n and 4n records.
//
// Printed: processor time in user mode (the least of three runs), peak memory, and how many times the next size takes.
// Ends with status 1 where a time grows by more than 2.3 for twice the records (docs/benchmarks.md), or a command
// fails.
//
// Usage: bench_growth TAPWRIGHT [WORD]: the program to run, and which rows: those whose name holds the word.
#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <string>
#include <vector>

#include "core/job/json.h"
#include "core/session/session.h"
#include "tests/session/temporary.h"

extern char** environ;

using namespace tapwright;

namespace {

constexpr double most_growth = 2.3;
// Below this the start of the program and the clock's own steps are what is measured.
constexpr double least_ms = 8;
constexpr int sizes = 3;
constexpr int runs = 3;
// Hard by nature, so it is held to a bound and not to a growth.
constexpr const char* bounded_row = "fit, all different";
constexpr double most_bounded_ms = 2000;
constexpr long most_bounded_mb = 200;

// ---- made jobs ----

std::string numbered(const char* stem, int number) {
    return stem + std::to_string(number);
}

struct MadeJob {
    List amplifiers, channels, rooms, types, zones, points;

    void zone(const std::string& id, double limit_w) {
        channels.emplace_back(Map{{"id", "c" + id}, {"name", "Output"}, {"amplifier", "a"}, {"rated_w", 1e6}});
        zones.emplace_back(
            Map{{"id", id}, {"name", "Zone " + id}, {"channel", "c" + id}, {"limit_w", std::min(limit_w, 1e6)}});
    }
    void type(const std::string& id, List taps) {
        types.emplace_back(Map{{"id", id},
                               {"name", "Type " + id},
                               {"taps_w", std::move(taps)},
                               {"low_z_ohm", 8.0},
                               {"sens_db", 90.0},
                               {"cone_deg", 90.0}});
    }
    void speaker(int number, const std::string& feed, const std::string& type_id, double tap, double length_m,
                 const std::string& room) {
        points.emplace_back(Map{{"id", numbered("p", number)},
                                {"kind", "speaker"},
                                {"label", numbered("C-", number)},
                                {"fed_from", feed},
                                {"type", type_id},
                                {"tap_w", tap},
                                {"cable", "k"},
                                {"length_m", length_m},
                                {"room", room}});
    }
    void room(const std::string& id) {
        rooms.emplace_back(Map{{"id", id},
                               {"name", "Room " + id},
                               {"length_m", 20.0},
                               {"width_m", 10.0},
                               {"height_m", 3.0},
                               {"noise_dba", 55.0}});
    }
    std::string json() const {
        return pretty_json(Map{{"tapwright_job", 1.0},
                               {"job", Map{{"name", "Made job"}}},
                               {"amplifiers", List{Map{{"id", "a"}, {"name", "Amplifier"}, {"rated_w", 1e6}}}},
                               {"channels", channels},
                               {"rooms", rooms},
                               {"speaker_types", types},
                               {"cable_types", List{Map{{"id", "k"}, {"name", "Pair"}, {"awg", 18.0}}}},
                               {"zones", zones},
                               {"points", points}});
    }
};

// Zones of 100 in a room each: ten branches of ten.
std::string many_zones(int count) {
    MadeJob job;
    job.type("t", {2.5, 5.0, 10.0});
    std::string feed;
    for (int i = 0; i < count; ++i) {
        const std::string zone = numbered("z", i / 100);
        const std::string room = numbered("r", i / 100);
        if (i % 100 == 0) job.zone(zone, 800), job.room(room);
        job.speaker(i, i % 10 == 0 ? zone : feed, "t", i % 3 == 0 ? 2.5 : 5.0, 5, room);
        feed = numbered("p", i);
    }
    return job.json();
}

// Zones of ten behind so much cable that each is a finding with a cure.
std::string lossy_zones(int count) {
    MadeJob job;
    job.type("t", {2.5, 5.0, 10.0});
    job.room("r");
    for (int i = 0; i < count; ++i) {
        const std::string zone = numbered("z", i / 10);
        if (i % 10 == 0) job.zone(zone, 5000);
        job.speaker(i, i % 10 == 0 ? zone : numbered("p", i - 1), "t", 5, 100, "r");
    }
    return job.json();
}

// Every loudspeaker on the first.
std::string hub(int count) {
    MadeJob job;
    job.type("t", {1.0, 2.5, 5.0});
    job.room("r");
    job.zone("z", 1e6);
    for (int i = 0; i < count; ++i) job.speaker(i, i == 0 ? "z" : "p0", "t", 1, 1, "r");
    return job.json();
}
// The first half of them goes.
std::string hub_changes(int count) {
    List changes;
    for (int i = 0; i < count / 2; ++i)
        changes.emplace_back(Map{{"op", "remove"}, {"kind", "point"}, {"id", numbered("p", i)}});
    return pretty_json(changes);
}

// Each of a type of its own, all on the zone.
std::string many_types(int count) {
    MadeJob job;
    job.room("r");
    job.zone("z", 8.0 * count);
    for (int i = 0; i < count; ++i) {
        const double more = 1 + i * 0.00713;
        List taps;
        for (const double tap : {0.63, 1.25, 2.5, 5.0, 10.0, 20.0}) taps.emplace_back(tap * more);
        job.type(numbered("t", i), std::move(taps));
        job.speaker(i, "z", numbered("t", i), 10 * more, 1, "r");
    }
    return job.json();
}

// ---- runs ----

struct Spent {
    double ms = 1e30;
    long peak_mb = 0;
    int status = -1;
};

Spent run_once(const std::vector<std::string>& words) {
    std::vector<char*> arguments;
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    for (const int stream : {STDOUT_FILENO, STDERR_FILENO})
        posix_spawn_file_actions_addopen(&actions, stream, "/dev/null", O_WRONLY, 0);
    pid_t child = 0;
    const int failed = posix_spawn(&child, words[0].c_str(), &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    Spent spent;
    if (failed != 0) return spent;
    rusage usage{};
    int status = 0;
    wait4(child, &status, 0, &usage);
    spent.ms = static_cast<double>(usage.ru_utime.tv_sec) * 1000 + static_cast<double>(usage.ru_utime.tv_usec) / 1000;
    spent.peak_mb = usage.ru_maxrss / 1024;
    spent.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return spent;
}

class Bench {
public:
    Bench(std::string program, std::string wanted) : program_(std::move(program)), wanted_(std::move(wanted)) {}

    std::string file(const std::string& name) const { return folder_.file(name); }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(file(name), std::ios::binary) << text;
        return file(name);
    }
    bool wants(const std::string& name) const { return name.find(wanted_) != std::string::npos; }

    // Requires: it can be done.
    std::string import(const std::string& name, const std::string& json) const {
        const std::string made = file(name + ".tapjob");
        if (std::filesystem::exists(made)) return made;
        const Spent spent = run_once({program_, "import", write(name + ".json", json), made, "--person", "Ann"});
        TAPWRIGHT_ENSURE(spent.status == 0);
        return made;
    }

    // `words`: the call at a size; `before`: what is to be done before each run of it.
    void row(const std::string& name, int smallest, const std::function<std::vector<std::string>(int)>& words,
             const std::function<void(int)>& before = {}, int status = 0) {
        if (!wants(name)) return;
        std::array<Spent, sizes> spent;
        for (int size = 0; size < sizes; ++size)
            for (int run = 0; run < runs; ++run) {
                const int count = smallest << size;
                std::vector<std::string> call = words(count);
                call.insert(call.begin(), program_);
                if (before) before(count);
                const Spent once = run_once(call);
                auto& least = spent.at(static_cast<std::size_t>(size));
                if (once.ms < least.ms) least = once;
            }
        print(name, smallest, spent, status);
    }

    bool is_good() const { return is_good_; }

private:
    void print(const std::string& name, int smallest, const std::array<Spent, sizes>& spent, int status) {
        const bool is_bounded = name == bounded_row;
        std::printf("%-32s n %6d ", name.c_str(), smallest);
        bool good = true;
        for (const Spent& one : spent) {
            std::printf(" %8.0f ms %5ld MB", one.ms, one.peak_mb);
            good = good && one.status == status;
        }
        for (std::size_t i = 1; i < spent.size(); ++i) {
            const double growth = spent[i].ms / std::max(spent[i - 1].ms, 0.01);
            std::printf("  x %.2f", growth);
            good = good && (growth <= most_growth || spent[i].ms < least_ms || is_bounded);
        }
        if (is_bounded) good = good && spent.back().ms <= most_bounded_ms && spent.back().peak_mb <= most_bounded_mb;
        std::printf("%s\n", good ? "" : "   MISSED");
        std::fflush(stdout);
        is_good_ = is_good_ && good;
    }

    test::TemporaryFolder folder_;
    std::string program_;
    std::string wanted_;
    bool is_good_ = true;
};

void rows_of_records(Bench& bench) {
    const auto zones = [&](int count) { return bench.import(numbered("zones", count), many_zones(count)); };
    const auto out = [&] { return bench.file("new.tapjob"); };
    bench.row(
        "import", 2500,
        [&](int count) {
            zones(count);
            return std::vector<std::string>{"import", bench.file(numbered("zones", count) + ".json"), out()};
        },
        [&](int) { std::filesystem::remove(out()); });
    bench.row("open", 2500, [&](int count) { return std::vector<std::string>{"list", zones(count), "zone"}; });
    bench.row("export", 2500, [&](int count) { return std::vector<std::string>{"export", zones(count), "-"}; });
    bench.row("verify", 2500, [&](int count) { return std::vector<std::string>{"verify", zones(count)}; });
    bench.row("check", 2500, [&](int count) { return std::vector<std::string>{"check", zones(count)}; });
    bench.row("check, a cure for each zone", 2500, [&](int count) {
        return std::vector<std::string>{"check", bench.import(numbered("lossy", count), lossy_zones(count))};
    });
    bench.row("survey", 2500, [&](int count) { return std::vector<std::string>{"survey", zones(count), "r0", "t"}; });
    bench.row("fit, one zone of a hundred", 2500, [&](int count) {
        return std::vector<std::string>{"fit", zones(count), "z0", "--add", "tx4"};
    });
    bench.row("sheet as a page", 2500, [&](int count) {
        return std::vector<std::string>{"sheet", zones(count), bench.file("out.html"), "--replace"};
    });
    bench.row("sheet as a page, for the owner", 2500, [&](int count) {
        return std::vector<std::string>{"sheet", zones(count), bench.file("out.html"), "--for", "owner", "--replace"};
    });
}

void rows_of_lines(Bench& bench) {
    const auto made = [&](int count) { return bench.import(numbered("hub", count), hub(count)); };
    const auto changes = [&](int count) { return bench.write(numbered("changes", count), hub_changes(count)); };
    bench.row("trial, half of a line goes", 2500, [&](int count) {
        return std::vector<std::string>{"trial", made(count), changes(count)};
    });
    bench.row("sheet as a page, one long line", 1250, [&](int count) {
        return std::vector<std::string>{"sheet", made(count), bench.file("hub.html"), "--replace"};
    });
    const auto types = [&](int count) { return bench.import(numbered("types", count), many_types(count)); };
    bench.row("sheet as a page, all different", 1250, [&](int count) {
        return std::vector<std::string>{"sheet", types(count), bench.file("types.html"), "--replace"};
    });
    bench.row(bounded_row, 160, [&](int count) {
        return std::vector<std::string>{"fit", types(count), "z", "--add", "t0x2"};
    });
}

// A job of few records with a long history.
std::string many_changes(const Bench& bench, int count) {
    const std::string file = bench.file(numbered("past", count) + ".tapjob");
    if (std::filesystem::exists(file)) return file;
    const std::string start = bench.import("few", hub(10));
    std::filesystem::copy_file(start, file);
    Result<Session> session = Session::open(file, Access::write);
    TAPWRIGHT_ENSURE(session.ok());
    test::Clock clock;
    for (int i = 0; i < count; ++i) {
        const double tap = i / 10 % 2 == 0 ? 2.5 : 5.0;
        const Command command = test::command({test::set(Kind::point, numbered("p", i % 10), {{"tap_w", tap}})});
        TAPWRIGHT_ENSURE(session->request(command, {i % 5 == 0 ? "Ben" : "Ann", ""}, clock.next()).ok());
    }
    return file;
}

void rows_of_changes(Bench& bench) {
    const auto past = [&](int count) { return many_changes(bench, count); };
    bench.row("open, many changes", 2500, [&](int count) {
        return std::vector<std::string>{"list", past(count), "zone"};
    });
    bench.row("verify, many changes", 2500, [&](int count) { return std::vector<std::string>{"verify", past(count)}; });
    bench.row(
        "verify a state, many changes", 2500,
        [&](int count) {
            return std::vector<std::string>{"verify", past(count), "--state", "0123456789abcdef"};  // there is none
        },
        {}, 2);
    bench.row("history", 2500, [&](int count) {
        return std::vector<std::string>{"history", past(count), "--most", "1000000"};
    });
    bench.row(
        "undo", 2500,
        [&](int count) {
            past(count);
            return std::vector<std::string>{"undo", bench.file("undone.tapjob"), "--person", "Ann"};
        },
        [&](int count) {
            std::filesystem::copy_file(past(count), bench.file("undone.tapjob"),
                                       std::filesystem::copy_options::overwrite_existing);
        });
}

}  // namespace

int main(int count, char** arguments) {
    if (count < 2) {
        std::fputs("Give the program to run: bench_growth TAPWRIGHT [WORD].\n", stderr);
        return 2;
    }
    Bench bench(arguments[1], count > 2 ? arguments[2] : "");
    rows_of_records(bench);
    rows_of_lines(bench);
    rows_of_changes(bench);
    return bench.is_good() ? 0 : 1;
}
