// What a change costs beside a bare SQLite insert, what 100,000 ops cost to take in, and what they cost to read.
#include <benchmark/benchmark.h>
#include <sqlite3.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>

#include "core/journal/journal.h"
#include "core/journal/replica.h"
#include "core/words/words.h"

namespace {

using namespace tapwright;
namespace fs = std::filesystem;

std::string path_of(const char* name) {
    return (fs::temp_directory_path() / ("tapwright-bench-" + std::to_string(getpid()) + "-" + name)).string();
}

// An import: 10,000 records of 10 ops each, with texts as long as a real job's.
Batch import_batch() {
    Batch batch;
    batch.writer = 0xa;
    batch.clock = 1;
    batch.person = "Ana";
    batch.time = "2024-05-03T14:30:00Z";
    for (int i = 0; i < 10'000; ++i) {
        const std::string id = "s" + std::to_string(i);
        const auto add = [&](const char* field, std::string value) {
            batch.ops.push_back({"point", id, field, std::move(value), {}});
        };
        add("", "true");
        add("kind", "\"speaker\"");
        add("label", "\"Ceiling loudspeaker " + std::to_string(i) + "\"");
        add("room", "\"room-" + std::to_string(i / 20) + "\"");
        add("fed_from", "\"zone-" + std::to_string(i / 100) + "\"");
        add("cable", "\"cable-1\"");
        add("length_m", std::to_string(i % 90) + ".5");
        add("type", "\"type-165\"");
        add("tap_w", std::to_string(i % 12) + ".5");
        add("state", "\"fitted\"");
    }
    return batch;
}

Batch one_change(int number) {
    Batch batch;
    batch.writer = 0xb;
    batch.clock = number;
    batch.person = "Ana";
    batch.time = "2024-05-03T14:30:00Z";
    batch.ops = {{"point", "s1", "tap_w", std::to_string(number), {}}};
    return batch;
}

void absorb_100000_ops(benchmark::State& state) {
    Batch batch = import_batch();
    batch.n = 1;
    for (auto _ : state) {
        Replica replica;
        benchmark::DoNotOptimize(replica.absorb(batch).ok());
    }
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(batch.ops.size()));
}
BENCHMARK(absorb_100000_ops)->Unit(benchmark::kMillisecond);

void make_file_of_100000_ops(benchmark::State& state) {
    const Batch batch = import_batch();
    const std::string path = path_of("make.tapjob");
    for (auto _ : state) {
        const auto created = Journal::create(path, batch);
        if (!created) state.SkipWithError(in_english(created.refusal()).c_str());
        state.PauseTiming();
        fs::remove(path);
        state.ResumeTiming();
    }
}
BENCHMARK(make_file_of_100000_ops)->Unit(benchmark::kMillisecond);

// Opening: lock, structure, every hash, every op absorbed.
void open_file(benchmark::State& state, const std::string& path) {
    for (auto _ : state) {
        Replica replica;
        const auto opened = Journal::open(path, Access::read, [&](const Batch& batch) -> Result<void> {
            const auto absorbed = replica.absorb(batch);
            return absorbed ? done() : Result<void>(absorbed.refusal());
        });
        if (!opened) state.SkipWithError(in_english(opened.refusal()).c_str());
    }
    state.counters["file_MiB"] = static_cast<double>(fs::file_size(path)) / (1 << 20);
    fs::remove(path);
}

void open_100000_ops_in_one_batch(benchmark::State& state) {
    const std::string path = path_of("open.tapjob");
    if (!Journal::create(path, import_batch())) return state.SkipWithError("cannot be made");
    open_file(state, path);
}
BENCHMARK(open_100000_ops_in_one_batch)->Unit(benchmark::kMillisecond);

void open_100000_ops_in_10000_batches(benchmark::State& state) {
    const std::string path = path_of("many.tapjob");
    const Batch all = import_batch();
    std::vector<Batch> batches;
    Digest previous{};
    for (std::uint32_t n = 1; n <= 10'000; ++n) {
        Batch batch = one_change(1);
        batch.writer = all.writer;
        batch.ops.assign(all.ops.begin() + 10 * (n - 1), all.ops.begin() + 10 * n);
        batch.n = n;
        if (n > 1) batch.prev = {previous};
        batch.hash = previous = hash_of(batch);
        batches.push_back(std::move(batch));
    }
    {
        auto created = Journal::create(path, batches.front());
        if (!created || !created->journal.take(batches)) return state.SkipWithError("cannot be made");
    }
    open_file(state, path);
}
BENCHMARK(open_100000_ops_in_10000_batches)->Unit(benchmark::kMillisecond);

// The yardstick: one row a commit, journal_mode=TRUNCATE, synchronous=FULL, as bare as SQLite goes.
class BareInsert {
public:
    explicit BareInsert(const std::string& path) {
        sqlite3_open(path.c_str(), &connection_);
        sqlite3_exec(connection_,
                     "PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=FULL; PRAGMA locking_mode=EXCLUSIVE;"
                     "CREATE TABLE t(id TEXT, field TEXT, value TEXT)",
                     nullptr, nullptr, nullptr);
        sqlite3_prepare_v2(connection_, "INSERT INTO t VALUES('s1', 'tap_w', ?)", -1, &insert_, nullptr);
    }
    ~BareInsert() {
        sqlite3_finalize(insert_);
        sqlite3_close(connection_);
    }
    BareInsert(const BareInsert&) = delete;
    BareInsert& operator=(const BareInsert&) = delete;
    bool run(int number) {
        sqlite3_bind_int(insert_, 1, number);
        const bool is_done = sqlite3_step(insert_) == SQLITE_DONE;
        sqlite3_reset(insert_);
        return is_done;
    }

private:
    sqlite3* connection_ = nullptr;
    sqlite3_stmt* insert_ = nullptr;
};

// The two take turns, so that a busy disk hits both alike. Counters: microseconds each (mean), and their ratio.
void one_change_beside_a_bare_insert(benchmark::State& state) {
    using Clock = std::chrono::steady_clock;
    const std::string path = path_of("append.tapjob");
    const std::string bare_path = path_of("bare.db");
    {
        auto created = Journal::create(path, import_batch());
        if (!created) return state.SkipWithError("cannot be made");
    }
    auto journal = Journal::open(path, Access::write, [](const Batch&) { return done(); });
    BareInsert bare(bare_path);
    Clock::duration ours{};
    Clock::duration theirs{};
    int number = 0;
    for (auto _ : state) {
        const auto start = Clock::now();
        if (!journal->append(one_change(++number))) return state.SkipWithError("not kept");
        const auto middle = Clock::now();
        if (!bare.run(number)) return state.SkipWithError("not inserted");
        ours += middle - start;
        theirs += Clock::now() - middle;
    }
    const auto each = [&](Clock::duration all) {
        return std::chrono::duration<double, std::micro>(all).count() / number;
    };
    state.counters["change_us"] = each(ours);
    state.counters["bare_us"] = each(theirs);
    state.counters["ratio"] = each(ours) / each(theirs);
    fs::remove(path);
    fs::remove(bare_path);
    fs::remove(bare_path + "-journal");
}
BENCHMARK(one_change_beside_a_bare_insert)->Iterations(1000)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
