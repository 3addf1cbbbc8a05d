#include "platform/system/parts.h"

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <optional>
#include <variant>

#include "core/base/sha256.h"
#include "core/base/text.h"
#include "core/journal/journal.h"
#include "platform/system/files.h"

namespace tapwright {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view prefix = ".tapwright-part-";

// Eight digits for this machine: on a shared disk the process numbers of another one say nothing here.
const std::string& machine() {
    static const std::string digits = [] {
        char name[256] = {};
        ::gethostname(name, sizeof name - 1);
        return hex(sha256(name)).substr(0, 8);
    }();
    return digits;
}

std::optional<int> whole_number(std::string_view digits) {
    int number = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (error != std::errc() || end != digits.data() + digits.size() || number <= 0) return std::nullopt;
    return number;
}

// The process that a part of this machine belongs to; nothing for any other name.
std::optional<int> maker_of(std::string_view name) {
    if (!name.starts_with(prefix)) return std::nullopt;
    name.remove_prefix(prefix.size());
    if (name.ends_with("-journal")) name.remove_suffix(8);
    if (!name.starts_with(machine() + "-")) return std::nullopt;
    name.remove_prefix(machine().size() + 1);
    const std::size_t hyphen = name.find('-');
    if (hyphen == std::string_view::npos || !whole_number(name.substr(hyphen + 1))) return std::nullopt;
    return whole_number(name.substr(0, hyphen));
}

bool is_left(const std::string& name, const std::string& path) {
    const std::optional<int> maker = maker_of(name);
    if (!maker || ::kill(*maker, 0) == 0 || errno != ESRCH) return false;
    struct stat info {};
    return ::lstat(path.c_str(), &info) == 0 && S_ISREG(info.st_mode) && info.st_uid == ::geteuid();
}

void remove_left_parts(const std::string& folder) {
    // Not std::filesystem: what steps through a folder there says that it never throws, and asks for memory.
    struct Close {
        void operator()(DIR* open) const { ::closedir(open); }
    };
    const std::unique_ptr<DIR, Close> open(::opendir(folder.c_str()));
    std::vector<std::string> left;
    for (const dirent* at = nullptr; open && (at = ::readdir(open.get())) != nullptr;)
        if (std::string path = folder + "/" + at->d_name; is_left(at->d_name, path)) left.push_back(std::move(path));
    for (const std::string& path : left) ::unlink(path.c_str());
}

std::string part_name(const std::string& folder, int number) {
    const std::string name =
        std::string(prefix) + machine() + "-" + std::to_string(::getpid()) + "-" + std::to_string(number);
    return (fs::path(folder) / name).string();
}

constexpr int most_parts = 1000;  // of one process in one folder at a time

// The same sentences, speaking of the file a person asked for where they name its part, which is gone by then.
Message told_of(const Message& message, const std::string& part, const std::string& path) {
    if (!message.sentences().empty()) {
        std::vector<Message> told;
        for (const Message& sentence : message.sentences()) told.push_back(told_of(sentence, part, path));
        return sentences(std::move(told));
    }
    std::vector<Named> named = message.named();
    for (Named& each : named)
        if (const auto* said = std::get_if<Code>(&each.value.value()); said && said->text == cited(part, 200))
            each.value = code(cited(path, 200));
    if (message.pattern().many) return Message(message.pattern(), message.count(), named.data(), named.size());
    return Message(message.pattern(), std::move(named));
}

Refusal not_made(const std::string& path, const Entered& why) {
    return {Message("{file} cannot be made: {reason}. Choose another name or folder.",
                    {{"file", code(path)}, {"reason", why}})};
}

Entered last_error() {
    return entered(std::strerror(errno));
}

}  // namespace

std::string folder_of(const std::string& path) {
    const fs::path folder = fs::path(path).parent_path();
    return folder.empty() ? "." : folder.string();
}

bool is_taken(const std::string& path) {
    struct stat info {};
    return ::lstat(path.c_str(), &info) == 0;
}

