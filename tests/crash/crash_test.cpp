// A child process keeps changes and says after each one, through a pipe, that it is kept. The parent kills it with
// SIGKILL at a random moment, reads what was acknowledged, opens the file and checks that every acknowledged change is
// there, that at most one more is, and that the whole file verifies. Then the next child goes on with the same file;
// from time to time a new file begins, so that the making of one is interrupted too.
//
//   test_crash KILLS [SEED]     exit status 0 when nothing was lost
//
// SIGKILL spares what the system has taken over; a power cut does not. For that see docs/reliability.md.
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <random>
#include <string>
#include <thread>

#include "core/journal/journal.h"
#include "core/journal/replica.h"
#include "core/words/words.h"

namespace {

using namespace tapwright;
using Clock = std::chrono::steady_clock;

struct Tally {
    int kills = 0;
    int in_making = 0;       // killed while the file was being made
    int rolled_back = 0;     // a commit was cut off and taken back
    int unacknowledged = 0;  // one change was kept whose acknowledgement never came
    std::uint64_t kept = 0;  // acknowledged changes, all found again
};

[[noreturn]] void fail(const std::string& why) {
    std::fprintf(stderr, "crash test: %s\n", why.c_str());
    std::exit(1);
}

Batch change(Writer writer, std::uint64_t number) {
    Batch batch;
    batch.writer = writer;
    batch.clock = static_cast<std::int64_t>(number);
    batch.person = "Ana";
    batch.time = "2024-05-03T14:30:00Z";
    const std::string id = "s" + std::to_string(number);
    batch.ops = {{"point", id, "", "true", {}}, {"point", id, "tap_w", std::to_string(number % 60), {}}};
    return batch;
}

// The child: makes or opens the file and keeps changes for ever, writing the count of batches after each.
[[noreturn]] void keep_changes(const std::string& path, bool is_new, Writer writer, int acknowledgements) {
    const auto acknowledge = [&](const Journal& journal) {
        const std::uint64_t count = journal.batch_count();
        if (write(acknowledgements, &count, sizeof count) != sizeof count) _exit(3);
    };
    std::optional<Journal> journal;
    if (is_new) {
        auto created = Journal::create(path, change(writer, 1));
        if (!created) _exit(4);
        journal.emplace(std::move(created->journal));
    } else {
        auto opened = Journal::open(path, Access::write, [](const Batch&) { return done(); });
        if (!opened) _exit(5);
        journal.emplace(std::move(*opened));
    }
    acknowledge(*journal);
    while (true) {
        if (!journal->append(change(writer, journal->batch_count() + 1))) _exit(6);
        // Now and then a photo, whose commit takes longer and spills over many pages.
        if (journal->batch_count() % 16 == 0) {
            const std::string photo(200'000 + journal->batch_count(), 'p');
            if (!journal->put_blob({photo, "copy"})) _exit(7);
        }
        acknowledge(*journal);
    }
}

// Waits for the first acknowledgement (or, when the making is to be hit, not even that) and then a random while.
void kill_at_random(pid_t child, int acknowledgements, bool hit_the_opening, std::mt19937_64& random) {
    const auto microseconds = [&](int most) {
        return std::chrono::microseconds(std::uniform_int_distribution<int>(0, most)(random));
    };
    pollfd ready{acknowledgements, POLLIN, 0};
    if (!hit_the_opening) poll(&ready, 1, 10'000);
    std::this_thread::sleep_for(microseconds(hit_the_opening ? 20'000 : 100'000));
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    if (!WIFSIGNALED(status)) fail("the child ended by itself, with status " + std::to_string(WEXITSTATUS(status)));
}

std::uint64_t last_acknowledged(int acknowledgements) {
    std::uint64_t last = 0;
    std::uint64_t count = 0;
    while (read(acknowledgements, &count, sizeof count) == sizeof count) last = count;
    close(acknowledgements);
    return last;
}

// Opens and verifies what the kill left. Returns: how many batches are there; 0 for no file.
std::uint64_t batches_left(const std::string& path) {
    Replica replica;
    std::uint64_t expected = 0;
    const auto check = [&](const Batch& batch) -> Result<void> {
        const std::string id = "s" + std::to_string(++expected);
        if (batch.ops.size() != 2 || batch.ops[0].id != id || batch.clock != static_cast<std::int64_t>(expected))
            return Refusal{Message("change {count} is not the one that was kept", {{"count", expected}})};
        const auto absorbed = replica.absorb(batch);
        if (!absorbed) return absorbed.refusal();
        return done();
    };
    const auto journal = Journal::open(path, Access::write, check);
    if (!journal) {
        // A file whose making was cut off is empty or not there: nothing was acknowledged in it.
        if (std::filesystem::exists(path) && std::filesystem::file_size(path) != 0) fail(in_english(journal.refusal()));
        return 0;
    }
    const auto verified = journal->verify();
    if (!verified) fail(in_english(verified.refusal()));
    if (replica.record_count() != verified->batches) fail("records and changes differ");
    return verified->batches;
}

void one_kill(const std::string& path, std::uint64_t& before, std::mt19937_64& random, Tally& tally) {
    int ends[2] = {};
    if (pipe(ends) != 0) fail("no pipe");
    const bool is_new = !std::filesystem::exists(path);
    const Writer writer = random() | 1;
    const bool hit_the_opening = random() % (is_new ? 2 : 8) == 0;
    const pid_t child = fork();
    if (child < 0) fail("no child");
    if (child == 0) {
        close(ends[0]);
        keep_changes(path, is_new, writer, ends[1]);
    }
    close(ends[1]);
    kill_at_random(child, ends[0], hit_the_opening, random);
    const std::uint64_t acknowledged = last_acknowledged(ends[0]);
    const std::string rollback = path + "-journal";
    if (std::filesystem::exists(rollback) && std::filesystem::file_size(rollback) != 0) ++tally.rolled_back;

    const std::uint64_t left = batches_left(path);
    const std::uint64_t least = acknowledged == 0 ? before : acknowledged;
    if (left < least) fail(std::to_string(least - left) + " acknowledged changes are lost");
    if (left > least + 1) fail("there are changes nobody made");
    ++tally.kills;
    tally.in_making += is_new && acknowledged == 0 ? 1 : 0;
    tally.unacknowledged += left > least ? 1 : 0;
    tally.kept += left - before;
    before = left;
}

}  // namespace

int main(int count, char** arguments) {
    const int kills = count > 1 ? std::atoi(arguments[1]) : 200;
    const unsigned long long seed = count > 2 ? std::strtoull(arguments[2], nullptr, 10) : std::random_device()();
    std::printf("%d kills, seed %llu\n", kills, seed);
    std::mt19937_64 random(seed);
    const auto folder = std::filesystem::temp_directory_path() / ("tapwright-crash-" + std::to_string(getpid()));
    std::filesystem::create_directory(folder);
    Tally tally;
    const auto start = Clock::now();
    for (int file = 0; tally.kills < kills; ++file) {
        const std::string path = (folder / (std::to_string(file) + ".tapjob")).string();
        std::uint64_t before = 0;
        for (int i = 0; i < 10 && tally.kills < kills; ++i) {
            one_kill(path, before, random, tally);
            if (before != 0) continue;
            // A making that was cut off: a job is made only where neither of the two is.
            std::filesystem::remove(path);
            std::filesystem::remove(path + "-journal");
        }
        std::filesystem::remove(path);
        std::filesystem::remove(path + "-journal");
    }
    std::filesystem::remove_all(folder);
    const auto seconds = std::chrono::duration_cast<std::chrono::seconds>(Clock::now() - start).count();
    std::printf(
        "%d kills in %lld s: 0 of %llu kept changes lost, every file verified. Cut off: %d while a file was being "
        "made, %d in a "
        "commit that was then taken back; %d times one change was kept without an acknowledgement.\n",
        tally.kills, static_cast<long long>(seconds), static_cast<unsigned long long>(tally.kept), tally.in_making,
        tally.rolled_back, tally.unacknowledged);
    return 0;
}
