#include "platform/cli/command.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "core/base/text.h"
#include "platform/system/settings.h"
#include "core/words/words.h"
#include "platform/system/version.h"

namespace tapwright::cli {
namespace {

constexpr OptionInfo json_option{"--json", "", "for machines: JSON on standard output"};
constexpr OptionInfo person_option{"--person", "NAME", "who does it (else as in your settings)"};
constexpr OptionInfo visit_option{"--visit", "ID", "during which visit of the job"};

constexpr std::size_t any_number = 100000;

const std::vector<CommandInfo>& table() {
    static const std::vector<CommandInfo> list = {
        {"new",
         "FILE",
         "makes an empty job file",
         {{"--name", "N", "what the job is called"},
          {"--line-v", "V", "line voltage, 70.7 where nothing is said"},
          person_option},
         1,
         1,
         make_new},
        {"import", "IN.json FILE", "makes a job file from JSON", {person_option}, 2, 2, import_job},
        {"export", "FILE OUT", "writes everything: OUT.json, or a folder for CSV", {}, 2, 2, export_job},
        {"check", "FILE", "loads, headroom and findings", {json_option}, 1, 1, check_job},
        {"solve",
         "FILE",
         "every voltage and watt on the line",
         {{"--hz", "F", "at a frequency, where a transformer model is given"},
          {"--knobs", "full|left", "attenuators at 0 dB, or as left (left)"},
          json_option},
         1,
         1,
         solve_job},
        {"add",
         "FILE KIND field=value ...",
         "adds a record",
         {json_option, person_option, visit_option},
         2,
         any_number,
         add_record},
        {"set",
         "FILE ID field=value ...",
         "sets fields of a record; an empty value clears one",
         {json_option, person_option, visit_option},
         3,
         any_number,
         set_record},
        {"remove",
         "FILE ID",
         "removes a record; what hangs on a point is fed from its feed instead",
         {json_option, person_option, visit_option},
         2,
         2,
         remove_record},
        {"read",
         "FILE AT ohms=92.5 [hz=] [dry]",
         "records a reading and judges it; with `dry` it is only judged",
         {json_option, person_option, visit_option},
         3,
         any_number,
         take_reading},
        {"survey",
         "FILE ROOM TYPE",
         "how many loudspeakers of a type a room takes, where, on which tap",
         {{"--pattern", "square|hexagonal", "how they are laid out (square)"},
          {"--overlap", "edge|minimum|centre", "how far their circles overlap (minimum)"},
          {"--wanted", "DB", "the level wanted at the ears (the room's)"},
          {"--margin", "DB", "over the room's noise, where no level is given (10)"},
          {"--zone", "ID", "for which zone's line voltage (the one that serves the room)"},
          json_option},
         3,
         3,
         survey_room},
        {"trial",
         "FILE CHANGES.json",
         "what changes would lead to, beside the job; or a trial kept in it, by its id",
         {json_option},
         2,
         2,
         try_changes},
        {"fit",
         "FILE ZONE --add TYPExN[@W] ...",
         "tap settings that make room in a zone for what is to be added",
         {{"--add", "TYPExN[@W]", "what is to be added, on which tap (any); may stand several times", true},
          {"--aim", "fewest|level|wanted", "fewest ladders, levels closest to today's or to those wanted (all three)"},
          {"--room", "ID", "the room they hang in, for the level wanted there"},
          {"--from", "ID", "the point of the zone they are fed from (the zone itself)"},
          json_option},
         2,
         any_number,
         fit_zone},
        {"photo",
         "FILE ABOUT IMAGE [caption=] [share=]",
         "adds a JPEG or PNG about a record; the same twice is kept once",
         {json_option, person_option, visit_option},
         3,
         7,
         take_photo},
        {"sheet",
         "FILE OUT.pdf|OUT.html",
         "writes the handover sheet",
         {{"--for", "owner|technician", "who is to read it (technician)"},
          {"--paper", "a4|letter", "paper size (a4)"},
          json_option,
          person_option,
          visit_option},
         2,
         2,
         write_sheet},
        {"labels",
         "FILE OUT.pdf|OUT.html",
         "writes labels to cut out, for both ends of every run",
         {{"--size", "S", "small, medium, large or 60x25 in millimetres (medium)"},
          {"--zone", "ID", "only this zone"},
          {"--paper", "a4|letter", "paper size (a4)"},
          json_option},
         2,
         2,
         write_labels},
        {"history",
         "FILE",
         "who changed what, when; the latest first",
         {{"--most", "N", "how many (50)"}, json_option},
         1,
         1,
         show_history},
        {"undo", "FILE", "takes back your latest change", {json_option, person_option, visit_option}, 1, 1, undo_batch},
        {"redo", "FILE", "takes back your latest undo", {json_option, person_option, visit_option}, 1, 1, redo_batch},
        {"seal", "FILE OUT", "writes a checked, compacted copy to hand on", {json_option}, 2, 2, seal_job},
        {"verify",
         "FILE",
         "proves that the file is undamaged (not that nobody forged it)",
         {{"--state", "HASH",
           "a sheet's content hash, code or file hash: which state that was, and what changed since"},
          json_option},
         1,
         1,
         verify_job},
        {"help", "[COMMAND]", "this, or one command in full", {}, 0, 1, show_help},
    };
    return list;
}

const OptionInfo* find_option(const CommandInfo& command, std::string_view name) {
    for (const OptionInfo& option : command.options)
        if (option.name == name) return &option;
    return nullptr;
}

std::string known_options(const CommandInfo& command) {
    std::vector<std::string> names;
    for (const OptionInfo& option : command.options) names.emplace_back(option.name);
    return names.empty() ? "it has no options" : "its options are " + list_in_words(names);
}

// "--hz 1000" and "--hz=1000" are the same; "--" ends the options.
Result<Call> parse(const CommandInfo& command, std::span<const std::string> words) {
    Call call;
    bool options_over = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string& word = words[i];
        if (options_over || !word.starts_with("--")) {
            call.arguments.push_back(word);
            continue;
        }
        if (word == "--") {
            options_over = true;
            continue;
        }
        const std::size_t equals = word.find('=');
        const std::string name = word.substr(0, equals);
        const OptionInfo* option = find_option(command, name);
        if (!option)
            return Refusal{std::string(command.name) + " does not know " + cited(name) + "; " + known_options(command) +
                           "."};
        if (call.has(name) && !option->repeats) return Refusal{name + " stands twice; give it once."};
        if (option->value.empty()) {
            if (equals != std::string::npos) return Refusal{name + " takes no value."};
            call.options[name].emplace_back();
        } else if (equals != std::string::npos) {
            call.options[name].push_back(word.substr(equals + 1));
        } else if (i + 1 < words.size()) {
            call.options[name].push_back(words[++i]);
        } else {
            return Refusal{name + " needs a value: " + name + " " + std::string(option->value) + "."};
        }
    }
    if (call.arguments.size() < command.least || call.arguments.size() > command.most)
        return Refusal{"The call is: tapwright " + std::string(command.name) + " " + std::string(command.arguments) +
                       ". `tapwright help " + std::string(command.name) + "` says more."};
    return call;
}

int complain(const std::string& sentence) {
    std::fprintf(stderr, "tapwright: %s\n", sentence.c_str());
    return wrong_call;
}

}  // namespace

