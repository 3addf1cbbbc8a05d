#include "platform/print/own_process.h"

#include <fcntl.h>
#include <glib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <new>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

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

// A library that waits for what never comes ends with its process.
constexpr unsigned most_seconds = 600;

// What the child says first; behind it come the bytes of the PDF, or what stands in the places of a refusal.
struct Outcome {
    enum class Kind : char { made, refused, no_memory } kind = Kind::made;
    int pages = 0;
    std::size_t count = 0;  // of bytes, or of places
    Pattern pattern;        // of a refusal: literals are where they are in the parent too
};

// Behind it comes its text.
struct Place {
    const char* name = "";
    bool is_code = false;
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

// Refusals of this folder are a pattern with names and reasons in its places.
bool write_refusal(int to, const Message& message) {
    const Outcome outcome{Outcome::Kind::refused, 0, message.named().size(), message.pattern()};
    if (!message.sentences().empty() || !write_all(to, &outcome, sizeof outcome)) return false;
    for (const Named& named : message.named()) {
        const auto* entered = std::get_if<Entered>(&named.value.value());
        const auto* code = std::get_if<Code>(&named.value.value());
        if (!entered && !code) return false;
        const std::string& text = entered ? entered->text : code->text;
        const Place place{named.place, code != nullptr, text.size()};
        if (!write_all(to, &place, sizeof place) || !write_all(to, text.data(), text.size())) return false;
    }
    return true;
}

std::optional<Refusal> read_refusal(int from, const Outcome& outcome) {
    std::vector<Named> named;
    for (std::size_t k = 0; k < outcome.count; ++k) {
        Place place;
        if (!read_all(from, &place, sizeof place)) return std::nullopt;
        std::string text(place.bytes, '\0');
        if (!read_all(from, text.data(), text.size())) return std::nullopt;
        named.push_back(
            {place.name, place.is_code ? Argument(Code{std::move(text)}) : Argument(Entered{std::move(text)})});
    }
    return Refusal{Message(outcome.pattern, std::move(named))};
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
    for (const int signal : {SIGABRT, SIGALRM, SIGBUS, SIGSEGV, SIGTRAP}) ::signal(signal, SIG_DFL);
    g_log_set_default_handler(note_warning, nullptr);
    ::alarm(most_seconds);
#ifdef __linux__
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
#endif
}

// The child's whole life. It ends without the parent's tidying up: what is open belongs to the parent. Nothing may be
// thrown out of it, or whoever asked for a PDF would go on twice.
[[noreturn]] void hand_over(const std::function<Result<Pdf>()>& make, int to) noexcept {
    fall_silent();
    bool is_said = false;
    try {
        const Result<Pdf> pdf = make();
        if (!pdf) {
            is_said = write_refusal(to, pdf.refusal().message);
        } else {
            const Outcome outcome{Outcome::Kind::made, pdf->pages, pdf->bytes.size(), {}};
            is_said = !pango_warned && write_all(to, &outcome, sizeof outcome) &&
                      write_all(to, pdf->bytes.data(), pdf->bytes.size());
        }
    } catch (const std::bad_alloc&) {
        const Outcome outcome{Outcome::Kind::no_memory, 0, 0, {}};
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
    if (outcome.kind == Outcome::Kind::refused) {
        const std::optional<Refusal> refusal = read_refusal(child.from(), outcome);
        return refusal ? *refusal : ended_early();
    }
    Pdf pdf{std::string(outcome.count, '\0'), outcome.pages};
    if (!read_all(child.from(), pdf.bytes.data(), pdf.bytes.size()) || !child.wait()) return ended_early();
    return pdf;
}

}  // namespace tapwright::print
