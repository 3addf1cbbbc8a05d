#include "platform/cli/command.h"

#include <cstdio>
#include <filesystem>
#include <new>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/session/session.h"
#include "platform/cli/language.h"
#include "platform/system/settings.h"
#include "platform/system/version.h"

namespace tapwright::cli {
namespace {

const OptionInfo* find_option(const CommandInfo& command, std::string_view name) {
    for (const OptionInfo& option : command.options)
        if (option.name == name) return &option;
    return nullptr;
}

Refusal unknown_option(const CommandInfo& command, const std::string& name) {
    std::vector<Argument> names;
    std::vector<std::string> words;
    for (const OptionInfo& option : command.options) {
        names.emplace_back(code(option.name));
        words.emplace_back(option.name);
    }
    const std::vector<Named> named{{"command", code(command.name)}, {"option", entered(cited(name))}};
    if (names.empty()) return {Message(Pattern("{command} does not know {option}. It has no options."), named)};
    return {sentences({Message("{command} does not know {option}.", named), did_you_mean(name, words),
                       Message("Its options are {options}.", {{"options", series(names)}})})};
}

class Parser {
public:
    Parser(const CommandInfo& command, std::span<const std::string> given) : command_(command), given_(given) {}

    // "--hz 1000" and "--hz=1000" are the same; "--" ends the options.
    Result<Call> parse() {
        bool options_over = false;
        for (std::size_t i = 0; i < given_.size(); ++i) {
            const std::string& word = given_[i];
            if (options_over || !word.starts_with("--"))
                call_.arguments.push_back(word);
            else if (word == "--")
                options_over = true;
            else if (const Result<void> taken = take_option(word, i); !taken)
                return taken.refusal();
        }
        if (call_.arguments.size() < command_.least || call_.arguments.size() > command_.most) return wrong_number();
        return std::move(call_);
    }

private:
    // `next`: where the option stands; left where its value does.
    Result<void> take_option(const std::string& word, std::size_t& next) {
        const std::size_t equals = word.find('=');
        const std::string name = word.substr(0, equals);
        const OptionInfo* option = find_option(command_, name);
        if (!option) return unknown_option(command_, name);
        if (call_.has(name) && !option->repeats) return given_twice(name);
        std::vector<std::string>& values = call_.options[name];
        if (option->value.is_none()) {
            if (equals != std::string::npos)
                return Refusal{Message("{option} takes no value. Leave it out.", {{"option", code(name)}})};
            values.emplace_back();
        } else if (equals != std::string::npos) {
            values.push_back(word.substr(equals + 1));
        } else if (next + 1 < given_.size()) {
            values.push_back(given_[++next]);
        } else {
            const OptionValue& value = option->value;
            return Refusal{Message("{option} needs a value: {option} {value}.",
                                   {{"option", code(name)},
                                    {"value", value.choices.empty() ? Argument(Message(value.placeholder))
                                                                    : Argument(code(value.choices))}})};
        }
        return done();
    }

    Refusal wrong_number() const {
        const std::string name(command_.name);
        return {Message("The call is: {call} {arguments}. {help} says more.",
                        {{"call", code("tapwright " + name)},
                         {"arguments", Message(command_.arguments)},
                         {"help", code("`tapwright help " + name + "`")}})};
    }

    const CommandInfo& command_;
    std::span<const std::string> given_;
    Call call_;
};

// Whether --json stands among the options of a call, which may be one that cannot be understood.
bool wants_json(std::span<const std::string> given) {
    for (const std::string& word : given) {
        if (word == "--") return false;
        if (word == "--json") return true;
    }
    return false;
}

// Whether a command's own help is asked for.
bool wants_help(std::span<const std::string> given) {
    for (const std::string& word : given) {
        if (word == "--") return false;
        if (word == "--help" || word == "-h") return true;
    }
    return false;
}

// For machines: {error, at}. `at` is where, as far as the sentence has a place of its own: "/points/3/tap_w", "--hz".
void complain_to_machine(const Refusal& why) {
    const Message& said = why.message.sentences().size() == 1 ? why.message.sentences().front() : why.message;
    const Argument* place = said.find("place");
    const bool is_placed = place && said.find("problem");
    const Value at = is_placed ? Value(in_english(Message(*place))) : Value();
    std::fprintf(stderr, "%s\n", answer_json(Map{{"error", in_english(why)}, {"at", at}}).c_str());
}

// How one run of the program answers: in words, and for machines in JSON too.
struct Answer {
    const Words& words;
    bool json = false;
    std::uint64_t kept_before = 0;  // Session::changes_kept() at the start

