#include "platform/print/tagging.h"

#include <qpdf/Pl_Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include <stdexcept>

#include "platform/print/marks.h"
#include "platform/print/settable.h"
#include "platform/print/xmp.h"

namespace tapwright::print {
namespace {

using Object = QPDFObjectHandle;

// For each page, the elements of its marks in order.
std::vector<std::vector<int>> elements_by_page(const Structure& structure, std::size_t pages) {
    std::vector<std::vector<int>> by_page(pages);
    for (std::size_t k = 0; k < structure.elements().size(); ++k) {
        for (const Mark mark : structure.elements()[k].marks) {
            auto& page = by_page.at(static_cast<std::size_t>(mark.page));
            const auto number = static_cast<std::size_t>(mark.number);
            if (page.size() <= number) page.resize(number + 1, 0);
            page[number] = static_cast<int>(k);
        }
    }
    return by_page;
}

class Finisher {
public:
    Finisher(const std::string& painted, const Structure& structure) : structure_(structure) {
        pdf_.setSuppressWarnings(true);
        pdf_.processMemoryFile("sheet", painted.data(), painted.size());
        pages_ = pdf_.getAllPages();
        by_page_ = elements_by_page(structure, pages_.size());
    }

    void rewrite_marks() {
        for (std::size_t k = 0; k < pages_.size(); ++k) {
            std::vector<const char*> types;
            for (const int element : by_page_[k])
                types.push_back(structure_type(structure_.elements()[static_cast<std::size_t>(element)].role));
            Pl_Buffer content("content");
            pages_[k].pipePageContents(&content);
            const auto bytes = content.getBufferSharedPointer();
            const std::string_view drawn(reinterpret_cast<const char*>(bytes->getBuffer()), bytes->getSize());
            pages_[k].replaceKey("/Contents", Object::newStream(&pdf_, tagged_content(drawn, types)));
        }
    }

    void write_tree() {
        const auto& elements = structure_.elements();
        objects_.clear();
        column_scope_ = pdf_.makeIndirectObject(Object::parse("<< /O /Table /Scope /Column >>"));
        row_scope_ = pdf_.makeIndirectObject(Object::parse("<< /O /Table /Scope /Row >>"));
        numbering_ = pdf_.makeIndirectObject(Object::parse("<< /O /List /ListNumbering /Decimal >>"));
        for (std::size_t k = 0; k < elements.size(); ++k)
            objects_.push_back(pdf_.makeIndirectObject(Object::newDictionary()));
        Object root = pdf_.makeIndirectObject(Object::newDictionary());
        root.replaceKey("/Type", Object::newName("/StructTreeRoot"));
        root.replaceKey("/K", objects_[0]);
        for (std::size_t k = 0; k < elements.size(); ++k) fill(objects_[k], elements[k], root);
        root.replaceKey("/ParentTree", pdf_.makeIndirectObject(parent_tree()));
        root.replaceKey("/ParentTreeNextKey", Object::newInteger(static_cast<long long>(pages_.size())));
        pdf_.getRoot().replaceKey("/StructTreeRoot", root);
    }

    void write_metadata(const About& about) {
        Object catalog = pdf_.getRoot();
        catalog.replaceKey("/Lang", Object::newUnicodeString(settable(about.language)));
        catalog.replaceKey("/MarkInfo", Object::parse("<< /Marked true >>"));
        catalog.replaceKey("/ViewerPreferences", Object::parse("<< /DisplayDocTitle true >>"));
        Object info = Object::newDictionary();
        info.replaceKey("/Title", Object::newUnicodeString(settable(about.title)));
        if (!about.author.empty()) info.replaceKey("/Author", Object::newUnicodeString(settable(about.author)));
        info.replaceKey("/Creator", Object::newString("Tapwright"));
        info.replaceKey("/Producer", Object::newString("Tapwright"));
        if (!about.created.empty()) info.replaceKey("/CreationDate", Object::newString(about.created));
        pdf_.getTrailer().replaceKey("/Info", pdf_.makeIndirectObject(info));
        Object metadata = Object::newStream(&pdf_, xmp(settable(about.title), settable(about.author), about.language));
        metadata.getDict().replaceKey("/Type", Object::newName("/Metadata"));
        metadata.getDict().replaceKey("/Subtype", Object::newName("/XML"));
        catalog.replaceKey("/Metadata", metadata);
    }

