#include "platform/print/paint.h"

#include <cairo-pdf.h>

#include <algorithm>
#include <new>

#include "core/base/memory.h"
#include "platform/print/marks.h"

namespace tapwright::print {
namespace {

constexpr double number_room = 90;  // for "Page 1000 of 1000"
constexpr double rule_gap = 6;

// No exception may pass through cairo, which is C and calls this while a surface goes, too.
cairo_status_t append(void* closure, const unsigned char* data, unsigned length) noexcept {
    try {
        static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    } catch (const std::bad_alloc&) {
        return CAIRO_STATUS_NO_MEMORY;
    }
}

class Painter {
public:
    Painter(std::string& out, const Frame& frame, Structure& structure)
        : frame_(frame),
          structure_(structure),
          surface_(cairo_pdf_surface_create_for_stream(append, &out, frame.page_width, frame.page_height)),
          context_(cairo_create(surface_.get())) {
        parents_.push_back(CAIRO_PDF_OUTLINE_ROOT);
    }

    void page(const Page& page) {
        for (const Shape& shape : page.shapes) draw_shape(context_.get(), shape);
        for (const Item& item : page.items) draw(item);
        close_mark();
        for (const PlacedBookmark& placed : page.bookmarks) add_bookmark(placed);
    }

    void footer(const Footer& footer, Typesetter& type, const Words& words, std::size_t pages) {
        cairo_t* context = context_.get();
        const double top = frame_.page_height - theme::margin_bottom - footer.height;
        draw_shape(context,
                   {.x = frame_.left, .y = top, .width = frame_.width, .height = 0.4, .colour = theme::hairline});
        set_colour(context, theme::quiet);
        draw_lines(context, *footer.text, 0, footer.text->line_count(), frame_.left, top + rule_gap,
                   frame_.width - number_room, document::Align::start);
        const SharedText number = type.set(
            words.text(Message("Page {page} of {pages}", {{"page", page_ + 1}, {"pages", pages}})), theme::small);
        draw_lines(context, *number, 0, 1, frame_.left, top + rule_gap, frame_.width, document::Align::end);
    }

    void end_page() {
        cairo_show_page(context_.get());
        ++page_;
        marks_ = 0;
    }

    Result<void> finish() {
        const cairo_status_t drawing = cairo_status(context_.get());
        context_.reset();
        cairo_surface_finish(surface_.get());
        const cairo_status_t writing = cairo_surface_status(surface_.get());
        const cairo_status_t worst = drawing != CAIRO_STATUS_SUCCESS ? drawing : writing;
        if (worst == CAIRO_STATUS_SUCCESS) return done();
        if (worst == CAIRO_STATUS_NO_MEMORY) out_of_memory();
        return Refusal{Message("The sheet could not be drawn: {reason}. Nothing was written.",
                               {{"reason", code(cairo_status_to_string(worst))}})};
    }

private:
    void draw(const Item& item) {
        open_mark(item.element);
        cairo_t* context = context_.get();
        cairo_save(context);
        cairo_translate(context, item.x, item.y);
        if (item.scale != 1) cairo_scale(context, item.scale, item.scale);
        if (item.draw) {
            item.draw(context);
            if (item.element >= 0)
                structure_.place(item.element, {item.x, frame_.page_height - item.y - item.height * item.scale,
                                                item.x + item.width * item.scale, frame_.page_height - item.y});
        } else if (item.text) {
            set_colour(context, item.colour);
            draw_lines(context, *item.text, item.first, item.last, 0, 0, item.width, item.align);
        }
        cairo_restore(context);
    }

    // Consecutive lines of one element share a mark.
    void open_mark(int element) {
        if (element == marked_) return;
        close_mark();
        if (element < 0) return;
        draw_marker(mark_begins);
        structure_.mark(element, {page_, marks_++});
        marked_ = element;
    }

    void close_mark() {
        if (marked_ >= 0) draw_marker(mark_ends);
        marked_ = -1;
    }

    // Filled, opaque and on the page: anything less cairo may leave out.
    void draw_marker(const Marker& marker) {
        cairo_t* context = context_.get();
        cairo_new_path(context);
        set_colour(context, theme::ink);
        cairo_rectangle(context, marker.x, marker.y, marker.width, marker.height);
        cairo_fill(context);
    }

    void add_bookmark(const PlacedBookmark& placed) {
        const auto level = static_cast<std::size_t>(std::max(placed.bookmark.level, 1));
        parents_.resize(std::min(parents_.size(), level));
        const std::string place = "page=" + std::to_string(page_ + 1) + " pos=[0 " +
                                  std::to_string(static_cast<int>(std::max(placed.y - 12, 0.0))) + "]";
        const auto flags = level < 2 ? CAIRO_PDF_OUTLINE_FLAG_OPEN : cairo_pdf_outline_flags_t{};
        const int made = cairo_pdf_surface_add_outline(surface_.get(), parents_.back(), placed.bookmark.text.c_str(),
                                                       place.c_str(), flags);
        parents_.push_back(made);
    }

    const Frame& frame_;
    Structure& structure_;
    Surface surface_;
    Context context_;
    std::vector<int> parents_;  // of the next bookmark, by level
    int page_ = 0;
    int marks_ = 0;
    int marked_ = -1;
};

}  // namespace

Result<Footer> set_footer(Typesetter& type, const std::string& text, const Frame& frame) {
    Footer footer{type.set(text, theme::small, frame.width - number_room), 0};
    const double line = theme::small.size * theme::small.leading;
    footer.height = rule_gap + std::max(footer.text->height(), line);
    if (footer.height > frame.page_height / 4)
        return Refusal{Message("The footer of the sheet takes more than a quarter of the page; shorten it.")};
    return footer;
}

Result<std::string> paint(const std::vector<Page>& pages, const Frame& frame, const Footer& footer, Typesetter& type,
                          Structure& structure, const Words& words) {
    std::string bytes;
    Painter painter(bytes, frame, structure);
    for (const Page& page : pages) {
        painter.page(page);
        painter.footer(footer, type, words, pages.size());
        painter.end_page();
    }
    if (auto finished = painter.finish(); !finished) return finished.refusal();
    return bytes;
}

}  // namespace tapwright::print
