#include "tests/crash/faults.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <new>

#include "tests/journal/handing_on.h"

namespace tapwright::test {
namespace {

Faults the_faults;

bool fails(Fault kind) {
    if (!the_faults.armed || the_faults.kind != kind) return false;
    const std::int64_t number = (*the_faults.count)++;
    if (the_faults.at < 0) return false;
    return the_faults.for_good ? number >= the_faults.at : number == the_faults.at;
}

bool disk_fails() {
    if (!fails(Fault::disk)) return false;
    errno = EIO;
    return true;
}

sqlite3_mem_methods usual_memory;

void* sqlite_new(int bytes) {
    return fails(Fault::memory) ? nullptr : usual_memory.xMalloc(bytes);
}
void* sqlite_resize(void* old, int bytes) {
    return fails(Fault::memory) ? nullptr : usual_memory.xRealloc(old, bytes);
}

sqlite3_vfs* real_disk = nullptr;

struct File {
    sqlite3_file base;
};
using Disk = HandingOn<File>;

int read_file(sqlite3_file* file, void* to, int bytes, sqlite3_int64 at) {
    return disk_fails() ? SQLITE_IOERR_READ : Disk::read(file, to, bytes, at);
}
int write_file(sqlite3_file* file, const void* from, int bytes, sqlite3_int64 at) {
    return disk_fails() ? SQLITE_IOERR_WRITE : Disk::write(file, from, bytes, at);
}
int truncate_file(sqlite3_file* file, sqlite3_int64 size) {
    return disk_fails() ? SQLITE_IOERR_TRUNCATE : Disk::truncate(file, size);
}
int sync_file(sqlite3_file* file, int flags) {
    return disk_fails() ? SQLITE_IOERR_FSYNC : Disk::sync(file, flags);
}
int size_of_file(sqlite3_file* file, sqlite3_int64* bytes) {
    return disk_fails() ? SQLITE_IOERR_FSTAT : Disk::size(file, bytes);
}
int lock_file(sqlite3_file* file, int level) {
    return disk_fails() ? SQLITE_IOERR_LOCK : Disk::lock(file, level);
}
int check_reserved(sqlite3_file* file, int* held) {
    return disk_fails() ? SQLITE_IOERR_CHECKRESERVEDLOCK : Disk::check_reserved(file, held);
}

const sqlite3_io_methods methods = [] {
    sqlite3_io_methods all = Disk::methods();
    all.xRead = read_file;
    all.xWrite = write_file;
    all.xTruncate = truncate_file;
    all.xSync = sync_file;
    all.xFileSize = size_of_file;
    all.xLock = lock_file;
    all.xCheckReservedLock = check_reserved;
    return all;
}();

int open_file(sqlite3_vfs*, sqlite3_filename name, sqlite3_file* memory, int flags, int* opened_as) {
    File* file = new (memory) File{};
    if (disk_fails()) return SQLITE_CANTOPEN;
    const int result = real_disk->xOpen(real_disk, name, Disk::real(memory), flags, opened_as);
    if (Disk::real(memory)->pMethods != nullptr) file->base.pMethods = &methods;
    return result;
}
int delete_file(sqlite3_vfs*, const char* name, int sync_folder) {
    return disk_fails() ? SQLITE_IOERR_DELETE : real_disk->xDelete(real_disk, name, sync_folder);
}
int access_file(sqlite3_vfs*, const char* name, int flags, int* answer) {
    return disk_fails() ? SQLITE_IOERR_ACCESS : real_disk->xAccess(real_disk, name, flags, answer);
}

bool share_count() {
    void* const memory =
        ::mmap(nullptr, sizeof(std::int64_t), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    the_faults.count = memory == MAP_FAILED ? nullptr : static_cast<std::int64_t*>(memory);
    return memory != MAP_FAILED;
}

bool take_sqlite() {
    sqlite3_config(SQLITE_CONFIG_GETMALLOC, &usual_memory);
    static sqlite3_mem_methods memory;
    memory = usual_memory;
    memory.xMalloc = sqlite_new;
    memory.xRealloc = sqlite_resize;
    if (sqlite3_config(SQLITE_CONFIG_MALLOC, &memory) != SQLITE_OK) std::abort();
    real_disk = sqlite3_vfs_find(nullptr);
    static sqlite3_vfs disk;
    disk = Disk::over(*real_disk, "faulty-disk");
    disk.xOpen = open_file;
    disk.xDelete = delete_file;
    disk.xAccess = access_file;
    return sqlite3_vfs_register(&disk, 1) == SQLITE_OK;
}

}  // namespace

Faults& faults() {
    static const bool taken = share_count() && take_sqlite();
    if (!taken) std::abort();
    return the_faults;
}

}  // namespace tapwright::test

using tapwright::test::disk_fails;
using tapwright::test::fails;
using tapwright::test::Fault;

void* operator new(std::size_t bytes) {
    void* const memory = fails(Fault::memory) ? nullptr : std::malloc(bytes == 0 ? 1 : bytes);
    if (memory == nullptr) throw std::bad_alloc();
    return memory;
}
void operator delete(void* memory) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
    std::free(memory);
}

