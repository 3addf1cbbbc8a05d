// Rooms seen from above, to scale, with what hangs in them where it is recorded to be, two side by side.
#include <algorithm>
#include <cmath>

#include "core/sheet/line_picture.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/isolate.h"

namespace tapwright::sheet {
namespace {

using document::Drawing;
using outline::Figure;
using outline::Heading;

// All in points.
constexpr double most_width = 236, most_height = 124, plan_margin = 8, ring = 3.6, outline_of_snag = 2.1 * ring,
                 plan_text_size = 7, apart = 1.2;
constexpr int corners = 20;
constexpr double most_lines = 24;

struct Box {
    double x, y, width, height;
    bool meets(const Box& other) const {
        return x < other.x + other.width && other.x < x + width && y < other.y + other.height && other.y < y + height;
    }
    bool is_within(const Box& other) const {
        return x >= other.x && y >= other.y && x + width <= other.x + other.width &&
               y + height <= other.y + other.height;
    }
};

struct Spot {
    double x, y;        // on paper
    std::string name;   // as it is drawn
    std::string label;  // as it was typed
    bool is_speaker;
    bool has_snag;  // an open one that the reader is told of
};

// 1, 2, 5, 10 ... metres, so that neither side has more than a couple of dozen lines.
double grid_of(double longest) {
    for (double ten = 1;; ten *= 10)
        for (const double step : {1.0, 2.0, 5.0})
            if (longest <= step * ten * most_lines) return step * ten;
}

std::vector<std::array<double, 2>> circle(double x, double y, double radius, int sides = corners) {
    std::vector<std::array<double, 2>> path;
    for (int i = 0; i <= sides; ++i) {
        const double angle = 2 * 3.14159265358979323846 * i / sides;
        path.push_back({x + radius * std::cos(angle), y + radius * std::sin(angle)});
    }
    return path;
}

// Each name beside its spot where it covers no other mark and no wall; the table of the room has them all.
// Returns: where marks and names are.
std::vector<Box> draw_names(const std::vector<Spot>& spots, Drawing& drawing) {
    const Box floor{plan_margin, plan_margin, drawing.width - 2 * plan_margin, drawing.height - 2 * plan_margin};
    std::vector<Box> taken;
    for (const Spot& spot : spots) {
        const double reach = spot.has_snag ? outline_of_snag : ring;
        taken.push_back({spot.x - reach, spot.y - reach, 2 * reach, 2 * reach});
    }
    for (const Spot& spot : spots) {
        const double width = line_picture::estimated_width(spot.name, plan_text_size),
                     gap = (spot.has_snag ? outline_of_snag : ring) + 1.5;
        // Beside it, below, above; then a line further, where names stand close.
        const double below = spot.y + gap, above = spot.y - gap - plan_text_size, further = plan_text_size + 1;
        const Box places[] = {{spot.x + gap, spot.y - plan_text_size / 2, width, plan_text_size},
                              {spot.x - gap - width, spot.y - plan_text_size / 2, width, plan_text_size},
                              {spot.x - width / 2, below, width, plan_text_size},
                              {spot.x - width / 2, above, width, plan_text_size},
                              {spot.x - width / 2, below + further, width, plan_text_size},
                              {spot.x - width / 2, above - further, width, plan_text_size}};
        for (const Box& box : places) {
            const Box with_room{box.x - apart, box.y, box.width + 2 * apart, box.height};
            const bool is_taken =
                std::any_of(taken.begin(), taken.end(), [&](const Box& each) { return each.meets(with_room); });
            if (is_taken || !box.is_within(floor)) continue;
            taken.push_back(box);
            drawing.labels.push_back({box.x, box.y + plan_text_size * 0.8, spot.name, plan_text_size});
            break;
        }
    }
    return taken;
}

// A line of the grid, left out where it would run through a name or a spot. `along`: 0 for one from left to right.
void draw_grid_line(std::array<double, 2> from, double end, int along, const std::vector<Box>& taken,
                    Drawing& drawing) {
    const double across = from[static_cast<std::size_t>(1 - along)];
    std::vector<std::array<double, 2>> gaps;
    for (const Box& box : taken) {
        const std::array<double, 2> first{box.x, box.y}, size{box.width, box.height};
        const auto run = static_cast<std::size_t>(along), side = static_cast<std::size_t>(1 - along);
        if (across > first[side] && across < first[side] + size[side])
            gaps.push_back({first[run] - 1, first[run] + size[run] + 1});
    }
    std::sort(gaps.begin(), gaps.end());
    gaps.push_back({end, end});
    const auto run = static_cast<std::size_t>(along);
    for (const auto& [begins, ends] : gaps) {
        std::array<double, 2> to = from;
        to[run] = std::min(begins, end);
        if (to[run] > from[run]) drawing.strokes.push_back({{from, to}, 0.25});
        from[run] = std::max(from[run], ends);
    }
}

void draw_floor(const Room& room, double scale, const std::vector<Box>& taken, Drawing& drawing) {
    const double length = room.length_m->value(), width = room.width_m->value(),
                 grid = grid_of(std::max(length, width));
    const double right = plan_margin + length * scale, bottom = plan_margin + width * scale;
    for (double x = grid; x < length - grid / 100; x += grid)
        draw_grid_line({plan_margin + x * scale, plan_margin}, bottom, 1, taken, drawing);
    for (double y = grid; y < width - grid / 100; y += grid)
        draw_grid_line({plan_margin, plan_margin + y * scale}, right, 0, taken, drawing);
    drawing.strokes.push_back({{{plan_margin, plan_margin},
                                {right, plan_margin},
                                {right, bottom},
                                {plan_margin, bottom},
                                {plan_margin, plan_margin}},
                               1.2});
}

bool has_snag(const View& view, const Point& point) {
    const auto snags = view.job.all<Snag>();
    return std::any_of(snags.begin(), snags.end(), [&](const Snag& snag) {
        const Share share = snag.share.value_or(Share::technician);
        const bool is_told =
            view.options.reader == SheetReader::owner ? share == Share::owner : share != Share::private_;
        return is_told && snag.about == point.id && snag.state != SnagState::closed;
    });
}

std::vector<Spot> spots_of(const View& view, const Room& room, double scale) {
    std::vector<Spot> spots;
    for (const Point& point : view.job.all<Point>()) {
        if (point.room != room.id || !point.x_m || !point.y_m) continue;
        if (view.options.reader == SheetReader::owner && !is_fitted(point)) continue;
        spots.push_back({plan_margin + std::clamp(point.x_m->value(), 0.0, room.length_m->value()) * scale,
                         plan_margin + std::clamp(point.y_m->value(), 0.0, room.width_m->value()) * scale,
                         text_with_isolates(view.words, entered(name_of(view.job, point.id))),
                         name_of(view.job, point.id), point.kind == PointKind::speaker, has_snag(view, point)});
    }
    return spots;
}

std::int64_t not_placed(const View& view, const Room& room) {
    return std::count_if(view.job.all<Point>().begin(), view.job.all<Point>().end(), [&](const Point& point) {
        if (view.options.reader == SheetReader::owner && !is_fitted(point)) return false;
        return point.room == room.id && point.kind == PointKind::speaker && !(point.x_m && point.y_m);
    });
}

std::optional<Figure> plan_of(const View& view, std::uint32_t place) {
    const Room& room = view.room(place);
    if (!room.length_m || !room.width_m || room.length_m->value() <= 0 || room.width_m->value() <= 0)
        return std::nullopt;
    const double scale = std::min((most_width - 2 * plan_margin) / room.length_m->value(),
                                  (most_height - 2 * plan_margin) / room.width_m->value());
    const std::vector<Spot> spots = spots_of(view, room, scale);
    if (spots.empty()) return std::nullopt;
    Drawing drawing;
    drawing.width = room.length_m->value() * scale + 2 * plan_margin;
    drawing.height = room.width_m->value() * scale + 2 * plan_margin;
    draw_floor(room, scale, draw_names(spots, drawing), drawing);
    for (const Spot& spot : spots)
        drawing.strokes.push_back({circle(spot.x, spot.y, ring), 1.2, false, spot.is_speaker});
    Series with_snag;
    for (const Spot& spot : spots)
        if (spot.has_snag) {
            drawing.strokes.push_back({circle(spot.x, spot.y, outline_of_snag, 6), 1.4});
            with_snag.items.emplace_back(entered(spot.label));
        }
    const double grid = grid_of(std::max(room.length_m->value(), room.width_m->value()));
    Message caption = in_context("plan", "{room}, {length} × {width}, a line each {grid}.",
                                 {{"room", entered(name_of(view.job, room.id))},
                                  {"length", *room.length_m},
                                  {"width", *room.width_m},
                                  {"grid", Metres(grid)}});
    if (!with_snag.items.empty())
        caption =
            sentences({std::move(caption), Message("Outlined, still to be fixed: {points}.", {{"points", with_snag}})});
    if (const std::int64_t missing = not_placed(view, room); missing > 0)
        caption =
            sentences({std::move(caption), plural("The place of {count} loudspeaker is not recorded.",
                                                  "The places of {count} loudspeakers are not recorded.", missing)});
    return Figure{std::move(drawing), caption, Message("Plan of {room}", {{"room", caption}})};
}

// The rooms without a plan that have loudspeakers, by what is missing.
void what_is_missing(const View& view, Blocks& blocks) {
    Series no_size, no_place;
    for (const std::uint32_t at : view.rooms) {
        const Room& room = view.room(at);
        const auto& points = view.room_points[at];
        const auto is_speaker = [&](std::uint32_t point) { return view.point(point).kind == PointKind::speaker; };
        const auto is_placed = [&](std::uint32_t point) { return view.point(point).x_m && view.point(point).y_m; };
        if (std::none_of(points.begin(), points.end(), is_speaker)) continue;
        if (!room.length_m || !room.width_m)
            no_size.items.emplace_back(entered(name_of(view.job, room.id)));
        else if (std::none_of(points.begin(), points.end(), is_placed))
            no_place.items.emplace_back(entered(name_of(view.job, room.id)));
    }
    outline::Bullets bullets;
    if (!no_place.items.empty())
        bullets.items.push_back(
            Message("No plan or level, positions of the loudspeakers not recorded: {rooms}.", {{"rooms", no_place}}));
    if (!no_size.items.empty())
        bullets.items.push_back(
            Message("No plan or level, length or width of the room not recorded: {rooms}.", {{"rooms", no_size}}));
    if (!bullets.items.empty()) blocks.push_back(std::move(bullets));
}

void plans_and_levels(const View& view, Blocks& blocks) {
    bool is_first = true;
    for (const std::uint32_t room : view.rooms) {
        std::vector<Figure> figures;
        if (std::optional<Figure> plan = plan_of(view, room)) figures.push_back(std::move(*plan));
        if (std::optional<Figure> map = level_map_of(view, room)) figures.push_back(std::move(*map));
        if (figures.empty()) continue;
        if (is_first) blocks.push_back(Heading{2, Message("Plans of the rooms and levels in them")});
        add_in_pairs(std::move(figures), blocks);
        if (is_first)
            blocks.push_back(outline::Paragraph{
                Message(
                    "Shaded: the direct level at listeners' ears at full line voltage, taps as recorded or planned, "
                    "attenuators as left, of loudspeakers that look straight down and whose place, tap and type are "
                    "known. Left out: reverberation, shadows and the music itself. Beside it stands what was "
                    "measured. Not a design for an emergency or fire system."),
                document::Tone::plain});
        is_first = false;
    }
    if (!is_first) what_is_missing(view, blocks);
}

}  // namespace

void plan_section(const View& view, Blocks& blocks) {
    if (view.options.reader == SheetReader::technician) return plans_and_levels(view, blocks);
    std::vector<Figure> figures;
    for (const std::uint32_t room : view.rooms)
        if (std::optional<Figure> figure = plan_of(view, room)) figures.push_back(std::move(*figure));
    if (figures.empty()) return;
    blocks.push_back(Heading{2, Message("Plans of the rooms")});
    add_in_pairs(std::move(figures), blocks);
}

}  // namespace tapwright::sheet
