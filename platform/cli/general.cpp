// What holds for the program rather than for one command.
#include "platform/cli/command.h"

namespace tapwright::cli {
namespace {

constexpr OptionInfo options[] = {
    {"--window", "", "opens the window to choose or create a job"},
    {"--help", "", "prints the commands"},
    {"--version", "", "prints the version"},
};

// In the order of `fine`, `has_stop` and `wrong_call`.
constexpr std::string_view statuses[] = {
    "fine",
    "the job has a stop finding",
    "the call or a file is wrong, and nothing was changed",
};

}  // namespace

std::span<const OptionInfo> general_options() {
    return options;
}

std::span<const std::string_view> exit_statuses() {
    return statuses;
}

}  // namespace tapwright::cli
