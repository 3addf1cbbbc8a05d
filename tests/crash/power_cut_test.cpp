// The power goes at every moment of a job file's life. A run is written down write by write and sync by sync
// (recorded_disk.h); for each moment the states that a disk may be left in are made (power_cut.h) and opened. In each
// of them everything that was acknowledged must be there, at most the step in hand more, and the whole file must
// verify; a job whose making was cut off has no name yet and is not in the way of making it again, a copy that is there
// must be whole.
//
//   test_power_cut STATES [SEED]     exit status 0 when nothing was lost
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "core/journal/journal.h"
#include "core/words/words.h"
#include "tests/crash/power_cut.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

namespace {

using namespace tapwright;
using namespace tapwright::test;
namespace fs = std::filesystem;

// What must be in the file once a step is acknowledged.
struct Kept {
    std::size_t batches = 0, photos = 0;
    bool is_sealed = false;
};

struct Story {
    const char* name;
    std::vector<DiskEvent> events;
    std::vector<Kept> kept{{}};  // [n]: after n steps
};

[[noreturn]] void fail(const std::string& why) {
    std::fprintf(stderr, "power cut: %s\n", why.c_str());
    std::exit(1);
}

Result<void> look_away(const Batch&) {
    return done();
}

std::vector<Op> points(int first, int count) {
    std::vector<Op> ops;
    for (int i = first; i < first + count; ++i) {
        const std::string id = "s" + std::to_string(i);
        ops.push_back(op("point", id, "", "true"));
        ops.push_back(op("point", id, "tap_w", std::to_string(i % 60 + 1)));
    }
    return ops;
}

std::string photo_of(std::size_t bytes, std::uint64_t seed) {
    std::mt19937_64 random(seed);
    std::string photo;
    while (photo.size() < bytes) photo.push_back(static_cast<char>(random()));
    return photo;
}

const char* const job_name = "job.tapjob";
const char* const copy_name = "copy.tapjob";

// Makes a job as the program does: under another name, which it gets when it is whole.
void make(const TemporaryFolder& folder, Batch first, const FilePort& files, const std::string& vfs) {
    const std::string path = folder.path(job_name), part = files.part(path);
    if (const auto created = Journal::create(part, std::move(first), vfs); !created)
        fail(in_english(created.refusal()));
    if (!files.rename(part, path) || !files.sync_folder(path)) fail("no file can be renamed here");
}

// Those of a program that starts after the cut: what the one before left is not its own.
FilePort other_files() {
    FilePort files = plain_files();
    files.part = [](const std::string& path) { return path + ".other"; };
    return files;
}

// Runs a story on a recorded disk. `first`: how many points the job's first batch brings.
class Recording {
public:
    Recording(const char* name, int first) {
        story_.name = name;
        disk_events().clear();
        make(folder_, draft(writer_, points(0, first)), recorded_files(), recorded_disk);
        open_again();
        next_ = first;
        ++now_.batches;
        acknowledged();
    }
    Recording& change(int count) {
        const auto kept = journal_->append(draft(writer_, points(next_, count)));
        if (!kept) fail(in_english(kept.refusal()));
        next_ += count;
        ++now_.batches;
        return acknowledged();
    }
    Recording& photo(std::size_t bytes) {
        const auto kept = journal_->put_blob({photo_of(bytes, bytes), photo_of(bytes / 8, 1)});
        if (!kept) fail(in_english(kept.refusal()));
        ++now_.photos;
        return acknowledged();
    }
    Recording& seal() {
        const auto kept = journal_->seal(folder_.path(copy_name), recorded_files());
        if (!kept) fail(in_english(kept.refusal()));
        now_.is_sealed = true;
        return acknowledged();
    }
    Recording& open_again() {
        journal_.reset();
        ++writer_;  // each opening writes under its own
        auto opened = Journal::open(folder_.path(job_name), Access::write, look_away, recorded_disk);
        if (!opened) fail(in_english(opened.refusal()));
        journal_.emplace(std::move(*opened));
        return *this;
    }
    Story story() {
        journal_.reset();
        story_.events = std::move(disk_events());
        disk_events().clear();
        for (DiskEvent& event : story_.events) {
            event.name = fs::path(event.name).filename().string();
            event.to = fs::path(event.to).filename().string();
        }
        return std::move(story_);
    }

private:
    Recording& acknowledged() {
        story_.kept.push_back(now_);
        disk_events().push_back({DiskEvent::What::done, {}, {}, story_.kept.size() - 1, {}});
        return *this;
    }

