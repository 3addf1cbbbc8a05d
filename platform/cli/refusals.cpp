// What several commands refuse in the same words.
#include <algorithm>

#include "core/base/harmless.h"
#include "core/base/text.h"
#include "core/job/field_table.h"
#include "platform/cli/command.h"

namespace tapwright::cli {
namespace {

// How many letters must be put in, taken out, exchanged or swapped with their neighbour to make one of the other
// (Damerau 1964, optimal string alignment). Bytes, small letters: commands, keys and most labels are ASCII.
std::size_t slips_between(const std::string& a, const std::string& b) {
    std::vector<std::vector<std::size_t>> least(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) least[i][0] = i;
    for (std::size_t j = 0; j <= b.size(); ++j) least[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i)
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t exchanged = least[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            least[i][j] = std::min({least[i - 1][j] + 1, least[i][j - 1] + 1, exchanged});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                least[i][j] = std::min(least[i][j], least[i - 2][j - 2] + 1);
        }
    return least[a.size()][b.size()];
}

}  // namespace

bool has_ending(std::string_view file, std::string_view ending) {
    return file.size() >= ending.size() && in_small_letters(file.substr(file.size() - ending.size())) == ending;
}

std::string shell_word(const std::string& file) {
    const auto is_plain = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
               std::string_view("_-./+,:@%").find(c) != std::string_view::npos;
    };
    if (file.empty() || file.find('`') != std::string::npos || harmless(file, Breaks::shown) != file) return "FILE";
    std::string word = file.starts_with('-') ? "./" + file : file;  // no option
    if (std::all_of(word.begin(), word.end(), is_plain)) return word;
    std::string quoted = "'";
    for (const char c : word) quoted += c == '\'' ? "'\\''" : std::string(1, c);
    return quoted + "'";
}

Refusal no_id(const std::string& text) {
    return {
        Message("\"{text}\" is not an id. An id has 1 to 40 of the characters A-Z a-z 0-9 _ -; {list} shows those of "
                "the job.",
                {{"text", entered(cited(text))}, {"list", code("`tapwright list FILE`")}})};
}

Refusal no_record(const std::string& text, KindSet kinds) {
    const std::vector<Named> named{{"name", entered(cited(text))}, {"list", code("`tapwright list FILE`")}};
    if (kinds.is_any())
        return {Message(Pattern("There is no record with the id, label or name {name} in this job. {list} shows all of "
                                "them."),
                        named)};
    std::vector<Argument> titles;
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kinds.has(kind_at(i))) titles.emplace_back(title_of(kind_at(i)));
    return {Message("{kinds}: this job has none with the id, label or name {name}. {list} shows what there is.",
                    {{"name", entered(cited(text))},
                     {"kinds", series(titles, Series::Last::with_or)},
                     {"list", code("`tapwright list FILE`")}})};
}

Refusal no_command(const std::string& name, bool or_file) {
    std::vector<std::string> words;
    for (const CommandInfo& command : commands()) words.emplace_back(command.name);
    const std::vector<Named> named{{"name", entered(cited(name))}};
    return {sentences({or_file ? Message("There is no command or job file {name}.", named)
                               : Message("There is no command {name}.", named),
                       did_you_mean(name, words),
                       Message("{help} lists the commands.", {{"help", code("`tapwright help`")}})})};
}

Refusal given_twice(const std::string& name) {
    return {Message("{name} given twice. Give it once.", {{"name", code(name)}})};
}

Message did_you_mean(std::string_view given, const std::vector<std::string>& words) {
    constexpr std::size_t longest = 60;
    if (given.empty() || given.size() > longest) return {};
    const std::string wanted = in_small_letters(given);
    const std::size_t most = wanted.size() < 3 ? 0 : wanted.size() < 6 ? 1 : 2;
    std::size_t least = most + 1;
    const std::string* best = nullptr;
    bool is_tie = false;
    for (const std::string& word : words) {
        if (word.size() > wanted.size() + most || word.size() + most < wanted.size()) continue;
        const std::size_t slips = slips_between(wanted, in_small_letters(word));
        if (slips < least) is_tie = false;
        if (slips == least && best && *best != word) is_tie = true;
        if (slips >= least) continue;
        least = slips;
        best = &word;
    }
    if (!best || is_tie || least > most) return {};
    return Message("Did you mean {word}?", {{"word", code(*best)}});
}

Refusal no_field(Kind kind, const std::string& name) {
    std::vector<Argument> known;
    std::vector<std::string> words;
    for (const FieldInfo& field : fields(kind)) {
        known.emplace_back(code(field.name));
        words.emplace_back(field.name);
    }
    return {sentences(
        {Message("{kind} has no field {name}.", {{"kind", code(singular(kind))}, {"name", entered(cited(name))}}),
         did_you_mean(name, words), Message("Its fields are {fields}.", {{"fields", series(known)}})})};
}

Refusal none_of(const std::string& option, const std::string& given, const std::vector<std::string_view>& choices) {
    std::vector<Argument> told;
    std::vector<std::string> words;
    for (const std::string_view choice : choices) {
        told.emplace_back(code(choice));
        words.emplace_back(choice);
    }
    return {sentences(
        {Message("{option} cannot be \"{given}\".", {{"option", code(option)}, {"given", entered(cited(given))}}),
         did_you_mean(given, words), Message("Use {choices}.", {{"choices", series(told, Series::Last::with_or)}})})};
}

}  // namespace tapwright::cli
