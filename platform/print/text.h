// Texts measured and broken into lines, once each; drawn later, line by line, so that a text may go on over a page.
#pragma once

#include <cairo.h>

#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "core/sheet/document.h"
#include "core/sheet/wholes.h"
#include "platform/print/fonts.h"
#include "platform/print/handles.h"
#include "platform/print/settable.h"
#include "platform/print/signs.h"
#include "platform/print/theme.h"

namespace tapwright::print {

using document::Bytes;

// A text in one style, broken for one width. Immutable; shared by all cells that say the same.
class Text {
public:
    struct Line {
        PangoLayoutLine* line;  // owned by the layout
        double width;           // without the spaces at its end
        double baseline;        // below the top of the line
        double height;
        bool right_to_left;
        bool ends_at_space;  // which goes on in the next line, and is drawn too: a reader of the tags joins the lines
    };

    explicit Text(Layout layout, const Style& style);

    const std::vector<Line>& lines() const { return lines_; }
    std::size_t line_count() const { return lines_.size(); }
    bool empty() const { return empty_; }
    PangoLayoutLine* space() const { return space_; }  // null where no line ends at one
    double width() const { return width_; }            // of the widest line
    double height() const { return height_; }          // of all lines
    std::vector<Bytes> lines_wider_than(double width) const;
    // The widest piece that cannot be broken at a place where text should be broken. Walks the glyphs: not cheap.
    double widest_word() const;

private:
    Layout layout_;
    Layout layout_of_space_;
    PangoLayoutLine* space_ = nullptr;
    std::vector<Line> lines_;
    double width_ = 0;
    double height_ = 0;
    bool empty_ = true;
};

using SharedText = std::shared_ptr<const Text>;

class Typesetter {
public:
    // `language`: see open_fonts(). The fonts must outlive the typesetter and its texts.
    Typesetter(const Fonts& fonts, std::string language);

    // `width` < 0: on one line, but for line ends in the text itself. Otherwise no line is wider, unless a single
    // character is: what has to stay whole (core/sheet/wholes.h) does so only where it fits.
    SharedText set(std::string_view text, const Style& style, double width = -1);

private:
    struct Shaped {
        std::string text;
        bool is_ours;  // and so has the direction of the document, else that of its first letter
    };
    SharedText shape(const std::string& words, const Style& style, double width);
    // `wide`: bytes of the text in which nothing has to stay whole.
    Layout lay_out(const Shaped& shaped, const Style& style, double width, const std::vector<Bytes>& wide) const;

    const Fonts& fonts_;
    std::string language_;
    Signs signs_;
    Attributes attributes_;
    std::unordered_map<std::string, SharedText> known_;
};

// Where the line's left end goes between `x` and `x + width`. Texts that run from right to left start at the right.
double line_start(const Text::Line& line, double x, double width, document::Align align);

// Draws lines [first, last) with the top of the first at `y`, in the colour that the context has.
void draw_lines(cairo_t* context, const Text& text, std::size_t first, std::size_t last, double x, double y,
                double width, document::Align align);

}  // namespace tapwright::print
