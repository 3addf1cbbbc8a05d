// The tag tree, as a reader for the blind would walk it (ISO 32000-1, 14.7 and 14.8; the checks follow ISO 14289-1,
// section 7, from memory), and what else makes the file whole: metadata, bookmarks, qpdf's check, the same bytes twice.
#include <doctest/doctest.h>

#include <map>
#include <regex>
#include <set>

#include "tests/print/outside.h"
#include "tests/print/pdf_objects.h"
#include "tests/print/samples.h"

using namespace tapwright;
using namespace tapwright::document;

namespace {

outside::PdfObjects objects_of(const Document& document) {
    return outside::objects_of(outside::rendered(document).bytes);
}

std::vector<std::string> figures_of(const outside::PdfObjects& pdf) {
    std::vector<std::string> found;
    for (const auto& element : pdf.elements)
        if (element.type == "/Figure") found.push_back(element.alternative);
    return found;
}

void check_whole(const Document& document) {
    const auto pdf = outside::rendered(document);
    const outside::TemporaryFile file(pdf.bytes);
    const auto checked = outside::run("qpdf --check " + file.path());
    CAPTURE(checked.output);
    CHECK(checked.status == 0);
    const outside::PdfObjects objects = outside::objects_of(pdf.bytes);
    REQUIRE(!objects.elements.empty());
    CHECK(objects.elements[0].type == "/Document");
    CHECK(static_cast<int>(objects.pages.size()) == pdf.pages);

    // Every mark of every page belongs to one element, and the parent tree leads back to it.
    std::map<std::pair<int, int>, int> owners;
    for (std::size_t k = 0; k < objects.elements.size(); ++k) {
        CHECK(objects.elements[k].leads_back);
        for (const auto& mark : objects.elements[k].marks) CHECK(owners.emplace(mark, static_cast<int>(k)).second);
    }
    std::size_t marks = 0;
    for (std::size_t page = 0; page < objects.pages.size(); ++page) {
        const outside::MarkedPage& found = objects.pages[page];
        CHECK(found.left_open == 0);
        CHECK(found.tab_order == "/S");
        CHECK(found.opened_within == 0);
        CHECK(found.drawn > 0);
        CHECK(found.drawn_outside == 0);  // whatever is drawn is content or artifact
        REQUIRE(found.owners.size() == found.numbers.size());
        for (std::size_t k = 0; k < found.numbers.size(); ++k) {
            CHECK(found.numbers[k] == static_cast<int>(k));
            const auto owner = owners.find({static_cast<int>(page), static_cast<int>(k)});
            REQUIRE(owner != owners.end());
            CHECK(owner->second == found.owners[k]);
        }
        marks += found.numbers.size();
    }
    CHECK(marks == owners.size());
}

}  // namespace

TEST_CASE("qpdf finds no fault, and every mark is tied to its element and back") {
    for (const Document& sheet : {samples::handover(), samples::nasty(), samples::long_table(120), samples::laid_out(),
                                  samples::labels(50, 20, 60), Document{}})
        check_whole(sheet);
}

TEST_CASE("pdfinfo sees a tagged file with title, author and the document's own date") {
    const outside::TemporaryFile file(outside::rendered(samples::handover()).bytes);
    const std::string info = outside::run("TZ=UTC pdfinfo -isodates " + file.path()).output;
    CHECK(info.find("Tagged:          yes") != std::string::npos);
    CHECK(info.find("Title:           As-built handover: Lindenhof Community Hall") != std::string::npos);
    CHECK(info.find("Author:          Example Sound Installations") != std::string::npos);
    CHECK(info.find("CreationDate:    2031-04-12T16:40:00+02") != std::string::npos);
    CHECK(info.find("ModDate") == std::string::npos);
}

TEST_CASE("The catalog names the language and asks for the title to be shown") {
    const outside::PdfObjects pdf = objects_of(samples::nasty());
    CHECK(pdf.language == "de");
    CHECK(pdf.is_marked);
    CHECK(pdf.shows_title);
}

TEST_CASE("Figures have their alternative text, in order; a drawn signature is one of them") {
    const std::vector<std::string> found = figures_of(objects_of(samples::handover()));
    REQUIRE(found.size() == 4);
    CHECK(found[0].rfind("Load of the great hall", 0) == 0);
    CHECK(found[1].rfind("Line drawing", 0) == 0);
    CHECK(found[2].rfind("Photo", 0) == 0);
    CHECK(found[3] == "Drawn signature: A. Sample");
}

