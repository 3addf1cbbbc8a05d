// Where things stand on the page: inside the margins, nothing over another, header rows on every page, in time.
#include <doctest/doctest.h>

#include <algorithm>
#include <ctime>

#include "tests/print/outside.h"
#include "tests/print/samples.h"

using namespace tapwright;
using namespace tapwright::document;

namespace {

// pdftotext's boxes are as high as the font's ascent and descent, which neighbouring lines may share a little of.
constexpr double tolerance = 2.6;

bool overlap(const outside::Word& a, const outside::Word& b) {
    const double wide = std::min(a.right, b.right) - std::max(a.left, b.left);
    const double high = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
    return wide > 0.7 && high > tolerance;
}

void check_places(const Document& document) {
    const auto pdf = outside::rendered(document);
    auto words = outside::words_of(pdf);
    REQUIRE(!words.empty());
    const double width = document.paper == Paper::a4 ? 595.276 : 612;
    const double height = document.paper == Paper::a4 ? 841.89 : 792;
    for (const auto& word : words) {
        CAPTURE(word.text);
        CAPTURE(word.page);
        CHECK(word.left >= 56 - 1);
        CHECK(word.right <= width - 56 + 1);
        CHECK(word.top >= 54 - 4);
        CHECK(word.bottom <= height - 30);
    }
    std::sort(words.begin(), words.end(),
              [](const auto& a, const auto& b) { return a.page != b.page ? a.page < b.page : a.top < b.top; });
    for (std::size_t a = 0; a < words.size(); ++a) {
        for (std::size_t b = a + 1; b < words.size(); ++b) {
            if (words[b].page != words[a].page || words[b].top > words[a].bottom) break;
            CAPTURE(words[a].text);
            CAPTURE(words[b].text);
            CAPTURE(words[a].page);
            CHECK_FALSE(overlap(words[a], words[b]));
        }
    }
}

}  // namespace

TEST_CASE("Every word stands inside the margins and over no other") {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
        for (Document sheet : {samples::handover(), samples::nasty(), samples::long_table(500)}) {
            sheet.paper = paper;
            CAPTURE(sheet.title);
            check_places(sheet);
        }
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

TEST_CASE("2,000 loudspeakers take at most 1.5 seconds of one processor") {
    const Document sheet = samples::long_table(2000);
    const std::clock_t start = std::clock();
    const auto pdf = outside::rendered(sheet);
    const double seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    MESSAGE("2,000 rows of 8 cells: " << seconds << " s, " << pdf.pages << " pages, " << pdf.bytes.size() << " bytes");
#if defined(NDEBUG) && !defined(__SANITIZE_ADDRESS__)
    CHECK(seconds <= 1.5);
#endif
    CHECK(pdf.bytes.size() < 2'000'000);
}
