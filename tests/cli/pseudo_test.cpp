// The command line in the pseudo-language: what is printed for people has come through a Message, all of it.
#include "tests/cli/pseudo.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "core/job/json.h"
#include "core/words/words.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

using Texts = std::vector<std::string>;

constexpr const char* command_names[] = {"new",    "import",  "export", "check", "solve", "add",    "set",
                                         "remove", "read",    "survey", "trial", "fit",   "photo",  "sheet",
                                         "labels", "history", "undo",   "redo",  "seal",  "verify", "help",
                                         "list",   "show",    "cable",  "faults"};

// The demo job, and every call of the program in the pseudo-language.
class PseudoDemo {
public:
    PseudoDemo() {
        const std::string in = std::string(TAPWRIGHT_SOURCE_DIR) + "/assets/demo.json";
        REQUIRE(run_in("en", {"import", in, file}).status == 0);
        const Result<Value> job = parse_json(read_bytes(in), in);
        REQUIRE(job.ok());
        known_ = names_in(*job);
        known_.insert({"tapwright", "tapwright:", "--json", "Ana"});
    }

    Ran run_in(const char* language, const Texts& call) const {
        return tapwright::test::tapwright(folder_.path().string(), call, language);
    }
    // What no translator would see of what the call prints for people.
    Texts untranslated(const Texts& call, int status) const {
        const Ran ran = run_in("pseudo", call);
        CAPTURE(call);
        CAPTURE(ran.out);
        CAPTURE(ran.err);
        CHECK(ran.status == status);
        const std::string said = ran.out + ran.err;
        CHECK(said.find("«") != std::string::npos);
        std::set<std::string> known = known_;
        known.insert(call.begin(), call.end());
        return untranslated_words(said, known);
    }
    // Command words of the help.
    void know(const Texts& words) { known_.insert(words.begin(), words.end()); }
    std::string path(const std::string& name) const { return folder_.file(name); }

private:
    TemporaryFolder folder_;
    std::set<std::string> known_;

public:
    std::string file = path("demo.tapjob");
};

}  // namespace

TEST_CASE("the check of the pseudo-language finds what has not come through a message") {
    CHECK(outside_marks("«óuţ «ïiñ» óuţ» left") == " left");
    CHECK(outside_marks("«open") == "«open");
    CHECK(outside_marks("closed»") == "closed»");
    const std::set<std::string> known{"Foyer", "Main hall", "p1"};
    CHECK(untranslated_words("  Foyer   70.7 V   \u22120.5 dB   «ýyéeš»  12 %", known).empty());
    CHECK(untranslated_words("Main hall: «A «5 W» B», 83.3 Ω", known).empty());
    CHECK(untranslated_words("«éeñd» Main", known) == Texts{"Main"});
    CHECK(untranslated_words("Foyers p1x", known) == Texts{"Foyers", "p1x"});
    CHECK(untranslated_words("«ţóoţáaĺ»: unknown", known) == Texts{"unknown"});
    CHECK(untranslated_words("5 W left", known) == Texts{"left"});
    CHECK(untranslated_words("«ţóo much", known).size() == 2);
    CHECK(names_in(Map{{"rooms", List{Map{{"id", "r1"}, {"name", "Hall"}, {"use", "speaker"}}}}}) ==
          std::set<std::string>{"r1", "Hall"});
}

TEST_CASE("help is in the person's language, of every command") {
    PseudoDemo demo;
    demo.know({"full|left", "square|staggered", "touching|gapless|double", "fewest|level|wanted", "set|plan",
               "owner|technician", "a4|letter", "ohms|dc_ohms|heard|tap_w"});
    demo.know(Texts(std::begin(command_names), std::end(command_names)));
    for (const char* option :
         {"--name",     "--line-v",  "--person", "--visit", "--why",   "--hz",     "--knobs",  "--grid",
          "--rule",     "--wanted",  "--margin", "--zone",  "--add",   "--aim",    "--room",   "--from",
          "--for",      "--paper",   "--size",   "--most",  "--state", "--window", "--help",   "--version",
          "--replace",  "--without", "--leave",  "--keep",  "--real",  "--load",   "--length", "--volts",
          "--limit-db", "--csv",     "--cable",  "--with",  "--only",  "--equal"})
        demo.know({option});
    CHECK(demo.untranslated({"help"}, 0) == Texts{});
    CHECK(demo.untranslated({"--help"}, 0) == Texts{});
    for (const char* name : command_names) CHECK(demo.untranslated({"help", name}, 0) == Texts{});
}

TEST_CASE("what is shown of a job is in the person's language") {
    PseudoDemo demo;
    CHECK(demo.untranslated({"check", demo.file}, 0) == Texts{});
    CHECK(demo.untranslated({"check", demo.file, "--why"}, 0) == Texts{});
    CHECK(demo.untranslated({"solve", demo.file}, 0) == Texts{});
    CHECK(demo.untranslated({"trial", demo.file, "tr-1"}, 0) == Texts{});
    CHECK(demo.untranslated({"history", demo.file}, 0) == Texts{});
    CHECK(demo.untranslated({"list", demo.file, "zones"}, 0) == Texts{});
    CHECK(demo.untranslated({"survey", demo.file, "r-foyer", "t-c165"}, 0) == Texts{});
    CHECK(demo.untranslated({"fit", demo.file, "z-1", "--add", "t-c165x2"}, 0) == Texts{});
    CHECK(demo.untranslated({"fit", demo.file, "z-1", "--add", "t-c165x100"}, 0) == Texts{});
    CHECK(demo.untranslated({"faults", demo.file, "z-1", "--with", "C-104:heard=ok"}, 0) == Texts{});
    CHECK(demo.untranslated({"faults", demo.file, "z-7"}, 0) == Texts{});
}