TEST_CASE("A figure of shapes alone, without a word in it, is tagged, and its mark holds what is drawn") {
    Drawing drawing;
    drawing.width = 100;
    drawing.height = 40;
    drawing.strokes = {{{{0, 0}, {100, 40}}}, {{{0, 40}, {50, 0}, {100, 40}}, 1, false, true}};
    const document::Figure figure{drawing, "", "Two strokes that cross."};
    Document sheet;
    sheet.blocks = {figure, Paragraph{"between"}, figure};
    check_whole(sheet);
    const outside::PdfObjects pdf = objects_of(sheet);
    CHECK(figures_of(pdf) == std::vector<std::string>(2, figure.alternative));
    for (const auto& element : pdf.elements) {
        if (element.type != "/Figure") continue;
        REQUIRE(element.marks.size() == 1);
        const auto [page, number] = element.marks[0];
        CHECK(pdf.pages.at(static_cast<std::size_t>(page)).within.at(static_cast<std::size_t>(number)) == 2);
    }
}

TEST_CASE("Every figure says where on its page it stands, and the next one elsewhere") {
    for (const Document& sheet : {samples::handover(), samples::laid_out()}) {
        std::set<std::vector<double>> places;
        std::size_t figures = 0;
        for (const auto& element : objects_of(sheet).elements) {
            if (element.type != "/Figure") continue;
            CAPTURE(element.alternative);
            ++figures;
            REQUIRE(element.box.size() == 4);
            CHECK(element.box[0] >= 42 - 1);
            CHECK(element.box[1] >= 30);
            CHECK(element.box[2] - element.box[0] > 10);
            CHECK(element.box[3] - element.box[1] > 5);
            CHECK(element.box[2] <= 612 - 42 + 1);
            CHECK(element.box[3] <= 842 - 38);
            places.insert(element.box);
            places.insert({static_cast<double>(element.marks.at(0).first)});
        }
        CHECK(places.size() > figures);
    }
}

TEST_CASE("The metadata say title, author and language, whatever signs are in them") {
    Document sheet = samples::handover();
    sheet.title = "Hall <A> & \"B\" \uFFFE";
    sheet.language = "de";
    const outside::TemporaryFile file(outside::rendered(sheet).bytes);
    const std::string metadata = outside::run("pdfinfo -meta " + file.path()).output;
    CHECK(metadata.find(">Hall &lt;A&gt; &amp; \"B\" \uFFFD</rdf:li></rdf:Alt></dc:title>") != std::string::npos);
    CHECK(metadata.find(">Example Sound Installations</rdf:li></rdf:Seq></dc:creator>") != std::string::npos);
    CHECK(metadata.find(">de</rdf:li></rdf:Bag></dc:language>") != std::string::npos);
}

// poppler walks the tag tree by itself, so what it reads is what a reader for the blind is given.
TEST_CASE("Read by its tags alone the sheet says all that it shows but footers and repeated heads, in the same order") {
    for (const Document& sheet : {samples::handover(), samples::long_table(120), samples::laid_out()}) {
        const outside::TemporaryFile file(outside::rendered(sheet).bytes);
        const outside::Outcome read = outside::run("pdfinfo -struct-text -enc UTF-8 " + file.path());
        REQUIRE(read.status == 0);
        CHECK(read.output.find("(continued)") == std::string::npos);
        std::size_t at = 0;
        for (const std::string& said : outside::texts_in(sheet)) {
            if (said.empty() || said.find('\n') != std::string::npos) continue;
            CAPTURE(said);
            const std::size_t found = read.output.find(said, at);  // with a space also where a line ends
            CHECK(found != std::string::npos);
            if (found != std::string::npos) at = found;
        }
    }
}