// What the linker puts in the place of the program's own calls.
extern "C" {
// NOLINTBEGIN(bugprone-reserved-identifier,readability-identifier-naming)
int __real_open(const char*, int, ...);
int __wrap_open(const char* path, int flags, ...) {
    if (disk_fails()) return -1;
    va_list rest;
    va_start(rest, flags);
    const mode_t mode = (flags & O_CREAT) != 0 ? va_arg(rest, mode_t) : 0;
    va_end(rest);
    return __real_open(path, flags, mode);
}
ssize_t __real_read(int, void*, std::size_t);
ssize_t __wrap_read(int file, void* to, std::size_t bytes) {
    return disk_fails() ? -1 : __real_read(file, to, bytes);
}
ssize_t __real_write(int, const void*, std::size_t);
ssize_t __wrap_write(int file, const void* from, std::size_t bytes) {
    return disk_fails() ? -1 : __real_write(file, from, bytes);
}
int __real_fsync(int);
int __wrap_fsync(int file) {
    return disk_fails() ? -1 : __real_fsync(file);
}
int __real_fstat(int, struct stat*);
int __wrap_fstat(int file, struct stat* info) {
    return disk_fails() ? -1 : __real_fstat(file, info);
}
int __real_lstat(const char*, struct stat*);
int __wrap_lstat(const char* path, struct stat* info) {
    return disk_fails() ? -1 : __real_lstat(path, info);
}
int __real_rename(const char*, const char*);
int __wrap_rename(const char* from, const char* to) {
    return disk_fails() ? -1 : __real_rename(from, to);
}
int __real_renameat2(int, const char*, int, const char*, unsigned);
int __wrap_renameat2(int from_folder, const char* from, int to_folder, const char* to, unsigned flags) {
    return disk_fails() ? -1 : __real_renameat2(from_folder, from, to_folder, to, flags);
}
int __real_link(const char*, const char*);
int __wrap_link(const char* from, const char* to) {
    return disk_fails() ? -1 : __real_link(from, to);
}
int __real_pipe(int*);
int __wrap_pipe(int* ends) {
    return disk_fails() ? -1 : __real_pipe(ends);
}
pid_t __real_fork();
pid_t __wrap_fork() {
    return disk_fails() ? -1 : __real_fork();
}
std::size_t __real_fwrite(const void*, std::size_t, std::size_t, FILE*);
std::size_t __wrap_fwrite(const void* from, std::size_t size, std::size_t count, FILE* to) {
    return disk_fails() ? 0 : __real_fwrite(from, size, count, to);
}
int __real_fflush(FILE*);
int __wrap_fflush(FILE* file) {
    return disk_fails() ? EOF : __real_fflush(file);
}
// NOLINTEND(bugprone-reserved-identifier,readability-identifier-naming)
}
