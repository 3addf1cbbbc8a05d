#include "core/sheet/line_picture.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <span>

#include "core/base/ensure.h"
#include "core/base/text.h"

namespace tapwright::line_picture {
namespace {

using document::Align;
using document::Drawing;

// All in points. A column is a point with the texts around it, from text_left to text_right of its middle; the lanes
// lie outside of that: to the right for what it feeds, to the left for what is looped through at its input.
constexpr double column_pitch = 66;
constexpr double text_left = 20;
constexpr double text_right = 29;
constexpr double right_lane = 33;
constexpr double left_lane = 25;
constexpr double lane_gap =
    column_pitch - right_lane - left_lane;  // from one point's right lane to the next one's left
constexpr double source_width = 78;         // its lane
constexpr double source_right = 14;         // its outlet
constexpr double row_pitch = 64;
constexpr double run_line = 11;  // baselines and the line itself, down from the top of a row
constexpr double wire_line = 20;
constexpr double name_line = 38;
constexpr double remark_pitch = 9.5;
constexpr double name_size = 8.5;
constexpr double small_size = 7.5;
constexpr double smallest_size = 6;
constexpr double box = 5;  // half of an attenuator's
constexpr double thinnest = 0.7;
constexpr double thickest = 5;
constexpr std::size_t most_remarks = 2;         // below a point
constexpr std::size_t most_source_remarks = 3;  // below the amplifier
// A figure that is nearly full is not begun upon: a new one is.
constexpr int fewest_rows_for_a_start = 2;

class Layout {
public:
    Layout(const Source& source, const std::vector<Node>& nodes, const Words& words, Extent extent)
        : source_(source), nodes_(nodes), words_(words), extent_(extent), fed_(nodes.size()), spots_(nodes.size()) {
        for (std::uint32_t i = 0; i < nodes.size(); ++i) {
            if (nodes[i].feed == from_the_amplifier) {
                roots_.push_back(i);
            } else {
                TAPWRIGHT_ENSURE(nodes[i].feed < i);
                fed_[nodes[i].feed].push_back(i);
            }
        }
        for (auto& fed : fed_)
            std::stable_partition(fed.begin(), fed.end(), [&](std::uint32_t i) { return !nodes_[i].at_input; });
    }

    std::vector<Drawing> run() {
        if (!nodes_.empty()) waiting_.push_back({from_the_amplifier, {roots_}});
        while (!waiting_.empty()) {
            const Piece piece = std::move(waiting_.front());
            waiting_.pop_front();
            if (drawings_.empty() || (next_row_ > 0 && next_row_ + fewest_rows_for_a_start > extent_.rows))
                begin_figure();
            draw_piece(piece);
        }
        end_figure();
        return std::move(drawings_);
    }

private:
    struct Spot {
        int column = 0;
        int row = 0;
    };
    using Places = std::span<const std::uint32_t>;  // of roots_ or of one of fed_
    // Where the amplifier or a point drawn further up feeds something that still has no place.
    struct Piece {
        std::uint32_t feed;
        std::vector<Places> fed;
    };
    // What one feed still has to be given a place for. The first goes on in its feed's row, unless it is looped through
    // at the input; the rest below.
    struct Pending {
        Places fed;
        bool from_start;              // fed from where the piece starts
        bool is_first = true;         // none of them has had its turn yet
        bool has_down = false;        // the stroke for those put off that are fed on, and for those looped
        bool has_riser_down = false;  // through at the input, is drawn
    };

    static double x_of(int column) { return source_width + lane_gap + left_lane + column * column_pitch; }
    static double y_of(int row) { return row * row_pitch + wire_line; }

    Drawing& figure() { return drawings_.back(); }

    void begin_figure() {
        end_figure();
        drawings_.emplace_back();
        next_row_ = 0;
    }

    void end_figure() {
        if (drawings_.empty()) return;
        figure().width = x_of(extent_.columns - 1) + right_lane + thickest;
        figure().height = next_row_ * row_pitch;
    }

    double stroke_width(double watts) const {
        if (!(source_.watts > 0) || !std::isfinite(watts)) return thinnest;
        return std::clamp(thickest * watts / source_.watts, thinnest, thickest);
    }

    void text(double x, double y, std::string_view words, double width, double size) {
        if (words.empty()) return;
        // Long ones are set smaller before they are cut; the tables have them whole.
        const double wide = estimated_width(words, size);
        const double set = wide > width ? std::max(smallest_size, size * width / wide) : size;
        figure().labels.push_back({x, y, fitted(words, width, set), set, Align::start});
    }

