#include "tests/journal/failing_disk.h"

#include <sqlite3.h>

#include <new>

namespace tapwright::test {
namespace {

Trouble trouble;

sqlite3_vfs* real_disk() {
    static sqlite3_vfs* const vfs = sqlite3_vfs_find(nullptr);
    return vfs;
}

// Our file, and behind it in the same memory the real one.
struct File {
    sqlite3_file base;
    sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
};

sqlite3_file* real(sqlite3_file* file) {
    return reinterpret_cast<File*>(file)->real();
}

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

int close(sqlite3_file* file) {
    return real(file)->pMethods->xClose(real(file));
}
int read(sqlite3_file* file, void* to, int bytes, sqlite3_int64 at) {
    return real(file)->pMethods->xRead(real(file), to, bytes, at);
}
int write(sqlite3_file* file, const void* from, int bytes, sqlite3_int64 at) {
    return fails() ? trouble.error : real(file)->pMethods->xWrite(real(file), from, bytes, at);
}
int truncate(sqlite3_file* file, sqlite3_int64 size) {
    return fails() ? trouble.error : real(file)->pMethods->xTruncate(real(file), size);
}
int sync(sqlite3_file* file, int flags) {
    return fails() ? trouble.error : real(file)->pMethods->xSync(real(file), flags);
}
int size(sqlite3_file* file, sqlite3_int64* bytes) {
    return real(file)->pMethods->xFileSize(real(file), bytes);
}
int lock(sqlite3_file* file, int level) {
    return real(file)->pMethods->xLock(real(file), level);
}
int unlock(sqlite3_file* file, int level) {
    return real(file)->pMethods->xUnlock(real(file), level);
}
int check_reserved(sqlite3_file* file, int* held) {
    return real(file)->pMethods->xCheckReservedLock(real(file), held);
}
int control(sqlite3_file* file, int operation, void* argument) {
    return real(file)->pMethods->xFileControl(real(file), operation, argument);
}
int sector_size(sqlite3_file* file) {
    return real(file)->pMethods->xSectorSize(real(file));
}
int characteristics(sqlite3_file* file) {
    return real(file)->pMethods->xDeviceCharacteristics(real(file));
}

const sqlite3_io_methods methods = {
    1,           close,           read,    write,   truncate, sync,    size,    lock,   unlock, check_reserved, control,
    sector_size, characteristics, nullptr, nullptr, nullptr,  nullptr, nullptr, nullptr};

int open(sqlite3_vfs*, sqlite3_filename name, sqlite3_file* memory, int flags, int* opened_as) {
    File* file = new (memory) File{};
    const int result = real_disk()->xOpen(real_disk(), name, file->real(), flags, opened_as);
    if (file->real()->pMethods != nullptr) file->base.pMethods = &methods;
    return result;
}

}  // namespace

Trouble& disk_trouble() {
    static sqlite3_vfs vfs = [] {
        sqlite3_vfs own = *real_disk();
        own.iVersion = 1;
        own.szOsFile += static_cast<int>(sizeof(File));
        own.zName = failing_disk;
        own.pNext = nullptr;
        own.xOpen = open;
        return own;
    }();
    [[maybe_unused]] static const int registered = sqlite3_vfs_register(&vfs, 0);
    return trouble;
}

}  // namespace tapwright::test
