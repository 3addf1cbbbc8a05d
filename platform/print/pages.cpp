#include "platform/print/pages.h"

#include <algorithm>
#include <array>
#include <utility>

namespace tapwright::print {
namespace {

constexpr double rounding = 0.01;  // of sums of heights
constexpr double above_head = 8;   // before a table that goes on below what floated

class Dealer {
public:
    Dealer(const Flow& flow, const Frame& frame) : flow_(flow), frame_(frame), pages_(1) {}

    std::vector<Page> run() {
        for (std::size_t first = 0; first < flow_.strips.size();) {
            const std::size_t last = group_end(first);
            const Strip& strip = flow_.strips[first];
            if (!floating_.empty() && (strip.new_page || !strip.bookmarks.empty())) next_page();
            if (strip.floats && (!floating_.empty() || !fits(first, last)))
                floating_.push_back({first, last});
            else
                place_group(first, last);
            first = last;
        }
        if (!floating_.empty()) next_page();
        // Elements are numbered in reading order; the slices of a high row bring its cells in line by line.
        for (Page& page : pages_)
            std::stable_sort(page.items.begin(), page.items.end(),
                             [](const Item& a, const Item& b) { return a.element < b.element; });
        return std::move(pages_);
    }

private:
    std::size_t group_end(std::size_t first) const {
        std::size_t last = first;
        while (last + 1 < flow_.strips.size() && flow_.strips[last].keep_with_next && !flow_.strips[last + 1].new_page)
            ++last;
        return last + 1;
    }

    void place_group(std::size_t first, std::size_t last) {
        const double scale = open_page_for(first, last);
        for (; first < last; ++first)
            flow_.strips[first].least_scale < 1 && scale < 1 ? place(scaled(flow_.strips[first], scale))
                                                             : place(flow_.strips[first]);
    }

    struct Need {
        double height = 0;
        double elastic = 0;  // of it what may be drawn smaller
        double least = 1;    // and how much
    };

    Need need_of(std::size_t first, std::size_t last) const {
        Need need;
        for (std::size_t k = first; k < last; ++k) {
            const Strip& strip = flow_.strips[k];
            need.height += strip.height + (k == first ? 0 : strip.space_before);
            if (strip.least_scale >= 1) continue;
            need.elastic += strip.height;
            need.least = std::min(need.least, strip.least_scale);
        }
        return need;
    }

    // Whether they fit on this page, drawn smaller where they may be.
    bool fits(std::size_t first, std::size_t last) const {
        const Need need = need_of(first, last);
        return at_top_ || need.height - (1 - need.least) * need.elastic + rounding <= room_for(flow_.strips[first]);
    }

    // Returns: how much smaller those of the strips that may be are drawn.
    double open_page_for(std::size_t first, std::size_t last) {
        const auto [height, elastic, least] = need_of(first, last);
        const Strip& strip = flow_.strips[first];
        const double room = room_for(strip);
        if (at_top_ || (height <= room && !strip.new_page)) return 1;
        if (!strip.new_page && elastic > 0 && fits(first, last)) return 1 - (height - room + rounding) / elastic;
        const bool fits_anywhere = head_height(strip) + height <= frame_.height;
        if (!strip.new_page && !fits_anywhere) return 1;
        next_page();
        return at_top_ ? 1 : open_page_for(first, last);  // something floated here
    }

    // What this page has left for a strip, without what goes above it.
    double room_for(const Strip& strip) const {
        return frame_.height - used_ - (goes_on_below(strip) ? above_head + head_height(strip) : strip.space_before);
    }

    // Whether it goes on with a table below what floated.
    bool goes_on_below(const Strip& strip) const { return is_head_due_ && !at_top_ && strip.head >= 0; }

    static Strip scaled(Strip strip, double scale) {
        strip.height *= scale;
        for (Shape& shape : strip.shapes) {
            shape.x *= scale;
            shape.y *= scale;
            shape.width *= scale;
            shape.height *= scale;
        }
        for (Item& item : strip.items) {
            item.x *= scale;
            item.y *= scale;
            item.scale *= scale;
        }
        return strip;
    }

    double head_height(const Strip& strip) const {
        return strip.head < 0 ? 0 : flow_.heads[static_cast<std::size_t>(strip.head)].height;
    }

    void next_page() {
        pages_.emplace_back();
        used_ = 0;
        at_top_ = true;
        is_head_due_ = true;
        for (const auto& [first, last] : std::exchange(floating_, {})) place_group(first, last);
        is_head_due_ = true;  // also below what floated here
    }

    void place(const Strip& strip) {
        if (!at_top_ && strip.height > room_for(strip)) next_page();
        if (is_head_due_ && strip.head >= 0) {
            const Head& head = flow_.heads[static_cast<std::size_t>(strip.head)];
            used_ += at_top_ ? 0 : above_head;
            put(head.shapes, head.items);
            used_ += head.height + (strip.continues ? 3 : 0);
        } else if (!at_top_) {
            used_ += strip.space_before;
        }
        is_head_due_ = false;
        for (const PlacedBookmark& placed : strip.bookmarks)
            pages_.back().bookmarks.push_back({placed.bookmark, frame_.top + used_ + placed.y});
        put(strip.shapes, strip.items);
        used_ += strip.height;
        at_top_ = false;
    }

    void put(const std::vector<Shape>& shapes, const std::vector<Item>& items) {
        for (Shape shape : shapes) {
            shape.x += frame_.left;
            shape.y += frame_.top + used_;
            if (!continues_last(shape)) pages_.back().shapes.push_back(shape);
        }
        for (Item item : items) {
            item.x += frame_.left;
            item.y += frame_.top + used_;
            pages_.back().items.push_back(std::move(item));
        }
    }

    // A box that goes on below another of its kind becomes one with it, so that no seam shows.
    bool continues_last(const Shape& shape) {
        if (shape.kind != Shape::Kind::box) return false;
        auto& shapes = pages_.back().shapes;
        for (std::size_t back = 1; back <= 3 && back <= shapes.size(); ++back) {
            Shape& last = shapes[shapes.size() - back];
            const double end = last.y + last.height;
            if (last.kind != Shape::Kind::box || last.x != shape.x || last.width != shape.width) continue;
            if (!(last.colour == shape.colour) || shape.y > end + 0.01 || shape.y < end - 0.01) continue;
            last.height = shape.y + shape.height - last.y;
            return true;
        }
        return false;
    }

    const Flow& flow_;
    const Frame& frame_;
    std::vector<Page> pages_;
    double used_ = 0;
    bool at_top_ = true;
    bool is_head_due_ = true;  // nothing but what floated stands on the page yet, so a table goes on with its head
    std::vector<std::array<std::size_t, 2>> floating_;  // groups [first, last) that open the next page
};

}  // namespace

std::vector<Page> deal_out(const Flow& flow, const Frame& frame) {
    return Dealer(flow, frame).run();
}

}  // namespace tapwright::print
