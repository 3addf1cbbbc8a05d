#include "platform/print/own_process.h"

#include <fcntl.h>
#include <glib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <new>
#include <string>
#include <string_view>
#include <utility>

#ifdef __linux__
#include <sys/prctl.h>
#endif

#include "core/base/memory.h"

namespace tapwright::print {
namespace {

#ifdef __SANITIZE_ADDRESS__
constexpr bool is_watched = true;
#else
constexpr bool is_watched = false;
#endif

// What the child says first; behind it come the bytes of the PDF.
struct Outcome {
    enum class Kind : char { made, refused, no_memory } kind = Kind::made;
    int pages = 0;
    std::size_t bytes = 0;
};

bool write_all(int to, const void* bytes, std::size_t count) {
    const char* from = static_cast<const char*>(bytes);
    while (count > 0) {
        const ssize_t written = ::write(to, from, count);
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        from += written;
        count -= static_cast<std::size_t>(written);
    }
    return true;
}

// False where the other end says less.
bool read_all(int from, void* bytes, std::size_t count) {
    char* to = static_cast<char*>(bytes);
    while (count > 0) {
        const ssize_t got = ::read(from, to, count);
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return false;
        to += got;
        count -= static_cast<std::size_t>(got);
    }
    return true;
}

bool pango_warned = false;

// It draws on where it has no memory for a typeface, and only says that the page will be ugly.
void note_warning(const char* domain, GLogLevelFlags, const char*, void*) {
    if (domain != nullptr && std::string_view(domain) == "Pango") pango_warned = true;
}

// What libraries say on their way out is not for whoever wanted a sheet, nor is a picture of the child's memory.
void fall_silent() {
    const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere >= 0) ::dup2(nowhere, STDERR_FILENO);
    const rlimit none{0, 0};
    ::setrlimit(RLIMIT_CORE, &none);
    for (const int signal : {SIGABRT, SIGSEGV, SIGTRAP, SIGBUS}) ::signal(signal, SIG_DFL);
    g_log_set_default_handler(note_warning, nullptr);
#ifdef __linux__
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
#endif
}

// The child's whole life. It ends without the parent's tidying up: what is open belongs to the parent.
[[noreturn]] void hand_over(const std::function<Result<Pdf>()>& make, int to) {
    fall_silent();
    bool is_said = false;
    try {
        const Result<Pdf> pdf = make();
        const Outcome outcome =
            pdf ? Outcome{Outcome::Kind::made, pdf->pages, pdf->bytes.size()} : Outcome{Outcome::Kind::refused};
        is_said = !pango_warned && write_all(to, &outcome, sizeof outcome) &&
                  (!pdf || write_all(to, pdf->bytes.data(), pdf->bytes.size()));
    } catch (const std::bad_alloc&) {
        const Outcome outcome{Outcome::Kind::no_memory};
        is_said = write_all(to, &outcome, sizeof outcome);
    }
    ::_exit(is_said ? 0 : 1);
}

Refusal ended_early() {
    return {
        Message("The pages could not be set, most likely because there is not enough memory. Nothing was written, and "
                "the job file is undamaged: close other programs, or choose HTML instead of PDF.")};
}

// The reading end of the pipe, and whoever is at the other one; ended with this.
class Child {
public:
    Child(pid_t process, int from) : process_(process), from_(from) {}
    Child(const Child&) = delete;
    Child& operator=(const Child&) = delete;
    ~Child() {
        if (process_ > 0) {
            ::kill(process_, SIGKILL);
            wait();
        }
        ::close(from_);
    }

    int from() const { return from_; }

    // Whether it ended by itself, all said.
    bool wait() {
        int status = 0;
        pid_t ended = 0;
        do ended = ::waitpid(process_, &status, 0);
        while (ended < 0 && errno == EINTR);
        process_ = 0;
        return ended > 0 && WIFEXITED(status) && WEXITSTATUS(status) == 0;
    }

private:
    pid_t process_;
    int from_;
};

}  // namespace

Result<Pdf> in_own_process(const std::function<Result<Pdf>()>& make) {
    if (is_watched) return make();
    int ends[2];
    if (::pipe(ends) != 0) return ended_early();
    ::fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    ::fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    const pid_t process = ::fork();
    if (process == 0) {
        ::close(ends[0]);
        hand_over(make, ends[1]);
    }
    ::close(ends[1]);
    Child child(process, ends[0]);
    if (process < 0) return ended_early();

    Outcome outcome;
    if (!read_all(child.from(), &outcome, sizeof outcome)) return ended_early();
    if (outcome.kind == Outcome::Kind::no_memory) out_of_memory();
    if (outcome.kind == Outcome::Kind::refused) return make();
    Pdf pdf{std::string(outcome.bytes, '\0'), outcome.pages};
    if (!read_all(child.from(), pdf.bytes.data(), pdf.bytes.size()) || !child.wait()) return ended_early();
    return pdf;
}

}  // namespace tapwright::print
