// The figures of photos and sheets: a photo of 12 megapixels and about 3 MB taken in, and both sheets of a job of 200
// rooms, 2,000 loudspeakers and 100 such photos. Plain wall time, since a person waits for it. Ends with status 1 when
// a required figure is missed.
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <vector>

#include "core/base/ensure.h"
#include "platform/handover/handover.h"
#include "platform/handover/photo_files.h"
#include "platform/system/files.h"
#include "tests/photos/made_pictures.h"

namespace {

using namespace tapwright;
namespace fs = std::filesystem;

constexpr int room_count = 200;
constexpr int speakers_a_room = 10;
constexpr int photo_count = 100;

double now() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

Stamp stamp() {
    static std::uint64_t seed = 0;
    return {"2026-03-02T08:00:00Z", 1772438400000, ++seed};
}

ChangeList big_house() {
    ChangeList changes;
    const auto add = [&](Kind kind, const std::string& id, Map fields) {
        changes.push_back({ChangeOp::add, kind, Id(id), std::move(fields)});
    };
    changes.push_back({ChangeOp::set, Kind::job, job_id(), {{"name", "Big house"}}});
    add(Kind::speaker_type, "t1", {{"name", "Ceiling"}, {"taps_w", List{5.0, 10.0}}});
    for (int r = 0; r < room_count; ++r) {
        const std::string room = std::to_string(r);
        add(Kind::room, "r" + room, {{"name", "Room " + room}, {"order", static_cast<double>(r)}});
        if (r % 10 == 0) add(Kind::zone, "z" + std::to_string(r / 10), {{"name", "Zone " + room}, {"limit_w", 1000.0}});
        for (int s = 0; s < speakers_a_room; ++s) {
            const std::string label = room + "-" + std::to_string(s);
            const std::string feed = s == 0 ? "z" + std::to_string(r / 10) : "p" + room + "-" + std::to_string(s - 1);
            add(Kind::point, "p" + label,
                {{"kind", "speaker"},
                 {"label", "C-" + label},
                 {"room", "r" + room},
                 {"fed_from", feed},
                 {"type", "t1"},
                 {"tap_w", 5.0},
                 {"length_m", 4.0},
                 {"state", "tested"}});
        }
    }
    return changes;
}

// One sheet in a process of its own, so that its memory is its own. Returns: whether it kept within what is required.
bool sheet_alone(const std::string& file, SheetReader reader, SheetMedium medium, const char* name) {
    std::fflush(stdout);
    const pid_t child = fork();
    if (child == 0) {
        const double start = now();
        const Result<Session> session = Session::open(file, Access::read);
        TAPWRIGHT_ENSURE(session.ok());
        const double opened = now();
        const Result<MadeSheet> sheet = make_sheet(*session, {reader, document::Paper::a4, medium}, stamp());
        TAPWRIGHT_ENSURE(sheet.ok());
        const double seconds = now() - opened;
        struct rusage used {
        }, pages{};
        getrusage(RUSAGE_SELF, &used);
        getrusage(RUSAGE_CHILDREN, &pages);  // a PDF's are set in a child
        const double megabytes = static_cast<double>(sheet->bytes.size()) / 1e6;
        const double memory = static_cast<double>(std::max(used.ru_maxrss, pages.ru_maxrss)) / 1024;
        std::printf("%s: %.2f s (and %.2f s to open the job), %.1f MB, %d pages, %.0f MB of memory\n", name, seconds,
                    opened - start, megabytes, sheet->pages, memory);
        std::fflush(stdout);
        _exit(seconds <= 3 && megabytes <= 15 && memory <= 300 ? 0 : 1);
    }
    int status = 1;
    waitpid(child, &status, 0);
    return WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

}  // namespace

int main() {
    const fs::path folder = fs::temp_directory_path() / ("tapwright-bench-" + std::to_string(getpid()));
    fs::create_directories(folder);
    const std::string file = (folder / "big.tapjob").string();
    std::vector<double> times;
    double megabytes = 0;
    {
        Result<Session> session =
            Session::create(file, {.changes = big_house(), .fill_in = false, .place = {}}, {}, stamp());
        TAPWRIGHT_ENSURE(session.ok());
        const std::string image = (folder / "a.jpg").string();
        for (int i = 0; i < photo_count; ++i) {
            const std::string bytes = made::camera_jpeg(4000, 3000, static_cast<std::uint32_t>(i));
            megabytes += static_cast<double>(bytes.size()) / 1e6 / photo_count;
            TAPWRIGHT_ENSURE(write_file(image, bytes).ok());
            const double start = now();
            const auto added = add_photo(*session, Id("r" + std::to_string(i * 2)), image,
                                         {{"caption", "What to look at"}, {"share", "owner"}}, {}, stamp());
            TAPWRIGHT_ENSURE(added.ok());
            times.push_back(now() - start);
        }
    }
    std::sort(times.begin(), times.end());
    std::printf("a photo of %.1f MB taken in and kept: median %.0f ms, least %.0f ms\n", megabytes, times[50] * 1000,
                times[0] * 1000);
    bool fine = times[0] <= 0.15;
    fine &= sheet_alone(file, SheetReader::owner, SheetMedium::pdf, "owner's PDF");
    fine &= sheet_alone(file, SheetReader::technician, SheetMedium::pdf, "technician's PDF");
    fine &= sheet_alone(file, SheetReader::technician, SheetMedium::html, "technician's page");
    fs::remove_all(folder);
    return fine ? 0 : 1;
}
