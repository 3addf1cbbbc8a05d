// From blocks to pages: every block becomes strips, horizontal slices of the sheet that are never cut; the strips are
// then dealt out to pages.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "platform/print/shapes.h"
#include "platform/print/text.h"

namespace tapwright::print {

// Content with a place in the tag tree (`element` >= 0) or an artifact (-1): lines [first, last) of a text, or a
// drawing. x and y are measured from the top left of the strip, later of the page.
struct Item {
    SharedText text = nullptr;
    std::size_t first = 0;
    std::size_t last = 0;
    double x = 0;
    double y = 0;
    double width = 0;  // before it is scaled
    document::Align align = document::Align::start;
    Colour colour = theme::ink;
    int element = -1;
    std::function<void(cairo_t*)> draw = nullptr;  // instead of a text; the origin is moved to (x, y)
    double height = 0;                             // of a drawing, before it is scaled
    double scale = 1;                              // of what is drawn at (x, y)
    int section = -1;                              // in a table of contents: the page that this one begins on
};

// An entry among the bookmarks.
struct Bookmark {
    int level = 1;
    std::string text;
    bool is_section = false;  // listed in the table of contents
};

struct PlacedBookmark {
    Bookmark bookmark;
    double y = 0;
};

struct Strip {
    double space_before = 0;  // left out at the top of a page
    double height = 0;
    bool keep_with_next = false;
    bool new_page = false;
    bool continues = false;  // goes on with a row that began above
    bool floats = false;     // with those that it keeps with, may stand on the next page after what follows it
    double least_scale = 1;  // so far it may be drawn smaller, to stay on the page with what belongs to it
    int head = -1;           // the repeated head that goes above when this strip comes first on a page
    std::vector<Shape> shapes = {};
    std::vector<Item> items = {};
    std::vector<PlacedBookmark> bookmarks = {};  // y from the top of the strip
};

// A table's header row, as it stands again on the pages after the first.
struct Head {
    double height = 0;
    std::vector<Shape> shapes = {};
    std::vector<Item> items = {};
};

struct Flow {
    std::vector<Strip> strips;
    std::vector<Head> heads;
};

struct Frame {
    double page_width = 0;
    double page_height = 0;
    double left = 0;
    double top = 0;
    double width = 0;   // of the body
    double height = 0;  // of the body
};

struct Page {
    std::vector<Shape> shapes = {};
    std::vector<Item> items = {};
    std::vector<PlacedBookmark> bookmarks;
};

// Deals the strips out. Strips that keep with the next go to the next page together, unless they are higher than one.
// What floats and does not fit opens the next page; until there, what follows it fills this one, but no other section.
// Returns: at least one page.
std::vector<Page> deal_out(const Flow& flow, const Frame& frame);

}  // namespace tapwright::print
