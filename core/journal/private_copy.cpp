// Reading a job that another program has open: a copy of our own, of the file as it stood at one moment.
//
// The writer holds its lock as long as it is open, so the file is read past the lock. Between commits that is safe: it
// has no rollback file then (an empty one is none), and holds all that was saved and nothing else. So the whole file is
// read, the rollback file is seen to be none, and the file is read again, until all is as it was: so it stood at the
// moment between the two. That is stronger than the change counter of the file's header, which a program that keeps its
// lock counts up once (https://www.sqlite.org/fileformat2.html, 1.3.7, and the pager's changeCountDone). What comes of
// it is checked like every file: structure, and the hashes of all changes.
//
// The copy is in memory alone: nothing of a job is left behind on a disk, however this ends.
#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <utility>
#include <vector>

#include "core/journal/connection.h"
#include "core/journal/database.h"
#include "core/journal/guard.h"

namespace tapwright {
namespace {

constexpr int most_rounds = 2000;  // a few seconds
constexpr int wait_us = 2000;      // for a commit that is on its way

struct Free {
    void operator()(unsigned char* bytes) const { sqlite3_free(bytes); }
};
// SQLite's own memory, for it takes it over.
struct Bytes {
    std::unique_ptr<unsigned char, Free> start;
    sqlite3_int64 size = 0;
};

enum class Taken { whole, changed, no_memory };

constexpr sqlite3_int64 piece_bytes = 1 << 20;

// Reads the file again. Returns: whether all of it is as it was.
bool is_as_before(sqlite3_file* file, const Bytes& bytes) {
    bool same = true;
    std::vector<unsigned char> piece(static_cast<std::size_t>(std::min(bytes.size, piece_bytes)));
    for (sqlite3_int64 at = 0; at < bytes.size; at += piece_bytes) {
        const auto some = static_cast<std::size_t>(std::min(bytes.size - at, piece_bytes));
        if (file->pMethods->xRead(file, piece.data(), static_cast<int>(some), at) != SQLITE_OK) return false;
        if (std::memcmp(piece.data(), bytes.start.get() + at, some) == 0) continue;
        std::memcpy(bytes.start.get() + at, piece.data(), some);
        same = false;
    }
    return same;
}

// One round: what the round before read is whole where no rollback file was there after it and this one reads the same.
Taken read_round(sqlite3_file* file, sqlite3_vfs* files, const std::string& rollback_file, Bytes& bytes) {
    sqlite3_int64 size = 0;
    if (is_there(files, rollback_file)) {
        files->xSleep(files, wait_us);
        return Taken::changed;
    }
    if (file->pMethods->xFileSize(file, &size) != SQLITE_OK || size <= 0) return Taken::changed;
    if (size == bytes.size) return is_as_before(file, bytes) ? Taken::whole : Taken::changed;
    bytes.start.reset(static_cast<unsigned char*>(sqlite3_malloc64(static_cast<sqlite3_uint64>(size))));
    bytes.size = bytes.start ? size : 0;
    if (!bytes.start) return Taken::no_memory;
    std::memset(bytes.start.get(), 0, static_cast<std::size_t>(size));  // no job file is that: the next round differs
    is_as_before(file, bytes);
    return Taken::changed;
}

// A connection on these bytes, which it takes over; null where there is no memory for it.
sqlite3* connect_to(Bytes bytes, const std::string& vfs) {
    sqlite3* connection = nullptr;
    const int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_PRIVATECACHE |
                      SQLITE_OPEN_EXRESCODE;
    if (sqlite3_open_v2(":memory:", &connection, flags, guarded(vfs)->zName) == SQLITE_OK) {
        harden(connection);
        const unsigned how = SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_READONLY;  // frees them on failure too
        unsigned char* start = bytes.start.release();
        if (sqlite3_deserialize(connection, "main", start, bytes.size, bytes.size, how) == SQLITE_OK) return connection;
    }
    sqlite3_close_v2(connection);
    return nullptr;
}

}  // namespace

Result<Database> Database::open_copy(const Database& held, const std::string& vfs) {
    sqlite3_vfs* files = find_vfs(vfs);
    sqlite3_file* file = file_of(held.connection_.get());
    const std::string rollback_file = full_path(files, plain_path(held.path_)) + "-journal";  // past a link, as SQLite
    const Refusal no_memory{
        Message("{file} is open in another program, and there is not enough memory for a copy to "
                "read. Close it there first.",
                {{"file", named(held.path_)}})};
    Bytes bytes;
    Taken taken = Taken::changed;
    for (int round = 0; file && round < most_rounds && taken == Taken::changed; ++round)
        taken = read_round(file, files, rollback_file, bytes);
    if (taken == Taken::no_memory) return no_memory;
    if (taken == Taken::changed)
        return Refusal{Message("{file} is being written to by another program all the time. Try again in a moment.",
                               {{"file", named(held.path_)}})};
    sqlite3* connection = connect_to(std::move(bytes), vfs);
    if (!connection) return no_memory;
    Database copy(connection, held.path_);
    copy.run("PRAGMA temp_store=MEMORY; PRAGMA cell_size_check=ON; PRAGMA query_only=ON");
    TAPWRIGHT_PASS(copy.check_start(true));
    TAPWRIGHT_PASS(copy.check_structure());
    return copy;
}

}  // namespace tapwright
