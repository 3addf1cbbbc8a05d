// A PDF's objects as plain data, read with libqpdf. Nothing but C++17 is included here and in pdf_objects.cpp, for
// clang takes qpdf's headers as that only.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace tapwright::outside {

// An element of the tag tree.
struct TagElement {
    std::string type;                        // "/H1"
    int parent = -1;                         // its place in the walk; -1: the root of the tree
    bool leads_back = false;                 // its /P is that parent
    std::string alternative;                 // /Alt
    std::string scope;                       // "/Column", of a header cell
    std::string numbering;                   // "/Decimal", of a list
    std::vector<double> box;                 // /BBox: left, bottom, right, top
    std::vector<int> children;               // places in the walk
    std::vector<std::pair<int, int>> marks;  // page and number of its content
};

// What is drawn on a page.
struct MarkedPage {
    std::vector<int> numbers;  // of the marks, in order
    std::vector<int> owners;   // of each mark, by the parent tree: the element's place in the walk; -1: none of it
    std::vector<int> within;   // each mark, operators that draw
    int drawn = 0;             // operators that draw
    int drawn_outside = 0;     // of them outside of every mark and artifact
    int opened_within = 0;     // marks that begin within another, or texts within two
    int left_open = 0;
    std::string tab_order;  // "/S": by the tag tree
    int annotations = 0;    // links and the like
};

struct Bookmark {
    int depth = 0;
    std::string title;
    bool leads_to_a_page = false;
};

struct PdfObjects {
    std::vector<TagElement> elements;  // as a walk meets them
    std::vector<MarkedPage> pages;
    std::vector<Bookmark> bookmarks;
    std::vector<std::string> letters_of_fonts;  // each font's /ToUnicode, unpacked; "" where it has none
    std::string language;
    bool is_marked = false;
    bool shows_title = false;
};

// Throws std::exception where it is no tagged PDF.
PdfObjects objects_of(const std::string& bytes);

// The bytes of every picture, as they stand in the file.
std::vector<std::string> pictures_of(const std::string& bytes);

}  // namespace tapwright::outside
