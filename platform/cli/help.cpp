// help: the command table for people.
#include "core/base/text.h"
#include "platform/cli/command.h"

namespace tapwright::cli {
namespace {

// "  left", two blanks at least, and `right` from the given column on.
std::string beside(std::string left, std::size_t column, const std::string& right) {
    const std::size_t width = code_points(left);
    left.append(width + 2 < column ? column - width : 2, ' ');
    return left + right + "\n";
}

// "tapwright fit FILE ...": what is typed, and a word for what is to be put in its place.
std::string call_of(const Words& words, const CommandInfo& command) {
    return std::string(command.name) + " " + words.text(Message(command.arguments));
}

}  // namespace

std::string usage_of(const Words& words, const OptionInfo& option) {
    if (option.value.is_none()) return std::string(option.name);
    const std::string value = option.value.choices.empty() ? words.text(Message(option.value.placeholder))
                                                           : std::string(option.value.choices);
    return std::string(option.name) + " " + value;
}

std::string help_text(const Words& words, const CommandInfo& command) {
    constexpr std::size_t help_column = 28;
    std::string text = "tapwright " + call_of(words, command) + "\n    " + words.text(Message(command.help)) + "\n";
    for (const OptionInfo& option : command.options)
        text += beside("    " + usage_of(words, option), help_column, words.text(Message(option.help)));
    return text;
}

std::string help_text(const Words& words) {
    constexpr std::size_t window_column = 24;
    constexpr std::size_t help_column = 36;
    std::string text = beside("tapwright", window_column, words.text(Message("opens the window"))) +
                       beside("tapwright " + words.text(Message("COMMAND ...")), window_column,
                              words.text(Message("works on a job file (.tapjob)"))) +
                       beside("tapwright " + words.text(Message("FILE")), window_column,
                              words.text(Message("opens the window on it"))) +
                       "\n";
    for (const CommandInfo& command : commands())
        text += beside("  " + call_of(words, command), help_column, words.text(Message(command.help)));
    text += "\n";
    for (const OptionInfo& option : general_options())
        text += beside("  " + std::string(option.name), help_column, words.text(Message(option.help)));
    text += "\n" + words.text(Message("Exit status:")) + "\n";
    std::size_t status = 0;
    for (const Pattern& meaning : exit_statuses())
        text += "  " + std::to_string(status++) + "  " + words.text(Message(meaning)) + "\n";
    return text;
}

Result<int> show_help(const Call& call) {
    if (call.arguments.empty()) {
        print(help_text(call.words));
        return fine;
    }
    const CommandInfo* command = find_command(call.arguments[0]);
    if (!command) return no_command(call.arguments[0], false);
    print(help_text(call.words, *command));
    return fine;
}

}  // namespace tapwright::cli
