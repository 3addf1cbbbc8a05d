// The tag tree of the sheet: what each piece of content is, in reading order. Filled while the blocks are composed,
// given the places of its content while the pages are painted, written by finish.h.
#pragma once

#include <string>
#include <vector>

namespace tapwright::print {

// Standard structure types of ISO 32000-1, 14.8.4.
enum class Role {
    document,
    heading_1,
    heading_2,
    heading_3,
    paragraph,
    list,
    item,
    item_label,
    item_body,
    table,
    table_head,
    table_body,
    row,
    column_header,
    row_header,
    cell,
    figure,
    caption,
    contents,
    contents_item,
    group
};

// The structure type as it stands in the file: "H1", "TD".
const char* structure_type(Role role);

// The n-th marked piece of content on a page; both count from 0.
struct Mark {
    int page;
    int number;
};

// A part of a page, in points from its lower left corner.
struct Box {
    double left = 0;
    double bottom = 0;
    double right = 0;
    double top = 0;
};

struct Element {
    Role role;
    int parent;               // -1: the document itself
    std::string alternative;  // figures only
    std::vector<int> children;
    std::vector<Mark> marks;  // content of its own; stands before the children
    Box box = {};             // of a figure, once it is painted
};

class Structure {
public:
    Structure();

    // Returns: the number of the new element, last among the children of `parent`.
    int add(Role role, int parent = 0, std::string alternative = {});
    void mark(int element, Mark mark);
    void place(int element, Box box);
    const std::vector<Element>& elements() const { return elements_; }

private:
    std::vector<Element> elements_;  // [0] is the document; parents stand before their children
};

}  // namespace tapwright::print
