// Each kind of block as strips. Composing also fills the tag tree, so the order of the blocks is the reading order.
#pragma once

#include <string>

#include "core/base/result.h"
#include "core/sheet/document.h"
#include "platform/print/pages.h"
#include "platform/print/structure.h"
#include "platform/print/text.h"

namespace tapwright::print {

struct Composer {
    Typesetter& type;
    Structure& structure;
    const Words& words;                        // for what no block says: the words under a line to sign on
    const std::vector<std::string>& sections;  // headings of level 2, for a table of contents
    double width;                              // of the body
    double height;                             // of the body
    Flow flow = {};
    int heading_depth = 0;  // level of the last heading in the tag tree
    bool break_next = false;
    bool dense = false;         // less white between lines, rows and blocks
    bool in_full_size = false;  // no table in small type
};

// Returns: a sentence when a figure cannot be shown.
Result<void> compose(Composer& composer, const document::Document& document);

// Beyond this point: the parts of it, one file each.

// blocks.cpp: a text as one strip a line, so that it goes on over pages; not alone at the end or the start of one.
struct Lines {
    SharedText text = nullptr;
    double x = 0;
    double width = 0;
    Colour colour = theme::ink;
    int element = -1;
    double space_before = 0;
    bool keep_together = false;
    bool keep_with_next = false;
};
void add_lines(Composer& composer, const Lines& lines);
// Of running text.
const Style& body_of(const Composer& composer, bool strong = false);
// The strip that comes next on the sheet; after a page break it opens a page.
Strip& add_strip(Composer& composer, Strip strip);

// tables.cpp
void add_table(Composer& composer, const document::Table& table);
void add_facts(Composer& composer, const document::Facts& facts);

// One cell of a row that is about to become strips.
struct CellBox {
    SharedText text = nullptr;
    double x = 0;
    double width = 0;
    document::Align align = document::Align::start;
    Colour colour = theme::ink;
    int element = -1;
    document::Tone tone = document::Tone::plain;
};
struct RowRules {
    double above = 0;  // padding
    double below = 0;
    double rule = 0;  // thickness of the line under the row; 0: none
    Colour rule_colour = theme::hairline;
    int head = -1;
    double space_before = 0;
    bool keep_with_next = false;
};
// One strip; or, when it would be higher than a third of the body, one strip a line.
void add_row(Composer& composer, const std::vector<CellBox>& cells, const RowRules& rules);

// blocks.cpp: any block but a Layout.
Result<void> add_block(Composer& composer, const document::Block& block);

// contents.cpp: the sections, with the number of the page that each begins on once pages are dealt out.
void add_contents(Composer& composer, const document::Contents& contents);
void number_contents(std::vector<Page>& pages, Typesetter& type);

// labels.cpp
void add_labels(Composer& composer, const document::Labels& labels);

// signatures.cpp
void add_signature(Composer& composer, const document::SignatureLine& signature);

// figures.cpp, bars.cpp, shades.cpp
Result<void> add_figure(Composer& composer, const document::Figure& figure);
struct Sketch {
    double height = 0;
    std::function<void(cairo_t*)> draw = nullptr;
};
Sketch sketch_bar(Composer& composer, const document::Bar& bar);
Sketch sketch_shades(Composer& composer, const document::Shades& shades, double most_height);

}  // namespace tapwright::print
