// What holds for the program rather than for one command.
#include "platform/cli/command.h"

namespace tapwright::cli {
namespace {

constexpr OptionInfo options[] = {
    {"--window", {}, Pattern("opens the window to choose or create a job, as without any word")},
    {"--help", {}, Pattern("prints the commands; behind a command, what that one takes")},
    {"--version", {}, Pattern("prints the version")},
};

// In the order of `fine`, `has_stop`, `wrong_call` and `kept_untold`.
constexpr Pattern statuses[] = {
    Pattern("fine"),
    Pattern("the job has a stop finding"),
    Pattern("the call or a file is wrong, and nothing was changed"),
    Pattern("a change or a file was kept, but the rest could not be done or told"),
};

}  // namespace

std::span<const OptionInfo> general_options() {
    return options;
}

std::span<const Pattern> exit_statuses() {
    return statuses;
}

}  // namespace tapwright::cli
