// The end of a rollback journal, as SQLite's readSuperJournal() takes it: the name, its length and the sum of its bytes
// (4 bytes each, most significant first), and the 8 bytes every journal begins with. Source: SQLite's file format,
// "The Rollback Journal", https://www.sqlite.org/fileformat2.html#rollbackjournal, and the comment on
// writeSuperJournal() in its pager. SQLite goes by the same bytes, so what is refused here and what it would follow are
// the same.
#include "core/journal/beside.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <string_view>

#include "core/journal/database.h"
#include "core/journal/lone_files.h"

namespace tapwright {
namespace {

using namespace std::string_view_literals;

constexpr std::string_view magic = "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7"sv;
constexpr std::string_view rollback = "-journal";
constexpr std::array<std::string_view, 2> never = {"-wal", "-shm"};

// `hidden`: the system does not let us look there, with errno.
enum class Thing { nothing, file, folder, other, hidden };

Thing thing(mode_t mode) {
    return S_ISREG(mode) ? Thing::file : S_ISDIR(mode) ? Thing::folder : Thing::other;
}

// What is at a path itself: a link is `other`.
Thing thing_at(const std::string& path) {
    struct stat info {};
    if (::lstat(path.c_str(), &info) != 0) return errno == ENOENT || errno == ENOTDIR ? Thing::nothing : Thing::hidden;
    return thing(info.st_mode);
}

class Descriptor {
public:
    explicit Descriptor(const std::string& path)
        : number_(::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC)) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    int number() const { return number_; }

private:
    int number_;
};

// Returns: whether all of `bytes` was read.
bool read_at(int file, std::string& bytes, off_t at) {
    for (std::size_t done = 0; done < bytes.size();) {
        const ssize_t got = ::pread(file, bytes.data() + done, bytes.size() - done, at + static_cast<off_t>(done));
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return false;
        done += static_cast<std::size_t>(got);
    }
    return true;
}

std::uint32_t number_in(std::string_view bytes, std::size_t at) {
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < 4; ++i) number = number << 8 | static_cast<std::uint8_t>(bytes[at + i]);
    return number;
}

enum class Naming { none, another_file, unreadable };

// Whether a rollback journal names another file.
Naming naming_in(int file, off_t size) {
    constexpr off_t tail_bytes = 16;
    constexpr off_t longest_name = 1 << 16;  // SQLite knows no longer path
    if (size < tail_bytes) return Naming::none;
    std::string tail(tail_bytes, '\0');
    if (!read_at(file, tail, size - tail_bytes)) return Naming::unreadable;
    const off_t length = number_in(tail, 0);
    if (std::string_view(tail).substr(8) != magic || length == 0 || length > size - tail_bytes || length > longest_name)
        return Naming::none;
    std::string name(static_cast<std::size_t>(length), '\0');
    if (!read_at(file, name, size - tail_bytes - length)) return Naming::unreadable;
    // SQLite adds up plain chars, which have a sign on some machines and none on others.
    std::uint32_t with_sign = 0;
    std::uint32_t without = 0;
    for (const char c : name) {
        with_sign += static_cast<std::uint32_t>(static_cast<signed char>(c));
        without += static_cast<std::uint8_t>(c);
    }
    const std::uint32_t sum = number_in(tail, 4);
    return sum == with_sign || sum == without ? Naming::another_file : Naming::none;
}

// Why, in the system's words of its last error.
Refusal not_seen(const std::string& path) {
    return {Message("{file} cannot be looked at: {reason}. Check the path, or ask for the right to read it.",
                    {{"file", named(path)}, {"reason", entered(std::strerror(errno))}})};
}

Refusal not_made(const std::string& path) {
    return {Message("{file} cannot be made: {reason}. Choose another name or folder.",
                    {{"file", named(path)}, {"reason", entered(std::strerror(errno))}})};
}

Refusal not_ordinary(const std::string& beside, const std::string& path) {
    return {
        Message("{beside} is a link, a folder, a device or a pipe; only a file of {file} itself may be there. "
                "Take it away and open the job again; nothing was changed.",
                {{"beside", named(beside)}, {"file", named(path)}})};
}

// One look at a rollback journal that may be being written: a writer grows it, empties it and takes it away at any
// moment, also between two of our calls.
struct Glance {
    bool is_there = true;
    bool is_ordinary = true;
    Naming naming = Naming::unreadable;
};

