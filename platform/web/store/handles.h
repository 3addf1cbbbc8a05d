// Files that are open already, by name: what a browser's private file system leaves a program that may not wait.
//
// A browser opens a file only asynchronously, and SQLite asks for files in the midst of a call. So whoever wants a job
// opens its handles first (job_files.h), puts them here, and SQLite's file system (vfs.h) finds them.
//
// A handle of size 0 counts as a file that is not there: handles of a job and its rollback file can be opened before
// either exists.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace tapwright {

// What FileSystemSyncAccessHandle offers. Exclusive: nobody else has the file open.
class Handle {
public:
    virtual ~Handle() = default;
    // Returns: how many bytes were read, fewer at the file's end; below 0 where reading failed.
    virtual int read(void* to, int bytes, std::int64_t at) = 0;
    // Returns: whether all bytes were taken. A full quota is false.
    virtual bool write(const void* from, int bytes, std::int64_t at) = 0;
    virtual bool truncate(std::int64_t size) = 0;
    // Returns once everything written has reached the disk, as far as the browser knows.
    virtual bool flush() = 0;
    virtual std::int64_t size() = 0;  // below 0 where it cannot be told
};

// Bytes that go with the page: for private windows, and for tests.
class MemoryHandle : public Handle {
public:
    explicit MemoryHandle(std::string bytes = {}) : bytes_(std::move(bytes)) {}
    int read(void* to, int bytes, std::int64_t at) override;
    bool write(const void* from, int bytes, std::int64_t at) override;
    bool truncate(std::int64_t size) override;
    bool flush() override { return true; }
    std::int64_t size() override { return static_cast<std::int64_t>(bytes_.size()); }

private:
    std::string bytes_;
};

// All files that are open.
class OpenFiles {
public:
    // Null where no file of that name is open.
    Handle* find(std::string_view name) const;
    // Whether one is open and holds something.
    bool exists(std::string_view name) const;
    // Takes the place of one of the same name.
    void add(const std::string& name, std::unique_ptr<Handle> handle) { files_[name] = std::move(handle); }
    void close(const std::string& name) { files_.erase(name); }
    // `from` must be open, and `to` holds nothing then.
    void rename(const std::string& from, const std::string& to);

private:
    std::map<std::string, std::unique_ptr<Handle>, std::less<>> files_;
};

// The whole of a file. Returns: false where it cannot be read.
bool read_whole(Handle& file, std::string& bytes);
// In the place of what was there, flushed. Returns: false where it did not get there; what is there then is anything.
bool write_whole(Handle& file, std::string_view bytes);

}  // namespace tapwright
