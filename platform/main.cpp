// tapwright COMMAND ... works on a job file; tapwright FILE opens the window on it, tapwright alone without one.
#include <charconv>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <new>
#include <string_view>

#include "core/session/session.h"
#include "core/words/words.h"
#include "platform/cli/command.h"
#include "platform/cli/language.h"
#include "platform/system/files.h"
#ifdef TAPWRIGHT_HAS_WINDOW
#include "platform/shell/open_window.h"
#endif

namespace {

using Arguments = std::vector<std::string>;

bool asks_for_window(const Arguments& words) {
    if (words.empty()) return true;
    if (words.front() == "--window") return true;
    for (const std::string& word : words)
        if (word == "--marks" || word == "--picture") return true;
    const bool is_file = words.front().ends_with(".tapjob") || tapwright::file_exists(words.front());
    return is_file && !tapwright::cli::find_command(words.front());
}

using tapwright::code;
using tapwright::Message;
using tapwright::Refusal;

int complain(const Refusal& why) {
    const std::string sentence = tapwright::Words(tapwright::cli::language_of_environment()).on_one_line().text(why);
    std::fprintf(stderr, "tapwright: %s\n", sentence.c_str());
    return tapwright::cli::wrong_call;
}

#ifdef TAPWRIGHT_HAS_WINDOW
using tapwright::desktop::WindowCall;

Message not_understood(const std::string& option, const std::string& value) {
    return Message(
        "{option} {value} is not understood. The window takes --marks OUT.json, --picture OUT.png, --place NAME, "
        "--size WxH, --scale 1 to 3, --theme day or night and --figures SECONDS.",
        {{"option", code(option)}, {"value", code(value)}});
}

// Whether all of `text` is a number, which it then gives.
template <class Number>
bool takes_all(std::string_view text, Number& number) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    return error == std::errc() && end == text.data() + text.size();
}

bool is_size(const std::string& value, WindowCall& call) {
    const std::string_view both = value;
    const std::size_t cross = both.find('x');
    if (cross == both.npos) return false;
    const auto take = [](std::string_view text, int& pixels) {
        return takes_all(text, pixels) && pixels >= 100 && pixels <= 10000;
    };
    return take(both.substr(0, cross), call.width) && take(both.substr(cross + 1), call.height);
}

tapwright::Result<void> take_option(const std::string& option, const std::string& value, WindowCall& call) {
    double number = 0;
    if (!takes_all(value, number)) number = 0;
    if (option == "--marks")
        call.marks = value;
    else if (option == "--picture")
        call.picture = value;
    else if (option == "--place")
        call.place = value;
    else if (option == "--figures" && number > 0)
        call.figures = number;
    else if (option == "--theme" && (value == "day" || value == "night"))
        call.theme = value;
    else if (option == "--scale" && number >= 1 && number <= 3)
        call.scale = static_cast<float>(number);
    else if (option != "--size" || !is_size(value, call))
        return Refusal{not_understood(option, value)};
    return tapwright::done();
}

tapwright::Result<WindowCall> call_of(const Arguments& words) {
    WindowCall call;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (word == "--window" && i == 0) continue;
        if (!word.starts_with("--")) {
            if (!call.file.empty())
                return Refusal{Message("The window opens one job file, not {first} and {second}. Give one.",
                                       {{"first", code(call.file)}, {"second", code(word)}})};
            call.file = word;
            continue;
        }
        if (i + 1 == words.size())
            return Refusal{Message("{option} needs a value behind it.", {{"option", code(word)}})};
        TAPWRIGHT_PASS(take_option(word, words[++i], call));
    }
    return call;
}

// Whether a window can come up at all; the display itself has the last word.
bool has_display() {
    for (const char* name : {"WAYLAND_DISPLAY", "DISPLAY"}) {
        const char* display = std::getenv(name);
        if (display && *display) return true;
    }
    return false;
}

int window(const Arguments& words) {
    if (words.empty() && !has_display())
        return complain(Refusal{
            Message("There is no display to open a window on. Start this on a desktop; {help} lists what works without "
                    "one.",
                    {{"help", code("`tapwright help`")}})});
    const tapwright::Result<WindowCall> call = call_of(words);
    if (!call) return complain(call.refusal());
    const tapwright::Result<int> status = tapwright::desktop::open_window(*call);
    return status ? *status : complain(status.refusal());
}
#else
int window(const Arguments&) {
    return complain(
        Refusal{Message("This build has no window. Build it with {option} on; {help} lists what works without one.",
                        {{"option", code("TAPWRIGHT_WINDOW")}, {"help", code("`tapwright help`")}})});
}
#endif

// A frame that was given up halfway cannot be taken up again, so the window closes; what was changed is in the file.
int window_within_memory(const Arguments& words) {
    try {
        return window(words);
    } catch (const std::bad_alloc&) {
        return complain(Refusal{
            Message("There was not enough memory to go on. Every change is saved: close other programs, and open the "
                    "job again.")});
    }
}

// The stack grows as it is used, and where there is no memory left for that, the system ends the program by a signal,
// before it can say a word. So what a command needs of it is asked for at the start.
[[gnu::noinline]] void claim_stack() {
    volatile char claimed[std::size_t{512} << 10];
    for (std::size_t i = 0; i < sizeof claimed; i += 1024) claimed[i] = 0;
}

}  // namespace

int main(int count, char** arguments) {
    // A limit on the size of files is then an error like a full disk, which is told in a sentence.
    std::signal(SIGXFSZ, SIG_IGN);
    claim_stack();
    try {
        const Arguments words(arguments + 1, arguments + count);
        return asks_for_window(words) ? window_within_memory(words) : tapwright::cli::run(words);
    } catch (const std::bad_alloc&) {
        // Not even for a sentence in the person's language is there memory: one that needs none.
        const bool is_kept = tapwright::Session::changes_kept() > 0;
        std::fputs(is_kept
                       ? "tapwright: The change is kept in the job file. There is not enough memory for the answer.\n"
                       : "tapwright: There is not enough memory for this. Close other programs, and try again.\n",
                   stderr);
        return is_kept ? tapwright::cli::kept_untold : tapwright::cli::wrong_call;
    }
}
