#include "platform/system/files.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <climits>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <iterator>
#include <memory>

#include "core/journal/header.h"
#include "platform/system/parts.h"

namespace tapwright {
namespace {

namespace fs = std::filesystem;

// What the system says of its last error, in its own language.
Entered reason() {
    return entered(std::strerror(errno));
}

Refusal not_read(const std::string& path) {
    return {Message("{path} cannot be read: {reason}.", {{"path", code(path)}, {"reason", reason()}})};
}

Refusal not_written(const std::string& path, const Entered& why) {
    return {Message("{path} was not written: {reason}. What was there before is unchanged.",
                    {{"path", code(path)}, {"reason", why}})};
}

// An empty word is what a shell makes of a variable that is not set.
Refusal no_name() {
    return {Message("No file is named: the name that was given is empty. Give the file's path.")};
}

class Descriptor {
public:
    explicit Descriptor(int number) : number_(number) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    int number() const { return number_; }

private:
    int number_;
};

bool write_all(int descriptor, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t wrote = ::write(descriptor, bytes.data(), bytes.size());
        if (wrote < 0 && errno == EINTR) continue;
        if (wrote <= 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(wrote));
    }
    return true;
}

enum class Content { job, other, unreadable };

// What a regular file holds. SQLite reads it, as only SQLite can let go of a job file unharmed: the system drops every
// lock this process has on a file once any descriptor of it is closed (fcntl(2), "Record locks"), so our own open and
// close would let a second writer into a job that is open here.
Content content_of(const std::string& path) {
    // A leading "./": to SQLite some names without a folder mean no file.
    const std::string name = path.starts_with('/') ? path : "./" + path;
    sqlite3* opened = nullptr;
    const int status = sqlite3_open_v2(name.c_str(), &opened, SQLITE_OPEN_READONLY, nullptr);
    const std::unique_ptr<sqlite3, int (*)(sqlite3*)> connection(opened, sqlite3_close);
    sqlite3_file* file = nullptr;
    if (status != SQLITE_OK ||
        sqlite3_file_control(opened, nullptr, SQLITE_FCNTL_FILE_POINTER, static_cast<void*>(&file)) != SQLITE_OK ||
        file == nullptr || file->pMethods == nullptr)
        return Content::unreadable;
    char start[header_bytes];
    const int read = file->pMethods->xRead(file, start, static_cast<int>(sizeof start), 0);
    if (read == SQLITE_IOERR_SHORT_READ) return Content::other;
    if (read != SQLITE_OK) return Content::unreadable;
    return is_job_header(std::string_view(start, sizeof start)) ? Content::job : Content::other;
}

bool is_job_file(const std::string& path) {
    std::error_code error;
    return fs::is_regular_file(path, error) && content_of(path) == Content::job;
}

Refusal too_large(const std::string& path, std::size_t most) {
    constexpr std::size_t mebibyte = std::size_t{1} << 20;
    if (most > 0 && most % mebibyte == 0)
        return {Message("{path} is too large. At most {most} MiB can be read.",
                        {{"path", code(path)}, {"most", most / mebibyte}})};
    return {plural("{path} is too large. At most {count} byte can be read.",
                   "{path} is too large. At most {count} bytes can be read.", static_cast<std::int64_t>(most),
                   {{"path", code(path)}})};
}

Result<std::string> bytes_of(int file, const std::string& path, std::size_t most) {
    std::string bytes;
    char buffer[1 << 16];
    for (;;) {
        const ssize_t got = ::read(file, buffer, sizeof buffer);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return not_read(path);
        if (got == 0) return bytes;
        bytes.append(buffer, static_cast<std::size_t>(got));
        if (bytes.size() > most) return too_large(path, most);
    }
}

Refusal not_ordinary(const std::string& path) {
    return {
        Message("{path} is a link, a folder, a device or a pipe. Put an ordinary file there.", {{"path", code(path)}})};
}

// Whether there is an ordinary file, every folder on the way to it a real one.
Result<bool> check_inside(const std::string& folder, const std::string& place) {
    fs::path path = folder.empty() ? "." : folder;
    const fs::path parts = place;
    for (auto part = parts.begin(); part != parts.end(); ++part) {
        path /= *part;
        const bool is_last = std::next(part) == parts.end();
        struct stat info {};
        if (::lstat(path.c_str(), &info) != 0) {
            // What cannot be looked at may well be there.
            if (errno != ENOENT && errno != ENOTDIR) return not_read(path.string());
            return false;
        }
        if (is_last ? !S_ISREG(info.st_mode) : !S_ISDIR(info.st_mode)) return not_ordinary(path.string());
    }
    return true;
}

}  // namespace

