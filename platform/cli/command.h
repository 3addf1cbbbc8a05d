// The command table: the one list of what `tapwright COMMAND ...` can do. Dispatch, help and docs all read it.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/fold.h"
#include "core/base/result.h"
#include "core/session/session.h"
#include "core/words/words.h"

namespace tapwright::cli {

// Exit statuses.
inline constexpr int fine = 0;
inline constexpr int has_stop = 1;    // the job has a stop finding
inline constexpr int wrong_call = 2;  // the call or a file is wrong; nothing was changed
inline constexpr int kept_untold =
    3;  // a change or file was kept; memory, the disk or the output's end kept the rest back

// What a command was called with, and the words in which it answers people. `--json` is in English, whatever they are.
struct Call {
    std::vector<std::string> arguments;                       // without options
    std::map<std::string, std::vector<std::string>> options;  // "--hz" -> {"1000"}; flags -> {""}
    Words words;
    bool has(const std::string& option) const { return options.contains(option); }
    bool json() const { return has("--json"); }
    // The value of an option, or `otherwise`.
    std::string option(const std::string& name, const std::string& otherwise = "") const;
    // The values of one that may be given several times, in order.
    std::vector<std::string> all(const std::string& name) const;
    // With lengths as the job's people read them.
    Words words_for(const Job& job) const;
};

// Runs a command: prints to standard output, returns an exit status, or the message why not.
using Run = Result<int> (*)(const Call& call);

// What stands behind an option: a word for what is to be put there ("NAME"), or the words to choose from, typed as they
// are ("full|left"). Neither: a flag.
struct OptionValue {
    Pattern placeholder{};
    std::string_view choices{};
    constexpr bool is_none() const { return placeholder.empty() && choices.empty(); }
    // In English.
    constexpr std::string_view text() const { return choices.empty() ? std::string_view(placeholder.text) : choices; }
};

struct OptionInfo {
    std::string_view name;  // "--hz"
    OptionValue value;
    Pattern help;
    bool repeats = false;  // may be given several times
};

struct CommandInfo {
    std::string_view name;
    Pattern arguments;  // "FILE KIND field=value ..."
    Pattern help;
    std::vector<OptionInfo> options;
    std::size_t least = 0;  // arguments
    std::size_t most = 0;
    Run run = nullptr;
};

std::span<const CommandInfo> commands();  // table.cpp
const CommandInfo* find_command(std::string_view name);
// What may stand in a command's place: `tapwright --version`.
std::span<const OptionInfo> general_options();
// What an exit status says, from 0 up.
std::span<const Pattern> exit_statuses();

// The whole help, or that of one command: help.cpp.
std::string help_text(const Words& words);
std::string help_text(const Words& words, const CommandInfo& command);
// "--hz F", "--knobs full|left", "--json".
std::string usage_of(const Words& words, const OptionInfo& option);

// Parses and runs `tapwright` with these arguments; messages to standard error. Returns the exit status.
int run(const std::vector<std::string>& arguments);

// ---- what commands share ----

// Person and visit: the options, else the user's settings for that file.
Result<Author> author_for(const Call& call, const std::string& file);
// The same in an open job: a visit that is named is one of the job.
Result<Author> author_for(const Call& call, const Session& session);
// Exit status of a job after a change or check.
int status_of(const Derived& derived);

// ---- what goes in and out (output.cpp) ----

// To standard output: text, in which nothing acts on a terminal (core/base/harmless.h), or a line of its own. What
// fails is told by print_rest().
void print(std::string_view text);
void print_line(const Words& words, const Message& line);
// Hands on what is still held back. Errors: part of what was printed since the start did not arrive.
Result<void> print_rest();
// A line on standard error, for where standard output holds what was asked for.
void remark(const Words& words, const Message& line);
// To standard error what went wrong: in words, or for machines as JSON.
void complain(const Words& words, bool json, const Refusal& why);

// Whether a name on the command line is standard input or output: "-".
bool is_standard(const std::string& name);
// Refuses "-" where a job file must be: that is read and written in places, which no pipe can be.
Result<void> check_job_file(const std::string& name);
// A file that a call names, whole; "-" is standard input. Errors: read_file's.
Result<std::string> read_input(const std::string& name, std::size_t most);
// Whether the call may write there: refuses what exists, unless --replace was given, and "-" together with --json.
Result<void> check_output(const Call& call, const std::string& name);
// Writes what a call names, "-" to standard output. Errors: check_output's and write_file's.
Result<void> write_output(const Call& call, const std::string& name, std::string_view bytes);

// Refusals that several commands give (refusals.cpp).
Refusal no_id(const std::string& text);                     // "x y" is not an id
Refusal no_record(const std::string& text, KindSet kinds);  // no record of these kinds has that id, label or name
Refusal no_command(const std::string& name, bool or_file);
Refusal no_field(Kind kind, const std::string& name);
Refusal given_twice(const std::string& name);
// Requires: `choices` are the words there are.
Refusal none_of(const std::string& option, const std::string& given, const std::vector<std::string_view>& choices);
// "Did you mean zone?": the one of `words` that is least away from what was given, where it is near enough to be a slip
// of the fingers and no other is as near. Else it says nothing.
Message did_you_mean(std::string_view given, const std::vector<std::string>& words);

// Whether a file's name ends so, in whatever capitals: "OUT.PDF". Requires: `ending` is in small letters.
bool has_ending(std::string_view file, std::string_view ending);
// A file as one word of a command that somebody may copy into a shell: quoted where it has to be. FILE where no quoting
// would show it as it is.
std::string shell_word(const std::string& file);

// ---- records by what they are called (named.cpp) ----

// "point", "points": a kind of records.
Result<Kind> kind_named(const std::string& text);

// The record of one of these kinds that somebody means: the one of that id, else the only one of that label or name,
// first to the letter, then whatever the capitals. Nothing where there is none.
// Errors: several are called that; the sentence names them with their ids.
Result<std::optional<Id>> find_record(const Job& job, std::string_view text, KindSet kinds = KindSet::any());
// find_record for thousands of names: looks over the job once. Holds as long as the job, which must not change.
class NameIndex {
public:
    struct Candidate {
        Kind kind = Kind::job;
        Id id;
    };
    explicit NameIndex(const Job& job);
    Result<std::optional<Id>> find(std::string_view text, KindSet kinds) const;

private:
    const Job& job_;
    std::map<std::string, std::vector<Candidate>> by_name_;  // in small letters
};
// The same where one must be. Errors: besides, that there is none.
Result<Id> record_named(const Job& job, std::string_view text, KindSet kinds = KindSet::any());
// The zone that --zone names. Requires: the option is given.
Result<Id> zone_of_option(const Job& job, const Call& call);
// value_from_text, where what refers to records may call them by label or name.
Result<Value> value_for(const Job& job, const FieldInfo& field, std::string_view text);

// A figure as its meter shows it, as fields of a reading: reading.cpp.
Result<void> add_figure(Measured quantity, const std::string& text, Map& fields);

// ---- the commands, by file ----
Result<int> make_new(const Call& call);  // files.cpp
Result<int> import_job(const Call& call);
Result<int> export_job(const Call& call);
Result<int> seal_job(const Call& call);
Result<int> verify_job(const Call& call);
Result<int> take_photo(const Call& call);   // photo.cpp
Result<int> write_sheet(const Call& call);  // sheets.cpp
Result<int> write_labels(const Call& call);
Result<int> add_record(const Call& call);  // changes.cpp
Result<int> add_points(const Call& call);  // points.cpp: add FILE points --csv IN
Result<int> set_record(const Call& call);
Result<int> remove_record(const Call& call);
Result<int> take_reading(const Call& call);  // reading.cpp
Result<int> find_faults(const Call& call);   // faults.cpp
Result<int> show_record(const Call& call);   // records.cpp
Result<int> list_records(const Call& call);
Result<int> check_job(const Call& call);  // shows.cpp
Result<int> solve_job(const Call& call);
Result<int> survey_room(const Call& call);   // survey.cpp
Result<int> try_changes(const Call& call);   // trial.cpp
Result<int> fit_zone(const Call& call);      // fit.cpp
Result<int> ask_cable(const Call& call);     // cable.cpp
Result<int> show_history(const Call& call);  // past.cpp
Result<int> undo_batch(const Call& call);
Result<int> find_state(const Call& call);  // verify --state
Result<int> redo_batch(const Call& call);
Result<int> show_help(const Call& call);  // help.cpp

}  // namespace tapwright::cli
