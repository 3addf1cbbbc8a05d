// The table of contents: the document's sections in two columns, and the page each begins on.
#include <algorithm>

#include "platform/print/compose.h"

namespace tapwright::print {
namespace {

constexpr double gap = 24;
constexpr double number_room = 24;

void put_section(Composer& composer, Strip& strip, std::size_t section, double x, double width, int parent) {
    const SharedText name = composer.type.set(composer.sections[section], body_of(composer), width - number_room);
    const int element = composer.structure.add(Role::paragraph, composer.structure.add(Role::contents_item, parent));
    strip.items.push_back({.text = name, .last = name->line_count(), .x = x, .width = width, .element = element});
    strip.items.push_back({.x = x,
                           .width = width,
                           .align = document::Align::end,
                           .element = element,
                           .section = static_cast<int>(section)});
    strip.height = std::max(strip.height, name->height() + 1);
}

}  // namespace

void add_contents(Composer& composer, const document::Contents& contents) {
    constexpr std::size_t least = 4;
    if (!contents.on_paper || composer.sections.size() < least) return;
    const int list = composer.structure.add(Role::contents);
    add_lines(composer, {.text = composer.type.set(contents.title, theme::heading_3, composer.width),
                         .width = composer.width,
                         .element = composer.structure.add(Role::caption, list),
                         .space_before = 8,
                         .keep_together = true,
                         .keep_with_next = true});
    const double width = (composer.width - gap) / 2;
    const std::size_t rows = (composer.sections.size() + 1) / 2;
    for (std::size_t row = 0; row < rows; ++row) {
        Strip strip;
        strip.keep_with_next = row == 0 || row + 2 == rows;
        put_section(composer, strip, row, 0, width, list);
        if (row + rows < composer.sections.size()) put_section(composer, strip, row + rows, width + gap, width, list);
        add_strip(composer, std::move(strip));
    }
}

void number_contents(std::vector<Page>& pages, Typesetter& type) {
    std::vector<std::size_t> begins;
    for (std::size_t page = 0; page < pages.size(); ++page)
        for (const PlacedBookmark& placed : pages[page].bookmarks)
            if (placed.bookmark.is_section) begins.push_back(page + 1);
    for (Page& page : pages)
        for (Item& item : page.items) {
            if (item.section < 0 || static_cast<std::size_t>(item.section) >= begins.size()) continue;
            item.text = type.set(std::to_string(begins[static_cast<std::size_t>(item.section)]), theme::body_dense);
            item.last = 1;
        }
}

}  // namespace tapwright::print
