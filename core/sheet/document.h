// A document without a medium: what a sheet says, in reading order, and nothing of how it looks. platform/print
// turns it into a tagged PDF; core/html into one self-contained page. Both take the same value, so that neither can say
// something the other does not.
//
// There are two of it, made of the same parts. An outline holds messages: the sections of a sheet build it, and no
// language is in it yet. A document holds texts: in_words() makes it of an outline, and renderers take it.
//
// All texts are UTF-8 in any script; renderers wrap them, and never clip or drop a character.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/base/message.h"
#include "core/words/words.h"

namespace tapwright {
namespace document {

// ---- what is the same in both ----

enum class Paper { a4, letter };

// How a value must strike the eye. Never colour alone: a renderer adds a shape or weight, the text carries the word.
enum class Tone { plain, good, note, warning, stop };

enum class Align { start, end };  // end for numbers

// Strokes and texts in a plane, x to the right and y down, in points (1/72 inch) before scaling to fit the page. Where
// things stand depends on how wide the texts are, so they are made before the drawing is.
struct Drawing {
    struct Stroke {
        std::vector<std::array<double, 2>> path;
        double width = 1;
        bool dashed = false;
        bool filled = false;
    };
    struct Label {
        double x = 0;
        double y = 0;  // of the baseline
        std::string text;
        double size = 9;
        Align align = Align::start;
    };
    double width = 0;
    double height = 0;
    std::vector<Stroke> strokes;
    std::vector<Label> labels;
};

struct Picture {
    std::string jpeg;  // the bytes of a baseline or progressive JPEG without metadata
    int width = 0;     // pixels
    int height = 0;
    std::optional<std::array<double, 2>> pin = std::nullopt;  // the spot meant, in 0..1 x 0..1: a ring is drawn there
};

struct PageBreak {};

// Between blocks: how those that follow should stand where there is room. What they say and the order they are read in
// stays the same, and a renderer may pass over it.
// one_page ... end_one_page: from a new page on, unless what stands before and they fit on one page together, or what
// stands before is longer than a page; with less white, so that they may fit on one page, and never in small type.
// compact ... end_compact: with less white, and wide tables in small type.
// beside ... next_column ... end_beside: in two columns; may stand within the others, not within another beside.
enum class Layout { one_page, end_one_page, compact, end_compact, beside, next_column, end_beside };

}  // namespace document

// ---- what holds words: Text is a Message or a std::string ----

template <class Text>
struct Parts {
    struct Heading {
        int level = 1;  // 1 the document's title, 2 a section, 3 a part of one
        Text text;
    };

    struct Paragraph {
        Text text;
        document::Tone tone = document::Tone::plain;  // other than plain: set apart in a box of its own
    };

    struct Bullets {
        std::vector<Text> items;
        bool numbered = false;  // steps, in this order
    };

    // A short list of names and values: job, site, line voltage.
    struct Facts {
        struct Fact {
            Text name;
            Text value;
            bool large = false;  // a figure that has to be found at once: whom to call
        };
        std::vector<Fact> facts;
    };

    // Where the sections of the document are listed, those with a heading of level 2. Renderers know them, so they are
    // not said here. A page is always given a way to its sections, paper where it asks for it.
    struct Contents {
        Text title;
        bool on_paper = true;
    };

    struct Column {
        Text title;
        document::Align align = document::Align::start;
        double weight = 1;  // the share of the width it would like, against the other columns
    };

    struct Cell {
        Text text;
        document::Tone tone = document::Tone::plain;
    };

    // A table with one header row (repeated on every page) whose first column names the row.
    // Requires: every row has as many cells as there are columns.
    struct Table {
        Text caption;
        std::vector<Column> columns;
        std::vector<std::vector<Cell>> rows;
    };

    // A horizontal bar against a limit. Values in one unit; the renderer scales `whole` to the width it has.
    struct Bar {
        struct Part {
            double amount = 0;
            Text label;  // drawn inside when it fits
            bool hatched = false;
        };
        std::vector<Part> parts;
        double reserve_from = 0;  // where the reserve begins; == limit when there is none
        double limit = 0;         // 0: no limit known
        double whole = 1;         // right end of the scale, >= everything else
    };

