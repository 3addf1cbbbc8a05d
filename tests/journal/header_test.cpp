// Bytes from SQLite's file format, https://www.sqlite.org/fileformat2.html#the_database_header; first bytes of other
// formats: ISO 32000 (PDF), ITU-T T.81 (JPEG), from memory.
#include "core/journal/header.h"
#include "core/words/words.h"

#include <doctest/doctest.h>

using namespace tapwright;
using namespace std::string_literals;

namespace {

std::string header() {
    std::string start(100, '\0');
    start.replace(0, 16, "SQLite format 3\0"s);
    start[16] = 0x40;  // pages of 16 KiB
    start[18] = start[19] = 1;
    start[31] = 3;  // 3 pages
    start[59] = 1;  // UTF-8
    start[63] = 1;  // version 1
    start.replace(68, 4, "TAPW");
    return start;
}

std::string said(const std::string& start) {
    const auto checked = check_header(start, "site.tapjob");
    return checked ? "fine" : in_english(checked.refusal());
}

}  // namespace

TEST_CASE("Our header is ours") {
    CHECK(said(header()) == "fine");
    CHECK(check_size(header(), 3 * 16384, "site.tapjob").ok());
    CHECK(in_english(check_size(header(), 2 * 16384, "site.tapjob").refusal()) ==
          "site.tapjob is cut short: 32768 of 49152 bytes. Restore it from a sealed copy or a backup.");
    CHECK_FALSE(check_size(header(), 3 * 16384 + 1, "site.tapjob").ok());
}

TEST_CASE("Files people take for a job are called by their name") {
    CHECK(said("") == "site.tapjob is empty, so it is no job file. Restore it from a sealed copy or a backup.");
    CHECK(said("%PDF-1.7\n") ==
          "site.tapjob is a PDF document, not a job file. Choose a job file (.tapjob); nothing was changed.");
    CHECK(said("\xff\xd8\xff\xe0").find("a JPEG picture") != std::string::npos);
    CHECK(said("\x89PNG\r\n").find("a PNG picture") != std::string::npos);
    CHECK(said("PK\x03\x04").find("a ZIP archive") != std::string::npos);
    CHECK(said("{\"tapwright_job\": 1}").find("Import JSON") != std::string::npos);
    CHECK(said(std::string(100, '\0')).find("is no job file, or its beginning is damaged") != std::string::npos);
    CHECK(said(header().substr(0, 40)).find("is cut short after 40 bytes") != std::string::npos);
}

TEST_CASE("Another program's database and a newer version of ours are told apart") {
    std::string other = header();
    other.replace(68, 4, "\0\0\0\0"s);
    CHECK(said(other).find("is another program's database") != std::string::npos);
    std::string newer = header();
    newer[63] = 2;
    CHECK(said(newer) ==
          "site.tapjob was made by a newer Tapwright: it has file version 2, this program reads up to 1. Update "
          "Tapwright to "
          "open it; nothing was changed.");
    for (const std::size_t at : {std::size_t{18}, std::size_t{19}, std::size_t{59}}) {
        std::string altered = header();
        altered[at] = 2;  // write-ahead log; UTF-16
        CHECK_MESSAGE(said(altered).find("another program altered it") != std::string::npos, at);
    }
    std::string odd_page = header();
    odd_page[17] = 1;
    CHECK(said(odd_page) != "fine");
}