std::string Call::option(const std::string& name, const std::string& otherwise) const {
    const auto found = options.find(name);
    return found == options.end() ? otherwise : found->second.front();
}

std::vector<std::string> Call::all(const std::string& name) const {
    const auto found = options.find(name);
    return found == options.end() ? std::vector<std::string>() : found->second;
}

std::span<const CommandInfo> commands() {
    return table();
}

const CommandInfo* find_command(std::string_view name) {
    for (const CommandInfo& command : table())
        if (command.name == name) return &command;
    return nullptr;
}

std::string help_text(const CommandInfo& command) {
    std::string text = "tapwright " + std::string(command.name) + " " + std::string(command.arguments) + "\n    " +
                       std::string(command.help) + ".\n";
    for (const OptionInfo& option : command.options) {
        std::string left =
            "    " + std::string(option.name) + (option.value.empty() ? "" : " ") + std::string(option.value);
        left.resize(std::max<std::size_t>(left.size() + 2, 28), ' ');
        text += left + std::string(option.help) + "\n";
    }
    return text;
}

std::string help_text() {
    std::string text =
        "tapwright COMMAND ...   works on a job file (.tapjob)\ntapwright FILE          opens the window on it\n\n";
    for (const CommandInfo& command : table()) {
        std::string left = "  " + std::string(command.name) + " " + std::string(command.arguments);
        left.resize(std::max<std::size_t>(left.size() + 2, 36), ' ');
        text += left + std::string(command.help) + "\n";
    }
    text += "\n";
    for (const OptionInfo& option : general_options()) {
        std::string left = "  " + std::string(option.name);
        left.resize(36, ' ');
        text += left + std::string(option.help) + "\n";
    }
    text += "\nExit status: ";
    const std::span<const std::string_view> statuses = exit_statuses();
    for (std::size_t i = 0; i < statuses.size(); ++i)
        text += (i == 0 ? "" : "; ") + std::to_string(i) + " " + std::string(statuses[i]);
    return text + ".\n";
}

Result<int> show_help(const Call& call) {
    if (call.arguments.empty()) {
        print(help_text());
        return fine;
    }
    const CommandInfo* command = find_command(call.arguments[0]);
    if (!command) return Refusal{"There is no command " + cited(call.arguments[0]) + "; `tapwright help` lists them."};
    print(help_text(*command));
    return fine;
}

int run(const std::vector<std::string>& arguments) {
    if (arguments.empty() || arguments[0] == "--help" || arguments[0] == "-h") {
        print(help_text());
        return arguments.empty() ? wrong_call : fine;
    }
    if (arguments[0] == "--version") {
        print("tapwright " + std::string(version()) + "\n");
        return fine;
    }
    const CommandInfo* command = find_command(arguments[0]);
    if (!command)
        return complain("There is no command or job file " + cited(arguments[0]) +
                        "; `tapwright help` lists the commands.");
    const Result<Call> call = parse(*command, std::span(arguments).subspan(1));
    if (!call) return complain(in_english(call.refusal()));
    const Result<int> status = command->run(*call);
    return status ? *status : complain(in_english(status.refusal()));
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
        return Refusal{"The person's name is longer than " + std::to_string(most_bytes) +
                       " bytes; give a shorter one."};
    if (!author.visit.empty() && !Id::is_valid(author.visit))
        return Refusal{"--visit " + cited(author.visit) + " is no id; name a visit of the job by its id."};
    return author;
}

Result<Author> author_for(const Call& call, const Session& session) {
    Result<Author> author = author_for(call, session.path());
    if (!author || author->visit.empty() || session.job().has(Kind::visit, Id(author->visit))) return author;
    if (call.has("--visit"))
        return Refusal{"--visit " + cited(author->visit) +
                       " is no visit of this job; `tapwright add FILE visit "
                       "purpose=service` adds one, `tapwright export FILE OUT.json` shows those there are."};
    author->visit.clear();  // remembered, and removed since
    return author;
}

int status_of(const Derived& derived) {
    return derived.has_stop() ? has_stop : fine;
}

void print(std::string_view text) {
    std::fwrite(text.data(), 1, text.size(), stdout);
}

}  // namespace tapwright::cli
