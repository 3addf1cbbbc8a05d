#include "platform/web/store/vfs.h"

#include <sqlite3.h>

#include <chrono>
#include <cstring>
#include <random>
#include <string>
#include <utility>

#include "core/journal/lone_files.h"

namespace tapwright {
namespace {

constexpr int sector_bytes = 4096;
constexpr int longest_name = 1024;

// SQLite is handed `base`; as its first member it leads back to the rest.
struct VfsFile {
    sqlite3_file base;
    Handle* handle;
    // Of a journal: what was written behind its end and waits here. SQLite writes it in many small pieces, and for each
    // by which a file grows a browser asks another of its processes for room.
    std::string* behind;
};

VfsFile& file_of(sqlite3_file* file) {
    return *reinterpret_cast<VfsFile*>(file);
}

Handle& handle_of(sqlite3_file* file) {
    return *file_of(file).handle;
}

std::int64_t behind_bytes(const VfsFile& file) {
    return file.behind == nullptr ? 0 : static_cast<std::int64_t>(file.behind->size());
}

// Nothing waits afterwards. Returns: false when there was no room for it; then it still waits.
bool write_behind(VfsFile& file) {
    if (behind_bytes(file) == 0) return true;
    const std::int64_t end = file.handle->size();
    if (end < 0 || !file.handle->write(file.behind->data(), static_cast<int>(file.behind->size()), end)) return false;
    file.behind->clear();
    return true;
}

OpenFiles& files_of(sqlite3_vfs* vfs) {
    return *static_cast<OpenFiles*>(vfs->pAppData);
}

// ---- one file --------------------------------------------------------------------------------------------

int close(sqlite3_file* file) {
    const bool is_written = write_behind(file_of(file));
    delete std::exchange(file_of(file).behind, nullptr);
    return is_written ? SQLITE_OK : SQLITE_FULL;  // the handle stays with OpenFiles
}

int read(sqlite3_file* file, void* to, int bytes, sqlite3_int64 at) {
    const VfsFile& from = file_of(file);
    int got = from.handle->read(to, bytes, at);
    if (got < 0) return SQLITE_IOERR_READ;
    char* const rest = static_cast<char*>(to) + got;
    const auto missing = static_cast<std::size_t>(bytes - got);
    const sqlite3_int64 waiting = missing == 0 ? -1 : at + got - from.handle->size();
    if (waiting >= 0 && waiting < behind_bytes(from))
        got += static_cast<int>(from.behind->copy(rest, missing, static_cast<std::size_t>(waiting)));
    if (got == bytes) return SQLITE_OK;
    std::memset(static_cast<char*>(to) + got, 0, static_cast<std::size_t>(bytes - got));
    return SQLITE_IOERR_SHORT_READ;
}

// Of all that can go wrong, a full quota is what people can do something about.
int write(sqlite3_file* file, const void* from, int bytes, sqlite3_int64 at) {
    VfsFile& written = file_of(file);
    if (written.behind != nullptr && at == written.handle->size() + behind_bytes(written)) {
        written.behind->append(static_cast<const char*>(from), static_cast<std::size_t>(bytes));
        return SQLITE_OK;
    }
    return write_behind(written) && written.handle->write(from, bytes, at) ? SQLITE_OK : SQLITE_FULL;
}

int truncate(sqlite3_file* file, sqlite3_int64 size) {
    VfsFile& cut = file_of(file);
    if (cut.behind != nullptr && size <= cut.handle->size()) cut.behind->clear();
    if (!write_behind(cut)) return SQLITE_FULL;
    return cut.handle->truncate(size) ? SQLITE_OK : SQLITE_IOERR_TRUNCATE;
}

int sync(sqlite3_file* file, int) {
    if (!write_behind(file_of(file))) return SQLITE_FULL;
    return handle_of(file).flush() ? SQLITE_OK : SQLITE_IOERR_FSYNC;
}

int file_size(sqlite3_file* file, sqlite3_int64* size) {
    const std::int64_t written = handle_of(file).size();
    *size = written + behind_bytes(file_of(file));
    return written < 0 ? SQLITE_IOERR_FSTAT : SQLITE_OK;
}

int lock(sqlite3_file*, int) {
    return SQLITE_OK;
}

int check_reserved_lock(sqlite3_file*, int* is_reserved) {
    *is_reserved = 0;
    return SQLITE_OK;
}

int control(sqlite3_file*, int, void*) {
    return SQLITE_NOTFOUND;
}

int sector_size(sqlite3_file*) {
    return sector_bytes;
}

int device(sqlite3_file*) {
    return SQLITE_IOCAP_UNDELETABLE_WHEN_OPEN;
}

const sqlite3_io_methods& methods() {
    static const sqlite3_io_methods made = [] {
        sqlite3_io_methods io{};
        io.iVersion = 1;
        io.xClose = close;
        io.xRead = read;
        io.xWrite = write;
        io.xTruncate = truncate;
        io.xSync = sync;
        io.xFileSize = file_size;
        io.xLock = lock;
        io.xUnlock = lock;
        io.xCheckReservedLock = check_reserved_lock;
        io.xFileControl = control;
        io.xSectorSize = sector_size;
        io.xDeviceCharacteristics = device;
        return io;
    }();
    return made;
}

// ---- the file system -------------------------------------------------------------------------------------

int open(sqlite3_vfs* vfs, sqlite3_filename name, sqlite3_file* file, int flags, int* opened_as) {
    file->pMethods = nullptr;
    // Without a name it is a temporary file, and those are kept in memory (temp_store).
    Handle* const handle = name == nullptr ? nullptr : files_of(vfs).find(name);
    if (handle == nullptr) return SQLITE_CANTOPEN;
    const bool is_there = handle->size() > 0;
    if (is_there ? (flags & SQLITE_OPEN_EXCLUSIVE) != 0 : (flags & SQLITE_OPEN_CREATE) == 0) return SQLITE_CANTOPEN;
    file_of(file).handle = handle;
    file_of(file).behind = (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0 ? new std::string : nullptr;
    file->pMethods = &methods();
    if (opened_as != nullptr) *opened_as = flags;
    return SQLITE_OK;
}

int remove(sqlite3_vfs* vfs, const char* name, int) {
    Handle* const handle = files_of(vfs).find(name);
    if (handle == nullptr || handle->size() <= 0) return SQLITE_IOERR_DELETE_NOENT;
    return handle->truncate(0) && handle->flush() ? SQLITE_OK : SQLITE_IOERR_DELETE;
}

int access(sqlite3_vfs* vfs, const char* name, int, int* answer) {
    *answer = files_of(vfs).exists(name) ? 1 : 0;
    return SQLITE_OK;
}

int full_path(sqlite3_vfs*, const char* name, int bytes, char* out) {
    sqlite3_snprintf(bytes, out, "%s", name);
    return std::strlen(name) < static_cast<std::size_t>(bytes) ? SQLITE_OK : SQLITE_CANTOPEN;
}

int randomness(sqlite3_vfs*, int bytes, char* out) {
    std::random_device device;
    for (int i = 0; i < bytes; ++i) out[i] = static_cast<char>(device());
    return bytes;
}

int sleep(sqlite3_vfs*, int microseconds) {
    return microseconds;  // nobody else can hold a file: there is nothing to wait for
}

int now_ms(sqlite3_vfs*, sqlite3_int64* out) {
    constexpr sqlite3_int64 unix_epoch_ms = 210866760000000;  // since noon of the first Julian day, as SQLite counts
    using std::chrono::milliseconds;
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    *out = unix_epoch_ms + std::chrono::duration_cast<milliseconds>(now).count();
    return SQLITE_OK;
}

int now_days(sqlite3_vfs* vfs, double* out) {
    constexpr double day_ms = 86400000;
    sqlite3_int64 ms = 0;
    now_ms(vfs, &ms);
    *out = static_cast<double>(ms) / day_ms;
    return SQLITE_OK;
}

int last_error(sqlite3_vfs*, int, char*) {
    return 0;
}

sqlite3_vfs vfs{};

}  // namespace

void register_vfs(OpenFiles& files, bool is_usual) {
    vfs.iVersion = 2;
    vfs.szOsFile = sizeof(VfsFile);
    vfs.mxPathname = longest_name;
    vfs.zName = open_files_vfs;
    vfs.pAppData = &files;
    vfs.xOpen = open;
    vfs.xDelete = remove;
    vfs.xAccess = access;
    vfs.xFullPathname = full_path;
    vfs.xRandomness = randomness;
    vfs.xSleep = sleep;
    vfs.xCurrentTime = now_days;
    vfs.xGetLastError = last_error;
    vfs.xCurrentTimeInt64 = now_ms;
    sqlite3_vfs_register(&vfs, is_usual ? 1 : 0);
    add_lone_vfs(open_files_vfs);
}

sqlite3_vfs* registered_vfs() {
    return &vfs;
}

}  // namespace tapwright
