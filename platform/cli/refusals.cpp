// What several commands refuse in the same words.
#include "core/base/text.h"
#include "platform/cli/command.h"

namespace tapwright::cli {

Refusal no_id(const std::string& text) {
    return {
        Message("\"{text}\" is not an id. An id has 1 to 40 of the characters A-Z a-z 0-9 _ -; {export} shows those of "
                "the job.",
                {{"text", entered(cited(text))}, {"export", code("`tapwright export FILE OUT.json`")}})};
}

Refusal no_record(const std::string& text) {
    return {Message("There is no record with the id {id} in this job. {export} shows all of them.",
                    {{"id", entered(cited(text))}, {"export", code("`tapwright export FILE OUT.json`")}})};
}

Refusal given_twice(const std::string& name) {
    return {Message("{name} given twice. Give it once.", {{"name", code(name)}})};
}

Refusal none_of(const std::string& option, const std::string& given, const std::vector<std::string_view>& choices) {
    std::vector<Argument> words;
    for (const std::string_view choice : choices) words.emplace_back(code(choice));
    return {
        Message("{option} cannot be \"{given}\". Use {choices}.", {{"option", code(option)},
                                                                   {"given", entered(cited(given))},
                                                                   {"choices", series(words, Series::Last::with_or)}})};
}

}  // namespace tapwright::cli
