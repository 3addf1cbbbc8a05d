// libFuzzer on whole job files with right hashes (forged_job.h). A file is refused in words and stays as it is; or it
// opens, and then everything can be done with it: derived, shown, verified, undone to its beginning and redone,
// changed, opened again the same. A file beside the job, or anywhere else, is never touched.
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "core/exchange/job_json.h"
#include "core/html/html.h"
#include "core/session/session.h"
#include "core/sheet/sheet.h"
#include "core/words/words.h"
#include "tests/fuzz/forged_job.h"

namespace {

using namespace tapwright;
using namespace tapwright::fuzz;
namespace fs = std::filesystem;

// A folder of this process, gone when it ends.
class Folder {
public:
    Folder() : path_(fs::temp_directory_path() / ("tapwright-fuzz-" + std::to_string(getpid()))) {
        fs::create_directories(path_);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() { fs::remove_all(path_); }
    std::string file(const char* name) const { return (path_ / name).string(); }
    void empty() const {
        for (const auto& entry : fs::directory_iterator(path_)) fs::remove_all(entry.path());
    }

private:
    fs::path path_;
};

Stamp stamp_at(std::uint64_t number) {
    return {"2026-03-02T08:00:00Z", 1772438400000 + static_cast<std::int64_t>(number), number + 1};
}

void say(const Refusal& refusal) {
    TAPWRIGHT_ENSURE(!in_english(refusal).empty());
}

void look_at(const Session& session) {
    SheetOptions options;
    options.reader = SheetReader::technician;
    options.time = "2026-03-02T08:00:00Z";
    (void)html_page(handover_sheet(session.job(), session.derived(), options, Words()));
    (void)session.history(20, 20);
    (void)session.conflicts();
}

// There and back by two people: what opens can be taken back to its beginning.
void undo_and_redo(Session& session) {
    std::uint64_t number = 0;
    for (const char* person : {"Ana", "Bo"}) {
        const Author author{person, ""};
        for (int i = 0; i < 6 && session.can_undo(author); ++i)
            if (const auto undone = session.undo(author, stamp_at(++number)); !undone) say(undone.refusal());
        for (int i = 0; i < 2 && session.can_redo(author); ++i)
            if (const auto redone = session.redo(author, stamp_at(++number)); !redone) say(redone.refusal());
    }
}

void use(const std::string& path, Draws& changes) {
    std::string last;
    bool is_verified = false;
    {
        Result<Session> session = Session::open(path, Access::write);
        if (!session) return say(session.refusal());
        // A sheet takes as long as all the rest.
        if (changes.once_in(4)) look_at(*session);
        is_verified = session->verify().ok();
        undo_and_redo(*session);
        const Command command{.changes = any_changes(changes, 4), .fill_in = true, .place = {}};
        if (const auto kept = session->request(command, {"Ana", ""}, stamp_at(99)); !kept) say(kept.refusal());
        last = write_job(session->job());
    }
    const Result<Session> again = Session::open(path, Access::read);
    TAPWRIGHT_ENSURE(again.ok());
    TAPWRIGHT_ENSURE(write_job(again->job()) == last);
    TAPWRIGHT_ENSURE(!is_verified || again->verify().ok());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Folder folder;
    folder.empty();
    const std::string path = folder.file("forged.tapjob");
    const std::string victim = folder.file("victim");
    std::ofstream(victim) << "somebody else's";
    Draws draws(data, size);
    Draws changes(data, size);
    const Forged forged = forge(path, victim, draws);
    const std::string before = bytes_of(path);
    if (const auto read = Session::open(path, Access::read); !read) say(read.refusal());
    TAPWRIGHT_ENSURE(forged.is_beside || bytes_of(path) == before);
    use(path, changes);
    TAPWRIGHT_ENSURE(bytes_of(victim) == "somebody else's");
    return 0;
}
