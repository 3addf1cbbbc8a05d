// What files are called: in answers that somebody may copy into a shell, in whatever capitals, and where a name is that
// of something else.
#include <filesystem>
#include <iterator>

#include "tests/cli/inn.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

// What is said to be typed next, after a reading that does not fit.
std::string next_command(const std::string& name) {
    const Inn inn;
    const std::string file = inn.folder.file(name);
    fs::copy(inn.file, file);
    inn.run(0, {"add", file, "point", "kind=speaker", "label=L-1", "tap_w=6", "fed_from=z1"});
    inn.run(0, {"add", file, "point", "kind=speaker", "label=L-2", "tap_w=6", "fed_from=L-1"});
    const std::string out = inn.run(0, {"read", file, "z1", "ohms=600", "isolated=yes"}).out;
    const std::size_t at = out.find("`tapwright faults ");
    REQUIRE_MESSAGE(at != std::string::npos, out);
    std::string command = out.substr(at + 18, out.find('`', at + 1) - at - 18);
    const std::string folder = inn.folder.path().string() + "/";
    if (const std::size_t found = command.find(folder); found != std::string::npos) command.erase(found, folder.size());
    return command;
}

}  // namespace

TEST_CASE("a_command_to_copy_names_the_file_as_one_word_of_a_shell") {
    CHECK(next_command("b.tapjob") == "b.tapjob z1");
    CHECK(next_command("mill house.tapjob") == "'mill house.tapjob' z1");
    CHECK(next_command("$(touch x);.tapjob") == "'$(touch x);.tapjob' z1");
    CHECK(next_command("o'hara.tapjob") == "'o'\\''hara.tapjob' z1");
    CHECK(next_command("a`b.tapjob") == "FILE z1");
    CHECK(next_command("a\nb.tapjob") == "FILE z1");
    CHECK(next_command("a\x1B[31m.tapjob") == "FILE z1");
}

TEST_CASE("the_ending_of_a_file_counts_in_whatever_capitals") {
    const Inn inn;
    inn.run(0, {"export", inn.file, inn.folder.file("OUT.JSON")});
    CHECK(fs::is_regular_file(inn.folder.file("OUT.JSON")));
    inn.run(0, {"sheet", inn.file, inn.folder.file("OUT.Html")});
    CHECK(has(read_bytes(inn.folder.file("OUT.Html")), "<!DOCTYPE html>"));
    inn.run(0, {"labels", inn.file, inn.folder.file("OUT.PDF")});
    CHECK(read_bytes(inn.folder.file("OUT.PDF")).starts_with("%PDF"));
}

TEST_CASE("an_export_that_replaces_tables_takes_no_job_away_that_is_called_like_one") {
    const Inn inn;
    const std::string out = inn.folder.file("csv");
    inn.run(0, {"export", inn.file, out});
    inn.run(0, {"new", out + "/snags.csv", "--name", "Precious"});
    const std::string before = read_bytes(out + "/snags.csv");
    const std::string tables = read_bytes(out + "/zones.csv");
    inn.run(0, {"set", inn.file, "z1", "name=Annexe"});
    const Ran ran = inn.run(2, {"export", inn.file, out, "--replace"});
    CHECK(ran.err ==
          "tapwright: " + out + "/snags.csv is a job file and is never replaced; choose another file name.\n");
    CHECK(read_bytes(out + "/snags.csv") == before);
    CHECK(read_bytes(out + "/zones.csv") == tables);
    // Nor is it silent about what it cannot take away.
    fs::remove(out + "/snags.csv");
    fs::create_directory(out + "/snags.csv");
    CHECK(has(inn.run(2, {"export", inn.file, out, "--replace"}).err, "snags.csv is a folder"));
    CHECK(read_bytes(out + "/zones.csv") == tables);
    fs::remove(out + "/snags.csv");
    write_bytes(out + "/snags.csv", "of an earlier export");
    inn.run(0, {"export", inn.file, out, "--replace"});
    CHECK_FALSE(fs::exists(out + "/snags.csv"));
}

TEST_CASE("a_job_is_made_imported_and_sealed_in_a_folder_that_is_reached_through_a_link") {
    const Inn inn;
    fs::create_directory(inn.folder.file("stick"));
    fs::create_directory_symlink(inn.folder.file("stick"), inn.folder.file("jobs"));
    inn.run(0, {"new", inn.folder.file("jobs/new.tapjob"), "--name", "x"});
    inn.run(0, {"export", inn.file, inn.folder.file("jobs/a.json")});
    inn.run(0, {"import", inn.folder.file("jobs/a.json"), inn.folder.file("jobs/imported.tapjob")});
    inn.run(0, {"seal", inn.folder.file("jobs/imported.tapjob"), inn.folder.file("jobs/sealed.tapjob")});
    inn.run(0, {"set", inn.folder.file("jobs/sealed.tapjob"), "z1", "name=Annexe"});
    for (const char* name : {"new", "imported", "sealed"})
        inn.run(0, {"verify", inn.folder.file("stick/" + std::string(name) + ".tapjob")});
    CHECK(std::distance(fs::directory_iterator(inn.folder.file("stick")), fs::directory_iterator()) == 4);
}

TEST_CASE("a_photo_record_without_a_file_name_is_refused_for_that_and_no_other_reason") {
    const Inn inn;
    for (const char* name : {"", " ", "\u200b"}) {
        write_bytes(inn.folder.file("in.json"),
                    "{\"tapwright_job\":1,\"job\":{\"name\":\"x\"},\"photos\":[{\"id\":\"f\",\"sha256\":\"" +
                        std::string(64, '0') + "\",\"file\":\"" + name + "\"}]}");
        const Ran ran = inn.run(2, {"import", inn.folder.file("in.json"), inn.folder.file("b.tapjob")});
        CHECK(ran.err == "tapwright: " + inn.folder.file("in.json") +
                             ", at /photos/0/file: It is blank; leave it out while it is unknown.\n");
    }
}

TEST_CASE("how_many_lines_of_history_is_a_whole_number_and_nothing_behind_it") {
    const Inn inn;
    CHECK(json_of(inn.run(0, {"history", inn.file, "--most", "1", "--json"})).find("history").list()->size() == 1);
    CHECK(json_of(inn.run(0, {"history", inn.file, "--most", "1e3", "--json"})).find("history").list()->size() == 2);
    for (const char* most : {"50abc", "5.5", "1,5", "", "0", "-1", "1000001", "0x10", "nan"})
        CHECK(has(inn.run(2, {"history", inn.file, "--most", most}).err, "Give a whole number from 1 to 1000000"));
}

TEST_CASE("a_job_whose_making_was_undone_still_takes_changes_and_its_sheet_is_recorded") {
    const TemporaryFolder folder;
    const std::string file = folder.file("a.tapjob");
    const auto run = [&](const std::vector<std::string>& arguments) {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    };
    REQUIRE(run({"new", file, "--name", "Inn"}).status == 0);
    REQUIRE(run({"undo", file}).status == 1);  // without a name, which is a stop finding
    CHECK(run({"sheet", file, folder.file("a.html")}).status == 0);
    CHECK(run({"add", file, "room", "name=Hall"}).status == 1);
    CHECK(run({"set", file, "job", "name=Inn"}).status == 0);
}
