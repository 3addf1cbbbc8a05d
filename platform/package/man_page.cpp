#include "platform/package/man_page.h"

#include "platform/cli/command.h"
#include "platform/system/version.h"

namespace tapwright::package {
namespace {

// Text as the page's source spells it: nothing of it is taken for a request or an escape.
std::string plain(std::string_view text) {
    std::string safe;
    if (text.starts_with('.') || text.starts_with('\'')) safe += "\\&";
    for (const char c : text) {
        switch (c) {
            case '\\':
                safe += "\\e";
                break;
            case '-':
                safe += "\\-";
                break;
            case '\'':
                safe += "\\(aq";
                break;
            case '`':
                safe += "\\(ga";
                break;
            case '^':
                safe += "\\(ha";
                break;
            case '~':
                safe += "\\(ti";
                break;
            default:
                safe += c;
        }
    }
    return safe;
}

std::string bold(std::string_view text) {
    return "\\fB" + plain(text) + "\\fR";
}

std::string italic(std::string_view text) {
    return text.empty() ? "" : " \\fI" + plain(text) + "\\fR";
}

// "writes labels" -> "Writes labels."
std::string sentence(std::string_view text) {
    std::string whole(text);
    if (!whole.empty() && whole.front() >= 'a' && whole.front() <= 'z')
        whole.front() = static_cast<char>(whole.front() - 'a' + 'A');
    return plain(whole) + ".\n";
}

std::string section(std::string_view title) {
    return ".SH " + std::string(title) + "\n";
}

std::string entry(const cli::OptionInfo& option) {
    return ".TP\n" + bold(option.name) + italic(option.value.text()) + "\n" + sentence(option.help.text);
}

std::string entry(const cli::CommandInfo& command) {
    std::string text =
        ".TP\n" + bold(command.name) + italic(command.arguments.text) + "\n" + sentence(command.help.text);
    if (command.options.empty()) return text;
    text += ".RS\n";
    for (const cli::OptionInfo& option : command.options) text += entry(option);
    return text + ".RE\n";
}

std::string head(std::string_view date) {
    return ".\\\" Made from the program's own list of commands; not written by hand.\n.TH TAPWRIGHT 1 \"" +
           plain(date) + "\" \"tapwright " + plain(version()) + "\" \"User Commands\"\n";
}

std::string introduction() {
    std::string text = section("NAME");
    text += "tapwright \\- job log for 70.7 V and 100 V loudspeaker lines\n";
    text += section("SYNOPSIS");
    text += bold("tapwright") + italic("COMMAND") + italic("ARGUMENT ...") + "\n.br\n";
    text += bold("tapwright") + italic("FILE") + "\n";
    for (const cli::OptionInfo& option : cli::general_options())
        text += ".br\n" + bold("tapwright") + " " + bold(option.name) + "\n";
    text += section("DESCRIPTION");
    text +=
        "Tapwright keeps the records of a loudspeaker line job in one file: rooms, taps, cable, readings and snags. It "
        "calculates loads and headroom, judges impedance readings and writes the handover sheet.\n.PP\n"
        "With a command it works on a job file in the terminal. With a file alone it opens the window on it.\n";
    return text;
}

}  // namespace

std::string man_page(std::string_view date) {
    std::string text = head(date) + introduction();
    text += section("COMMANDS");
    for (const cli::CommandInfo& command : cli::commands()) text += entry(command);
    text += section("OPTIONS");
    text += "In place of a command:\n";
    for (const cli::OptionInfo& option : cli::general_options()) text += entry(option);
    text += section("EXIT STATUS");
    int status = 0;
    for (const Pattern& meaning : cli::exit_statuses())
        text += ".TP\n" + bold(std::to_string(status++)) + "\n" + sentence(meaning.text);
    text += section("FILES");
    text += ".TP\n\\fI*.tapjob\\fR\nA job: one file that holds its records, history and photos.\n";
    text += ".TP\n\\fI$XDG_CONFIG_HOME/tapwright/settings.json\\fR\nYour name, your recent jobs and how you like the " +
            std::string("screen; in \\fI\\(ti/.config\\fR where XDG_CONFIG_HOME is not set.\n");
    return text;
}

}  // namespace tapwright::package