    TemporaryFolder folder_;
    Story story_;
    std::optional<Journal> journal_;
    Kept now_;
    int next_ = 0;
    Writer writer_ = 0xa;
};

std::vector<Story> stories() {
    std::vector<Story> all;
    all.push_back(Recording("a working day", 3).change(1).change(2).photo(70'000).open_again().change(1).story());
    all.push_back(Recording("an import", 900).photo(150'000).photo(3'000).story());
    all.push_back(Recording("large changes", 40).change(400).change(1).change(400).story());
    all.push_back(Recording("a copy to hand on", 30).photo(40'000).seal().change(1).story());
    return all;
}

struct Tally {
    std::uint64_t states = 0, refused_in_making = 0, step_kept_unacknowledged = 0, copies = 0, appended = 0;
};

class Judge {
public:
    explicit Judge(const Story& story, Tally& tally) : story_(story), tally_(tally) {}

    // `least`: the last step that was acknowledged.
    void look(const FolderState& state, std::size_t least, const std::string& moment) {
        const TemporaryFolder folder;
        for (const auto& [name, bytes] : state) write_file(folder.path(name), bytes);
        moment_ = std::string(story_.name) + ", " + moment;
        ++tally_.states;
        look_at_copy(folder, state, least);
        auto journal = Journal::open(folder.path(job_name), Access::write, look_away);
        if (journal) return look_at_job(*journal, folder, least);
        if (least > 0) fail(moment_ + ": " + in_english(journal.refusal()));
        ++tally_.refused_in_making;
        if (state.contains(job_name)) fail(moment_ + ": a name for half a job");
        make(folder, draft(0xb, points(0, 1)), other_files(), {});
    }

private:
    void look_at_job(Journal& journal, const TemporaryFolder& folder, std::size_t least) {
        const auto verified = journal.verify();
        if (!verified) fail(moment_ + ": " + in_english(verified.refusal()));
        const Kept& before = story_.kept[least];
        const Kept& after = story_.kept[std::min(least + 1, story_.kept.size() - 1)];
        const auto is = [&](const Kept& kept) {
            return verified->batches == kept.batches && verified->blobs == kept.photos;
        };
        if (!is(before) && !is(after))
            fail(moment_ + ": " + std::to_string(verified->batches) + " changes and " +
                 std::to_string(verified->blobs) + " photos, " + std::to_string(before.batches) + " and " +
                 std::to_string(before.photos) + " were acknowledged");
        tally_.step_kept_unacknowledged += is(before) ? 0 : 1;
        if (tally_.states % 8 != 0) return;
        // Work goes on where it was.
        const auto next = journal.append(draft(0xff, points(100'000, 1)));
        if (!next) fail(moment_ + ", going on: " + in_english(next.refusal()));
        if (!fs::exists(folder.path(copy_name))) {
            const auto sealed = journal.seal(folder.path(copy_name), other_files());
            if (!sealed) fail(moment_ + ", sealing: " + in_english(sealed.refusal()));
        }
        ++tally_.appended;
    }

    // A copy that has its name is whole.
    void look_at_copy(const TemporaryFolder& folder, const FolderState& state, std::size_t least) {
        if (!state.contains(copy_name)) {
            if (story_.kept[least].is_sealed) fail(moment_ + ": the copy is gone");
            return;
        }
        const auto copy = Journal::open(folder.path(copy_name), Access::read, look_away);
        if (!copy) fail(moment_ + ", the copy: " + in_english(copy.refusal()));
        const auto verified = copy->verify();
        if (!verified) fail(moment_ + ", the copy: " + in_english(verified.refusal()));
        ++tally_.copies;
    }

    const Story& story_;
    Tally& tally_;
    std::string moment_;
};

void cut(const Story& story, std::uint64_t most, std::uint64_t seed, Tally& tally) {
    PowerCut disk(seed);
    Judge judge(story, tally);
    std::size_t least = 0;
    const std::uint64_t end = tally.states + most;
    for (std::size_t i = 0; i < story.events.size(); ++i) {
        const DiskEvent& event = story.events[i];
        disk.follow(event);
        if (event.what == DiskEvent::What::done) least = static_cast<std::size_t>(event.at);
        // What is left is shared out evenly among the moments still to come.
        const std::uint64_t share = (end - tally.states) / (story.events.size() - i);
        disk.states(static_cast<std::size_t>(share), [&](const FolderState& state) {
            judge.look(state, least, "event " + std::to_string(i) + " of seed " + std::to_string(seed));
        });
    }
}

}  // namespace

int main(int count, char** arguments) {
    const std::uint64_t states = count > 1 ? std::strtoull(arguments[1], nullptr, 10) : 4000;
    const std::uint64_t seed = count > 2 ? std::strtoull(arguments[2], nullptr, 10) : 7;
    Tally tally;
    const std::vector<Story> all = stories();
    std::size_t events = 0;
    for (const Story& story : all) events += story.events.size();
    // Moments with little at stake leave states over: more seeds take them.
    for (std::uint64_t round = 0; tally.states < states; ++round) {
        const std::uint64_t before = tally.states;
        for (std::size_t i = 0; i < all.size(); ++i)
            cut(all[i], (states - tally.states) / (all.size() - i), seed + round, tally);
        if (tally.states == before) break;
    }
    std::printf(
        "%llu states after a cut at %zu moments: 0 acknowledged steps lost, 0 files that do not verify. %llu times the "
        "step in hand was kept before it was acknowledged, %llu times a making was cut off and made again, %llu copies "
        "found whole, %llu times work went on and a copy was sealed.\n",
        static_cast<unsigned long long>(tally.states), events,
        static_cast<unsigned long long>(tally.step_kept_unacknowledged),
        static_cast<unsigned long long>(tally.refused_in_making), static_cast<unsigned long long>(tally.copies),
        static_cast<unsigned long long>(tally.appended));
    return 0;
}