    bool is_kept() const { return Session::changes_kept() > kept_before; }
    int complain(const Refusal& why) const {
        const Refusal told{is_kept() ? sentences({Message("The change is kept in the job file."), why.message})
                                     : why.message};
        cli::complain(words, json, told);
        return is_kept() ? kept_untold : wrong_call;
    }
    // The exit status, once all that was printed has arrived.
    int end(int status) const {
        const Result<void> printed = print_rest();
        return printed ? status : complain(printed.refusal());
    }
};

}  // namespace

void complain(const Words& words, bool json, const Refusal& why) {
    if (json)
        complain_to_machine(why);
    else
        remark(words, why.message);
}

std::string Call::option(const std::string& name, const std::string& otherwise) const {
    const auto found = options.find(name);
    return found == options.end() ? otherwise : found->second.front();
}

std::vector<std::string> Call::all(const std::string& name) const {
    const auto found = options.find(name);
    return found == options.end() ? std::vector<std::string>() : found->second;
}

Words Call::words_for(const Job& job) const {
    return words.in(length_units(job));
}

namespace {

int run_call(const std::vector<std::string>& arguments, std::uint64_t kept_before) {
    const Words words = Words(language_of_environment()).on_one_line();
    const Answer answer{words, wants_json(arguments), kept_before};
    if (arguments.empty() || arguments[0] == "--help" || arguments[0] == "-h") {
        print(help_text(words));
        return answer.end(arguments.empty() ? wrong_call : fine);
    }
    if (arguments[0] == "--version") {
        print("tapwright " + std::string(version()) + "\n");
        return answer.end(fine);
    }
    const CommandInfo* command = find_command(arguments[0]);
    if (!command) return answer.complain(no_command(arguments[0], true));
    const std::span<const std::string> given = std::span(arguments).subspan(1);
    if (wants_help(given)) {
        print(help_text(words, *command));
        return answer.end(fine);
    }
    Result<Call> call = Parser(*command, given).parse();
    if (!call) return answer.complain(call.refusal());
    call->words = words;
    const Result<int> status = command->run(*call);
    return status ? answer.end(*status) : answer.complain(status.refusal());
}

}  // namespace

// By the time the sentence is made, all that the command held is given back.
int run(const std::vector<std::string>& arguments) {
    const std::uint64_t kept_before = Session::changes_kept();
    try {
        return run_call(arguments, kept_before);
    } catch (const std::bad_alloc&) {
        const Words words(language_of_environment());
        const Answer answer{words, wants_json(arguments), kept_before};
        return answer.complain(Refusal{
            answer.is_kept() ? Message("There is not enough memory for the answer.")
                             : Message("There is not enough memory for this. The job file is undamaged: close other "
                                       "programs, or split the job, and try again.")});
    }
}

Result<Author> author_for(const Call& call, const std::string& file) {
    const Result<Settings> settings = load_settings();
    if (!settings) return settings.refusal();
    Author author{call.option("--person", settings->person), call.option("--visit")};
    std::error_code error;
    const std::string path = std::filesystem::absolute(file, error).lexically_normal().string();
    if (!call.has("--visit"))
        if (const auto visit = settings->visits.find(path); visit != settings->visits.end())
            author.visit = visit->second;
    constexpr std::size_t most_bytes = 400;
    if (author.person.size() > most_bytes)
        return Refusal{Message("Your name is longer than {most} bytes. Give a shorter one.", {{"most", most_bytes}})};
    if (!author.visit.empty() && !Id::is_valid(author.visit)) return placed(code("--visit"), no_id(author.visit));
    return author;
}

Result<Author> author_for(const Call& call, const Session& session) {
    Result<Author> author = author_for(call, session.path());
    if (!author || author->visit.empty() || session.job().has(Kind::visit, Id(author->visit))) return author;
    if (call.has("--visit"))
        return Refusal{Message("This job has no visit {visit}. {add} adds one, {export} shows those there are.",
                               {{"visit", entered(cited(author->visit))},
                                {"add", code("`tapwright add FILE visit purpose=service`")},
                                {"export", code("`tapwright export FILE OUT.json`")}})};
    author->visit.clear();  // remembered, and removed since
    return author;
}

int status_of(const Derived& derived) {
    return derived.has_stop() ? has_stop : fine;
}

}  // namespace tapwright::cli
