// The level along a zone's line: each loudspeaker's level against how far along the cable it is from the amplifier.
#include <algorithm>
#include <cmath>

#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/isolate.h"

namespace tapwright::sheet {
namespace {

using document::Drawing;
using outline::Figure;

// All in points.
constexpr double chart_left = 30, chart_top = 6, chart_width = 200, chart_height = 58, cross_size = 2.2,
                 chart_text_size = 7;
constexpr double least_range_db = 1;

struct LevelSpot {
    double metres;
    double decibels;
};

// Of the loudspeakers whose level and whole way are known; the others are counted.
struct LevelSpots {
    std::vector<LevelSpot> known;
    std::int64_t left_out = 0;
};

LevelSpots spots_of(const View& view, std::uint32_t zone) {
    std::vector<std::optional<double>> way(view.job.all<Point>().size());
    LevelSpots spots;
    for (const std::uint32_t at : view.zone_points[zone]) {  // a feed before what it feeds
        const Point& point = view.point(at);
        const PointOnLine& line = view.on_line(at);
        const std::optional<double> before = line.feed == nowhere ? 0.0 : way[line.feed];
        if (before && point.length_m) way[at] = *before + point.length_m->value();
        if (point.kind != PointKind::speaker || !line.level) continue;
        if (way[at] && !line.is_past_unknown_run)
            spots.known.push_back({*way[at], line.level->value()});
        else
            ++spots.left_out;
    }
    return spots;
}

void put_label(const View& view, Drawing& drawing, double x, double y, const Message& text, outline::Align align) {
    drawing.labels.push_back({x, y, text_with_isolates(view.words, text), chart_text_size, align});
}

Drawing chart_of(const View& view, const LevelSpots& spots, double farthest, double lowest) {
    const double range = std::max(least_range_db, std::ceil(-lowest));
    const auto x_of = [&](double metres) { return chart_left + (farthest > 0 ? metres / farthest : 0) * chart_width; };
    const auto y_of = [&](double decibels) {
        return chart_top + std::clamp(-decibels / range, 0.0, 1.0) * chart_height;
    };
    Drawing drawing;
    drawing.width = chart_left + chart_width + 8;
    drawing.height = chart_top + chart_height + 14;
    for (const double level : {0.0, -range / 2, -range}) {
        drawing.strokes.push_back(
            {{{chart_left, y_of(level)}, {chart_left + chart_width, y_of(level)}}, 0.4, level != 0});
        put_label(view, drawing, chart_left - 3, y_of(level) + 2.5, tapwright::Figure{level, Unit::decibel, 1},
                  outline::Align::end);
    }
    drawing.strokes.push_back({{{chart_left, chart_top}, {chart_left, chart_top + chart_height}}, 0.8});
    for (const LevelSpot& spot : spots.known) {
        const double x = x_of(spot.metres), y = y_of(spot.decibels);
        drawing.strokes.push_back(
            {{{x - cross_size, y}, {x, y - cross_size}, {x + cross_size, y}, {x, y + cross_size}, {x - cross_size, y}},
             0.5,
             false,
             true});
    }
    put_label(view, drawing, chart_left, chart_top + chart_height + 11, Metres(0), outline::Align::start);
    put_label(view, drawing, chart_left + chart_width, chart_top + chart_height + 11, Metres(farthest),
              outline::Align::end);
    return drawing;
}

}  // namespace

std::optional<Figure> level_chart(const View& view, std::uint32_t zone) {
    const LevelSpots spots = spots_of(view, zone);
    if (spots.known.size() < 2) return std::nullopt;
    double farthest = 0, lowest = 0;
    for (const LevelSpot& spot : spots.known) {
        farthest = std::max(farthest, spot.metres);
        lowest = std::min(lowest, spot.decibels);
    }
    Message caption = Message("Level along the line: lowest {level}, farthest after {length}.",
                              {{"level", tapwright::Figure{lowest, Unit::decibel, 1}}, {"length", Metres(farthest)}});
    if (spots.left_out > 0)
        caption = sentences({std::move(caption), plural("{count} loudspeaker is left out.",
                                                        "{count} loudspeakers are left out.", spots.left_out)});
    return Figure{chart_of(view, spots, farthest, lowest), caption,
                  Message("Level chart. {caption}", {{"caption", caption}})};
}

}  // namespace tapwright::sheet
