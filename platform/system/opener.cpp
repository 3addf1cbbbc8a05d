#include "platform/system/opener.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <mutex>
#include <thread>
#include <utility>

#include "core/base/text.h"

namespace tapwright {
namespace {

namespace fs = std::filesystem;

constexpr const char* opener = "xdg-open";
constexpr std::size_t longest_path = 200;

// Both live as long as the process does, as the threads that wait may outlive main().
std::mutex& guard() {
    static auto* mutex = new std::mutex;
    return *mutex;
}
std::vector<Message>& troubles() {
    static auto* all = new std::vector<Message>;
    return *all;
}

Message shown(const std::string& path) {
    return entered(cited(path, longest_path));
}

// Waits for the opener to end, which some desktops let live as long as the viewer does.
void wait_for(pid_t child, const std::string& path) {
    int status = 0;
    pid_t ended = 0;
    do ended = ::waitpid(child, &status, 0);
    while (ended < 0 && errno == EINTR);
    if (ended == child && WIFEXITED(status) && WEXITSTATUS(status) == 0) return;
    const std::lock_guard lock(guard());
    troubles().push_back(
        Message("{file} could not be opened: the desktop knows no program for it. Open it from its "
                "folder.",
                {{"file", shown(path)}}));
}

Result<pid_t> start(const std::string& path) {
    posix_spawn_file_actions_t files;
    posix_spawnattr_t attributes;
    if (::posix_spawn_file_actions_init(&files) != 0) return Refusal{Message("There is no memory to open a file.")};
    if (::posix_spawnattr_init(&attributes) != 0) {
        ::posix_spawn_file_actions_destroy(&files);
        return Refusal{Message("There is no memory to open a file.")};
    }
    // It reads nothing of ours and says nothing into our terminal, and a Ctrl+C there is not meant for it.
    ::posix_spawn_file_actions_addopen(&files, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    ::posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    ::posix_spawn_file_actions_addopen(&files, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    ::posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP);
    ::posix_spawnattr_setpgroup(&attributes, 0);
    std::string name = opener, argument = path;
    char* arguments[] = {name.data(), argument.data(), nullptr};
    pid_t child = 0;
    const int error = ::posix_spawnp(&child, opener, &files, &attributes, arguments, environ);
    ::posix_spawnattr_destroy(&attributes);
    ::posix_spawn_file_actions_destroy(&files);
    if (error != 0)
        return Refusal{
            Message("{file} cannot be opened from here: {program} is not installed ({reason}). Open it from "
                    "its folder.",
                    {{"file", shown(path)}, {"program", code(opener)}, {"reason", code(std::strerror(error))}})};
    return child;
}

}  // namespace

Result<void> open_with_desktop(const std::string& path) {
    std::error_code error;
    const fs::path whole = fs::absolute(path, error).lexically_normal();  // begins with "/": never taken for an option
    if (error || !fs::exists(whole, error))
        return Refusal{Message("{file} is no longer there. Make it again.", {{"file", shown(path)}})};
    TAPWRIGHT_TAKE(child, start(whole.string()));
    std::thread(wait_for, child, whole.string()).detach();
    return done();
}

Result<void> open_folder_of(const std::string& path) {
    std::error_code error;
    const fs::path whole = fs::absolute(path, error).lexically_normal();
    return open_with_desktop(whole.parent_path().string());
}

std::vector<Message> opener_troubles() {
    const std::lock_guard lock(guard());
    return std::exchange(troubles(), {});
}

}  // namespace tapwright
