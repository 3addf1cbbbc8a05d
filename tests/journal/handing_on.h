// An SQLite VFS of a test over the machine's own: everything is handed on, and the test puts its own calls in the place
// of those it is about.
#pragma once

#include <sqlite3.h>

namespace tapwright::test {

// `File`: what the test keeps of an open file. It begins with a sqlite3_file, and the machine's file lies behind it in
// the same memory: szOsFile of the VFS holds both.
template <class File>
struct HandingOn {
    static sqlite3_file* real(sqlite3_file* file) {
        return reinterpret_cast<sqlite3_file*>(reinterpret_cast<File*>(file) + 1);
    }
    static int close(sqlite3_file* file) { return real(file)->pMethods->xClose(real(file)); }
    static int read(sqlite3_file* file, void* to, int bytes, sqlite3_int64 at) {
        return real(file)->pMethods->xRead(real(file), to, bytes, at);
    }
    static int write(sqlite3_file* file, const void* from, int bytes, sqlite3_int64 at) {
        return real(file)->pMethods->xWrite(real(file), from, bytes, at);
    }
    static int truncate(sqlite3_file* file, sqlite3_int64 size) {
        return real(file)->pMethods->xTruncate(real(file), size);
    }
    static int sync(sqlite3_file* file, int flags) { return real(file)->pMethods->xSync(real(file), flags); }
    static int size(sqlite3_file* file, sqlite3_int64* bytes) {
        return real(file)->pMethods->xFileSize(real(file), bytes);
    }
    static int lock(sqlite3_file* file, int level) { return real(file)->pMethods->xLock(real(file), level); }
    static int unlock(sqlite3_file* file, int level) { return real(file)->pMethods->xUnlock(real(file), level); }
    static int check_reserved(sqlite3_file* file, int* held) {
        return real(file)->pMethods->xCheckReservedLock(real(file), held);
    }
    static int control(sqlite3_file* file, int operation, void* argument) {
        return real(file)->pMethods->xFileControl(real(file), operation, argument);
    }
    static int sector_size(sqlite3_file* file) { return real(file)->pMethods->xSectorSize(real(file)); }
    static int characteristics(sqlite3_file* file) { return real(file)->pMethods->xDeviceCharacteristics(real(file)); }

    static sqlite3_io_methods methods() {
        sqlite3_io_methods all{};
        all.iVersion = 1;
        all.xClose = close;
        all.xRead = read;
        all.xWrite = write;
        all.xTruncate = truncate;
        all.xSync = sync;
        all.xFileSize = size;
        all.xLock = lock;
        all.xUnlock = unlock;
        all.xCheckReservedLock = check_reserved;
        all.xFileControl = control;
        all.xSectorSize = sector_size;
        all.xDeviceCharacteristics = characteristics;
        return all;
    }

    // A VFS of that name over `machine`, not yet registered.
    static sqlite3_vfs over(const sqlite3_vfs& machine, const char* name) {
        sqlite3_vfs own = machine;
        own.iVersion = 1;
        own.szOsFile += static_cast<int>(sizeof(File));
        own.zName = name;
        own.pNext = nullptr;
        return own;
    }
};

}  // namespace tapwright::test
