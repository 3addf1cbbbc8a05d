#include "tests/crash/recorded_disk.h"

#include <sqlite3.h>

#include <filesystem>
#include <new>

#include "tests/journal/handing_on.h"
#include "tests/journal/temporary.h"

namespace tapwright::test {
namespace {

using What = DiskEvent::What;

std::vector<DiskEvent> events;

sqlite3_vfs* machine() {
    static sqlite3_vfs* const vfs = sqlite3_vfs_find(nullptr);
    return vfs;
}

struct File {
    sqlite3_file base;
    std::string* name;
    bool syncs_folder;  // the machine's VFS syncs the folder of a new rollback file together with its first sync
};
using Disk = HandingOn<File>;

File& file_of(sqlite3_file* file) {
    return *reinterpret_cast<File*>(file);
}
int close(sqlite3_file* file) {
    delete file_of(file).name;
    return Disk::close(file);
}
int write(sqlite3_file* file, const void* from, int bytes, sqlite3_int64 at) {
    events.push_back({What::write,
                      *file_of(file).name,
                      {},
                      static_cast<std::uint64_t>(at),
                      {static_cast<const char*>(from), static_cast<std::size_t>(bytes)}});
    return Disk::write(file, from, bytes, at);
}
int truncate(sqlite3_file* file, sqlite3_int64 size) {
    events.push_back({What::resize, *file_of(file).name, {}, static_cast<std::uint64_t>(size), {}});
    return Disk::truncate(file, size);
}
int sync(sqlite3_file* file, int flags) {
    events.push_back({What::sync, *file_of(file).name, {}, 0, {}});
    if (file_of(file).syncs_folder) events.push_back({What::sync_folder, {}, {}, 0, {}});
    file_of(file).syncs_folder = false;
    return Disk::sync(file, flags);
}

const sqlite3_io_methods methods = [] {
    sqlite3_io_methods all = Disk::methods();
    all.xClose = close;
    all.xWrite = write;
    all.xTruncate = truncate;
    all.xSync = sync;
    return all;
}();

int open(sqlite3_vfs*, sqlite3_filename name, sqlite3_file* memory, int flags, int* opened_as) {
    File* file = new (memory) File{};
    const bool is_new = name != nullptr && !std::filesystem::exists(name);
    const int result = machine()->xOpen(machine(), name, Disk::real(memory), flags, opened_as);
    if (Disk::real(memory)->pMethods == nullptr) return result;
    file->base.pMethods = &methods;
    file->name = new std::string(name ? name : "");
    if (is_new) events.push_back({What::create, name, {}, 0, {}});
    file->syncs_folder = is_new && (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0;
    return result;
}

int remove(sqlite3_vfs*, const char* name, int sync_folder) {
    const int result = machine()->xDelete(machine(), name, sync_folder);
    if (result != SQLITE_OK) return result;
    events.push_back({What::remove, name, {}, 0, {}});
    if (sync_folder != 0) events.push_back({What::sync_folder, {}, {}, 0, {}});
    return result;
}

}  // namespace

std::vector<DiskEvent>& disk_events() {
    static sqlite3_vfs vfs = [] {
        sqlite3_vfs own = Disk::over(*machine(), recorded_disk);
        own.xOpen = open;
        own.xDelete = remove;
        return own;
    }();
    [[maybe_unused]] static const int registered = sqlite3_vfs_register(&vfs, 0);
    return events;
}

FilePort recorded_files() {
    const FilePort plain = plain_files();
    FilePort files = plain;
    files.rename = [plain](const std::string& from, const std::string& to) {
        if (!plain.rename(from, to)) return false;
        events.push_back({What::rename, from, to, 0, {}});
        return true;
    };
    files.sync_folder = [](const std::string&) {
        events.push_back({What::sync_folder, {}, {}, 0, {}});
        return true;
    };
    files.remove = [plain](const std::string& path) {
        if (!plain.remove(path)) return false;
        events.push_back({What::remove, path, {}, 0, {}});
        return true;
    };
    return files;
}

}  // namespace tapwright::test
