// The manual page, as `man tapwright` shows it.
#include <doctest/doctest.h>

#include <string>

#include "platform/cli/command.h"
#include "tests/package/shell.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// On a terminal so wide that no line is broken.
std::string shown() {
    static const Said said = run_line("MANWIDTH=400 MANROFFOPT= man -l " + as_word(made("tapwright.1")) + " | cat");
    REQUIRE_MESSAGE(said.status == 0, said.text);
    return said.text;
}

void check_shows(const std::string& text) {
    CHECK_MESSAGE(shown().find(text) != std::string::npos, text);
}

std::string with_blank(std::string_view text) {
    return text.empty() ? "" : " " + std::string(text);
}

// What a help sentence is in the page: with a capital and a full stop.
std::string sentence(std::string_view help) {
    std::string text(help);
    if (text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text + ".";
}

}  // namespace

TEST_CASE("the manual page gives no warning") {
    const Said said = run_line("man --warnings -E UTF-8 -l -Tutf8 -Z " + as_word(made("tapwright.1")) + " >/dev/null");
    CHECK(said.status == 0);
    CHECK(said.text == "");
}

TEST_CASE("the manual page shows every command and option of the table, whole") {
    for (const cli::CommandInfo& command : cli::commands()) {
        check_shows("\n       " + std::string(command.name) + with_blank(command.arguments.text) + "\n");
        check_shows(sentence(command.help.text));
        for (const cli::OptionInfo& option : command.options) {
            check_shows("\n              " + std::string(option.name) + with_blank(option.value.text()));
            check_shows(sentence(option.help.text));
        }
    }
    for (const cli::OptionInfo& option : cli::general_options()) check_shows(sentence(option.help.text));
    for (const Pattern& meaning : cli::exit_statuses()) check_shows(sentence(meaning.text));
}

TEST_CASE("the manual page is of this version") {
    check_shows("tapwright " TAPWRIGHT_PROJECT_VERSION);
}
