// A place without its argument is our own mistake, and ends the program.
#include <doctest/doctest.h>

#include <sys/wait.h>
#include <unistd.h>
#include <csignal>
#include <string>

#include "core/words/words.h"

using namespace tapwright;

namespace {

// Whether making text of it aborts.
bool aborts(const Message& message) {
    const pid_t child = ::fork();
    if (child == 0) {
        // What ends it is written to where nobody looks, and doctest's own handler must not speak.
        std::signal(SIGABRT, SIG_DFL);
        ::close(STDERR_FILENO);
        static_cast<void>(in_english(message));
        ::_exit(0);
    }
    REQUIRE(child > 0);
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    return WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT;
}

}  // namespace

TEST_CASE("a place without its argument aborts") {
    CHECK(aborts(Message("{zone} is on.")));
    CHECK(aborts(Message("{zone} is on.", {{"room", entered("Hall")}})));
    CHECK(aborts(Message("An open {brace.")));
    CHECK(aborts(Message(Choice{"Purpose", "holiday"})));
    CHECK_FALSE(aborts(Message("{zone} is on.", {{"zone", entered("Hall")}})));
}
