// The job file: one SQLite database, extension .tapjob, that only grows by whole batches and photos.
//
// This library holds the only SQL of the program. docs/file-format.md is the format, written down.
//
// A Journal in hand has been read and verified to the last op; its file is locked until the Journal goes. Nothing is
// kept outside the one file between two calls. Opening a file never changes it; an interrupted commit is rolled back
// first. What goes wrong comes back as a sentence that says what, where and what to do; the file is then as it was.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"
#include "core/base/sha256.h"
#include "core/journal/log.h"

namespace tapwright {

enum class Access { read, write };

// Which batches follow which is checked before each call. A refusal ends the reading and is passed on.
using BatchVisitor = std::function<Result<void>(const Batch&)>;

// What seal() needs of the file system and SQLite does not offer. platform fills it. Each says true when it was done.
struct FilePort {
    std::function<bool(const std::string& from, const std::string& to)> rename;  // must replace nothing
    std::function<bool(const std::string& path_in_folder)> sync_folder;          // the folder that holds this path
    std::function<bool(const std::string& path)> remove;
    std::function<bool(const std::string& path)> exists;  // a link that leads nowhere too
    // A name in the same folder that nothing has, for what is to become `path`; "" when there is none.
    std::function<std::string(const std::string& path)> part;
};

// A photo as it came, and the smaller copy without private data that sheets and screens use. Neither is decoded here.
struct Blob {
    std::string original;
    std::string copy;  // "" when there is none
};

struct BlobInfo {
    Digest sha256{};  // of the original
    std::uint64_t original_bytes = 0;
    std::uint64_t copy_bytes = 0;
};

// One line of a job's history: a batch without its ops.
struct HistoryEntry {
    Batch batch;
    std::size_t op_count = 0;
};

struct Verified {
    std::size_t batches = 0;
    std::size_t ops = 0;
    std::size_t blobs = 0;
    Digest job{};      // the job's identity: the hash of its first batch
    Digest content{};  // one hash over all batch hashes, ascending: equal exactly when two files hold the same batches
};

struct Sealed {
    Verified content;
    std::uint64_t bytes = 0;
    Digest sha256{};  // of the file
};

// The hash that 64 lower-case hexadecimal digits stand for.
std::optional<Digest> digest_from(std::string_view text);

class Journal {
public:
    struct Created;

    Journal(Journal&&) noexcept;
    Journal& operator=(Journal&&) noexcept;
    ~Journal();

    // Refuses a path where no job file can come to be: something is there, or where its rollback file would be. A link
    // that leads nowhere is something.
    static Result<void> check_place(const std::string& path, const std::string& vfs = {});

    // Makes the file, with `first` as the job's first batch, in one transaction. Refuses a path where something is;
    // when it fails, nothing is left there. `vfs` names a registered SQLite VFS; "" is the default one. `first`: see
    // append().
    static Result<Created> create(const std::string& path, Batch first, const std::string& vfs = {});

    // Takes the lock, checks the file from its first byte to its last op and hands every batch to `visit`, predecessors
    // first. Access::write on a file that may only be read gives a Journal with access() read. Refuses what is missing,
    // held by another program, not ours, newer, cut short or damaged.
    static Result<Journal> open(const std::string& path, Access access, const BatchVisitor& visit,
                                const std::string& vfs = {});

    Access access() const;
    bool is_closed() const;  // after an error that could not be mended: whatever reads or writes is refused then
    const std::string& path() const;
    const Digest& job() const;        // the job's identity
    std::int64_t last_clock() const;  // the greatest clock in the file, for next_clock()
    std::size_t batch_count() const;

    // Keeps one batch: returns only after it has reached the disk. Takes writer, clock, person, visit, time, undoes and
    // ops from `draft`, fills n, prev and hash, and returns what was kept. The writer must be new to the file, or the
    // one this Journal has been writing as. On an I/O error the file is closed, opened and read again: if the batch got
    // there it is returned as kept, else the refusal says why; when the file cannot be read again, later calls say so.
    Result<Batch> append(Batch draft);
    // How many batches append() has kept in this thread: for a caller whose call ended without an answer, as when
    // memory ran out, and who must say whether it was carried out.
    static std::uint64_t kept_by_this_thread();

    // Merging: keeps batches of another copy of this job, in one transaction. Those already here are passed over, in
    // their order predecessors must come first. Returns: the new ones, in that order. Refuses the whole when one has a
    // wrong hash, lacks a predecessor, is the start of another job, or is here under the same address with another
    // hash.
    Result<std::vector<Batch>> take(const std::vector<Batch>& foreign);

    // Reads and verifies all batches once more, in the order they came into this file.
    Result<void> for_each_batch(const BatchVisitor& visit) const;
    Result<Batch> batch(BatchAddress address) const;
    Result<Op> op(OpAddress address) const;
    // The latest to come into this file first, at most `limit`.
    Result<std::vector<HistoryEntry>> history(std::size_t limit) const;

    // Photos. Only ever added; putting one that is there does nothing. original <= 40 MiB, copy <= 4 MiB.
    // Returns: the original's SHA-256.
    Result<Digest> put_blob(const Blob& blob);
    Result<bool> has_blob(const Digest& sha256) const;
    // The bytes are checked against their hash before they are given out.
    Result<Blob> get_blob(const Digest& sha256) const;
    // Only the small copy of a photo, "" when it has none. Throws std::bad_alloc where there is no memory for it.
    Result<std::string> get_copy(const Digest& sha256) const;
    Result<std::vector<BlobInfo>> blob_list() const;  // by hash

    // Proves freedom from damage, photos included (not from forgery: who can write the file can hash it anew).
    Result<Verified> verify() const;

    // Writes a compacted copy to `path`, where nothing may be: under a part's name first, verified, then renamed and
    // the folder synced. Nothing is left behind when it fails.
    Result<Sealed> seal(const std::string& path, const FilePort& files) const;

private:
    class Impl;
    explicit Journal(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

struct Journal::Created {
    Journal journal;
    Batch first;  // as kept
};

}  // namespace tapwright
