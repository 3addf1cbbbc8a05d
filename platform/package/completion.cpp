#include "platform/package/completion.h"

#include <cctype>
#include <span>
#include <string_view>
#include <vector>

#include "core/job/field_table.h"
#include "core/job/kind.h"
#include "platform/cli/command.h"

namespace tapwright::package {
namespace {

using Words = std::vector<std::string>;

// The parts of "a4|letter", or of "FILE KIND" with another mark between.
Words split(std::string_view text, char mark) {
    Words parts;
    while (!text.empty()) {
        const std::size_t end = text.find(mark);
        if (end != 0) parts.emplace_back(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return parts;
}

std::string joined(const Words& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
    return text;
}

// Requires: text of our own tables, which holds no quote.
std::string quoted(const std::string& text) {
    return "'" + text + "'";
}

// Whether something of its own stands there, as FILE and ZONE do, and not words to type as they are written.
bool is_place(const std::string& word) {
    return std::isupper(static_cast<unsigned char>(word.front())) != 0;
}

// What bash does for a place in CommandInfo::arguments such as "FILE" or "OUT.pdf|OUT.html": a call of one of the
// script's functions. Empty: nothing can be offered.
std::string offer_for(const std::string& place) {
    if (place == "FILE") return "_tapwright_files tapjob";
    if (place == "KIND") return "_tapwright_words \"$kinds\"";
    if (place == "OUT" || place == "IMAGE") return "_tapwright_files";
    std::string endings;
    for (const std::string& file : split(place, '|'))
        if (const std::size_t dot = file.find('.'); dot != std::string::npos) endings += " " + file.substr(dot + 1);
    return endings.empty() ? "" : "_tapwright_files" + endings;
}

// The same for all that follows the places: "field=value ..." or "ohms=92.5 [hz=] [dry]", in any order.
std::string offer_for_rest(std::span<const std::string> rest) {
    Words literals;
    for (const std::string& word : rest) {
        if (word == "field=value") return "_tapwright_fields \"${given[1]}\"";
        if (word == "[FILE]") return "_tapwright_files tapjob";
        if (word == "[COMMAND]") return "_tapwright_words \"$commands\"";
        const std::string bare = word.starts_with('[') ? word.substr(1, word.size() - 2) : word;
        if (std::islower(static_cast<unsigned char>(bare.front())) == 0) continue;
        const std::size_t equals = bare.find('=');
        literals.push_back(equals == std::string::npos ? bare : bare.substr(0, equals + 1));
    }
    return literals.empty() ? "" : "_tapwright_words " + quoted(joined(literals));
}

// `        NAME)` and its body, for a `case` of the script.
std::string branch(std::string_view name, const std::string& body) {
    return "        " + std::string(name) + ")\n" + body + "            ;;\n";
}

// The branches of three cases: the options of each command, ...
std::string options_of_commands() {
    std::string text;
    for (const cli::CommandInfo& command : cli::commands()) {
        Words names, with_value;
        for (const cli::OptionInfo& option : command.options) {
            names.emplace_back(option.name);
            if (!option.value.is_none()) with_value.emplace_back(option.name);
        }
        text += branch(command.name, "            options=" + quoted(joined(names)) +
                                         "\n            with_value=" + quoted(joined(with_value)) + "\n");
    }
    return text;
}

// ... the values of options that have a choice of them or are files, ...
std::string values_of_options() {
    std::string text;
    for (const cli::CommandInfo& command : cli::commands())
        for (const cli::OptionInfo& option : command.options)
            if (!option.value.choices.empty())
                text +=
                    branch(quoted(std::string(command.name) + " " + std::string(option.name)),
                           "            _tapwright_words " + quoted(joined(split(option.value.choices, '|'))) + "\n");
            else if (const std::string offer = offer_for(std::string(option.value.text())); !offer.empty())
                text += branch(quoted(std::string(command.name) + " " + std::string(option.name)),
                               "            " + offer + "\n");
    return text;
}

// ... and the arguments of each command.
std::string arguments_of_commands() {
    std::string text;
    for (const cli::CommandInfo& command : cli::commands()) {
        const Words words = split(command.arguments.text, ' ');
        std::string body;
        std::size_t number = 0;
        for (; number < words.size() && is_place(words[number]); ++number)
            body += "                " + std::to_string(number) + ") " + offer_for(words[number]) + " ;;\n";
        if (const std::string offer = offer_for_rest(std::span(words).subspan(number)); !offer.empty())
            body += "                *) " + offer + " ;;\n";
        text += branch(command.name, "            case ${#given[@]} in\n" + body + "            esac\n");
    }
    return text;
}

std::string fields_of_kinds() {
    std::string text;
    for (std::size_t i = 0; i < kind_count; ++i) {
        if (kind_at(i) == Kind::job) continue;  // there is one, and nobody adds it
        Words names;
        for (const FieldInfo& field : fields(kind_at(i))) names.push_back(std::string(field.name) + "=");
        text += branch(singular(kind_at(i)), "            _tapwright_words " + quoted(joined(names)) + "\n");
    }
    return text;
}

std::string lists() {
    Words commands, kinds, general;
    for (const cli::CommandInfo& command : cli::commands()) commands.emplace_back(command.name);
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kind_at(i) != Kind::job) kinds.emplace_back(singular(kind_at(i)));
    for (const cli::OptionInfo& option : cli::general_options()) general.emplace_back(option.name);
    return "    local commands=" + quoted(joined(commands)) + "\n    local kinds=" + quoted(joined(kinds)) +
           "\n    local general=" + quoted(joined(general)) + "\n";
}

constexpr const char* helpers =
    R"bash(# bash completion for tapwright. Made from the program's own list of commands; not written by hand.

# Offers those of the words that go on from what is typed. "field=" wants its value at once, without a blank.
_tapwright_words() {
    mapfile -t COMPREPLY < <(compgen -W "$1" -- "$word")
    if [[ ${#COMPREPLY[@]} == 1 && ${COMPREPLY[0]} == *= ]]; then compopt -o nospace 2>/dev/null; fi
}

# Offers folders, and files with one of the endings; all files when none is named.
_tapwright_files() {
    local ending files=()
    if (($# == 0)); then mapfile -t COMPREPLY < <(compgen -f -- "$word"); fi
    for ending in "$@"; do
        mapfile -t files < <(compgen -f -X "!*.$ending" -- "$word")
        COMPREPLY+=("${files[@]}")
    done
    if (($# > 0)); then
        mapfile -t files < <(compgen -d -- "$word")
        COMPREPLY+=("${files[@]}")
    fi
    compopt -o filenames 2>/dev/null
}

)bash";

// bash cuts "--for=owner" into three words at the equals sign, and so "tap_w=5".
constexpr const char* reading = R"bash(
    # `given` are the arguments before the one being typed; `asked` is the option whose value is being typed.
    local i item given=() asked=""
    for ((i = 2; i < COMP_CWORD; ++i)); do
        item="${COMP_WORDS[i]}"
        if [[ $item == "=" ]]; then
            continue
        elif [[ -n $asked ]]; then
            asked=""
        elif [[ " $with_value " == *" $item "* ]]; then
            asked="$item"
        elif [[ $item != --* ]]; then
            given+=("$item")
        fi
    done
    if [[ $word == "=" || ${COMP_WORDS[COMP_CWORD - 1]} == "=" ]]; then
        if [[ -z $asked ]]; then return; fi
        word="${word#=}"
    fi
)bash";

}  // namespace

std::string bash_completion() {
    std::string text = helpers;
    text += "# Offers the fields of a kind of records.\n_tapwright_fields() {\n    case \"$1\" in\n" +
            fields_of_kinds() + "    esac\n}\n\n_tapwright() {\n" + lists();
    text += R"bash(    local word="${COMP_WORDS[COMP_CWORD]}" command="${COMP_WORDS[1]}" options="" with_value=""
    COMPREPLY=()
    if ((COMP_CWORD == 1)); then
        _tapwright_files tapjob
        local files=("${COMPREPLY[@]}")
        _tapwright_words "$commands $general"
        COMPREPLY+=("${files[@]}")
        return
    fi
    case "$command" in
)bash" + options_of_commands() +
            "    esac\n" + reading + "    case \"$command $asked\" in\n" + values_of_options() + R"bash(    esac
    if [[ -n $asked ]]; then return; fi
    if [[ $word == -* ]]; then
        _tapwright_words "$options"
        return
    fi
    case "$command" in
)bash" + arguments_of_commands() +
            "    esac\n}\n\ncomplete -F _tapwright tapwright\n";
    return text;
}

}  // namespace tapwright::package
