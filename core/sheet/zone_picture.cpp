// A zone's load bar and line drawing, put together from the records and the solution.
#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "core/base/text.h"
#include "core/sheet/line_picture.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"

namespace tapwright::sheet {
namespace {

using document::Bar;
using document::Figure;

// More blocks than this run together in a bar as wide as a page.
constexpr std::size_t most_bar_parts = 80;

void load_bar(const View& view, std::uint32_t zone, Blocks& blocks) {
    const ZoneState& state = view.derived.zones[zone];
    const Margin& margin = state.margin;
    if (state.low_impedance || (margin.load.value() <= 0 && !margin.limit)) return;
    Bar bar;
    for (const std::uint32_t at : view.zone_points[zone])
        if (const auto& drawn = view.on_line(at).drawn; drawn && drawn->value() > 0)
            bar.parts.push_back({drawn->value(), rounded(drawn->value(), 2), false});
    const std::size_t parts = bar.parts.size();
    if (parts > most_bar_parts) bar.parts = {{margin.load.value(), counted(parts, "loudspeaker"), false}};
    if (state.unrecorded.value() > 0)
        bar.parts.push_back({state.unrecorded.value(), show(state.unrecorded) + " not recorded", true});
    const double all = margin.load.value() + state.unrecorded.value();
    bar.limit = margin.limit.value_or(Watts(0)).value();
    bar.reserve_from = bar.limit - margin.reserve.value_or(Watts(0)).value();
    bar.whole = std::max(bar.limit, all) * 1.02;
    const std::string name = name_of(view.job, view.job.all<Zone>()[zone].id);
    std::string caption = "Load of " + name + ": " + show(margin.load) + " (" + in_words(margin.basis) + ")";
    if (margin.limit) caption += " of " + show(*margin.limit);
    if (margin.reserve) caption += ", reserve from " + show(Watts(bar.reserve_from));
    if (state.unrecorded.value() > 0) caption += "; hatched: " + show(state.unrecorded) + " measured but not recorded";
    const std::string alternative = caption + ". One block for each of " + counted(parts, "loudspeaker") + ".";
    blocks.push_back(Figure{std::move(bar), caption, alternative});
}

// What the cable that ends at a point carries, by the solution.
double carried(const PointOnLine& line) {
    const double ohms = line.ohms.value();
    return std::isfinite(ohms) && ohms > 0 ? line.volts.value() * line.volts.value() / ohms : 0;
}

// The latest reading beside what was expected: "61.1/60.9 Ω", short enough to stand below a point.
std::string reading_remark(const View& view, std::uint32_t reading) {
    if (reading == nowhere) return "";
    std::string read = reading_value(view.job.all<Reading>()[reading]);
    const Judgement& judged = view.derived.readings[reading];
    if (!judged.expected) return read + " read";
    const std::string expected = show(*judged.expected);
    const std::size_t unit = read.rfind(' ');
    if (unit != std::string::npos && expected.ends_with(read.substr(unit))) read.erase(unit);
    return read + "/" + expected;
}

std::vector<std::string> remarks_of(const View& view, std::uint32_t at) {
    const Point& point = view.point(at);
    const PointOnLine& line = view.on_line(at);
    std::vector<std::string> remarks;
    if (point.kind == PointKind::speaker) {
        std::string text = is_fitted(point)      ? tap_as_left(point)
                           : point.planned_tap_w ? show(*point.planned_tap_w) + " plan"
                                                 : "planned";
        remarks.push_back(text);
        remarks.push_back(line.level ? show(Decibels(std::round(line.level->value() * 10) / 10)) : "silent");
    } else if (point.kind == PointKind::attenuator) {
        remarks.push_back(point.knob_db ? knob_text(*point.knob_db) : "knob unknown");
        if (line.rating) remarks.push_back("of " + show(*line.rating));
    }
    if (const std::string read = reading_remark(view, view.point_ohms[at]); !read.empty())
        remarks.insert(remarks.begin(), read);
    if (point.ring_to) remarks.insert(remarks.begin(), "ring to " + name_of(view.job, point.ring_to));
    return remarks;
}

std::vector<line_picture::Node> nodes_of(const View& view, std::uint32_t zone) {
    const auto& points = view.zone_points[zone];
    std::unordered_map<std::uint32_t, std::uint32_t> place;
    std::vector<line_picture::Node> nodes;
    nodes.reserve(points.size());
    for (const std::uint32_t at : points) {
        const Point& point = view.point(at);
        const PointOnLine& line = view.on_line(at);
        line_picture::Node node;
        if (line.feed != nowhere) node.feed = place.at(line.feed);
        node.at_input = point.feed_side == FeedSide::in && line.feed != nowhere;
        node.symbol = point.kind == PointKind::speaker      ? line_picture::Symbol::speaker
                      : point.kind == PointKind::attenuator ? line_picture::Symbol::attenuator
                      : point.kind == PointKind::splice     ? line_picture::Symbol::splice
                                                            : line_picture::Symbol::other;
        node.name = name_of(view.job, point.id);
        node.remarks = remarks_of(view, at);
        if (point.length_m) node.run = show(*point.length_m, view.lengths);
        node.watts = carried(line);
        node.dashed = point.state == PointState::planned || point.state == PointState::cabled;
        place.emplace(at, static_cast<std::uint32_t>(nodes.size()));
        nodes.push_back(std::move(node));
    }
    return nodes;
}

}  // namespace

void zone_figures(const View& view, std::uint32_t zone, Blocks& blocks) {
    load_bar(view, zone, blocks);
    const auto nodes = nodes_of(view, zone);
    line_picture::Source source;
    const auto& record = view.job.all<Zone>()[zone];
    const std::string name = name_of(view.job, record.id);
    const auto channel = view.derived.zones[zone].channel;
    source.name = channel ? "Channel " + name_of(view.job, view.job.all<Channel>()[*channel].id) : name;
    if (record.terminal) {  // "2A, terminals 1-2" stands on two lines, where there is little room beside each other
        const std::size_t comma = record.terminal->find(", ");
        source.remarks.push_back(record.terminal->substr(0, comma));
        if (comma != std::string::npos) source.remarks.push_back(record.terminal->substr(comma + 2));
    }
    if (const std::string read = reading_remark(view, view.zone_ohms[zone]); !read.empty())
        source.remarks.push_back(read);
    source.watts = view.derived.lines[zone].watts.value();
    const auto drawings = line_picture::draw(source, nodes);
    for (std::size_t i = 0; i < drawings.size(); ++i) {
        const std::string part =
            drawings.size() == 1 ? "" : ", part " + std::to_string(i + 1) + " of " + std::to_string(drawings.size());
        blocks.push_back(
            Figure{drawings[i],
                   "Line of " + name + part +
                       ". Strokes as thick as the watts they carry, knobs as left; under each point its "
                       "tap and level; readings as measured/expected.",
                   "Line drawing of " + name + part + ": " + counted(nodes.size(), "point") +
                       " from the amplifier on the left to the last on the right. The table of points says "
                       "the same in words."});
    }
}

}  // namespace tapwright::sheet
