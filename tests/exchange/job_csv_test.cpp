#include "core/exchange/job_csv.h"

#include "tests/job/made.h"

using namespace tapwright;

TEST_CASE("one table for each kind that has records") {
    Job job;
    made::set(job, Kind::job, "job", "name", "House, \"new\"");
    made::add(job, Kind::visit, "v1", {{"purpose", "survey"}, {"notes", "=1+1"}});
    const std::vector<CsvFile> files = write_csv(job);
    REQUIRE(files.size() == 2);
    CHECK(files[0].name == "job.csv");
    CHECK(files[0].text.find("\"House, \"\"new\"\"\"") != std::string::npos);
    CHECK(files[1].name == "visits.csv");
    CHECK(files[1].text == "id,purpose,date,person,notes\r\nv1,survey,,,'=1+1\r\n");
}

namespace {

// The cell of a zone's name, as the file has it.
std::string cell_of_name(const std::string& name) {
    Job job;
    made::set(job, Kind::job, "job", "name", "J");
    made::add(job, Kind::zone, "z", {{"name", name}});
    const std::string text = write_csv(job).at(1).text;
    const std::size_t begin = text.find("\r\nz,") + 4;
    return text.substr(begin, text.find(",,", begin) - begin);
}

// The cells of a line under a delimiter, read as spreadsheets do: quotes count only where they begin a cell.
std::vector<std::string> cells_under(const std::string& text, char delimiter) {
    std::vector<std::string> cells(1);
    bool in_quotes = false, begins = true;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (in_quotes) {
            if (c != '"')
                cells.back() += c;
            else if (i + 1 < text.size() && text[i + 1] == '"')
                cells.back() += text[++i];
            else
                in_quotes = false;
            continue;
        }
        if (begins && c == '"') {
            in_quotes = true;
        } else if (c == delimiter || c == '\n' || c == '\r') {
            cells.emplace_back();
            begins = true;
            continue;
        } else {
            cells.back() += c;
        }
        begins = false;
    }
    return cells;
}

bool begins_formula(std::string cell) {
    for (bool cut = true; cut;) {
        cut = false;
        for (const std::string_view passed : {" ", "\"", "\u00A0", "\u3000", "\u200B", "\uFEFF"})
            if (cell.starts_with(passed)) {
                cell.erase(0, passed.size());
                cut = true;
            }
    }
    for (const std::string_view sign : {"=", "+", "-", "@", "\t", "\r", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"})
        if (cell.starts_with(sign)) return true;
    return false;
}

const std::vector<std::string>& formulas() {
    static const std::vector<std::string> list{
        "=1+1",         "+1+1",       "-1+1",       "@SUM(1)",    "\t=1+1",
        "\r=1+1",       "\n=1+1",     " =1+1",      "  @x",       "x;=cmd|'/c calc'!A1",
        "x; =1",        "x;\"=1\"",   "x\";\"=1",   "x|=1+1",     "a\t=1+1",
        "x\r\n=1+1",    "x\n-1",      "\uFF1D1+1",  "\uFF0B1",    "\uFF0D1",
        "\uFF20SUM(1)", "\"=1+1",     "'=1+1",      "''=1",       "';=1",
        "x;'=1",        "\u00A0=1+1", "\uFEFF=1+1", "\u200B=1+1", "=HYPERLINK(\"http://e.x\",\"c\")",
        "x,=1",         "\t\t=1"};
    return list;
}

}  // namespace

TEST_CASE("no cell begins a formula in any dialect: comma, semicolon, tab or bar between the cells") {
    for (const std::string& name : formulas()) {
        CAPTURE(name);
        Job job;
        made::set(job, Kind::job, "job", "name", "J");
        made::add(job, Kind::zone, "z", {{"name", name}, {"terminal", name}, {"notes", name}});
        made::add(job, Kind::speaker_type, "s",
                  {{"name", name}, {"taps_w", List{5.0}}, {"tap_marks", Map{{"5", name}}}});
        for (const CsvFile& file : write_csv(job))
            for (const char delimiter : {',', ';', '\t', '|'})
                for (const std::string& cell : cells_under(file.text, delimiter)) {
                    CAPTURE(cell);
                    CHECK_FALSE(begins_formula(cell));
                }
    }
}

TEST_CASE("numbers below 0 stay numbers, and an id that begins with a minus does not become one") {
    Job job;
    made::set(job, Kind::job, "job", "name", "J");
    made::add(job, Kind::zone, "-1", {{"name", "Z"}, {"knob_db", -6.0}});
    const std::string text = write_csv(job).at(1).text;
    CHECK(text.find("\r\n'-1,Z,") != std::string::npos);
    CHECK(text.find(",-6,") != std::string::npos);
}

TEST_CASE("a cell with any delimiter, quote, line end or blank at its edge is quoted") {
    CHECK(cell_of_name("plain name") == "plain name");
    for (const char* name : {"a,b", "a;b", "a\tb", "a|b", "a\nb", " a", "a "})
        CHECK(cell_of_name(name) == "\"" + std::string(name) + "\"");
    CHECK(cell_of_name("a\"b") == "\"a\"\"b\"");
}

TEST_CASE("the text of a cell is what was written: every apostrophe that was put is taken away, and no other") {
    for (const std::string& name : formulas()) {
        CAPTURE(name);
        CHECK((csv_text(name) != name || name == "x,=1"));  // a comma is ours: behind it no cell begins
        CHECK(text_of_csv(csv_text(name)) == name);
        CHECK(text_of_csv(csv_text(csv_text(name))) == csv_text(name));
    }
    for (const char* name :
         {"plain", "", "it's", "'quoted'", "a;b", "a=b", "5-6", "a,-3", "x'=1", "rock 'n' roll", "a; b"}) {
        CHECK(csv_text(name) == name);
        CHECK(text_of_csv(name) == name);
    }
    // Every text of up to five of the signs that matter.
    const std::string_view signs[] = {"'", "=", ";", "\"", " ", "\r", "\n", "a", "\uFF1D"};
    std::vector<std::string> texts{""};
    for (int length = 0; length < 5; ++length) {
        std::vector<std::string> longer;
        for (const std::string& text : texts)
            for (const std::string_view sign : signs) longer.push_back(text + std::string(sign));
        texts = std::move(longer);
        bool all = true;
        for (const std::string& text : texts) all = all && text_of_csv(csv_text(text)) == text;
        CHECK(all);
    }
}
