// What bash offers, asked as bash itself asks: by the words of the line so far, the last one being typed.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "core/job/field_table.h"
#include "platform/cli/command.h"
#include "tests/package/shell.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

using WordList = std::vector<std::string>;

// A folder with files to choose from.
class Folder {
public:
    Folder() {
        std::filesystem::create_directory(place_.path() / "jobs");
        for (const char* name :
             {"hall.tapjob", "old wing.tapjob", "plan.json", "points.csv", "sheet.pdf", "sheet.html", "notes.txt"})
            std::ofstream(place_.path() / name) << "x";
    }

    // Returns: what is offered, sorted. bash makes "=" a word of its own.
    WordList offered(const WordList& words) const {
        std::string line = "cd " + as_word(place_.path().string()) + " && source " + as_word(made("completion")) +
                           " && COMP_WORDS=(tapwright";
        for (const std::string& word : words) line += " " + as_word(word);
        line += ") COMP_CWORD=" + std::to_string(words.size()) + " && _tapwright; printf '%s\\n' \"${COMPREPLY[@]}\"";
        const Said said = run_line(line);
        CHECK(said.status == 0);
        WordList offers;
        for (std::size_t start = 0; start < said.text.size();) {
            const std::size_t end = std::min(said.text.find('\n', start), said.text.size());
            if (end > start) offers.push_back(said.text.substr(start, end - start));
            start = end + 1;
        }
        std::sort(offers.begin(), offers.end());
        return offers;
    }

private:
    TemporaryFolder place_;
};

}  // namespace

TEST_CASE("the completion is sound bash and belongs to tapwright") {
    CHECK(run_line("bash -n " + as_word(made("completion"))).text == "");
    CHECK(run_line("source " + as_word(made("completion")) + " && complete -p tapwright").text ==
          "complete -F _tapwright tapwright\n");
}

TEST_CASE("commands are offered, and job files for the window") {
    const Folder folder;
    CHECK(folder.offered({"che"}) == WordList{"check"});
    CHECK(folder.offered({"--v"}) == WordList{"--version"});
    CHECK(folder.offered({"ha"}) == WordList{"hall.tapjob"});
    CHECK(folder.offered({"help", "che"}) == WordList{"check"});
    CHECK(folder.offered({"nonsense", ""}).empty());
    const WordList all = folder.offered({""});
    for (const cli::CommandInfo& command : cli::commands())
        CHECK_MESSAGE(std::binary_search(all.begin(), all.end(), command.name), command.name);
}

TEST_CASE("a table of points is offered behind --csv, and a job behind cable") {
    const Folder folder;
    CHECK(folder.offered({"add", "hall.tapjob", "points", "--csv", ""}) == WordList{"jobs", "points.csv"});
    CHECK(folder.offered({"cable", "ha"}) == WordList{"hall.tapjob"});
}

TEST_CASE("the options of a command are those of the table") {
    const Folder folder;
    for (const cli::CommandInfo& command : cli::commands()) {
        CAPTURE(command.name);
        WordList options;
        for (const cli::OptionInfo& option : command.options) options.emplace_back(option.name);
        std::sort(options.begin(), options.end());
        CHECK(folder.offered({std::string(command.name), "--"}) == options);
    }
}

TEST_CASE("an option that has a choice of values offers them, wherever it stands and however it is written") {
    const Folder folder;
    const WordList readers = {"owner", "technician"};
    CHECK(folder.offered({"sheet", "--for", ""}) == readers);
    CHECK(folder.offered({"sheet", "hall.tapjob", "sheet.pdf", "--paper", "a4", "--for", ""}) == readers);
    CHECK(folder.offered({"sheet", "--for", "="}) == readers);
    CHECK(folder.offered({"sheet", "--for", "=", "o"}) == WordList{"owner"});
    CHECK(folder.offered({"sheet", "--person", ""}).empty());
}

TEST_CASE("files are offered by the endings a command takes, with folders to look into") {
    const Folder folder;
    CHECK(folder.offered({"check", ""}) == WordList{"hall.tapjob", "jobs", "old wing.tapjob"});
    CHECK(folder.offered({"import", ""}) == WordList{"jobs", "plan.json"});
    CHECK(folder.offered({"sheet", "hall.tapjob", ""}) == WordList{"jobs", "sheet.html", "sheet.pdf"});
    CHECK(folder.offered({"sheet", "--for", "owner", "hall.tapjob", "sheet.p"}) == WordList{"sheet.pdf"});
    CHECK(folder.offered({"sheet", "--for", "=", "owner", "hall.tapjob", "sheet.p"}) == WordList{"sheet.pdf"});
    CHECK(folder.offered({"export", "hall.tapjob", "no"}) == WordList{"notes.txt"});
    CHECK(folder.offered({"check", "hall.tapjob", ""}).empty());
}

TEST_CASE("kinds of records and their fields are offered") {
    const Folder folder;
    CHECK(folder.offered({"add", "hall.tapjob", "zo"}) == WordList{"zone"});
    WordList names;
    for (const FieldInfo& field : fields(Kind::zone)) names.push_back(std::string(field.name) + "=");
    std::sort(names.begin(), names.end());
    CHECK(folder.offered({"add", "hall.tapjob", "zone", ""}) == names);
    CHECK(folder.offered({"add", "hall.tapjob", "zone", "name", "=", "Hall", ""}) == names);
    CHECK(folder.offered({"add", "hall.tapjob", "zone", "name", "=", ""}).empty());
    CHECK(folder.offered({"read", "hall.tapjob", "z-2", "oh"}) == WordList{"ohms="});
}