TEST_CASE("what was done is said in the person's language") {
    PseudoDemo demo;
    CHECK(demo.untranslated({"new", demo.path("new.tapjob"), "--name", "New"}, 0) == Texts{});
    CHECK(demo.untranslated({"add", demo.file, "room", "name=Store", "--person", "Ana"}, 0) == Texts{});
    CHECK(demo.untranslated({"set", demo.file, "r-foyer", "height_m=3.1", "--person", "Ana"}, 0) == Texts{});
    CHECK(demo.untranslated({"set", demo.file, "r-foyer", "height_m=3.1", "--person", "Ana"}, 0) == Texts{});
    CHECK(demo.untranslated({"undo", demo.file, "--person", "Ana"}, 0) == Texts{});
    CHECK(demo.untranslated({"redo", demo.file, "--person", "Ana"}, 0) == Texts{});
    CHECK(demo.untranslated({"remove", demo.file, "n-1"}, 0) == Texts{});
    CHECK(demo.untranslated({"read", demo.file, "z-1", "ohms=118", "dry", "--why"}, 0) == Texts{});
    CHECK(demo.untranslated({"read", demo.file, "z-1", "ohms=80"}, 0) == Texts{});
    CHECK(demo.untranslated({"export", demo.file, demo.path("demo.json")}, 0) == Texts{});
    CHECK(demo.untranslated({"export", demo.file, demo.path("demo")}, 0) == Texts{});
    CHECK(demo.untranslated({"import", demo.path("demo.json"), demo.path("again.tapjob")}, 0) == Texts{});
    const Value sheet = json_of(demo.run_in("en", {"sheet", demo.file, demo.path("sheet.html"), "--json"}));
    CHECK(demo.untranslated({"verify", demo.file, "--state", *sheet.find("state").text()}, 0) == Texts{});
    CHECK(demo.untranslated({"seal", demo.file, demo.path("sealed.tapjob")}, 0) == Texts{});
    CHECK(demo.untranslated({"verify", demo.file}, 0) == Texts{});
    CHECK(demo.untranslated({"labels", demo.file, demo.path("labels.html")}, 0) == Texts{});
    CHECK(demo.untranslated({"sheet", demo.file, demo.path("sheet.html"), "--replace"}, 0) == Texts{});
}

TEST_CASE("what is refused is said in the person's language") {
    PseudoDemo demo;
    const std::vector<Texts> calls = {
        {"nothing"},
        {"help", "nothing"},
        {"chekc", demo.file},
        {"check"},
        {"check", demo.file, "--nothing"},
        {"check", demo.file, "--json=yes"},
        {"solve", demo.file, "--hz"},
        {"solve", demo.file, "--hz", "fast"},
        {"solve", demo.file, "--hz", "0"},
        {"solve", demo.file, "--knobs", "half"},
        {"solve", demo.file, "--knobs", "full", "--knobs", "left"},
        {"new", demo.path("other.tapjob")},
        {"add", demo.file, "thing"},
        {"add", demo.file, "room", "name"},
        {"add", demo.file, "room", "name=a", "name=b"},
        {"set", demo.file, "no id", "name=a"},
        {"set", demo.file, "no-such-id", "name=a"},
        {"read", demo.file, "z-1", "often"},
        {"read", demo.file, "z-1", "colour=red"},
        {"read", demo.file, "z-1", "ohms="},
        {"survey", demo.file, "no-such-id", "t-c165"},
        {"survey", demo.file, "r-foyer", "t-c165", "--wanted", "200"},
        {"survey", demo.file, "r-foyer", "t-c165", "--grid", "round"},
        {"fit", demo.file, "z-1", "--add", "many"},
        {"fit", demo.file, "z-1", "--add", "t-c165x0"},
        {"fit", demo.file, "no-such-id", "--add", "t-c165x1"},
        {"photo", demo.file, "no-such-id", "a.jpg"},
        {"photo", demo.file, "r-foyer", "a.jpg", "colour=red"},
        {"sheet", demo.file, "sheet.txt"},
        {"sheet", demo.file, "sheet.pdf", "--for", "nobody"},
        {"labels", demo.file, "labels.pdf", "--paper", "a9"},
        {"history", demo.file, "--most", "0"},
        {"verify", demo.file, "--state", "xyz"},
        {"undo", demo.file, "--person", "Nobody"},
        {"undo", demo.file, "--visit", "no id"},
        {"remove", demo.file, "z-1"},
        {"trial", demo.file, "no-such-file.json"},
        {"check", "no-such-file.tapjob"},
        {"import", demo.file, demo.path("new.tapjob")},
        {"set", demo.file, "r-foyer", "height_m=tall"},
        {"set", demo.file, "r-foyer", "hight_m=3"},
        {"verify", demo.file, "--state", "00000000"},
    };
    for (const Texts& call : calls) CHECK(demo.untranslated(call, 2) == Texts{});
}