Glance look_at(const std::string& beside) {
    Glance look;
    const Descriptor file(beside);
    if (file.number() < 0) {
        look.is_there = thing_at(beside) != Thing::nothing;
        return look;
    }
    struct stat info {};
    if (::fstat(file.number(), &info) != 0) return look;
    look.is_ordinary = thing(info.st_mode) == Thing::file;
    if (look.is_ordinary) look.naming = naming_in(file.number(), info.st_size);
    return look;
}

Result<void> check_rollback_file(const std::string& beside, const std::string& path) {
    constexpr int most_looks = 100;
    Glance look = look_at(beside);
    const auto may_be_in_hand = [&] { return look.is_there && look.is_ordinary && look.naming == Naming::unreadable; };
    for (int again = 1; again < most_looks && may_be_in_hand(); ++again) look = look_at(beside);
    if (!look.is_there) return done();
    if (!look.is_ordinary) return not_ordinary(beside, path);
    if (look.naming == Naming::another_file)
        return Refusal{
            Message("{beside} names another file, which opening {file} would delete; Tapwright writes nothing of the "
                    "kind. Ask whoever sent it for a sealed copy; nothing was changed.",
                    {{"beside", named(beside)}, {"file", named(path)}})};
    if (look.naming == Naming::unreadable)
        return Refusal{
            Message("{beside} cannot be read, and {file} may need it to take back an interrupted change. Make "
                    "it readable and open the job again; nothing was changed.",
                    {{"beside", named(beside)}, {"file", named(path)}})};
    return done();
}

}  // namespace

bool is_link(const char* path) {
    struct stat info {};
    return ::lstat(path, &info) == 0 && S_ISLNK(info.st_mode);
}

Result<void> check_is_seen(const std::string& vfs, const std::string& path) {
    struct stat info {};
    if (is_lone_vfs(vfs) || ::stat(path.c_str(), &info) == 0 || errno == ENOENT || errno == ENOTDIR) return done();
    return not_seen(path);
}

Result<void> check_is_file(const std::string& vfs, const std::string& file, const std::string& path) {
    if (is_lone_vfs(vfs)) return done();
    const Thing there = thing_at(file);
    if (there == Thing::nothing || there == Thing::file) return done();
    if (there == Thing::hidden) return not_seen(path);
    if (there == Thing::folder)
        return Refusal{
            Message("{file} cannot be opened: it is a folder, or may not be read.", {{"file", named(path)}})};
    return Refusal{
        Message("{file} is no job file but a device or a pipe. Choose a job file (.tapjob).", {{"file", named(path)}})};
}

Result<void> check_beside(const std::string& vfs, const std::string& file, const std::string& path) {
    if (is_lone_vfs(vfs)) return done();
    for (const std::string_view ending : never)
        if (const std::string beside = file + std::string(ending); thing_at(beside) != Thing::nothing)
            return Refusal{
                Message("{beside} lies beside {file}, which keeps no changes there: another program put it there. Move "
                        "it to another folder and open the job again; nothing was changed.",
                        {{"beside", named(beside)}, {"file", named(path)}})};
    const std::string beside = file + std::string(rollback);
    switch (thing_at(beside)) {
        case Thing::nothing:
            return done();
        case Thing::file:
            return check_rollback_file(beside, path);
        case Thing::folder:
        case Thing::other:
        case Thing::hidden:
            break;
    }
    return not_ordinary(beside, path);
}

Result<void> check_is_free(const std::string& vfs, const std::string& file, const std::string& path) {
    if (is_lone_vfs(vfs)) return done();
    const Thing there = thing_at(file);
    if (there == Thing::hidden) return not_made(path);
    if (there != Thing::nothing)
        return Refusal{Message("{file} exists already; open it, or choose another name. Nothing was changed.",
                               {{"file", named(path)}})};
    for (const std::string_view ending : {rollback, never[0], never[1]}) {
        const std::string beside = file + std::string(ending);
        const Thing lies_there = thing_at(beside);
        if (lies_there == Thing::hidden) return not_made(path);  // such as a name that is too long with that ending
        if (lies_there != Thing::nothing)
            return Refusal{
                Message("{beside} is in the way of {file}. Take it away, or choose another name; nothing was "
                        "changed.",
                        {{"beside", named(beside)}, {"file", named(path)}})};
    }
    return done();
}

}  // namespace tapwright