std::string part_beside(const std::string& path) {
    const std::string folder = folder_of(path);
    remove_left_parts(folder);
    for (int number = 1; number <= most_parts; ++number) {
        std::string name = part_name(folder, number);
        if (!is_taken(name) && !is_taken(name + "-journal")) return name;
    }
    return "";
}

int open_part(const std::string& path, std::string& part) {
    const std::string folder = folder_of(path);
    remove_left_parts(folder);
    errno = EEXIST;
    for (int number = 1; number <= most_parts && errno == EEXIST; ++number) {
        part = part_name(folder, number);
        const int file = ::open(part.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
        if (file >= 0) return file;
    }
    return -1;
}

TakenAway::~TakenAway() {
    if (path_) ::unlink(path_->c_str());
}

bool move_without_replacing(const std::string& from, const std::string& to) {
#ifdef RENAME_NOREPLACE
    if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return true;
    if (errno != EINVAL && errno != ENOSYS) return false;
#endif
    // A file system that does not know that: a second name, made only where nothing is, and the first one taken away.
    if (::link(from.c_str(), to.c_str()) == 0) return ::unlink(from.c_str()) == 0;
    const bool knows_no_links = errno == EPERM || errno == ENOTSUP || errno == ENOSYS;
    if (knows_no_links && is_taken(to)) errno = EEXIST;
    return knows_no_links && !is_taken(to) && ::rename(from.c_str(), to.c_str()) == 0;
}

Result<void> make_job_file(const std::string& path, const std::function<Result<void>(const std::string& part)>& make) {
    TAPWRIGHT_PASS(Journal::check_place(path));
    std::string part;
    // Whether anything can be written there is known before the work is done.
    const int empty = open_part(path, part);
    if (empty < 0) return not_made(path, last_error());
    ::close(empty);
    TakenAway left(part);
    // Empty where the job was made: SQLite could not take it away.
    const std::string journal = part + "-journal";
    const TakenAway rollback(journal);
    const auto give_up = [&](const Refusal& refusal) { return Refusal{told_of(refusal.message, part, path)}; };
    ::unlink(part.c_str());  // SQLite makes it, where nothing is
    if (const Result<void> made = make(part); !made) return give_up(made.refusal());
    if (!move_without_replacing(part, path)) return give_up(not_made(path, last_error()));
    left.keep();
    sync_folder_of(path);
    return done();
}

// ---- several files ----------------------------------------------------------------------------------

FilesTogether::~FilesTogether() {
    for (const Written& file : written_) {
        // What was there before it is gone either way.
        const bool stays = file.is_placed && file.was_taken;
        if (!stays) ::unlink((file.is_placed ? file.path : file.part).c_str());
    }
    for (std::size_t i = folders_.size(); i-- > 0;) ::rmdir(folders_[i].c_str());  // only an empty one goes
}

Result<void> FilesTogether::folder(const std::string& path, Folder whose) {
    std::error_code error;
    if (whose == Folder::own && fs::is_symlink(fs::symlink_status(path, error)))
        return Refusal{
            Message("{folder} is a link to another place. Take it away, or choose another folder; nothing was "
                    "written.",
                    {{"folder", code(path)}})};
    // Those above it that are missing are made too. First: there may be no memory for it later.
    const std::size_t before = folders_.size();
    for (fs::path at = path; !at.empty() && !is_taken(at.string()); at = at.parent_path())
        folders_.push_back(at.string());
    std::reverse(folders_.begin() + static_cast<std::ptrdiff_t>(before), folders_.end());  // the outermost first
    TAPWRIGHT_PASS(make_folder(path));
    return done();
}

Result<void> FilesTogether::add(const std::string& path, std::string_view bytes) {
    written_.push_back(
        {.part = "", .path = path, .was_taken = is_taken(path)});  // first: there may be no memory for it later
    return write_part(path, bytes, written_.back().part);
}

Result<void> FilesTogether::keep() {
    for (Written& file : written_) {
        TAPWRIGHT_PASS(place_part(file.part, file.path));
        file.is_placed = true;
    }
    written_.clear();
    folders_.clear();
    return done();
}

}  // namespace tapwright
