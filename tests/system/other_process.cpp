#include "tests/system/other_process.h"

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>

namespace tapwright::test {
namespace {

constexpr uid_t nobody = 65534;

bool write_all(int descriptor, const std::string& text) {
    for (std::size_t at = 0; at < text.size();) {
        const ssize_t wrote = ::write(descriptor, text.data() + at, text.size() - at);
        if (wrote <= 0) return false;
        at += static_cast<std::size_t>(wrote);
    }
    return true;
}

}  // namespace

std::string said_by_child(const std::function<std::string()>& speak) {
    int ends[2];
    REQUIRE(::pipe(ends) == 0);
    std::fflush(nullptr);  // or the child would print what is still in our buffers
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::close(ends[0]);
        ::_exit(write_all(ends[1], speak()) ? 0 : 1);
    }
    ::close(ends[1]);
    std::string said;
    char buffer[4096];
    for (ssize_t got = 0; (got = ::read(ends[0], buffer, sizeof buffer)) > 0;)
        said.append(buffer, static_cast<std::size_t>(got));
    ::close(ends[0]);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? said : "(died)";
}

std::string said_without_rights(const std::function<std::string()>& speak) {
    return said_by_child([&]() -> std::string {
        if (::geteuid() == 0 && ::setuid(nobody) != 0) return "(still root)";
        return speak();
    });
}

}  // namespace tapwright::test
