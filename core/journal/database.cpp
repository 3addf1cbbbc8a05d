#include "core/journal/database.h"

#include <sqlite3.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "core/base/memory.h"
#include "core/base/text.h"
#include "core/journal/beside.h"
#include "core/journal/connection.h"
#include "core/journal/guard.h"
#include "core/journal/header.h"

namespace tapwright {

const Table tables[3] = {
    {"batch",
     "CREATE TABLE batch(place INTEGER PRIMARY KEY, writer TEXT NOT NULL, n INTEGER NOT NULL, clock INTEGER NOT NULL, "
     "person TEXT NOT NULL, visit TEXT NOT NULL, time TEXT NOT NULL, undoes TEXT NOT NULL, prev BLOB NOT NULL, "
     "hash BLOB NOT NULL) STRICT"},
    {"op",
     "CREATE TABLE op(place INTEGER NOT NULL, position INTEGER NOT NULL, kind TEXT NOT NULL, id TEXT NOT NULL, "
     "field TEXT NOT NULL, value TEXT NOT NULL, parents TEXT NOT NULL, PRIMARY KEY(place, position)) "
     "STRICT, WITHOUT ROWID"},
    {"blob",
     "CREATE TABLE blob(sha256 TEXT NOT NULL UNIQUE, original BLOB NOT NULL, copy BLOB NOT NULL, "
     "copy_sha256 TEXT NOT NULL) STRICT"},
};

Code named(const std::string& path) {
    return code(cited(path, 200));
}

// ---- opening and closing ----------------------------------------------------------------------------

void Database::Close::operator()(sqlite3* connection) const {
    sqlite3_close_v2(connection);
}

Database::~Database() {
    // Between commits the rollback file beside ours is empty; changing the mode takes it away.
    if (connection_ && keeps_rollback_file_) run("PRAGMA journal_mode=DELETE");
}

Database& Database::operator=(Database&& other) noexcept {
    std::swap(connection_, other.connection_);
    std::swap(path_, other.path_);
    std::swap(access_, other.access_);
    std::swap(keeps_rollback_file_, other.keeps_rollback_file_);
    std::swap(is_held_, other.is_held_);
    return *this;
}

Result<Database> Database::connect(const std::string& path, bool create, const std::string& vfs) {
    if (path.empty()) return Refusal{Message("No file is named; give the path of a job file (.tapjob).")};
    if (path.find('\0') != std::string::npos)
        return Refusal{
            Message("{file} cannot be the name of a file: it has a zero byte in it.", {{"file", named(path)}})};
    sqlite3_vfs* files = guarded(vfs);
    if (files == nullptr) return Refusal{Message("SQLite knows no file system {name}.", {{"name", code(cited(vfs))}})};
    // A link that leads nowhere is something: SQLite would make the file it leads to.
    if (create) TAPWRIGHT_PASS(check_is_free(vfs, plain_path(path), path));
    if (const std::string file = full_path(files, plain_path(path)); !file.empty())
        TAPWRIGHT_PASS(create ? check_is_free(vfs, file, path) : check_is_file(vfs, file, path));
    const auto open = [&](int more_flags) {
        sqlite3* connection = nullptr;
        const int flags =
            SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_PRIVATECACHE | SQLITE_OPEN_EXRESCODE | more_flags;
        const int opened = sqlite3_open_v2(plain_path(path).c_str(), &connection, flags, files->zName);
        if (opened == SQLITE_OK && file_of(connection) != nullptr) return connection;
        sqlite3_close_v2(connection);
        return static_cast<sqlite3*>(nullptr);
    };
    // SQLite opens an empty file and says that it is not there; so both are asked.
    Database database(open(0), path);
    const bool exists = database.connection_ || is_there(files, plain_path(path));
    if (create && exists)
        return Refusal{Message("{file} exists already; open it, or choose another name. Nothing was changed.",
                               {{"file", named(path)}})};
    if (create) database.connection_.reset(open(SQLITE_OPEN_CREATE));
    if (!database.connection_ && create)
        return Refusal{
            Message("{file} cannot be made: its folder is missing or may not be written to.", {{"file", named(path)}})};
    if (!database.connection_ && exists)
        return Refusal{
            Message("{file} cannot be opened: it is a folder, or may not be read.", {{"file", named(path)}})};
    if (!database.connection_) TAPWRIGHT_PASS(check_is_seen(vfs, path));
    if (!database.connection_)
        return Refusal{Message("{file} does not exist; check the path, or create the job.", {{"file", named(path)}})};
    harden(database.connection_.get());
    return database;
}

Result<Database> Database::create(const std::string& path, const std::string& vfs) {
    auto database = connect(path, true, vfs);
    if (!database) return database;
    const bool is_locked = database->run(
        "PRAGMA page_size=16384; PRAGMA auto_vacuum=0; PRAGMA encoding='UTF-8'; PRAGMA locking_mode=EXCLUSIVE; "
        "PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=FULL; PRAGMA temp_store=MEMORY; PRAGMA mmap_size=0; "
        "BEGIN EXCLUSIVE");
    const bool is_held = !is_locked && (sqlite3_extended_errcode(database->connection_.get()) & 0xff) == SQLITE_BUSY;
    const auto start = database->start_of_file();
    if (is_held || (start && !start->empty()))
        return Refusal{
            Message("{file} was made by another program just now; choose another name.", {{"file", named(path)}})};
    std::string sql = "PRAGMA application_id=" + std::to_string(job_application_id) +
                      "; PRAGMA user_version=" + std::to_string(job_version) + "; ";
    for (const Table& table : tables) sql += std::string(table.sql) + "; ";
    database->access_ = Access::write;
    database->keeps_rollback_file_ = true;
    if (is_locked && start && database->run(sql.c_str())) return database;
    const Refusal refusal{sentences({Message("{file} cannot be made.", {{"file", named(path)}}), database->trouble()})};
    database = refusal;
    discard(path, vfs);
    return refusal;
}

void Database::discard(const std::string& path, const std::string& vfs) {
    sqlite3_vfs* files = find_vfs(vfs);
    for (const std::string& name : {plain_path(path), plain_path(path) + "-journal"}) {
        const std::string full = full_path(files, name);
        if (!full.empty()) files->xDelete(files, full.c_str(), 1);
    }
}

Result<Database> Database::open(const std::string& path, Access access, const std::string& vfs) {
    auto database = connect(path, false, vfs);
    if (!database) return database;
    TAPWRIGHT_PASS(database->check_start(false));
    // Before the first lock, for that is when SQLite takes up what lies beside the file.
    TAPWRIGHT_PASS(check_beside(vfs, full_path(find_vfs(vfs), plain_path(path)), path));
    if (auto locked = database->lock(access); !locked) {
        if (access != Access::read || !database->is_held_) return locked.refusal();
        return open_copy(*database, vfs);
    }
    // Once more: an interrupted commit may have been rolled back while the lock was taken.
    TAPWRIGHT_PASS(database->check_start(true));
    TAPWRIGHT_PASS(database->check_structure());
    return database;
}

Result<std::string> Database::start_of_file() const {
    sqlite3_file* file = file_of(connection_.get());
    sqlite3_int64 size = 0;
    if (file == nullptr || file->pMethods->xFileSize(file, &size) != SQLITE_OK)
        return Refusal{Message("{file} cannot be read: its size is not known.", {{"file", named(path_)}})};
    std::string start(static_cast<std::size_t>(std::clamp<sqlite3_int64>(size, 0, header_bytes)), '\0');
    if (!start.empty() && file->pMethods->xRead(file, start.data(), static_cast<int>(start.size()), 0) != SQLITE_OK)
        return Refusal{
            Message("{file} cannot be read: it is a folder, or the disk reports an error.", {{"file", named(path_)}})};
    return start;
}

Result<void> Database::check_start(bool with_size) const {
    TAPWRIGHT_TAKE(start, start_of_file());
    if (auto fine = check_header(start, path_); !fine || !with_size) return fine;
    sqlite3_file* file = file_of(connection_.get());
    sqlite3_int64 size = 0;
    file->pMethods->xFileSize(file, &size);
    return check_size(start, static_cast<std::uint64_t>(size), path_);
}

Result<void> Database::lock(Access access) {
    const bool writes = access == Access::write && sqlite3_db_readonly(connection_.get(), "main") == 0;
    access_ = writes ? Access::write : Access::read;
    run("PRAGMA locking_mode=EXCLUSIVE; PRAGMA temp_store=MEMORY; PRAGMA mmap_size=0; PRAGMA cell_size_check=ON");
    // In this locking mode a lock that a transaction took stays until the connection closes. The transaction is rolled
    // back, not committed: a file whose making was cut off is empty after that, and a commit would put a page in it.
    const bool is_locked = writes
                               ? run("PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=FULL; BEGIN EXCLUSIVE; ROLLBACK")
                               : run("BEGIN; SELECT count(*) FROM sqlite_schema; COMMIT");
    keeps_rollback_file_ = writes;
    if (!is_locked) {
        const Refusal trouble = reading_failed();
        is_held_ = (sqlite3_extended_errcode(connection_.get()) & 0xff) == SQLITE_BUSY;
        TAPWRIGHT_PASS(check_start(!is_held_));
        if (!is_held_) return trouble;
        return Refusal{
            Message("{file} is open in another program or window; close it there first. Nothing was changed.",
                    {{"file", named(path_)}})};
    }
    if (!writes) run("PRAGMA query_only=ON");
    return done();
}

Result<void> Database::check_schema() const {
    const Refusal foreign{
        Message("{file} has other tables than a job file: another program altered it, or it is damaged. Restore it "
                "from a sealed "
                "copy or a backup.",
                {{"file", named(path_)}})};
    SqlStatement rows = prepare("SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY rowid");
    std::size_t found = 0;
    SqlStatement::Step step;
    while ((step = rows.step()) == SqlStatement::Step::row) {
        if (rows.text(1) == "sqlite_autoindex_blob_1" && rows.text(0) == "index" && rows.text(2) == "blob") continue;
        const bool fits = found < std::size(tables) && rows.text(0) == "table" && rows.text(1) == tables[found].name &&
                          rows.text(2) == tables[found].name && rows.text(3) == tables[found].sql;
        if (!fits) return foreign;
        ++found;
    }
    if (step == SqlStatement::Step::error) return reading_failed();
    if (found != std::size(tables)) return foreign;
    return done();
}

Result<void> Database::check_structure() const {
    TAPWRIGHT_PASS(check_schema());
    // Not quick_check, which does not hold the index of photos against their table.
    SqlStatement check = prepare("PRAGMA integrity_check(1)");
    if (check.step() != SqlStatement::Step::row) return reading_failed();
    if (check.text(0) == "ok") return done();
    // What it could not look at for want of memory is said in the same place as what is wrong.
    if (check.text(0).ends_with("error code=" + std::to_string(SQLITE_NOMEM))) out_of_memory();
    return Refusal{
        Message("{file} is damaged ({finding}). Restore it from a sealed copy or a backup; nothing was changed.",
                {{"file", named(path_)}, {"finding", entered(cited(check.text(0), 120))}})};
}

// ---- the rest ---------------------------------------------------------------------------------------

bool Database::run(const char* sql) const {
    return sqlite3_exec(connection_.get(), sql, nullptr, nullptr, nullptr) == SQLITE_OK;
}

namespace {

Message read_only(int extended) {
    switch (extended) {
        case SQLITE_READONLY_DIRECTORY:
            return Message("Its folder may not be written to, and while it changes a second file stands beside it.");
        case SQLITE_READONLY_DBMOVED:
            return Message("The file was moved or taken away.");
        default:
            return Message("The file was moved, or may only be read.");
    }
}

}  // namespace

Message Database::trouble() const {
    switch (sqlite3_extended_errcode(connection_.get()) & 0xff) {
        case SQLITE_FULL:
            return Message("The disk is full.");
        case SQLITE_READONLY:
            return read_only(sqlite3_extended_errcode(connection_.get()));
        case SQLITE_CANTOPEN:
            return Message("A file cannot be opened or made there.");
        case SQLITE_BUSY:
            return Message("Another program holds the file.");
        case SQLITE_NOMEM:
            return Message("There is not enough memory.");
        case SQLITE_TOOBIG:
            return Message("A part of it is larger than 48 MiB.");
        case SQLITE_CORRUPT:
        case SQLITE_NOTADB:
            return Message("The file is damaged.");
        default:
            break;
    }
    return Message("The disk reports an error ({error}).",
                   {{"error", entered(cited(sqlite3_errmsg(connection_.get())))}});
}

bool Database::is_out_of_memory() const {
    return (sqlite3_extended_errcode(connection_.get()) & 0xff) == SQLITE_NOMEM;
}

Refusal Database::reading_failed() const {
    return {
        sentences({Message("{file} cannot be read.", {{"file", named(path_)}}), trouble(),
                   Message("Try again; if that does not help, restore it from a sealed copy or a backup. Nothing was "
                           "changed.")})};
}

bool Database::read_file(const std::function<void(std::string_view)>& take) const {
    sqlite3_file* file = file_of(connection_.get());
    sqlite3_int64 size = 0;
    if (file == nullptr || file->pMethods->xFileSize(file, &size) != SQLITE_OK) return false;
    std::vector<char> piece(std::size_t{1} << 20);
    for (sqlite3_int64 at = 0; at < size;) {
        const auto bytes = std::min<sqlite3_int64>(size - at, static_cast<sqlite3_int64>(piece.size()));
        if (file->pMethods->xRead(file, piece.data(), static_cast<int>(bytes), at) != SQLITE_OK) return false;
        take({piece.data(), static_cast<std::size_t>(bytes)});
        at += bytes;
    }
    return true;
}

}  // namespace tapwright
