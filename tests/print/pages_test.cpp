// How the demo job's sheets are dealt out to pages: no page a third empty, and nothing that belongs to something else
// alone on a page. Where each row and sentence stands is read from the tag tree.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <optional>

#include "tests/print/demo_sheet.h"
#include "tests/print/outside.h"
#include "tests/print/pdf_objects.h"

using namespace tapwright;
using outside::height_of;
using outside::real_sheet;

namespace {

constexpr document::Paper papers[] = {document::Paper::a4, document::Paper::letter};
constexpr SheetReader readers[] = {SheetReader::owner, SheetReader::technician};

// The pages that an element of the tag tree is on, the first and the last; nothing where nothing of it is drawn.
struct Pages {
    int first;
    int last;
};

class Tree {
public:
    explicit Tree(const print::Pdf& pdf) : objects_(outside::objects_of(pdf.bytes)) {}

    std::optional<Pages> pages_of(int element) const {
        std::optional<Pages> pages;
        const auto add = [&](int first, int last) {
            pages = pages ? Pages{std::min(pages->first, first), std::max(pages->last, last)} : Pages{first, last};
        };
        const outside::TagElement& told = at(element);
        for (const auto& [page, number] : told.marks) add(page, page);
        for (const int child : told.children)
            if (const auto below = pages_of(child)) add(below->first, below->last);
        return pages;
    }

    const outside::TagElement& at(int element) const { return objects_.elements.at(static_cast<std::size_t>(element)); }
    int size() const { return static_cast<int>(objects_.elements.size()); }

    std::vector<int> children_of(int element, const std::string& type) const {
        std::vector<int> found;
        for (const int child : at(element).children)
            if (at(child).type == type) found.push_back(child);
        return found;
    }

    // What stands below an element in the same part of the sheet; -1: nothing.
    int next_of(int element) const {
        if (at(element).parent < 0) return -1;
        const auto& siblings = at(at(element).parent).children;
        const auto place = std::find(siblings.begin(), siblings.end(), element);
        return place + 1 == siblings.end() ? -1 : *(place + 1);
    }

private:
    outside::PdfObjects objects_;
};

// Of a table longer than one row no row is alone on a page, and none is without the head it began under.
void check_rows(const Tree& tree, int table) {
    std::vector<int> rows = tree.children_of(table, "/TR");  // of a list of names and values
    for (const int body : tree.children_of(table, "/TBody")) rows = tree.children_of(body, "/TR");
    std::map<int, int> on_page;
    for (const int row : rows)
        if (const auto pages = tree.pages_of(row)) ++on_page[pages->first];
    for (const auto& page : on_page) {
        CAPTURE(page.first);
        CHECK((page.second > 1 || rows.size() == 1));
    }
    for (const char* const above : {"/THead", "/Caption"})
        for (const int head : tree.children_of(table, above))
            if (!on_page.empty()) CHECK(tree.pages_of(head)->last == on_page.begin()->first);
}

void check_orphans(const print::Pdf& pdf) {
    const Tree tree(pdf);
    for (int element = 0; element < tree.size(); ++element) {
        const std::string& type = tree.at(element).type;
        const auto pages = tree.pages_of(element);
        if (!pages) continue;
        CAPTURE(type);
        CAPTURE(pages->first);
        if (type == "/Table") check_rows(tree, element);
        if (type == "/Figure") CHECK(pages->first == pages->last);  // its caption too
        const int next = tree.next_of(element);
        const auto below = next < 0 ? std::nullopt : tree.pages_of(next);
        if (!below) continue;
        if (type == "/H1" || type == "/H2" || type == "/H3") CHECK(below->first == pages->last);
        // A sentence about a table does not open the next page.
        const std::string& next_type = tree.at(next).type;
        if (type == "/Table" && (next_type == "/P" || next_type == "/L")) CHECK(below->first == pages->last);
    }
}

void check_filled(const print::Pdf& pdf, document::Paper paper) {
    const double top = 40, bottom = height_of(paper) - 72;
    std::vector<double> lowest(static_cast<std::size_t>(pdf.pages));
    for (const outside::Word& word : outside::words_of(pdf)) {
        double& of_page = lowest[static_cast<std::size_t>(word.page)];
        if (word.bottom < bottom + 6) of_page = std::max(of_page, word.bottom);
    }
    for (std::size_t page = 0; page + 1 < lowest.size(); ++page) {
        CAPTURE(page);
        CHECK(lowest[page] > top + (bottom - top) * 2 / 3);
    }
}

}  // namespace

