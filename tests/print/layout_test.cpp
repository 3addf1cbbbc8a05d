// Where things stand on the page: inside the margins, nothing over another, header rows on every page, in time.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "tests/print/outside.h"
#include "tests/print/samples.h"

using namespace tapwright;
using namespace tapwright::document;
using outside::check_places;

TEST_CASE("Every word stands inside the margins and over no other") {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
        for (Document sheet : {samples::handover(), samples::nasty(), samples::long_table(500), samples::laid_out()}) {
            sheet.paper = paper;
            CAPTURE(sheet.title);
            check_places(sheet);
        }
    }
}

TEST_CASE("A page of its own stays one page, on either paper, and what follows begins the next") {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
        Document sheet = samples::laid_out();
        sheet.paper = paper;
        const auto pages = outside::pages_of(outside::rendered(sheet));
        REQUIRE(pages.size() == 2);
        CHECK(pages[0].find("for the house") != std::string::npos);
        CHECK(pages[0].find("Floors and photos") == std::string::npos);
    }
}

TEST_CASE("Below what is longer than the page it should stay on the next part goes on, so that no page is left empty") {
    Document sheet;
    const auto part = [&](const std::string& name, int lines) {
        sheet.blocks.emplace_back(Layout::one_page);
        sheet.blocks.emplace_back(Heading{2, name});
        for (int k = 0; k < lines; ++k) sheet.blocks.emplace_back(Paragraph{name + " " + std::to_string(k)});
        sheet.blocks.emplace_back(Layout::end_one_page);
    };
    part("first", 60);
    part("second", 40);
    sheet.blocks.emplace_back(Paragraph{"after them"});
    const auto pages = outside::pages_of(outside::rendered(sheet));
    REQUIRE(pages.size() == 3);
    CHECK(pages[1].find("second 0") != std::string::npos);
    CHECK(pages[2].find("after them") != std::string::npos);
    sheet.blocks.clear();
    part("first", 30);
    part("second", 30);
    sheet.blocks.emplace_back(Paragraph{"after them"});
    const auto apart = outside::pages_of(outside::rendered(sheet));
    REQUIRE(apart.size() == 3);
    CHECK(apart[0].find("second") == std::string::npos);
    CHECK(apart[1].find("after") == std::string::npos);
}

TEST_CASE("The footer takes two lines, the hash whole in the second") {
    const auto pages = outside::pages_of(outside::rendered(samples::laid_out()));
    CHECK(pages[0].find("41bb2937b · Tapwright 0.1.0\n") != std::string::npos);
}

TEST_CASE("A figure stays beside its unit and a day in one piece, however narrow the column") {
    Document sheet;
    Table table;
    table.columns = {{"Point", Align::start, 1}, {"Cable", Align::start, 1}, {"Filler", Align::start, 9}};
    for (int k = 0; k < 8; ++k)
        table.rows.push_back({{"C-10" + std::to_string(k)},
                              {"22 m, 16 AWG pair of 2025-04-1" + std::to_string(k) + ", at 2.5 W, at −0.1 dB"},
                              {std::string(40, 'f') + " " + std::string(40, 'g') + " " + std::string(40, 'h')}});
    sheet.blocks = {table};
    const std::string text = outside::text_of(outside::rendered(sheet));
    for (const std::string whole : {"22 m", "16 AWG", "2025-04-13", "2.5 W", "0.1 dB"}) {
        CAPTURE(whole);
        CHECK(text.find(whole) != std::string::npos);
    }
    CHECK(text.find("22 m, 16 AWG pair of") == std::string::npos);  // it is that narrow
}

TEST_CASE(
    "What should stay in one piece breaks where its column is narrower than it, and the rest of its cell stays whole") {
    Document sheet;
    Table table;
    for (int k = 0; k < 12; ++k) table.columns.push_back({std::string(30, 'f'), Align::start, 1});
    table.rows.emplace_back();
    for (int k = 0; k < 11; ++k) table.rows[0].push_back({std::string(30, 'g')});
    table.rows[0].push_back({"5 W 28 Mmmmmmm 2025, 2025-04-15 and 99,999,999.9 MΩ"});
    sheet.blocks = {table};
    check_places(sheet);
    const std::string text = outside::text_of(outside::rendered(sheet));
    CHECK(text.find("5 W") != std::string::npos);
    CHECK(text.find("28 Mmmmmmm") == std::string::npos);  // it is that narrow
}

TEST_CASE("Labels of every size offered stand whole, none over another, as many as there are") {
    for (const auto& size : {std::pair(38.0, 13.0), std::pair(50.0, 20.0), std::pair(70.0, 30.0)}) {
        const double width = size.first, height = size.second;
        CAPTURE(width);
        const auto pdf = outside::rendered(samples::labels(width, height, 70));
        const std::string text = outside::text_of(pdf);
        for (int k = 0; k < 70; ++k) CHECK(text.find("LS-" + std::to_string(k) + "\n") != std::string::npos);
        // Below each name, within the size of its label, stands its zone.
        const auto words = outside::words_of(pdf);
        const auto stands_below = [&, high = height * 72 / 25.4](const outside::Word& name) {
            return std::any_of(words.begin(), words.end(), [&](const outside::Word& word) {
                return word.page == name.page && word.text == "North" && std::abs(word.left - name.left) < 3 &&
                       word.top > name.top && word.bottom - name.top <= high;
            });
        };
        int names = 0;
        for (const outside::Word& word : words) {
            if (word.text.rfind("LS-", 0) != 0) continue;
            ++names;
            CAPTURE(word.text);
            CHECK(stands_below(word));
            CHECK(word.right - word.left <= width * 72 / 25.4);
        }
        CHECK(names == 70);
    }
}

