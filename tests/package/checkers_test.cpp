// What a desktop, a software centre and a lawyer read of the package.
#include <doctest/doctest.h>

#include <filesystem>
#include <string>

#include "tests/package/shell.h"
#include "tests/session/temporary.h"

using namespace tapwright::test;

namespace {

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the desktop entry has nothing to complain of") {
    const Said said = run_line("desktop-file-validate " + as_word(made("tapwright.desktop")));
    CHECK(said.status == 0);
    CHECK(said.text == "");
}

TEST_CASE("the desktop entry asks for the window, also without a job file") {
    CHECK(holds(text_of(made("tapwright.desktop")), "\nExec=tapwright --window %f\n"));
    const Said said = run_line("env -u DISPLAY -u WAYLAND_DISPLAY " + as_word(TAPWRIGHT_PROGRAM) + " --window");
    CHECK(said.status != 0);
    CHECK(holds(said.text, "no window can be opened"));
}

TEST_CASE("the entry of software centres is valid and of this version") {
    const Said said = run_line("appstreamcli validate --no-net --explain " + as_word(made("tapwright.metainfo.xml")));
    CHECK_MESSAGE(said.status == 0, said.text);
    CHECK(holds(text_of(made("tapwright.metainfo.xml")), "<release version=\"" TAPWRIGHT_PROJECT_VERSION "\""));
}

TEST_CASE("a desktop knows job files by their ending, and as a kind of database") {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder.path() / "packages");
    std::filesystem::copy_file(made("tapwright.mime.xml"), folder.path() / "packages" / "tapwright.xml");
    const Said said = run_line("update-mime-database " + as_word(folder.path().string()));
    CHECK_MESSAGE(said.status == 0, said.text);
    CHECK(holds(text_of(folder.file("globs2")), ":application/vnd.tapwright.job:*.tapjob\n"));
    CHECK(holds(text_of(folder.file("subclasses")), "application/vnd.tapwright.job application/vnd.sqlite3\n"));
    CHECK(holds(text_of(made("tapwright.desktop")), "\nMimeType=application/vnd.tapwright.job;\n"));
}

TEST_CASE("the icons have the sizes they are installed for") {
    for (const unsigned size : {48U, 128U, 256U}) {
        const std::string png =
            text_of(std::string(TAPWRIGHT_SOURCE_DIR) + "/assets/icon/tapwright-" + std::to_string(size) + ".png");
        const auto number_at = [&](std::size_t place) {
            unsigned number = 0;
            for (std::size_t i = 0; i < 4; ++i) number = number << 8 | static_cast<unsigned char>(png.at(place + i));
            return number;
        };
        CHECK(png.starts_with("\x89PNG"));
        CHECK(number_at(16) == size);
        CHECK(number_at(20) == size);
    }
}

TEST_CASE("the notices of what is compiled in travel with the program") {
    const std::string notices = text_of(made("copyright"));
    CHECK(holds(notices, "No licence has been chosen yet"));
    for (const char* component : {"Dear ImGui 1.", "stb_truetype", "ProggyClean", "Khronos", "nlohmann_json"})
        CHECK_MESSAGE(holds(notices, component), component);
    for (const char* owner :
         {"Omar Cornut", "Tristan Grimmer", "The Khronos Group", "Niels Lohmann", "Florian Loitsch"})
        CHECK_MESSAGE(holds(notices, owner), owner);
    const std::size_t first = notices.find("Permission is hereby granted");
    REQUIRE(first != std::string::npos);
    CHECK(notices.find("Permission is hereby granted", first + 1) != std::string::npos);
}

TEST_CASE("the program says which version it is") {
    const Said said = run_line(as_word(TAPWRIGHT_PROGRAM) + " --version");
    CHECK(said.status == 0);
    CHECK(said.text == "tapwright " TAPWRIGHT_PROJECT_VERSION "\n");
}
