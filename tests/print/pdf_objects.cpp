#include "tests/print/pdf_objects.h"

#include <map>
#include <qpdf/QPDF.hh>
#include <stdexcept>

namespace tapwright::outside {
namespace {

using Object = QPDFObjectHandle;

std::vector<Object> kids_of(Object element) {
    Object kids = element.getKey("/K");
    if (kids.isArray()) return kids.getArrayAsVector();
    if (kids.isNull()) return {};
    return {kids};
}

bool is_element(Object kid) {
    return kid.isDictionary() && kid.hasKey("/S");
}

struct Marks : Object::ParserCallbacks {
    explicit Marks(MarkedPage& found) : page(found) {}

    void handleObject(Object object, std::size_t, std::size_t) override {
        if (!object.isOperator()) {
            operands.push_back(object);
            return;
        }
        const std::string name = object.getOperatorValue();
        if (name == "BDC" && operands.back().isDictionary() && operands.back().hasKey("/MCID")) {
            if (open > 0) ++page.opened_within;
            page.numbers.push_back(operands.back().getKey("/MCID").getIntValueAsInt());
            page.within.push_back(0);
            mark_is_open = true;
            ++open;
        } else if (name == "BDC" || name == "BMC") {
            ++open;
        } else if (name == "EMC") {
            if (open == 0) throw std::runtime_error("an EMC closes nothing");
            --open;
            if (open == 0) mark_is_open = false;
        } else if (name == "f" || name == "S" || name == "Tj" || name == "TJ" || name == "Do" || name == "f*" ||
                   name == "B" || name == "B*") {
            ++page.drawn;
            if (open == 0) ++page.drawn_outside;
            if (mark_is_open) ++page.within.back();
        } else if ((name == "BT" || name == "ET") && open > 1) {
            ++page.opened_within;
        }
        operands.clear();
    }
    void handleEOF() override { page.left_open = open; }

    MarkedPage& page;
    std::vector<Object> operands;
    int open = 0;
    bool mark_is_open = false;
};

class Reader {
public:
    explicit Reader(const std::string& bytes) {
        pdf_.processMemoryFile("sheet", bytes.data(), bytes.size());
        pages_ = pdf_.getAllPages();
        for (std::size_t k = 0; k < pages_.size(); ++k) page_places_[pages_[k].getObjGen()] = static_cast<int>(k);
    }

    PdfObjects read() {
        root_ = pdf_.getRoot().getKey("/StructTreeRoot");
        if (!root_.isDictionary()) throw std::runtime_error("there is no tag tree");
        for (Object kid : kids_of(root_)) walk(kid, root_, -1);
        for (Object page : pages_) read_page(page);
        for (Object object : pdf_.getAllObjects()) read_font(object);
        Object catalog = pdf_.getRoot();
        if (Object outlines = catalog.getKey("/Outlines"); outlines.isDictionary())
            read_bookmarks(outlines.getKey("/First"), 0);
        made_.language = catalog.getKey("/Lang").getUTF8Value();
        made_.is_marked = catalog.getKey("/MarkInfo").getKey("/Marked").getBoolValue();
        made_.shows_title = catalog.getKey("/ViewerPreferences").getKey("/DisplayDocTitle").getBoolValue();
        return std::move(made_);
    }

private:
    int place_of_page(Object page) {
        const auto found = page_places_.find(page.getObjGen());
        return found == page_places_.end() ? -1 : found->second;
    }

