#include "platform/print/structure.h"

#include "core/base/ensure.h"

namespace tapwright::print {

const char* structure_type(Role role) {
    switch (role) {
        case Role::document:
            return "Document";
        case Role::heading_1:
            return "H1";
        case Role::heading_2:
            return "H2";
        case Role::heading_3:
            return "H3";
        case Role::paragraph:
            return "P";
        case Role::list:
            return "L";
        case Role::item:
            return "LI";
        case Role::item_label:
            return "Lbl";
        case Role::item_body:
            return "LBody";
        case Role::table:
            return "Table";
        case Role::table_head:
            return "THead";
        case Role::table_body:
            return "TBody";
        case Role::row:
            return "TR";
        case Role::column_header:
        case Role::row_header:
            return "TH";
        case Role::cell:
            return "TD";
        case Role::figure:
            return "Figure";
        case Role::caption:
            return "Caption";
        case Role::contents:
            return "TOC";
        case Role::contents_item:
            return "TOCI";
        case Role::group:
            return "Div";
    }
    return "Div";
}

Structure::Structure() {
    elements_.push_back({Role::document, -1, {}, {}, {}, {}});
}

int Structure::add(Role role, int parent, std::string alternative) {
    TAPWRIGHT_ENSURE(parent >= 0 && parent < static_cast<int>(elements_.size()));
    const int number = static_cast<int>(elements_.size());
    elements_.push_back({role, parent, std::move(alternative), {}, {}, {}});
    elements_[static_cast<std::size_t>(parent)].children.push_back(number);
    return number;
}

void Structure::mark(int element, Mark mark) {
    elements_.at(static_cast<std::size_t>(element)).marks.push_back(mark);
}

void Structure::place(int element, Box box) {
    elements_.at(static_cast<std::size_t>(element)).box = box;
}

}  // namespace tapwright::print
