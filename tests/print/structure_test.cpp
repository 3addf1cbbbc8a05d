// The tag tree, as a reader for the blind would walk it (ISO 32000-1, 14.7 and 14.8; the checks follow ISO 14289-1,
// section 7, from memory), and what else makes the file whole: metadata, bookmarks, qpdf's check, the same bytes twice.
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <map>
#include <qpdf/QPDF.hh>
#include <set>

#include "tests/print/outside.h"
#include "tests/print/samples.h"

using namespace tapwright;
using namespace tapwright::document;

namespace {

using Object = QPDFObjectHandle;

std::string type_of(Object element) {
    return element.getKey("/S").getName();
}

std::vector<Object> kids_of(Object element) {
    Object kids = element.getKey("/K");
    if (kids.isArray()) return kids.getArrayAsVector();
    if (kids.isNull()) return {};
    return {kids};
}

bool is_element(Object kid) {
    return kid.isDictionary() && kid.hasKey("/S");
}

class Tree {
public:
    explicit Tree(const print::Pdf& pdf) : bytes_(pdf.bytes) {
        pdf_.processMemoryFile("sheet", bytes_.data(), bytes_.size());
        root_ = pdf_.getRoot().getKey("/StructTreeRoot");
        REQUIRE(root_.isDictionary());
    }

    Object catalog() { return pdf_.getRoot(); }
    Object root() { return root_; }
    std::vector<Object> pages() { return pdf_.getAllPages(); }

    void walk(const std::function<void(Object element, Object parent)>& visit) {
        std::function<void(Object, Object)> go = [&](Object element, Object parent) {
            visit(element, parent);
            for (Object kid : kids_of(element))
                if (is_element(kid)) go(kid, element);
        };
        for (Object kid : kids_of(root_)) go(kid, root_);
    }

