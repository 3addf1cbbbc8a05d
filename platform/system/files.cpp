#include "platform/system/files.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>

#include "core/journal/header.h"

namespace tapwright {
namespace {

namespace fs = std::filesystem;

std::string reason() {
    return std::strerror(errno);
}

std::string folder_of(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    return folder.empty() ? "." : folder.string();
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

std::string size_in_words(std::size_t bytes) {
    constexpr std::size_t mebibyte = std::size_t{1} << 20;
    return bytes > 0 && bytes % mebibyte == 0 ? std::to_string(bytes / mebibyte) + " MiB"
                                              : std::to_string(bytes) + " bytes";
}

bool sync_folder_of(const std::string& path) {
    const Descriptor folder(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    return folder.number() >= 0 && ::fsync(folder.number()) == 0;
}

// Whether a file may come to stand at `path`.
Result<void> check_place(const std::string& path) {
    std::error_code error;
    const fs::file_status there = fs::status(path, error);
    if (there.type() == fs::file_type::none)
        return Refusal{path + " cannot be written: " + error.message() + ". Choose another name or folder."};
    if (fs::is_directory(there)) return Refusal{path + " is a folder; name a file to write."};
    if (fs::is_regular_file(there)) {
        const Content content = content_of(path);
        if (content == Content::job)
            return Refusal{path + " is a job file, which nothing else may replace; name another file to write."};
        if (content == Content::unreadable)
            return Refusal{path + " cannot be written: what is there cannot be read. Name another file to write."};
    } else if (fs::exists(there)) {
        return Refusal{path + " is a device or a pipe; name a file to write."};
    }
    if (const std::string folder = folder_of(path); !fs::is_directory(folder, error))
        return Refusal{path + " cannot be written: there is no folder " + folder + ". Make it, or name another."};
    return done();
}

// A name in the folder of `path` that nothing has yet, however long the name at the end of `path` is. Names that are
// taken were left by a crash, or another thread is writing there.
int open_beside(const std::string& path, std::string& beside) {
    constexpr int most_left = 1000;
    for (int i = 1; i <= most_left; ++i) {
        const std::string name = ".tapwright-part-" + std::to_string(::getpid()) + "-" + std::to_string(i);
        beside = (fs::path(folder_of(path)) / name).string();
        const int number = ::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (number >= 0 || errno != EEXIST) return number;
    }
    return -1;
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::size_t most) {
    if (is_job_file(path)) return Refusal{path + " is a job file; name another file to read."};
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (file.number() < 0) return Refusal{path + " cannot be read: " + reason() + "."};
    struct stat info {};
    if (::fstat(file.number(), &info) != 0) return Refusal{path + " cannot be read: " + reason() + "."};
    if (S_ISDIR(info.st_mode)) return Refusal{path + " is a folder; name a file."};
    std::string bytes;
    char buffer[1 << 16];
    for (;;) {
        const ssize_t got = ::read(file.number(), buffer, sizeof buffer);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return Refusal{path + " cannot be read: " + reason() + "."};
        if (got == 0) return bytes;
        bytes.append(buffer, static_cast<std::size_t>(got));
        if (bytes.size() > most)
            return Refusal{path + " is larger than " + size_in_words(most) + ", the most that is read."};
    }
}

Result<void> write_file(const std::string& path, std::string_view bytes) {
    if (const Result<void> fine = check_place(path); !fine) return fine.refusal();
    std::string beside;
    {
        const Descriptor file(open_beside(path, beside));
        if (file.number() < 0)
            return Refusal{path + " cannot be written: " + reason() + ". Choose a folder where you may write."};
        if (!write_all(file.number(), bytes) || ::fsync(file.number()) != 0) {
            const std::string why = reason();
            ::unlink(beside.c_str());
            return Refusal{path + " was not written: " + why + ". What was there before is untouched."};
        }
    }
    if (::rename(beside.c_str(), path.c_str()) != 0) {
        const std::string why = reason();
        ::unlink(beside.c_str());
        return Refusal{path + " was not written: " + why + ". What was there before is untouched."};
    }
    sync_folder_of(path);
    return done();
}

Result<void> make_folder(const std::string& path) {
    std::error_code error;
    fs::create_directories(path, error);
    if (std::error_code ignored; error || !fs::is_directory(path, ignored))
        return Refusal{path + " cannot be made a folder: " + (error ? error.message() : "something else is there") +
                       "."};
    return done();
}

bool file_exists(const std::string& path) {
    std::error_code error;
    return fs::exists(path, error);
}

FilePort file_port() {
    return {
        // Replaces nothing: a link fails where something is.
        [](const std::string& from, const std::string& to) {
            return ::link(from.c_str(), to.c_str()) == 0 ? ::unlink(from.c_str()) == 0
                                                         : (errno == EPERM || errno == ENOTSUP) && !file_exists(to) &&
                                                               ::rename(from.c_str(), to.c_str()) == 0;
        },
        [](const std::string& path) { return sync_folder_of(path); },
        [](const std::string& path) { return ::unlink(path.c_str()) == 0; },
        [](const std::string& path) { return file_exists(path); },
    };
}

}  // namespace tapwright