TEST_CASE("Every figure draws within its mark, and the markers that showed where are gone") {
    for (const Document& sheet : {samples::handover(), samples::laid_out()}) {
        const auto pdf = outside::rendered(sheet);
        const outside::PdfObjects objects = outside::objects_of(pdf.bytes);
        for (const auto& element : objects.elements) {
            if (element.type != "/Figure") continue;
            CAPTURE(element.alternative);
            REQUIRE(!element.marks.empty());
            for (const auto& [page, number] : element.marks)
                CHECK(objects.pages.at(static_cast<std::size_t>(page)).within.at(static_cast<std::size_t>(number)) > 0);
        }
        // The corner in which they are drawn is white: three bytes a pixel at the end of a PPM.
        const outside::TemporaryFile file(pdf.bytes);
        const std::string corner =
            outside::run("pdftoppm -q -r 72 -x 0 -y 0 -W 8 -H 8 -f 1 -l 1 " + file.path()).output;
        REQUIRE(corner.size() > 192);
        CHECK(corner.substr(0, 2) == "P6");
        CHECK(corner.substr(corner.size() - 192) == std::string(192, '\xFF'));
    }
}

TEST_CASE("What stands side by side is read column by column, floors and pinned photos with their words") {
    const Document sheet = samples::laid_out();
    const auto pdf = outside::rendered(sheet);
    const std::vector<std::string> found = figures_of(outside::objects_of(pdf.bytes));
    const std::string level = "Level over the floor of the great hall: 72 to 90 dB.";
    CHECK(found == std::vector<std::string>{level, "Photo. A ring marks the spot.", level});
    const std::string text = outside::squeezed(outside::text_of(pdf));
    std::size_t at = 0;
    for (const std::string& said : outside::texts_in(sheet)) {
        CAPTURE(said);
        at = text.find(outside::squeezed(said), at);
        REQUIRE(at != std::string::npos);
    }
}

TEST_CASE("Tables: header cells with a scope, one table over all pages, every row as wide as its header") {
    const outside::PdfObjects pdf = objects_of(samples::long_table(120));
    int tables = 0;
    int rows = 0;
    for (const auto& element : pdf.elements) {
        if (element.type == "/Table") ++tables;
        if (element.type != "/TR") continue;
        ++rows;
        CHECK(element.children.size() == 8);
        const bool header = pdf.elements[static_cast<std::size_t>(element.parent)].type == "/THead";
        for (std::size_t k = 0; k < element.children.size(); ++k) {
            const outside::TagElement& cell = pdf.elements[static_cast<std::size_t>(element.children[k])];
            const bool heads = header || k == 0;
            CHECK(cell.type == (heads ? "/TH" : "/TD"));
            if (heads) CHECK(cell.scope == (header ? "/Column" : "/Row"));
        }
    }
    CHECK(tables == 1);
    CHECK(rows == 121);
}

// ISO 14289-1, 7.6, from memory: a list whose items are numbered says so.
TEST_CASE("A list of steps says that its items are numbered, and one of bullets does not") {
    Document sheet;
    sheet.blocks = {Bullets{{"first", "second"}, true}, Bullets{{"one", "other"}}, Bullets{{"third"}, true}};
    std::vector<std::string> found;
    for (const auto& element : objects_of(sheet).elements)
        if (element.type == "/L") found.push_back(element.numbering);
    CHECK(found == std::vector<std::string>{"/Decimal", "", "/Decimal"});
}

// ISO 14289-1, 7.21.7, from memory: every code of a font has its letters, and none of them is U+0000, U+FEFF or U+FFFE.
TEST_CASE("Every font says which letters its glyphs are, and names none that is no letter") {
    for (const Document& sheet : {samples::handover(), samples::nasty()}) {
        const outside::PdfObjects pdf = objects_of(sheet);
        REQUIRE(!pdf.letters_of_fonts.empty());
        const std::regex row("<([0-9A-Fa-f]+)>\\s*<([0-9A-Fa-f]+)>\\s*[\\r\\n]");
        for (const std::string& letters : pdf.letters_of_fonts) {
            const std::size_t begin = letters.find("bfchar");
            REQUIRE(begin != std::string::npos);
            int glyphs = 0;
            for (std::sregex_iterator at(letters.begin() + static_cast<std::ptrdiff_t>(begin), letters.end(), row), end;
                 at != end; ++at, ++glyphs) {
                const std::string meant = (*at)[2];
                CAPTURE(meant);
                CHECK(meant.size() % 4 == 0);
                for (const char* const never : {"0000", "feff", "fffe", "FEFF", "FFFE"}) CHECK(meant != never);
            }
            CHECK(glyphs > 0);
        }
    }
}