    std::vector<std::string> types() {
        std::vector<std::string> found;
        walk([&](Object element, Object) { found.push_back(type_of(element)); });
        return found;
    }

private:
    std::string bytes_;
    QPDF pdf_;
    Object root_;
};

struct Marks : Object::ParserCallbacks {
    void handleObject(Object object, std::size_t, std::size_t) override {
        if (!object.isOperator()) {
            operands.push_back(object);
            return;
        }
        const std::string name = object.getOperatorValue();
        if (name == "BDC" && operands.back().isDictionary() && operands.back().hasKey("/MCID")) {
            CHECK(open.empty());
            numbers.push_back(operands.back().getKey("/MCID").getIntValueAsInt());
            open.push_back("mark");
        } else if (name == "BDC" || name == "BMC") {
            open.push_back(operands.front().getName());
        } else if (name == "EMC") {
            REQUIRE(!open.empty());
            open.pop_back();
        } else if (name == "f" || name == "S" || name == "Tj" || name == "TJ" || name == "Do" || name == "f*") {
            CHECK_FALSE(open.empty());  // whatever is drawn is content or artifact
            ++drawn;
        } else if (name == "BT" || name == "ET") {
            CHECK(open.size() <= 1);
        }
        operands.clear();
    }
    void handleEOF() override {}
    std::vector<Object> operands;
    std::vector<std::string> open;
    std::vector<int> numbers;
    int drawn = 0;
};

void check_whole(const Document& document) {
    const auto pdf = outside::rendered(document);
    const outside::TemporaryFile file(pdf.bytes);
    const auto checked = outside::run("qpdf --check " + file.path());
    CAPTURE(checked.output);
    CHECK(checked.status == 0);
    Tree tree(pdf);
    CHECK(type_of(tree.root().getKey("/K")) == "/Document");
    CHECK(static_cast<int>(tree.pages().size()) == pdf.pages);

    // Every mark of every page belongs to one element, and the parent tree leads back to it.
    std::map<std::pair<int, int>, QPDFObjGen> owners;
    tree.walk([&](Object element, Object parent) {
        CHECK(element.getKey("/P").getObjGen() == parent.getObjGen());
        for (Object kid : kids_of(element)) {
            if (is_element(kid)) continue;
            const bool reference = kid.isDictionary();
            Object page = reference ? kid.getKey("/Pg") : element.getKey("/Pg");
            const int number = (reference ? kid.getKey("/MCID") : kid).getIntValueAsInt();
            CHECK(owners.emplace(std::pair(page.getObjectID(), number), element.getObjGen()).second);
        }
    });
    std::size_t marks = 0;
    Object numbers = tree.root().getKey("/ParentTree").getKey("/Nums");
    for (Object page : tree.pages()) {
        Marks found;
        page.parsePageContents(&found);
        CHECK(found.open.empty());
        CHECK(found.drawn > 0);
        Object parents = numbers.getArrayItem(2 * page.getKey("/StructParents").getIntValueAsInt() + 1);
        REQUIRE(parents.getArrayNItems() == static_cast<int>(found.numbers.size()));
        for (std::size_t k = 0; k < found.numbers.size(); ++k) {
            CHECK(found.numbers[k] == static_cast<int>(k));
            const auto owner = owners.find({page.getObjectID(), static_cast<int>(k)});
            REQUIRE(owner != owners.end());
            CHECK(owner->second == parents.getArrayItem(static_cast<int>(k)).getObjGen());
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
    Document sheet = samples::nasty();
    Tree tree(outside::rendered(sheet));
    CHECK(tree.catalog().getKey("/Lang").getUTF8Value() == "de");
    CHECK(tree.catalog().getKey("/MarkInfo").getKey("/Marked").getBoolValue());
    CHECK(tree.catalog().getKey("/ViewerPreferences").getKey("/DisplayDocTitle").getBoolValue());
}

TEST_CASE("Figures have their alternative text, in order; a drawn signature is one of them") {
    Tree tree(outside::rendered(samples::handover()));
    std::vector<std::string> found;
    tree.walk([&](Object element, Object) {
        if (type_of(element) == "/Figure") found.push_back(element.getKey("/Alt").getUTF8Value());
    });
    REQUIRE(found.size() == 4);
    CHECK(found[0].rfind("Load of the great hall", 0) == 0);
    CHECK(found[1].rfind("Line drawing", 0) == 0);
    CHECK(found[2].rfind("Photo", 0) == 0);
    CHECK(found[3] == "Drawn signature: A. Sample");
}

TEST_CASE("What stands side by side is read column by column, floors and pinned photos with their words") {
    const Document sheet = samples::laid_out();
    const auto pdf = outside::rendered(sheet);
    std::vector<std::string> found;
    Tree(pdf).walk([&](Object element, Object) {
        if (type_of(element) == "/Figure") found.push_back(element.getKey("/Alt").getUTF8Value());
    });
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
    Tree tree(outside::rendered(samples::long_table(120)));
    int tables = 0;
    int rows = 0;
    tree.walk([&](Object element, Object parent) {
        if (type_of(element) == "/Table") ++tables;
        if (type_of(element) != "/TR") return;
        ++rows;
        auto cells = kids_of(element);
        CHECK(cells.size() == 8);
        const bool header = type_of(parent) == "/THead";
        for (std::size_t k = 0; k < cells.size(); ++k) {
            const bool heads = header || k == 0;
            CHECK(type_of(cells[k]) == (heads ? "/TH" : "/TD"));
            if (heads) CHECK(cells[k].getKey("/A").getKey("/Scope").getName() == (header ? "/Column" : "/Row"));
        }
    });
    CHECK(tables == 1);
    CHECK(rows == 121);
}

TEST_CASE("Headings do not skip a level in the tree, even where the document does") {
    for (const Document& sheet : {samples::handover(), samples::nasty()}) {
        int last = 0;
        for (const std::string& type : Tree(outside::rendered(sheet)).types()) {
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
    CHECK(Tree(outside::rendered(sheet)).types() == expected);
    const std::map<std::string, std::set<std::string>> homes = {
        {"/LI", {"/L"}},  {"/LBody", {"/LI"}}, {"/TR", {"/Table", "/THead", "/TBody"}},
        {"/TD", {"/TR"}}, {"/TH", {"/TR"}},    {"/Caption", {"/Table", "/Figure"}}};
    Tree(outside::rendered(samples::handover())).walk([&](Object element, Object parent) {
        const auto home = homes.find(type_of(element));
        if (home != homes.end()) CHECK(home->second.count(type_of(parent)) == 1);
    });
}

TEST_CASE("Bookmarks follow the headings, nested by level, and lead to their pages") {
    Tree tree(outside::rendered(samples::handover()));
    const auto pages = tree.pages();
    std::vector<std::string> found;
    std::function<void(Object, int)> go = [&](Object item, int depth) {
        for (; item.isDictionary(); item = item.getKey("/Next")) {
            found.push_back(std::string(static_cast<std::size_t>(depth), '>') + item.getKey("/Title").getUTF8Value());
            Object target = item.getKey("/Dest");
            if (target.isNull()) target = item.getKey("/A").getKey("/D");
            REQUIRE(target.isArray());
            const auto page = target.getArrayItem(0).getObjGen();
            CHECK(std::any_of(pages.begin(), pages.end(), [&](Object p) { return p.getObjGen() == page; }));
            go(item.getKey("/First"), depth + 1);
        }
    };
    go(tree.catalog().getKey("/Outlines").getKey("/First"), 0);
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
