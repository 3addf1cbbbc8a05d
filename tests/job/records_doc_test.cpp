// docs/records.md says what the field table says. With TAPWRIGHT_WRITE_DOCS=1 this writes it anew.
#include "core/job/records_doc.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "core/job/field_table.h"

using namespace tapwright;

namespace {

const std::string path = TAPWRIGHT_SOURCE_DIR "/docs/records.md";

std::string file_text() {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

}  // namespace

TEST_CASE("docs/records.md is current") {
    const std::string wanted = records_document();
    if (const char* write = std::getenv("TAPWRIGHT_WRITE_DOCS"); write && std::string(write) == "1")
        std::ofstream(path, std::ios::binary) << wanted;
    CHECK_MESSAGE(file_text() == wanted, "run test_job with TAPWRIGHT_WRITE_DOCS=1 to write docs/records.md anew");
}

TEST_CASE("the page has a row for every field, with what it says") {
    const std::string text = records_document();
    for (std::size_t i = 0; i < kind_count; ++i) {
        CHECK(text.find("\n## " + std::string(plural(kind_at(i))) + "\n") != std::string::npos);
        for (const FieldInfo& field : fields(kind_at(i))) {
            const std::size_t row = text.find("\n| `" + std::string(field.name) + "` | ");
            REQUIRE(row != std::string::npos);
            CHECK(text.find(field.help.text) != std::string::npos);
        }
    }
    CHECK(text.find("| `reserve_pct` | number | % | from 0 below 100 | 20 |") != std::string::npos);
    CHECK(text.find("| `awg` | whole number | AWG | from 0 to 40 | unknown |") != std::string::npos);
}

TEST_CASE("every table row has the six columns of its heading") {
    std::istringstream lines(records_document());
    std::size_t rows = 0;
    for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with('|')) continue;
        std::size_t bars = 0;
        for (std::size_t i = 0; i < line.size(); ++i) bars += line[i] == '|' && (i == 0 || line[i - 1] != '\\');
        CHECK_MESSAGE(bars == 7, line);
        ++rows;
    }
    CHECK(rows > kind_count * 2 + 100);
}
