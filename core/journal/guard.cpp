#include "core/journal/guard.h"

#include <sqlite3.h>

#include <map>
#include <memory>
#include <string_view>

#include "core/journal/connection.h"

namespace tapwright {
namespace {

// SQLite is handed `base`; as its first member it leads back to the rest.
struct Guard {
    sqlite3_vfs base{};
    sqlite3_vfs* real = nullptr;
    std::string name;
};

sqlite3_vfs* real(sqlite3_vfs* guard) {
    return reinterpret_cast<Guard*>(guard)->real;
}

int open(sqlite3_vfs* guard, sqlite3_filename name, sqlite3_file* file, int flags, int* opened_as) {
    file->pMethods = nullptr;
    if ((flags & (SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL)) != 0) return SQLITE_CANTOPEN;
    // A job file that is to be made: only where nothing is, and a link is something.
    const bool makes = (flags & SQLITE_OPEN_MAIN_DB) != 0 && (flags & SQLITE_OPEN_CREATE) != 0;
    if (makes) flags |= SQLITE_OPEN_EXCLUSIVE;
    int got = 0;
    const int result = real(guard)->xOpen(real(guard), name, file, flags, &got);
    if (opened_as != nullptr) *opened_as = got;
    if (result != SQLITE_OK || !makes || (got & SQLITE_OPEN_READONLY) == 0) return result;
    // What was there already was opened for reading instead.
    if (file->pMethods != nullptr) file->pMethods->xClose(file);
    file->pMethods = nullptr;
    return SQLITE_CANTOPEN;
}

int remove(sqlite3_vfs* guard, const char* name, int sync_folder) {
    return std::string_view(name).ends_with("-journal") ? real(guard)->xDelete(real(guard), name, sync_folder)
                                                        : SQLITE_IOERR_DELETE;
}

int access(sqlite3_vfs* guard, const char* name, int flags, int* answer) {
    return real(guard)->xAccess(real(guard), name, flags, answer);
}

int full_path_of(sqlite3_vfs* guard, const char* name, int bytes, char* out) {
    const int result = real(guard)->xFullPathname(real(guard), name, bytes, out);
    if (result != SQLITE_OK_SYMLINK) return result;
    // A link that leads nowhere would have the file made that it leads to.
    int exists = 0;
    real(guard)->xAccess(real(guard), out, SQLITE_ACCESS_EXISTS, &exists);
    return exists != 0 ? result : SQLITE_CANTOPEN;
}

}  // namespace

sqlite3_vfs* guarded(const std::string& vfs) {
    sqlite3_vfs* const inner = find_vfs(vfs);
    if (inner == nullptr) return nullptr;
    // Several threads may open their first job at the same time.
    sqlite3_mutex* const one_at_a_time = sqlite3_mutex_alloc(SQLITE_MUTEX_STATIC_APP1);
    sqlite3_mutex_enter(one_at_a_time);
    // Never destroyed: SQLite knows them until the process ends.
    static auto& guards = *new std::map<sqlite3_vfs*, std::unique_ptr<Guard>>();
    std::unique_ptr<Guard>& guard = guards[inner];
    if (!guard) {
        guard = std::make_unique<Guard>();
        guard->base = *inner;
        guard->real = inner;
        guard->name = "tapwright-guard-" + std::to_string(guards.size()) + "-" + inner->zName;
        guard->base.zName = guard->name.c_str();
        guard->base.pNext = nullptr;
        guard->base.xOpen = open;
        guard->base.xDelete = remove;
        guard->base.xAccess = access;
        guard->base.xFullPathname = full_path_of;
        sqlite3_vfs_register(&guard->base, 0);
    }
    sqlite3_vfs* const found = &guard->base;
    sqlite3_mutex_leave(one_at_a_time);
    return found;
}

}  // namespace tapwright