TEST_CASE("No page of the demo job's sheets but the last is a third empty, and none has a row or sentence alone") {
    for (const document::Paper paper : papers)
        for (const SheetReader reader : readers) {
            CAPTURE(static_cast<int>(paper));
            CAPTURE(static_cast<int>(reader));
            const auto pdf = outside::rendered(real_sheet(samples::demo_job(), reader, paper));
            check_filled(pdf, paper);
            check_orphans(pdf);
        }
}

TEST_CASE("A technician's sheet takes at most sixteen pages, and its contents name the page a section begins on") {
    for (const document::Paper paper : papers) {
        const auto pdf = outside::rendered(real_sheet(samples::demo_job(), SheetReader::technician, paper));
        CHECK(pdf.pages <= 16);
        const auto pages = outside::pages_of(pdf);
        for (const char* const section : {"Findings", "Zone schedule", "Zone: Terrace", "Types"}) {
            CAPTURE(section);
            std::size_t begins = 1;
            while (begins < pages.size() && pages[begins].find(std::string(section) + "\n") == std::string::npos)
                ++begins;
            REQUIRE(begins < pages.size());
            CHECK(outside::squeezed(pages[0]).find(outside::squeezed(section) + std::to_string(begins + 1)) !=
                  std::string::npos);
        }
    }
}

TEST_CASE("A drawing that does not fit opens the next page, and the table after it fills this one") {
    document::Document sheet;
    document::Drawing drawing;
    drawing.width = 400;
    drawing.height = 300;
    drawing.strokes = {{{{0, 0}, {400, 300}}}};
    drawing.labels = {{10, 100, "drawn", 9}};
    document::Table table;
    table.columns = {{"Point"}, {"Level"}};
    for (int k = 0; k < 36; ++k) table.rows.push_back({{"C-" + std::to_string(100 + k)}, {"\u22120.1 dB"}});
    sheet.blocks = {document::Layout::compact, document::Heading{1, "Line"}};
    for (int k = 0; k < 35; ++k) sheet.blocks.emplace_back(document::Paragraph{"before " + std::to_string(k)});
    sheet.blocks.emplace_back(document::Figure{drawing, "The line.", "A line."});
    sheet.blocks.emplace_back(table);
    sheet.blocks.emplace_back(document::Heading{2, "Next"});
    sheet.blocks.emplace_back(document::Paragraph{"after"});
    sheet.blocks.emplace_back(document::Layout::end_compact);
    const auto pdf = outside::rendered(sheet);
    check_orphans(pdf);
    const auto pages = outside::pages_of(pdf);
    REQUIRE(pages.size() == 2);
    CHECK(pages[0].find("C-100") != std::string::npos);
    CHECK(pages[0].find("drawn") == std::string::npos);
    CHECK(pages[1].find("drawn") < pages[1].find("C-1"));
    CHECK(pages[1].find("Point") < pages[1].find("C-1"));  // below it the table goes on with its head
    CHECK(pages[1].find("C-135") < pages[1].find("Next"));
    for (int k = 0; k < 36; ++k) {
        const std::string label = "C-" + std::to_string(100 + k);
        CHECK((pages[0].find(label) == std::string::npos) != (pages[1].find(label) == std::string::npos));
    }
    // In another section it is not.
    sheet.blocks.insert(sheet.blocks.end() - 4, document::Heading{2, "Points"});
    CHECK(outside::pages_of(outside::rendered(sheet))[0].find("C-100") == std::string::npos);
    outside::check_places(sheet);
}
