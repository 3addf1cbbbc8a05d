// The power goes at every moment of a job in a browser's private folder. A flush of a handle is what puts its bytes on
// the device; until then each write may be there or not, whole or in part (tests/crash/power_cut.h). Names are held to
// be there once a file is open: what a browser does about those, no page can ask for.
//
// TAPWRIGHT_POWER_CUTS in the environment: how many states are looked at.
#include <doctest/doctest.h>

#include <cstdlib>
#include <optional>

#include "core/session/session.h"
#include "core/words/words.h"
#include "platform/web/store/vfs.h"
#include "tests/crash/power_cut.h"
#include "tests/web/disk.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

const std::string job_file = "Barn.tapjob";

Author ada() {
    return {"Ada Quill", {}};
}

Stamp stamp_of(std::uint64_t step) {
    return {"2026-05-04T09:00:00Z", 1777885200000 + static_cast<std::int64_t>(step), step + 1};
}

Command with_points(int count) {
    Command command;
    command.changes.push_back({ChangeOp::set, Kind::job, job_id(), {{"name", "Barn"}}});
    for (int i = 0; i < count; ++i)
        command.changes.push_back({ChangeOp::add,
                                   Kind::point,
                                   Id(),
                                   {{"kind", "speaker"}, {"label", "C-" + std::to_string(i)}, {"tap_w", 1.0 + i % 9}}});
    command.fill_in = true;
    return command;
}

struct Kept {
    std::size_t batches = 0, photos = 0;
};

struct RecordedDay {
    std::vector<DiskEvent> events;
    std::vector<Kept> kept{{}};  // [n]: once n steps were acknowledged
};

// A job is made, changed a little and much, a photo comes in, it is opened again.
RecordedDay recorded_day() {
    RecordedDay day;
    Disk disk(fresh_files());
    disk.events = &day.events;
    disk.open({job_file, job_file + "-journal"}, [](const Result<void>& opened) { REQUIRE(opened.ok()); });
    day.events.push_back({DiskEvent::What::sync_folder, {}, {}, 0, {}});
    Kept now;
    const auto acknowledged = [&] {
        day.kept.push_back(now);
        day.events.push_back({DiskEvent::What::done, {}, {}, day.kept.size() - 1, {}});
    };
    Result<Session> job = Session::create(job_file, with_points(3), ada(), stamp_of(0), open_files_vfs);
    REQUIRE_MESSAGE(job.ok(), (job.ok() ? std::string() : in_english(job.refusal())));
    ++now.batches;
    acknowledged();
    const auto change = [&](int points) {
        REQUIRE(job->request(with_points(points), ada(), stamp_of(day.kept.size())).ok());
        ++now.batches;
        acknowledged();
    };
    change(1);
    change(150);
    REQUIRE(job->put_blob({std::string(60'000, 'p'), std::string(2'000, 's')}).ok());
    ++now.photos;
    acknowledged();
    job = Session::open(job_file, Access::write, open_files_vfs);
    REQUIRE(job.ok());
    change(2);
    return day;
}

std::size_t wanted_states() {
    const char* const text = std::getenv("TAPWRIGHT_POWER_CUTS");
    return text ? static_cast<std::size_t>(std::strtoull(text, nullptr, 10)) : 1500;
}

// What the state holds. Nothing where it opens as no job.
std::optional<Kept> held_in(const FolderState& state) {
    Disk disk(fresh_files());
    for (const auto& [name, held] : state) disk.bytes[name] = held;
    disk.open({job_file, job_file + "-journal"}, [](const Result<void>& opened) { REQUIRE(opened.ok()); });
    const Result<Session> job = Session::open(job_file, Access::write, open_files_vfs);
    if (!job) {
        CHECK_FALSE(job.refusal().message.empty());
        return std::nullopt;
    }
    const auto verified = job->verify();
    REQUIRE_MESSAGE(verified.ok(), (verified.ok() ? std::string() : in_english(verified.refusal())));
    return Kept{verified->batches, verified->blobs};
}

}  // namespace

TEST_CASE("a power cut at any moment loses nothing that the page said is saved") {
    const RecordedDay day = recorded_day();
    const std::size_t most = wanted_states();
    std::size_t states = 0, in_the_making = 0, kept_early = 0;
    for (std::uint64_t seed = 1; states < most; ++seed) {
        const std::size_t before = states;
        PowerCut cut(seed);
        std::size_t acknowledged = 0;
        for (std::size_t i = 0; i < day.events.size(); ++i) {
            cut.follow(day.events[i]);
            if (day.events[i].what == DiskEvent::What::done) acknowledged = static_cast<std::size_t>(day.events[i].at);
            const std::size_t share = (most - states) / (day.events.size() - i);
            cut.states(share, [&](const FolderState& state) {
                ++states;
                CAPTURE(seed);
                CAPTURE(i);
                const std::optional<Kept> held = held_in(state);
                if (!held) {
                    ++in_the_making;
                    REQUIRE(acknowledged == 0);
                    return;
                }
                const auto is = [&](const Kept& kept) {
                    return held->batches == kept.batches && held->photos == kept.photos;
                };
                const bool is_next = acknowledged + 1 < day.kept.size() && is(day.kept[acknowledged + 1]);
                REQUIRE((is(day.kept[acknowledged]) || is_next));
                kept_early += is_next ? 1 : 0;
            });
        }
        REQUIRE(states > before);
    }
    MESSAGE(states << " states after a cut at " << day.events.size() << " moments; " << in_the_making
                   << " while the job was made, " << kept_early << " with the step in hand kept already");
    CHECK(in_the_making > 0);
    CHECK(kept_early > 0);
}
