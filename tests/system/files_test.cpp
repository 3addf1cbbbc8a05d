// Files: read whole, written whole or not at all.
#include "platform/system/files.h"

#include <doctest/doctest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <algorithm>
#include <atomic>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

#include "core/words/words.h"
#include "tests/system/other_process.h"
#include "tests/system/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

constexpr std::size_t mebibyte = std::size_t{1} << 20;

// "" when it was written, else the sentence.
std::string refusal_of_writing(const std::string& path, std::string_view bytes) {
    const Result<void> written = write_file(path, bytes);
    return written ? "" : in_english(written.refusal());
}

}  // namespace

TEST_CASE("what is written is read back bit for bit, the empty file and zero bytes included") {
    const TemporaryFolder folder;
    const std::string large(300'000, '\x7f');
    for (const std::string& bytes : {std::string(), std::string("a\0b\r\n\xff", 6), large}) {
        REQUIRE(write_file(folder.file("a"), bytes).ok());
        const Result<std::string> read = read_file(folder.file("a"), mebibyte);
        REQUIRE(read.ok());
        CHECK(*read == bytes);
    }
    CHECK(folder.count() == 1);
}

TEST_CASE("a file is replaced as a whole: who reads the old one goes on reading the old one") {
    const TemporaryFolder folder;
    const std::string path = folder.file("sheet.pdf");
    put(path, "the old sheet, which is the longer one");
    fs::create_hard_link(path, folder.file("another name of it"));
    REQUIRE(write_file(path, "the new sheet").ok());
    CHECK(bytes_of(path) == "the new sheet");
    CHECK(bytes_of(folder.file("another name of it")) == "the old sheet, which is the longer one");
    CHECK(folder.count() == 2);
}

TEST_CASE("names of every kind: blanks, quotes, other scripts, bytes that are no text, the longest there may be") {
    const TemporaryFolder folder;
    for (const std::string& name :
         {std::string("Mill House, first floor.pdf"), std::string("\"x\" & 'y'"), std::string("Möhle – 水車小屋.pdf"),
          std::string("\xff\xfe"), std::string(255, 'n')}) {
        CAPTURE(name);
        CHECK(refusal_of_writing(folder.file(name), "x") == "");
        CHECK(bytes_of(folder.file(name)) == "x");
    }
    CHECK(folder.count() == 5);
}

TEST_CASE("a full disk leaves the old file as it was and nothing beside it, and says so") {
    const TemporaryFolder folder;
    const std::string path = folder.file("sheet.pdf");
    put(path, "the old sheet");
    // A limit on the size of files is how a full disk looks to one process.
    const auto write_on_little_disk = [&]() -> std::string {
        ::signal(SIGXFSZ, SIG_IGN);
        const rlimit little{4096, 4096};
        if (::setrlimit(RLIMIT_FSIZE, &little) != 0) return "no limit";
        const std::string said = refusal_of_writing(path, std::string(100'000, 'x'));
        return refusal_of_writing(path + "2", "small") + said;  // what fits is still written
    };
    const std::string said = said_by_child(write_on_little_disk);
    CHECK(said.starts_with(path + " was not written: "));
    CHECK(has(said, "What was there before is unchanged."));
    CHECK(bytes_of(path) == "the old sheet");
    CHECK(bytes_of(path + "2") == "small");
    CHECK(folder.count() == 2);
}

TEST_CASE("what an earlier crash left beside a file does not keep it from being written") {
    const TemporaryFolder folder;
    const std::string path = folder.file("sheet.pdf");
    // The same process number as the one that crashed: where there are few processes, that happens.
    const std::string left = folder.file(".tapwright-part-" + std::to_string(::getpid()) + "-1");
    put(left, "half a sheet");
    CHECK(refusal_of_writing(path, "a sheet") == "");
    CHECK(bytes_of(path) == "a sheet");
    CHECK(bytes_of(left) == "half a sheet");
    CHECK(folder.count() == 2);
}

TEST_CASE("where several write one file at once, one of them has written it, whole") {
    const TemporaryFolder folder;
    const std::string path = folder.file("sheet.pdf");
    std::vector<std::string> contents;
    for (const char letter : {'a', 'b', 'c', 'd'}) contents.emplace_back(200'000, letter);
    std::vector<std::thread> writers;
    writers.reserve(contents.size());
    std::atomic<int> refused = 0;
    for (const std::string& bytes : contents)
        writers.emplace_back([&] {
            for (int i = 0; i < 5; ++i)
                if (!write_file(path, bytes).ok()) ++refused;
        });
    for (std::thread& writer : writers) writer.join();
    CHECK(refused == 0);
    CHECK(std::count(contents.begin(), contents.end(), bytes_of(path)) == 1);
    CHECK(folder.count() == 1);
}

TEST_CASE("at most so many bytes are read") {
    const TemporaryFolder folder;
    put(folder.file("a"), std::string(1000, 'x'));
    CHECK(read_file(folder.file("a"), 1000).ok());
    const Result<std::string> one_less = read_file(folder.file("a"), 999);
    REQUIRE_FALSE(one_less.ok());
    CHECK(in_english(one_less.refusal()) == folder.file("a") + " is too large. At most 999 bytes can be read.");
    put(folder.file("b"), std::string(2 * mebibyte + 1, 'x'));
    const Result<std::string> large = read_file(folder.file("b"), 2 * mebibyte);
    REQUIRE_FALSE(large.ok());
    CHECK(in_english(large.refusal()) == folder.file("b") + " is too large. At most 2 MiB can be read.");
    // What has no end is given up at the same place.
    CHECK_FALSE(read_file("/dev/zero", mebibyte).ok());
}

TEST_CASE("a folder is made with those above it, and made again without harm") {
    const TemporaryFolder folder;
    CHECK(make_folder(folder.file("a/b/c")).ok());
    CHECK(fs::is_directory(folder.file("a/b/c")));
    put(folder.file("a/b/c/file"), "x");
    CHECK(make_folder(folder.file("a/b/c")).ok());
    CHECK(make_folder(folder.file("a/b/")).ok());
    CHECK(bytes_of(folder.file("a/b/c/file")) == "x");
    for (const char* blocked : {"a/b/c/file", "a/b/c/file/below"}) {
        const Result<void> made = make_folder(folder.file(blocked));
        REQUIRE_FALSE(made.ok());
        CHECK(in_english(made.refusal()).starts_with("The folder " + folder.file(blocked) + " cannot be made: "));
    }
}

TEST_CASE("the port for sealed copies moves a file, but never over another") {
    const TemporaryFolder folder;
    const FilePort port = file_port();
    put(folder.file("new"), "new");
    put(folder.file("old"), "old");
    CHECK_FALSE(port.rename(folder.file("new"), folder.file("old")));
    CHECK(bytes_of(folder.file("new")) == "new");
    CHECK(bytes_of(folder.file("old")) == "old");
    CHECK(port.rename(folder.file("new"), folder.file("free")));
    CHECK(bytes_of(folder.file("free")) == "new");
    CHECK_FALSE(port.exists(folder.file("new")));
    CHECK(port.exists(folder.file("free")));
    CHECK_FALSE(port.rename(folder.file("nothing"), folder.file("somewhere")));
    CHECK(port.sync_folder(folder.file("free")));
    CHECK_FALSE(port.sync_folder(folder.file("no folder/free")));
    CHECK(port.remove(folder.file("free")));
    CHECK_FALSE(port.remove(folder.file("free")));
    CHECK(folder.count() == 1);
}

TEST_CASE("a pipe or a device is refused for reading, and nobody waits for it") {
    const TemporaryFolder folder;
    const std::string pipe = folder.file("pipe");
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    for (const std::string& path : {pipe, std::string("/dev/null")}) {
        const Result<std::string> read = read_file(path, mebibyte);
        REQUIRE_FALSE(read.ok());
        CHECK(in_english(read.refusal()) == path + " is a device or a pipe; choose a file.");
    }
}