    // A piece starts at the left edge, with the amplifier or with "from ..." and the point's name.
    void draw_piece(const Piece& piece) {
        source_row_ = next_row_++;
        const double y = y_of(source_row_);
        const double width = source_width - 6;
        const bool whole = piece.feed == from_the_amplifier;
        const std::string name =
            whole ? source_.name : words_.text(Message("from {point}", {{"point", entered(nodes_[piece.feed].name)}}));
        text(0, y + name_line - wire_line, name, width, name_size);
        if (whole) {
            figure().strokes.push_back(
                {{{0, y - 8}, {source_right, y - 8}, {source_right, y + 8}, {0, y + 8}, {0, y - 8}},
                 1.2,
                 false,
                 false});
            for (std::size_t i = 0; i < std::min(most_source_remarks, source_.remarks.size()); ++i)
                text(0, y + name_line - wire_line + (static_cast<double>(i) + 1) * remark_pitch, source_.remarks[i],
                     width, small_size);
        } else {
            figure().strokes.push_back({{{0, y}, {source_right, y}}, 1, true, false});
        }
        for (auto places = piece.fed.rbegin(); places != piece.fed.rend(); ++places)
            pending_.push_back({*places, true, places + 1 == piece.fed.rend()});
        while (!pending_.empty())
            if (pending_.back().fed.empty())
                pending_.pop_back();
            else
                place_next();
    }

    void place_next() {
        Pending& pending = pending_.back();
        const std::uint32_t number = pending.fed.front();
        const Node& node = nodes_[number];
        const bool riser = is_riser(pending, number);
        const bool same_row = pending.is_first && (pending.from_start || !node.at_input);
        const Spot feed = pending.from_start ? Spot{-1, source_row_} : spots_[node.feed];
        const Spot spot{riser ? feed.column : feed.column + 1, same_row ? feed.row : next_row_};
        pending.is_first = false;
        // Rows are only ever used up: where there is none for this one, there is none for those behind it.
        if (spot.row >= extent_.rows) return put_off(pending, pending.fed.size(), same_row, feed);
        if (spot.column >= extent_.columns) return put_off(pending, 1, same_row, feed);
        pending.fed = pending.fed.subspan(1);
        if (!same_row) ++next_row_;
        spots_[number] = spot;
        draw_run(node, feed, spot, lane_of(feed, riser));
        draw_node(node, spot);
        pending_.push_back({fed_[number], false});
    }

    bool is_riser(const Pending& pending, std::uint32_t node) const {
        return nodes_[node].at_input && !pending.from_start;
    }

    static double lane_of(Spot feed, bool riser) {
        if (feed.column < 0) return source_width;
        return x_of(feed.column) + (riser ? -left_lane : right_lane);
    }
    // Where the line leaves `node` at `spot`: the middle, or the right side of an attenuator's box.
    double outlet_of(std::uint32_t node, Spot spot) const {
        if (spot.column < 0) return source_right;
        return x_of(spot.column) + (nodes_[node].symbol == Symbol::attenuator ? box : 0);
    }

    // No room here: the first `count` wait for a row that begins with the name of their feed.
    void put_off(Pending& pending, std::size_t count, bool same_row, Spot feed) {
        const Places those = pending.fed.first(count);
        const std::uint32_t from = nodes_[those.front()].feed;
        if (waiting_.empty() || waiting_.back().feed != from) waiting_.push_back({from, {}});
        auto& fed = waiting_.back().fed;
        if (!fed.empty() && fed.back().data() + fed.back().size() == those.data())
            fed.back() = Places(fed.back().data(), fed.back().size() + count);
        else
            fed.push_back(those);
        if (same_row) {
            const double y = y_of(feed.row);
            figure().strokes.push_back({{{outlet_of(from, feed), y}, {lane_of(feed, false) - 2, y}}, 1, true, false});
        } else {
            draw_down(feed, is_riser(pending, those.front()), pending);
        }
        // Those looped through at the input are last.
        if (count > 1) draw_down(feed, is_riser(pending, those.back()), pending);
        pending.fed = pending.fed.subspan(count);
    }

    // One stroke, however many go on elsewhere.
    void draw_down(Spot feed, bool riser, Pending& pending) {
        bool& has_it = riser ? pending.has_riser_down : pending.has_down;
        if (has_it) return;
        has_it = true;
        const double lane = lane_of(feed, riser);
        const double y = y_of(feed.row);
        figure().strokes.push_back({{{lane, y}, {lane, y + row_pitch / 2}}, 1, true, false});
    }

