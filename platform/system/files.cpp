#include "platform/system/files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

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

bool is_job_file(const std::string& path) {
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
    char start[header_bytes];
    return file.number() >= 0 && ::read(file.number(), start, sizeof start) == static_cast<ssize_t>(sizeof start) &&
           is_job_header(std::string_view(start, sizeof start));
}

bool sync_folder_of(const std::string& path) {
    const Descriptor folder(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    return folder.number() >= 0 && ::fsync(folder.number()) == 0;
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::size_t most) {
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
            return Refusal{path + " is larger than " + std::to_string(most >> 20) + " MiB, the most that is read."};
    }
}

Result<void> write_file(const std::string& path, std::string_view bytes) {
    if (fs::is_directory(path)) return Refusal{path + " is a folder; name a file to write."};
    if (is_job_file(path))
        return Refusal{path + " is a job file, which nothing else may replace; name another file to write."};
    if (const std::string folder = folder_of(path); !fs::is_directory(folder))
        return Refusal{path + " cannot be written: there is no folder " + folder + ". Make it, or name another."};
    const std::string beside = path + ".part" + std::to_string(::getpid());
    {
        const Descriptor file(::open(beside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666));
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
    if (error || !fs::is_directory(path))
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