bool sync_folder_of(const std::string& path) {
    const std::size_t slash = path.find_last_of('/');
    const std::string_view name =
        slash == std::string::npos ? "." : std::string_view(path).substr(0, std::max<std::size_t>(slash, 1));
    // Without asking for memory: the file has its name by now, and nobody may be told that it was not written.
    std::array<char, PATH_MAX> terminated{};
    if (name.size() >= terminated.size()) return false;
    name.copy(terminated.data(), name.size());
    const Descriptor folder(::open(terminated.data(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    return folder.number() >= 0 && ::fsync(folder.number()) == 0;
}

Result<std::string> read_file(const std::string& path, std::size_t most) {
    if (path.empty()) return no_name();
    if (is_job_file(path))
        return Refusal{Message("{path} is a job file; choose another file.", {{"path", code(path)}})};
    // Opening a pipe would wait for somebody who writes into it, perhaps for ever.
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC));
    if (file.number() < 0) return not_read(path);
    struct stat info {};
    if (::fstat(file.number(), &info) != 0) return not_read(path);
    if (S_ISDIR(info.st_mode)) return Refusal{Message("{path} is a folder; choose a file.", {{"path", code(path)}})};
    if (!S_ISREG(info.st_mode))
        return Refusal{Message("{path} is a device or a pipe; choose a file.", {{"path", code(path)}})};
    return bytes_of(file.number(), path, most);
}

Result<std::optional<std::string>> read_inside(const std::string& folder, const std::string& place, std::size_t most) {
    const fs::path path = fs::path(folder.empty() ? "." : folder) / place;
    TAPWRIGHT_TAKE(is_there, check_inside(folder, place));
    if (!is_there) return std::optional<std::string>();
    if (is_job_file(path.string()))
        return Refusal{Message("{path} is a job file; choose another file.", {{"path", code(path.string())}})};
    // Whatever has changed since it was looked at: no link is followed here either, and no pipe waited for.
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
    struct stat info {};
    if (file.number() < 0 || ::fstat(file.number(), &info) != 0) return not_read(path.string());
    if (!S_ISREG(info.st_mode)) return not_ordinary(path.string());
    TAPWRIGHT_TAKE(bytes, bytes_of(file.number(), path.string(), most));
    return std::optional<std::string>(bytes);
}

Result<void> check_place(const std::string& path) {
    if (path.empty()) return no_name();
    std::error_code error;
    const fs::file_status there = fs::status(path, error);
    if (there.type() == fs::file_type::none)
        return Refusal{Message("{path} cannot be written: {reason}. Choose another name or folder.",
                               {{"path", code(path)}, {"reason", entered(error.message())}})};
    if (fs::is_directory(there))
        return Refusal{Message("{path} is a folder; choose a file name.", {{"path", code(path)}})};
    if (fs::is_regular_file(there)) {
        const Content content = content_of(path);
        if (content == Content::job)
            return Refusal{Message("{path} is a job file and is never replaced; choose another file name.",
                                   {{"path", code(path)}})};
        if (content == Content::unreadable)
            return Refusal{Message("{path} exists and cannot be read, so it is not replaced; choose another file name.",
                                   {{"path", code(path)}})};
    } else if (fs::exists(there)) {
        return Refusal{Message("{path} is a device or a pipe; choose a file name.", {{"path", code(path)}})};
    }
    if (const std::string folder = folder_of(path); !fs::is_directory(folder, error))
        return Refusal{Message("{path} cannot be written: there is no folder {folder}. Make it, or choose another.",
                               {{"path", code(path)}, {"folder", code(folder)}})};
    return done();
}

Result<void> write_part(const std::string& path, std::string_view bytes, std::string& part) {
    TAPWRIGHT_PASS(check_place(path));
    const Descriptor file(open_part(path, part));
    if (file.number() < 0)
        return Refusal{Message("{path} cannot be written: {reason}. Choose a folder where you may write.",
                               {{"path", code(path)}, {"reason", reason()}})};
    TakenAway left(part);
    if (!write_all(file.number(), bytes) || ::fsync(file.number()) != 0) return not_written(path, reason());
    left.keep();
    return done();
}

Result<void> place_part(const std::string& part, const std::string& path) {
    TakenAway left(part);
    if (::rename(part.c_str(), path.c_str()) != 0) return not_written(path, reason());
    left.keep();
    sync_folder_of(path);
    return done();
}

Result<void> write_file(const std::string& path, std::string_view bytes) {
    std::string part;
    TAPWRIGHT_PASS(write_part(path, bytes, part));
    return place_part(part, path);
}

Result<void> make_folder(const std::string& path) {
    if (path.empty()) return no_name();
    std::error_code error;
    fs::create_directories(path, error);
    if (error)
        return Refusal{Message("The folder {path} cannot be made: {reason}.",
                               {{"path", code(path)}, {"reason", entered(error.message())}})};
    if (std::error_code ignored; !fs::is_directory(path, ignored))
        return Refusal{Message("The folder {path} cannot be made: a file has that name.", {{"path", code(path)}})};
    return done();
}

bool file_exists(const std::string& path) {
    std::error_code error;
    return fs::exists(path, error);
}

FilePort file_port() {
    return {
        move_without_replacing,
        sync_folder_of,
        [](const std::string& path) { return ::unlink(path.c_str()) == 0; },
        is_taken,
        part_beside,
    };
}

}  // namespace tapwright