    void walk(Object element, Object parent, int parent_place) {
        const int place = static_cast<int>(made_.elements.size());
        element_places_[element.getObjGen()] = place;
        TagElement told;
        told.type = element.getKey("/S").getName();
        told.parent = parent_place;
        told.leads_back = element.getKey("/P").getObjGen() == parent.getObjGen();
        if (element.hasKey("/Alt")) told.alternative = element.getKey("/Alt").getUTF8Value();
        if (Object attributes = element.getKey("/A"); attributes.isDictionary()) {
            if (attributes.hasKey("/Scope")) told.scope = attributes.getKey("/Scope").getName();
            if (attributes.hasKey("/ListNumbering")) told.numbering = attributes.getKey("/ListNumbering").getName();
            if (attributes.hasKey("/BBox"))
                for (Object corner : attributes.getKey("/BBox").getArrayAsVector())
                    told.box.push_back(corner.getNumericValue());
        }
        for (Object kid : kids_of(element)) {
            if (is_element(kid)) continue;
            const bool is_reference = kid.isDictionary();
            told.marks.emplace_back(place_of_page(is_reference ? kid.getKey("/Pg") : element.getKey("/Pg")),
                                    (is_reference ? kid.getKey("/MCID") : kid).getIntValueAsInt());
        }
        made_.elements.push_back(told);
        if (parent_place >= 0) made_.elements[static_cast<std::size_t>(parent_place)].children.push_back(place);
        for (Object kid : kids_of(element))
            if (is_element(kid)) walk(kid, element, place);
    }

    void read_page(Object page) {
        MarkedPage& told = made_.pages.emplace_back();
        Marks marks(told);
        page.parsePageContents(&marks);
        if (Object annotations = page.getKey("/Annots"); annotations.isArray())
            told.annotations = annotations.getArrayNItems();
        if (page.hasKey("/Tabs")) told.tab_order = page.getKey("/Tabs").getName();
        Object parents = root_.getKey("/ParentTree")
                             .getKey("/Nums")
                             .getArrayItem(2 * page.getKey("/StructParents").getIntValueAsInt() + 1);
        for (Object owner : parents.getArrayAsVector()) {
            const auto found = element_places_.find(owner.getObjGen());
            told.owners.push_back(found == element_places_.end() ? -1 : found->second);
        }
    }

    // What stands behind a composite font is none that text is set in.
    void read_font(Object object) {
        if (!object.isDictionary() || !object.getKey("/Type").isName() || object.getKey("/Type").getName() != "/Font" ||
            object.getKey("/Subtype").getName().rfind("/CIDFont", 0) == 0)
            return;
        std::string letters;
        if (Object map = object.getKey("/ToUnicode"); map.isStream()) {
            const auto data = map.getStreamData();
            letters.assign(reinterpret_cast<const char*>(data->getBuffer()), data->getSize());
        }
        made_.letters_of_fonts.push_back(letters);
    }

    void read_bookmarks(Object item, int depth) {
        for (; item.isDictionary(); item = item.getKey("/Next")) {
            Object target = item.getKey("/Dest");
            if (target.isNull()) target = item.getKey("/A").getKey("/D");
            made_.bookmarks.push_back({depth, item.getKey("/Title").getUTF8Value(),
                                       target.isArray() && place_of_page(target.getArrayItem(0)) >= 0});
            read_bookmarks(item.getKey("/First"), depth + 1);
        }
    }

    QPDF pdf_;
    Object root_;
    std::vector<Object> pages_;
    std::map<QPDFObjGen, int> page_places_;
    std::map<QPDFObjGen, int> element_places_;
    PdfObjects made_;
};

}  // namespace

PdfObjects objects_of(const std::string& bytes) {
    return Reader(bytes).read();
}

std::vector<std::string> pictures_of(const std::string& bytes) {
    QPDF pdf;
    pdf.processMemoryFile("sheet", bytes.data(), bytes.size());
    std::vector<std::string> pictures;
    for (Object object : pdf.getAllObjects()) {
        if (!object.isStream() || object.getDict().getKey("/Subtype").isNull()) continue;
        if (object.getDict().getKey("/Subtype").getName() != "/Image") continue;
        const auto data = object.getRawStreamData();
        pictures.emplace_back(reinterpret_cast<const char*>(data->getBuffer()), data->getSize());
    }
    return pictures;
}

}  // namespace tapwright::outside
