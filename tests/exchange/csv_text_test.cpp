// Tables as spreadsheets write them. The wanted cells are written out by hand from RFC 4180, section 2.
#include "core/exchange/csv_text.h"

#include "core/exchange/job_csv.h"
#include "tests/job/made.h"

using namespace tapwright;

namespace {

using Cells = std::vector<std::string>;

CsvText read(std::string_view text) {
    Result<CsvText> table = read_csv(text);
    REQUIRE_MESSAGE(table.ok(), (table.ok() ? "" : in_english(table.refusal())));
    return std::move(*table);
}

std::string refused(std::string_view text) {
    const Result<CsvText> table = read_csv(text);
    REQUIRE_FALSE(table.ok());
    return in_english(table.refusal());
}

}  // namespace

TEST_CASE("the separator is the one of the header, in whatever language the spreadsheet wrote") {
    const struct {
        const char* text;
        char separator;
    } tables[] = {{"label,tap_w\nL-1,7.5\n", ','},
                  {"label;tap_w\nL-1;7,5\n", ';'},
                  {"label\ttap_w\nL-1\t7,5\n", '\t'},
                  {"\"a;b;c\",tap_w\nL-1,7.5\n", ','},
                  {"label\nL-1\n", ','}};
    for (const auto& table : tables) {
        CAPTURE(table.text);
        CHECK(read(table.text).separator == table.separator);
    }
    CHECK(read("label;tap_w\nL-1;7,5\n").rows[1].cells == Cells{"L-1", "7,5"});
}

TEST_CASE("rows end in any line break and keep the line they start at") {
    for (const char* end : {"\n", "\r\n", "\r"}) {
        CAPTURE(end);
        const std::string e = end;
        const CsvText table =
            read("\xEF\xBB\xBFlabel,notes" + e + "L-1,\"two" + e + "lines\"" + e + e + " ,\t" + e + "L-2,x");
        REQUIRE(table.rows.size() == 3);
        CHECK(table.rows[0].cells == Cells{"label", "notes"});
        CHECK(table.rows[1].line == 2);
        CHECK(table.rows[1].cells == Cells{"L-1", "two\nlines"});
        CHECK(table.rows[2].line == 6);
        CHECK(table.rows[2].cells == Cells{"L-2", "x"});
    }
    CHECK(read("").rows.empty());
    CHECK(read("\n\r\n,,\n").rows.empty());
}

TEST_CASE("quotes hold separators and doubled quotes, and elsewhere a quote is a plain one") {
    CHECK(read("\"a,\"\"b\"\"\",\"\",c\n").rows[0].cells == Cells{"a,\"b\"", "", "c"});
    CHECK(read("label,length\nL-1,6\"\n").rows[1].cells == Cells{"L-1", "6\""});
    CHECK(read("a,b,\n").rows[0].cells == Cells{"a", "b", ""});
}

TEST_CASE("a table that cannot be taken apart is refused with its line") {
    CHECK(refused("label\n\"L-1\nL-2\n") ==
          "Line 2: A quotation mark is opened and not closed. Close it, or take it out.");
    CHECK(refused("label\n\"L\n1\"x\n") ==
          "Line 3: There is text behind a closing quotation mark. Write a quotation mark within quotes twice.");
    CHECK(refused("label\nCaf\xE9\n") == "Line 2: This is not UTF-8 text. Save the table as CSV in UTF-8.");
    CHECK(refused(std::string("\xFF\xFEl\0", 4)) == "Line 1: This is not UTF-8 text. Save the table as CSV in UTF-8.");
    CHECK(refused("label\n" + std::string(most_csv_cells, ',') + "\n").starts_with("Line 2: There are more than 1"));
    std::string rows;
    for (std::size_t i = 0; i <= most_csv_rows; ++i) rows += "a\n";
    CHECK(refused(rows).starts_with("Line 100001: There are more than 100"));
}

TEST_CASE("what an export writes is read back to the letter") {
    const char* const texts[] = {"=1+1",         "-6 dB", "'=1",        "''@x", "'quoted'",
                                 "a,\"b\";c\td", "\ttab", "two\nlines", "'"};
    for (const char* text : texts) {
        CAPTURE(text);
        Job job;
        made::set(job, Kind::job, "job", "name", "House");
        made::add(job, Kind::visit, "v1", {{"purpose", "survey"}, {"notes", text}});
        const CsvText table = read(write_csv(job)[1].text);
        REQUIRE(table.rows.size() == 2);
        CHECK(table.rows[0].cells.back() == "notes");
        CHECK(table.rows[1].cells.back() == text);
    }
}
