// The desktop's opener gets the file as one argument, whatever its name holds, and no shell reads it.
#include "platform/system/opener.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <thread>

#include "core/words/words.h"
#include "platform/system/files.h"
#include "tests/system/temporary.h"

using namespace tapwright;

namespace {

namespace fs = std::filesystem;

// A folder with an opener of our own first on the path, until it goes.
class Opener {
public:
    explicit Opener(const std::string& script) : path_(std::getenv("PATH") ? std::getenv("PATH") : "") {
        std::ofstream(folder.file("xdg-open")) << "#!/bin/sh\n" << script << "\n";
        fs::permissions(folder.file("xdg-open"), fs::perms::owner_all);
        ::setenv("PATH", (fs::path(folder.file("x")).parent_path().string() + ":" + path_).c_str(), 1);
    }
    ~Opener() { ::setenv("PATH", path_.c_str(), 1); }
    Opener(const Opener&) = delete;
    Opener& operator=(const Opener&) = delete;

    test::TemporaryFolder folder;

private:
    std::string path_;
};

template <class Is>
bool comes_true(Is is) {
    for (int i = 0; i < 500; ++i) {
        if (is()) return true;
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    return false;
}

std::string read(const std::string& path) {
    const Result<std::string> bytes = read_file(path, 10000);
    return bytes ? *bytes : std::string();
}

}  // namespace

TEST_CASE("a file is opened as one argument, with nothing in its name read by a shell") {
    Opener opener(
        "printf '%s|' \"$#\" \"$1\" > \"$(dirname \"$0\")/told.part\"; mv \"$(dirname \"$0\")/told.part\" "
        "\"$(dirname \"$0\")/told\"");
    const std::string file = opener.folder.file("Mill House $(touch bad); `id` 'owner' \"x\".pdf");
    std::ofstream(file) << "%PDF";
    REQUIRE(open_with_desktop(file).ok());
    const std::string told = opener.folder.file("told");
    REQUIRE(comes_true([&] { return file_exists(told); }));
    CHECK(read(told) == "1|" + file + "|");
    fs::remove(told);
    REQUIRE(open_folder_of(file).ok());
    REQUIRE(comes_true([&] { return file_exists(told); }));
    CHECK(read(told) == "1|" + fs::path(file).parent_path().string() + "|");
    CHECK(opener_troubles().empty());
}

TEST_CASE("an opener that fails is told once, with the file and what to do") {
    Opener opener("exit 3");
    const std::string file = opener.folder.file("sheet.pdf");
    std::ofstream(file) << "%PDF";
    REQUIRE(open_with_desktop(file).ok());
    std::vector<Message> told;
    REQUIRE(comes_true([&] { return !(told = opener_troubles()).empty(); }));
    const std::string words = Words().text(told.front());
    CHECK(words.find("sheet.pdf") != std::string::npos);
    CHECK(words.find("Open it from its folder.") != std::string::npos);
    CHECK(opener_troubles().empty());
}

TEST_CASE("a file that is gone, and a machine without an opener, are refused in a sentence") {
    Opener opener("exit 0");
    const Result<void> gone = open_with_desktop(opener.folder.file("gone.pdf"));
    REQUIRE(!gone.ok());
    CHECK(Words().text(gone.refusal()).find("no longer there") != std::string::npos);
    fs::remove(opener.folder.file("xdg-open"));
    ::setenv("PATH", fs::path(opener.folder.file("x")).parent_path().c_str(), 1);
    const std::string file = opener.folder.file("sheet.pdf");
    std::ofstream(file) << "%PDF";
    const Result<void> none = open_with_desktop(file);
    REQUIRE(!none.ok());
    CHECK(Words().text(none.refusal()).find("xdg-open") != std::string::npos);
}
