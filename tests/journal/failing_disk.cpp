#include "tests/journal/failing_disk.h"

#include <sqlite3.h>

#include <new>

#include "tests/journal/handing_on.h"

namespace tapwright::test {
namespace {

Trouble trouble;

sqlite3_vfs* real_disk() {
    static sqlite3_vfs* const vfs = sqlite3_vfs_find(nullptr);
    return vfs;
}

struct File {
    sqlite3_file base;
};
using Beneath = HandingOn<File>;

bool fails() {
    ++trouble.count;
    if (trouble.after < 0) return false;
    if (trouble.after > 0) {
        --trouble.after;
        return false;
    }
    if (!trouble.for_good) trouble.after = -1;
    return true;
}

int write(sqlite3_file* file, const void* from, int bytes, sqlite3_int64 at) {
    return fails() ? trouble.error : Beneath::write(file, from, bytes, at);
}
int truncate(sqlite3_file* file, sqlite3_int64 size) {
    return fails() ? trouble.error : Beneath::truncate(file, size);
}
int sync(sqlite3_file* file, int flags) {
    return fails() ? trouble.error : Beneath::sync(file, flags);
}

const sqlite3_io_methods methods = [] {
    sqlite3_io_methods all = Beneath::methods();
    all.xWrite = write;
    all.xTruncate = truncate;
    all.xSync = sync;
    return all;
}();

int open(sqlite3_vfs*, sqlite3_filename name, sqlite3_file* memory, int flags, int* opened_as) {
    File* file = new (memory) File{};
    const int result = real_disk()->xOpen(real_disk(), name, Beneath::real(memory), flags, opened_as);
    if (Beneath::real(memory)->pMethods != nullptr) file->base.pMethods = &methods;
    return result;
}

}  // namespace

Trouble& disk_trouble() {
    static sqlite3_vfs vfs = [] {
        sqlite3_vfs own = Beneath::over(*real_disk(), failing_disk);
        own.xOpen = open;
        return own;
    }();
    [[maybe_unused]] static const int registered = sqlite3_vfs_register(&vfs, 0);
    return trouble;
}

}  // namespace tapwright::test
