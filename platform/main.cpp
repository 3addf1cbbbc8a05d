// tapwright COMMAND ... works on a job file; tapwright FILE opens the window on it, tapwright --window without one.
#include <cstdio>
#include <cstdlib>

#include "platform/cli/command.h"
#include "platform/system/files.h"
#ifdef TAPWRIGHT_HAS_WINDOW
#include "platform/shell/open_window.h"
#endif

namespace {

using Words = std::vector<std::string>;

bool asks_for_window(const Words& words) {
    if (words.empty()) return false;
    if (words.front() == "--window") return true;
    for (const std::string& word : words)
        if (word == "--marks" || word == "--picture") return true;
    const bool is_file = words.front().ends_with(".tapjob") || tapwright::file_exists(words.front());
    return is_file && !tapwright::cli::find_command(words.front());
}

#ifdef TAPWRIGHT_HAS_WINDOW
int complain(const std::string& sentence) {
    std::fprintf(stderr, "tapwright: %s\n", sentence.c_str());
    return tapwright::cli::wrong_call;
}

int window(const Words& words) {
    tapwright::desktop::WindowCall call;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (!word.starts_with("--")) {
            if (!call.file.empty()) return complain("The window opens one job file; give one.");
            call.file = word;
            continue;
        }
        if (word == "--window" && i == 0) continue;
        if (i + 1 == words.size()) return complain(word + " needs a value.");
        const std::string& value = words[++i];
        if (word == "--marks")
            call.marks = value;
        else if (word == "--picture")
            call.picture = value;
        else if (word == "--place")
            call.place = value;
        else if (word == "--figures" && std::atof(value.c_str()) > 0)
            call.figures = std::atof(value.c_str());
        else if (word == "--theme" && (value == "day" || value == "night"))
            call.theme = value;
        else if (word == "--scale" && std::atof(value.c_str()) >= 1 && std::atof(value.c_str()) <= 3)
            call.scale = static_cast<float>(std::atof(value.c_str()));
        else if (word != "--size" || std::sscanf(value.c_str(), "%dx%d", &call.width, &call.height) != 2 ||
                 call.width < 100 || call.height < 100 || call.width > 10000 || call.height > 10000)
            return complain(
                word + " " + value +
                " is not understood; the window takes --marks OUT.json, --picture "
                "OUT.png, --place NAME, --size WxH, --scale 1 to 3, --theme day or night and --figures SECONDS.");
    }
    return tapwright::desktop::open_window(call);
}
#else
int window(const Words&) {
    std::fprintf(stderr, "tapwright: this build has no window; build it with TAPWRIGHT_WINDOW on.\n");
    return tapwright::cli::wrong_call;
}
#endif

}  // namespace

int main(int count, char** arguments) {
    const Words words(arguments + 1, arguments + count);
    return asks_for_window(words) ? window(words) : tapwright::cli::run(words);
}
