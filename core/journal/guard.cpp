#include "core/journal/guard.h"

#include <sqlite3.h>

#include <map>
#include <string_view>

#include "core/journal/beside.h"
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
    int exists = 0;
    real(guard)->xAccess(real(guard), out, SQLITE_ACCESS_EXISTS, &exists);
    if (exists != 0) return result;
    // A link that leads nowhere would have the file made that it leads to. A folder on the way may well be a link.
    return is_link(name) ? SQLITE_CANTOPEN : result;
}

// Never destroyed: SQLite knows it until the process ends.
sqlite3_vfs* new_guard(sqlite3_vfs* inner, std::size_t number) {
    auto* guard = new Guard;
    guard->base = *inner;
    guard->real = inner;
    guard->name = "tapwright-guard-" + std::to_string(number) + "-" + inner->zName;
    guard->base.zName = guard->name.c_str();
    guard->base.pNext = nullptr;
    guard->base.xOpen = open;
    guard->base.xDelete = remove;
    guard->base.xAccess = access;
    guard->base.xFullPathname = full_path_of;
    sqlite3_vfs_register(&guard->base, 0);
    return &guard->base;
}

}  // namespace

sqlite3_vfs* guarded(const std::string& vfs) {
    // Several threads may open their first job at the same time: a static is made once.
    static sqlite3_vfs* const usual = new_guard(find_vfs(""), 0);
    if (vfs.empty()) return usual;
    sqlite3_vfs* const inner = find_vfs(vfs);
    if (inner == nullptr) return nullptr;
    static std::map<sqlite3_vfs*, sqlite3_vfs*> named;
    const auto [found, is_new] = named.try_emplace(inner, nullptr);
    if (is_new) found->second = new_guard(inner, named.size());
    return found->second;
}

}  // namespace tapwright
