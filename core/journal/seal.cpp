// A copy to hand on. It appears under its name only when it is whole, checked and on the disk: SQLite writes and syncs
// a compacted copy beside it, which is opened and verified like any file from outside, renamed, and its folder synced.
#include "core/journal/connection.h"
#include "core/journal/journal_impl.h"

namespace tapwright {
namespace {

// Into `part`; `path` is what it is to become.
Result<void> write_copy(const Database& database, const std::string& part, const std::string& path) {
    const std::string plain = plain_path(part);
    database.run("PRAGMA query_only=OFF");  // a job open for reading may be sealed too; it stays as it is
    SqlStatement vacuum = database.prepare("VACUUM INTO ?");
    if (vacuum.bind_text(0, plain).step() == SqlStatement::Step::done) return done();
    return Refusal{sentences({Message("The copy {file} cannot be written.", {{"file", named(path)}}),
                              database.trouble(), Message("Choose a folder with room that may be written to.")})};
}

// Opens the copy as a stranger would. Returns: what it holds and the hash of its bytes.
Result<Sealed> check_copy(const std::string& path, const std::string& vfs) {
    auto copy = Journal::open(
        path, Access::read, [](const Batch&) { return done(); }, vfs);
    if (!copy) return copy.refusal();
    const auto content = copy->verify();
    if (!content) return content.refusal();
    auto file = Database::open(path, Access::read, vfs);
    if (!file) return file.refusal();
    Sealed sealed;
    sealed.content = *content;
    Sha256 sum;
    const bool is_read = file->read_file([&](std::string_view bytes) {
        sum.add(bytes);
        sealed.bytes += bytes.size();
    });
    if (!is_read) return file->reading_failed();
    sealed.sha256 = sum.finish();
    return sealed;
}

}  // namespace

namespace {

// What stands beside until the copy has its name goes again, whatever ended it: a refusal, or that memory ran out.
struct Beside {
    const FilePort& files;
    const std::string& path;
    ~Beside() {
        if (files.exists(path)) files.remove(path);
    }
};

}  // namespace

Result<Sealed> Journal::seal(const std::string& path, const FilePort& files) const {
    TAPWRIGHT_PASS(impl_->can_read());
    if (path.empty())
        return Refusal{Message("No file is named for the sealed copy; give a path that ends in .tapjob.")};
    if (files.exists(path))
        return Refusal{
            Message("{file} exists already; choose another name. Nothing was changed.", {{"file", named(path)}})};
    TAPWRIGHT_PASS(check_place(path, impl_->vfs));
    const std::string beside = files.part(path);
    if (beside.empty() || files.exists(beside))
        return Refusal{
            Message("Nothing can be written beside {file}. Choose another folder.", {{"file", named(path)}})};

    TAPWRIGHT_TAKE(mine, verify());
    const Beside gone_at_the_end{files, beside};
    if (auto written = write_copy(*impl_->database, beside, path); !written) return written.refusal();
    const auto sealed = check_copy(beside, impl_->vfs);
    if (!sealed) return sealed.refusal();
    if (sealed->content.content != mine.content || sealed->content.blobs != mine.blobs)
        return Refusal{
            Message("The copy {file} does not hold what the job holds, so this disk cannot be trusted. Use another.",
                    {{"file", named(path)}})};
    if (!files.rename(beside, path))
        return Refusal{
            Message("The copy cannot be named {file}; choose another name or folder.", {{"file", named(path)}})};
    if (!files.sync_folder(path))
        return Refusal{Message("{file} is written, but the disk did not confirm it; seal again to be sure.",
                               {{"file", named(path)}})};
    return *sealed;
}

}  // namespace tapwright