// There is nothing to say of links where there are none; whoever adds one finds this.
TEST_CASE("No page has a link or note that a reader for the blind is not told of") {
    for (const Document& sheet : {samples::handover(), samples::laid_out()})
        for (const outside::MarkedPage& page : objects_of(sheet).pages) CHECK(page.annotations == 0);
}

TEST_CASE("Headings do not skip a level in the tree, even where the document does") {
    for (const Document& sheet : {samples::handover(), samples::nasty()}) {
        int last = 0;
        for (const auto& element : objects_of(sheet).elements) {
            const std::string& type = element.type;
            if (type.size() != 3 || type.rfind("/H", 0) != 0) continue;
            CHECK(type[2] - '0' <= last + 1);
            last = type[2] - '0';
        }
        CHECK(last > 0);
    }
}

TEST_CASE("The order of the tree is the order of the blocks, and children stand where they may") {
    Document sheet;
    sheet.blocks = {Heading{1, "a"}, Paragraph{"b", Tone::warning}, Bullets{{"c", "d"}}, Facts{{{"e", "f"}}},
                    Paragraph{"g"}};
    const std::vector<std::string> expected = {"/Document", "/H1",    "/P",  "/L",  "/LI", "/LBody", "/LI",
                                               "/LBody",    "/Table", "/TR", "/TH", "/TD", "/P"};
    std::vector<std::string> types;
    for (const auto& element : objects_of(sheet).elements) types.push_back(element.type);
    CHECK(types == expected);
    const std::map<std::string, std::set<std::string>> homes = {
        {"/LI", {"/L"}},  {"/LBody", {"/LI"}}, {"/TR", {"/Table", "/THead", "/TBody"}},
        {"/TD", {"/TR"}}, {"/TH", {"/TR"}},    {"/Caption", {"/Table", "/Figure"}}};
    const outside::PdfObjects pdf = objects_of(samples::handover());
    for (const auto& element : pdf.elements)
        if (const auto home = homes.find(element.type); home != homes.end())
            CHECK(home->second.contains(pdf.elements.at(static_cast<std::size_t>(element.parent)).type));
}

TEST_CASE("Bookmarks follow the headings, nested by level, and lead to their pages") {
    std::vector<std::string> found;
    for (const auto& bookmark : objects_of(samples::handover()).bookmarks) {
        CHECK(bookmark.leads_to_a_page);
        found.push_back(std::string(static_cast<std::size_t>(bookmark.depth), '>') + bookmark.title);
    }
    const std::vector<std::string> expected = {"Lindenhof Community Hall",
                                               ">What the lines carry",
                                               ">>The great hall",
                                               ">If there is no sound",
                                               ">Schedules",
                                               ">Photos",
                                               ">Sign-off"};
    CHECK(found == expected);
}

TEST_CASE("The same document gives the same bytes, in this process and in another, wherever and whenever") {
    for (const std::string name : {"handover", "nasty", "300"}) {
        const Document sheet = name == "handover" ? samples::handover()
                               : name == "nasty"  ? samples::nasty()
                                                  : samples::long_table(300);
        const auto first = outside::rendered(sheet);
        CHECK(outside::rendered(sheet).bytes == first.bytes);
        const outside::TemporaryFile other;
        const auto outcome = outside::run(
            "env TZ=Pacific/Auckland LC_ALL=C LANGUAGE=ja:fa PANGO_LANGUAGE=ko FONTCONFIG_FILE=/dev/null "
            "SOURCE_DATE_EPOCH=1 " TAPWRIGHT_PRINT_SAMPLE " " +
            name + " " + other.path());
        CAPTURE(outcome.output);
        REQUIRE(outcome.status == 0);
        CHECK(other.bytes() == first.bytes);
    }
}

TEST_CASE("Fonts are embedded, and every one can be turned back into text") {
    const outside::TemporaryFile file(outside::rendered(samples::nasty()).bytes);
    const std::string fonts = outside::run("pdffonts " + file.path()).output;
    CHECK(fonts.find("Inter") != std::string::npos);
    CHECK(fonts.find("CJK") != std::string::npos);
    CHECK(fonts.find("Arabic") != std::string::npos);
    CHECK(fonts.find(" no ") == std::string::npos);
}