    // A floor seen from above in shades, from 0 the darkest to 5 the lightest: each reads in grey too, and a key below
    // says what it means. Rings mark spots.
    struct Shades {
        static constexpr int most = 6;  // shades there are
        double length = 1;              // of the floor, in any unit; > 0
        double width = 1;
        std::size_t columns = 0;  // along the length
        std::size_t rows = 0;
        std::vector<std::uint8_t> cells;           // row by row, columns * rows of them, each below `most`
        std::vector<std::array<double, 2>> spots;  // in the floor's unit
        std::array<Text, most> key;                // of each shade; empty: it does not occur
    };

    struct Figure {
        std::variant<Bar, document::Drawing, Shades, document::Picture> content;
        Text caption;
        Text alternative;  // said instead of the picture to who cannot see it; never empty
    };

    // A line to sign on, with room for name and date, and what was drawn if it was signed on the device.
    struct SignatureLine {
        Text role;
        Text name;
        Text date;
        std::vector<std::vector<std::array<double, 2>>> strokes;  // in 0..1 x 0..1
    };

    // Labels to cut out, all of one size, with cutting lines between them.
    struct Labels {
        struct Label {
            Text name;                // large
            std::vector<Text> lines;  // small, below it
        };
        double width = 0;  // of one label, in points
        double height = 0;
        std::vector<Label> labels;
    };

    using Block = std::variant<Heading, Paragraph, Bullets, Facts, Table, Figure, SignatureLine, document::PageBreak,
                               Labels, document::Layout, Contents>;
};

// What sections build.
namespace outline {

using Parts = tapwright::Parts<Message>;
using Heading = Parts::Heading;
using Paragraph = Parts::Paragraph;
using Bullets = Parts::Bullets;
using Facts = Parts::Facts;
using Column = Parts::Column;
using Cell = Parts::Cell;
using Table = Parts::Table;
using Bar = Parts::Bar;
using Shades = Parts::Shades;
using Figure = Parts::Figure;
using SignatureLine = Parts::SignatureLine;
using Labels = Parts::Labels;
using Contents = Parts::Contents;
using Block = Parts::Block;
using document::Align;
using document::Drawing;
using document::Layout;
using document::PageBreak;
using document::Paper;
using document::Picture;
using document::Tone;

struct Document {
    Message title;
    Message author;
    std::string created;  // RFC 3339
    Message footer;
    Paper paper = Paper::a4;
    std::vector<Block> blocks;
};

}  // namespace outline

// What renderers take.
namespace document {

using Parts = tapwright::Parts<std::string>;
using Heading = Parts::Heading;
using Paragraph = Parts::Paragraph;
using Bullets = Parts::Bullets;
using Facts = Parts::Facts;
using Column = Parts::Column;
using Cell = Parts::Cell;
using Table = Parts::Table;
using Bar = Parts::Bar;
using Shades = Parts::Shades;
using Figure = Parts::Figure;
using SignatureLine = Parts::SignatureLine;
using Labels = Parts::Labels;
using Contents = Parts::Contents;
using Block = Parts::Block;

struct Document {
    std::string title;
    std::string language = "en";
    std::string author;
    std::string created;  // RFC 3339; becomes the file's creation date, so equal input gives equal bytes
    std::string footer;   // stands on every page beside "Page X of Y"
    Paper paper = Paper::a4;
    std::vector<Block> blocks;
    Words words =
        Words();  // for what a renderer says by itself: the number of a page, the words under a line to sign on
};

// The outline in one language. Names in another direction of writing stay within themselves (core/words/isolate.h).
Document in_words(const outline::Document& outline, const Words& words);
// One block of it. What is large is taken apart on the way, so that it is not in memory twice.
Block in_words(outline::Block&& block, const Words& words);

}  // namespace document
}  // namespace tapwright