TEST_CASE("A table of fourteen columns of words fits the page") {
    Document sheet;
    Table table;
    for (int k = 0; k < 14; ++k) table.columns.push_back({"Kolonne" + std::to_string(k), Align::start, 1});
    for (int r = 0; r < 30; ++r) {
        table.rows.emplace_back();
        for (int k = 0; k < 14; ++k) table.rows.back().push_back({"value " + std::to_string(r * k * 97)});
    }
    sheet.blocks = {table};
    check_places(sheet);
}

TEST_CASE("Each page says which it is, and repeats the header row") {
    for (const std::size_t rows : {500U, 2000U}) {
        const auto pdf = outside::rendered(samples::long_table(rows));
        const auto pages = outside::pages_of(pdf);
        REQUIRE(static_cast<int>(pages.size()) == pdf.pages);
        REQUIRE(pdf.pages > 10);
        for (std::size_t k = 0; k < pages.size(); ++k) {
            CAPTURE(k);
            CHECK(pages[k].find("Page " + std::to_string(k + 1) + " of " + std::to_string(pdf.pages)) !=
                  std::string::npos);
            CHECK(outside::squeezed(pages[k]).find("PointRoomTypeZonePlannedAsleftCableRemarks") != std::string::npos);
        }
        const std::string text = outside::text_of(pdf);
        for (std::size_t k = 1; k <= rows; ++k) {
            const std::string remark = "Row" + std::to_string(k);
            CAPTURE(remark);
            CHECK((text.find(remark + "\n") != std::string::npos || text.find(remark + " ") != std::string::npos));
        }
    }
}

TEST_CASE("A heading never stands alone at the end of a page") {
    for (int lines = 36; lines < 54; lines += 2) {
        Document sheet;
        std::string text;
        for (int k = 0; k < lines; ++k) text += "filling\n";
        Table table;
        table.columns = {{"Head", Align::start, 1}};
        table.rows = {{{"Firstrow"}}, {{"Secondrow"}}};
        sheet.blocks = {Paragraph{text}, Heading{2, "Section"}, Heading{3, "Part"}, table};
        for (const std::string& page : outside::pages_of(outside::rendered(sheet))) {
            CAPTURE(lines);
            const bool headed = page.find("Section") != std::string::npos;
            CHECK(headed == (page.find("Firstrow") != std::string::npos));
            CHECK(headed == (page.find("Part") != std::string::npos));
        }
    }
}

TEST_CASE("No row of a table stands alone at the end of a page or at the start of one") {
    for (int lines = 30; lines < 60; ++lines) {
        Document sheet;
        std::string text;
        for (int k = 0; k < lines; ++k) text += "filling\n";
        Table table;
        table.columns = {{"Head", Align::start, 1}};
        for (int k = 0; k < 12; ++k) table.rows.push_back({{"Row" + std::to_string(k) + "."}});
        sheet.blocks = {Paragraph{text}, table};
        for (const std::string& page : outside::pages_of(outside::rendered(sheet))) {
            int rows = 0;
            for (int k = 0; k < 12; ++k)
                rows += page.find("Row" + std::to_string(k) + ".") != std::string::npos ? 1 : 0;
            CAPTURE(lines);
            CHECK(rows != 1);
        }
    }
}

TEST_CASE("A row that is lower than a page is not torn apart") {
    Document sheet;
    Table table;
    table.columns = {{"Name", Align::start, 1}, {"Text", Align::start, 3}};
    for (int k = 0; k < 60; ++k)
        table.rows.push_back(
            {{"N" + std::to_string(k)}, {"begin" + std::to_string(k) + "\nmiddle\nend" + std::to_string(k) + "x"}});
    sheet.blocks = {table};
    const auto pages = outside::pages_of(outside::rendered(sheet));
    REQUIRE(pages.size() > 1);
    for (int k = 0; k < 60; ++k) {
        for (const std::string& page : pages) {
            CAPTURE(k);
            CHECK((page.find("begin" + std::to_string(k) + "\n") != std::string::npos) ==
                  (page.find("end" + std::to_string(k) + "x") != std::string::npos));
        }
    }
}

TEST_CASE("A page break opens a page, at the start or twice in a row no empty one") {
    Document sheet;
    sheet.blocks = {PageBreak{}, Paragraph{"first"}, PageBreak{}, PageBreak{}, Paragraph{"second"}, PageBreak{}};
    const auto pages = outside::pages_of(outside::rendered(sheet));
    REQUIRE(pages.size() == 2);
    CHECK(pages[0].find("first") != std::string::npos);
    CHECK(pages[1].find("second") != std::string::npos);
}

TEST_CASE("Paper sizes are those of ISO 216 and ANSI") {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
        Document sheet;
        sheet.paper = paper;
        const outside::TemporaryFile file(outside::rendered(sheet).bytes);
        const std::string info = outside::run("pdfinfo " + file.path()).output;
        CHECK(info.find(paper == Paper::a4 ? "(A4)" : "(letter)") != std::string::npos);
    }
}

TEST_CASE("2,000 loudspeakers are a file that can be sent") {
    CHECK(outside::rendered(samples::long_table(2000)).bytes.size() < 2'000'000);
}