    std::string bytes() {
        QPDFWriter writer(pdf_);
        writer.setOutputMemory();
        writer.setMinimumPDFVersion("1.7");
        writer.setObjectStreamMode(qpdf_o_generate);
        writer.setCompressStreams(true);
        writer.setDeterministicID(true);
        writer.write();
        // Where memory runs out in the midst of it, qpdf leaves out what it could not read, and only warns.
        if (pdf_.anyWarnings()) throw std::runtime_error(pdf_.getWarnings().front().what());
        const auto buffer = writer.getBufferSharedPointer();
        return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
    }

private:
    void fill(Object object, const Element& element, const Object& root) {
        object.replaceKey("/Type", Object::newName("/StructElem"));
        object.replaceKey("/S", Object::newName(std::string("/") + structure_type(element.role)));
        object.replaceKey("/P", element.parent < 0 ? root : objects_[static_cast<std::size_t>(element.parent)]);
        if (!element.alternative.empty()) object.replaceKey("/Alt", Object::newUnicodeString(element.alternative));
        if (element.role == Role::column_header) object.replaceKey("/A", column_scope_);
        if (element.role == Role::row_header) object.replaceKey("/A", row_scope_);
        if (is_numbered(element)) object.replaceKey("/A", numbering_);
        if (element.role == Role::figure) object.replaceKey("/A", place_of(element.box));
        std::vector<Object> kids;
        for (const Mark mark : element.marks) kids.push_back(content(element, mark));
        for (const int child : element.children) kids.push_back(objects_[static_cast<std::size_t>(child)]);
        if (!element.marks.empty()) object.replaceKey("/Pg", page_of(element.marks.front()));
        if (kids.size() == 1) object.replaceKey("/K", kids.front());
        if (kids.size() > 1) object.replaceKey("/K", Object::newArray(kids));
    }

    // A list whose items have their number before them.
    bool is_numbered(const Element& element) const {
        if (element.role != Role::list || element.children.empty()) return false;
        const auto& elements = structure_.elements();
        const Element& item = elements[static_cast<std::size_t>(element.children.front())];
        return !item.children.empty() &&
               elements[static_cast<std::size_t>(item.children.front())].role == Role::item_label;
    }

    static Object place_of(const Box& box) {
        Object place = Object::parse("<< /O /Layout /Placement /Block >>");
        place.replaceKey("/BBox", Object::newArray(Object::Rectangle(box.left, box.bottom, box.right, box.top)));
        return place;
    }

    Object page_of(Mark mark) { return pages_.at(static_cast<std::size_t>(mark.page)); }

    // A mark on the element's first page is its number alone; on another it says which page.
    Object content(const Element& element, Mark mark) {
        if (mark.page == element.marks.front().page) return Object::newInteger(mark.number);
        Object reference = Object::newDictionary();
        reference.replaceKey("/Type", Object::newName("/MCR"));
        reference.replaceKey("/Pg", page_of(mark));
        reference.replaceKey("/MCID", Object::newInteger(mark.number));
        return reference;
    }

    Object parent_tree() {
        std::vector<Object> numbers;
        for (std::size_t k = 0; k < pages_.size(); ++k) {
            std::vector<Object> parents;
            for (const int element : by_page_[k]) parents.push_back(objects_[static_cast<std::size_t>(element)]);
            numbers.push_back(Object::newInteger(static_cast<long long>(k)));
            numbers.push_back(pdf_.makeIndirectObject(Object::newArray(parents)));
            pages_[k].replaceKey("/StructParents", Object::newInteger(static_cast<long long>(k)));
            pages_[k].replaceKey("/Tabs", Object::newName("/S"));
        }
        Object tree = Object::newDictionary();
        tree.replaceKey("/Nums", Object::newArray(numbers));
        return tree;
    }

    const Structure& structure_;
    QPDF pdf_;
    std::vector<Object> pages_;
    std::vector<std::vector<int>> by_page_;
    std::vector<Object> objects_;  // one for each element
    Object column_scope_;          // shared by all header cells
    Object row_scope_;
    Object numbering_;  // by all lists of steps
};

}  // namespace

std::string tagged(const std::string& painted, const Structure& structure, const About& about) {
    Finisher finisher(painted, structure);
    finisher.rewrite_marks();
    finisher.write_tree();
    finisher.write_metadata(about);
    return finisher.bytes();
}

}  // namespace tapwright::print