    void draw_run(const Node& node, Spot feed, Spot spot, double lane) {
        const double x = x_of(spot.column);
        const double y = y_of(spot.row);
        const double inlet = node.symbol == Symbol::attenuator ? x - box : x;
        Drawing::Stroke stroke;
        stroke.width = stroke_width(node.watts);
        stroke.dashed = node.dashed;
        if (spot.row == feed.row) {
            stroke.path = {{outlet_of(node.feed, feed), y}, {inlet, y}};
        } else {
            const double from = std::min(outlet_of(node.feed, feed), lane);  // a riser comes off to the left
            stroke.path = {{from, y_of(feed.row)}, {lane, y_of(feed.row)}, {lane, y}, {inlet, y}};
        }
        figure().strokes.push_back(std::move(stroke));
        text(x - text_left, y + run_line - wire_line, node.run, text_left + text_right, small_size);
    }

    void draw_node(const Node& node, Spot spot) {
        const double x = x_of(spot.column);
        const double y = y_of(spot.row);
        auto& strokes = figure().strokes;
        switch (node.symbol) {
            case Symbol::speaker:
                strokes.push_back({{{x, y - 1}, {x - 5, y + 8}, {x + 5, y + 8}, {x, y - 1}}, 1, false, !node.dashed});
                break;
            case Symbol::attenuator:
                strokes.push_back({{{x - box, y - box},
                                    {x + box, y - box},
                                    {x + box, y + box},
                                    {x - box, y + box},
                                    {x - box, y - box}},
                                   1.2,
                                   false,
                                   false});
                strokes.push_back({{{x - 7, y + 7}, {x + 7, y - 7}}, 1.2, false, false});
                break;
            case Symbol::splice:
                strokes.push_back({{{x, y - 4}, {x + 4, y}, {x, y + 4}, {x - 4, y}, {x, y - 4}}, 1, false, true});
                break;
            case Symbol::other:
                strokes.push_back({{{x, y - 4}, {x + 4, y}, {x, y + 4}, {x - 4, y}, {x, y - 4}}, 1, false, false});
                break;
        }
        const double width = text_left + text_right;
        double baseline = y + name_line - wire_line;
        text(x - text_left, baseline, node.name, width, name_size);
        for (std::size_t i = 0; i < std::min(most_remarks, node.remarks.size()); ++i)
            text(x - text_left, baseline += remark_pitch, node.remarks[i], width, small_size);
    }

    const Source& source_;
    const std::vector<Node>& nodes_;
    const Words& words_;
    Extent extent_;
    std::vector<std::vector<std::uint32_t>> fed_;
    std::vector<Spot> spots_;
    std::vector<std::uint32_t> roots_;
    std::deque<Piece> waiting_;
    std::vector<Pending> pending_;
    std::vector<Drawing> drawings_;
    int next_row_ = 0;
    int source_row_ = 0;
};

// Shares of the type size, a little above what common sans-serif faces need.
double share_of(std::uint32_t lead) {
    if (lead >= 0xE2) return 1.0;   // U+2000 and up: ideographs and everything else wide
    if (lead >= 0xC2) return 0.72;  // Latin with marks, Greek, Cyrillic, Hebrew, Arabic
    const char c = static_cast<char>(lead);
    if (std::string_view(" .,:;'|!iljI()[]/").find(c) != std::string_view::npos) return 0.36;
    if (std::string_view("mwMW@%").find(c) != std::string_view::npos) return 0.96;
    if (c >= 'A' && c <= 'Z') return 0.74;
    return 0.62;
}

}  // namespace

double estimated_width(std::string_view text, double size) {
    constexpr std::string_view of_isolates = "\xE2\x81";  // U+2066 to U+2069, which are not seen
    double shares = 0;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const auto byte = static_cast<std::uint8_t>(text[at]);
        if ((byte & 0xC0) == 0x80 || (text.substr(at).starts_with(of_isolates) && text.size() > at + 2 &&
                                      static_cast<std::uint8_t>(text[at + 2]) >= 0xA6))
            continue;
        shares += share_of(byte);
    }
    return shares * size;
}

std::string fitted(std::string_view text, double width, double size) {
    const std::string clean = cited(text, 200);
    if (estimated_width(clean, size) <= width) return clean;
    std::string cut;
    double used = 1.05 * size;  // the ellipsis
    for (std::size_t at = 0; at < clean.size();) {
        std::size_t end = at + 1;
        while (end < clean.size() && (static_cast<std::uint8_t>(clean[end]) & 0xC0) == 0x80) ++end;
        const std::string_view sign(clean.data() + at, end - at);
        used += estimated_width(sign, size);
        if (used > width) break;
        cut += sign;
        at = end;
    }
    return cut + "…";
}

std::vector<document::Drawing> draw(const Source& source, const std::vector<Node>& nodes, const Words& words,
                                    Extent extent) {
    TAPWRIGHT_ENSURE(extent.columns >= 1 && extent.rows >= 1);
    return Layout(source, nodes, words, extent).run();
}

}  // namespace tapwright::line_picture
