// A zone's load bar and line drawing, put together from the records and the solution.
#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "core/sheet/line_picture.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/expected_text.h"
#include "core/words/isolate.h"
#include "core/words/readings_text.h"

namespace tapwright::sheet {
namespace {

using outline::Bar;
using outline::Figure;

// More blocks than this run together in a bar as wide as a page.
constexpr std::size_t most_bar_parts = 80;

Message loudspeakers(std::size_t count) {
    return plural("{count} loudspeaker", "{count} loudspeakers", static_cast<std::int64_t>(count));
}

Message caption_of(const View& view, std::uint32_t zone) {
    const ZoneState& state = view.derived.zones[zone];
    const Margin& margin = state.margin;
    const std::vector<Named> named = {{"zone", entered(name_of(view.job, view.job.all<Zone>()[zone].id))},
                                      {"load", margin.load},
                                      {"basis", words_for(margin.basis)},
                                      {"limit", margin.limit.value_or(Watts(0))}};
    const Message load = !margin.limit ? Message(Pattern("Load of {zone}: {load} ({basis})."), named)
                                       : Message(Pattern("Load of {zone}: {load} ({basis}) of {limit}."), named);
    if (!(state.margin.unrecorded.value() > 0)) return load;
    return sentences(
        {load, Message("Hatched: {watts} measured but not recorded.", {{"watts", state.margin.unrecorded}})});
}

std::optional<Figure> load_bar(const View& view, std::uint32_t zone) {
    const ZoneState& state = view.derived.zones[zone];
    const Margin& margin = state.margin;
    if (state.low_impedance || (margin.load.value() <= 0 && !margin.limit)) return std::nullopt;
    Bar bar;
    for (const std::uint32_t at : view.zone_points[zone])
        if (const auto& drawn = view.on_line(at).drawn; drawn && drawn->value() > 0)
            bar.parts.push_back({drawn->value(), tapwright::Figure{drawn->value(), Unit::none, 2}, false});
    const std::size_t parts = bar.parts.size();
    if (parts > most_bar_parts) bar.parts = {{margin.load.value(), loudspeakers(parts), false}};
    if (state.margin.unrecorded.value() > 0)
        bar.parts.push_back({state.margin.unrecorded.value(),
                             Message("{watts} not recorded", {{"watts", state.margin.unrecorded}}), true});
    const double all = margin.load.value() + state.margin.unrecorded.value();
    bar.limit = margin.limit.value_or(Watts(0)).value();
    bar.reserve_from = bar.limit - margin.reserve.value_or(Watts(0)).value();
    bar.whole = std::max(bar.limit, all) * 1.02;
    const Message caption = caption_of(view, zone);
    return Figure{std::move(bar), caption,
                  sentences({caption, Message("One block for each of {loudspeakers}.",
                                              {{"loudspeakers", loudspeakers(parts)}})})};
}

// What the cable that ends at a point carries, by the solution; nothing is known of a part of an emergency system.
double carried(const PointOnLine& line) {
    if (line.emergency) return 0;
    const double ohms = line.ohms.value();
    return std::isfinite(ohms) && ohms > 0 ? line.volts.value() * line.volts.value() / ohms : 0;
}

// Ohms without their unit, to three digits as beside it; nothing for those that are shown with a prefix.
std::optional<tapwright::Figure> bare_ohms(Ohms ohms) {
    const double value = ohms.value();
    if (!(value > 0 && value < 999.5)) return std::nullopt;
    return tapwright::Figure{value, Unit::none, value >= 99.95 ? 0 : value >= 9.995 ? 1 : 2};
}

// The latest reading beside what was expected: "61.1/60.9 Ω", "505/at least 500 Ω", short enough to stand below a
// point.
Message reading_remark(const View& view, std::uint32_t at) {
    if (at == nowhere) return {};
    const Reading& reading = view.job.all<Reading>()[at];
    const Judgement& judged = view.derived.readings[at];
    const bool is_emergency = judged.verdict == Verdict::not_judged && judged.unjudged == Unjudged::emergency;
    if (!judged.expected || is_emergency) return Message("{ohms} read", {{"ohms", value_of(reading)}});
    const auto read = reading.value ? bare_ohms(Ohms(*reading.value)) : std::nullopt;
    const bool is_short = read && !reading.over_range.value_or(false) && bare_ohms(*judged.expected);
    return in_context("read and expected", "{read}/{expected}",
                      {{"read", is_short ? Message(*read) : value_of(reading)},
                       {"expected", bounded(*judged.expected, missing_for(view.job, view.derived, at))}});
}

// The same below a point, where there is less room: a bound on a line of its own.
std::vector<Message> reading_remarks(const View& view, std::uint32_t at) {
    if (at == nowhere) return {};
    const Reading& reading = view.job.all<Reading>()[at];
    const Judgement& judged = view.derived.readings[at];
    if (judged.expected && judged.unjudged != Unjudged::emergency) {
        const NotRecorded missing = missing_for(view.job, view.derived, at);
        if (missing.may_be_higher() || missing.may_be_lower())
            return {Message("{ohms} read", {{"ohms", value_of(reading)}}), bounded(*judged.expected, missing)};
    }
    return {reading_remark(view, at)};
}

std::string made_text(const View& view, const Message& message) {
    return text_with_isolates(view.words, message);
}

std::vector<Message> remarks_of(const View& view, std::uint32_t at) {
    const Point& point = view.point(at);
    const PointOnLine& line = view.on_line(at);
    std::vector<Message> remarks;
    if (line.emergency) return {Message("fire or emergency")};
    if (point.ring_to)
        remarks.push_back(Message("ring to {point}", {{"point", entered(name_of(view.job, point.ring_to))}}));
    for (Message& remark : reading_remarks(view, view.point_ohms[at])) remarks.push_back(std::move(remark));
    if (point.kind == PointKind::speaker) {
        remarks.push_back(is_fitted(point)      ? tap_as_left(view.job, point)
                          : point.planned_tap_w ? Message("{tap} planned", {{"tap", *point.planned_tap_w}})
                                                : Message("planned"));
        remarks.push_back(!line.level ? Message("silent")
                          : line.is_past_unknown_run
                              ? Message("level unknown")
                              : Message(tapwright::Figure{line.level->value(), Unit::decibel, 1}));
    } else if (point.kind == PointKind::attenuator) {
        remarks.push_back(point.knob_db ? position_of(*point.knob_db) : Message("position unknown"));
        if (line.rating) remarks.push_back(Message("of {watts}", {{"watts", *line.rating}}));
    }
    return remarks;
}

std::vector<std::string> texts_of(const View& view, const std::vector<Message>& messages) {
    std::vector<std::string> texts;
    for (const Message& message : messages)
        if (!message.empty()) texts.push_back(made_text(view, message));
    return texts;
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
        node.name = made_text(view, entered(name_of(view.job, point.id)));
        node.remarks = texts_of(view, remarks_of(view, at));
        if (point.length_m) node.run = made_text(view, *point.length_m);
        node.watts = carried(line);
        node.dashed = point.state == PointState::planned || point.state == PointState::cabled;
        place.emplace(at, static_cast<std::uint32_t>(nodes.size()));
        nodes.push_back(std::move(node));
    }
    return nodes;
}

line_picture::Source source_of(const View& view, std::uint32_t zone) {
    line_picture::Source source;
    const Zone& record = view.job.all<Zone>()[zone];
    const auto output = view.derived.zones[zone].channel;
    source.name =
        made_text(view, output ? Message("Output {output}",
                                         {{"output", entered(name_of(view.job, view.job.all<Channel>()[*output].id))}})
                               : Message(entered(name_of(view.job, record.id))));
    if (record.terminal) {  // "2A, terminals 1-2" stands on two lines, where there is little room beside each other
        const std::size_t comma = record.terminal->find(", ");
        source.remarks.push_back(made_text(view, entered(record.terminal->substr(0, comma))));
        if (comma != std::string::npos)
            source.remarks.push_back(made_text(view, entered(record.terminal->substr(comma + 2))));
    }
    if (const Message read = reading_remark(view, view.zone_ohms[zone]); !read.empty())
        source.remarks.push_back(made_text(view, read));
    source.watts = view.derived.lines[zone].watts.value();
    return source;
}

// "Foyer", "Foyer, part 1 of 3".
Message part_of(const Message& zone, std::size_t part, std::size_t parts) {
    return parts == 1 ? zone
                      : Message("{zone}, part {part} of {parts}", {{"zone", zone}, {"part", part}, {"parts", parts}});
}

}  // namespace

void zone_figures(const View& view, std::uint32_t zone, Blocks& blocks) {
    std::vector<Figure> pair;
    if (std::optional<Figure> bar = load_bar(view, zone)) pair.push_back(std::move(*bar));
    if (std::optional<Figure> chart = level_chart(view, zone)) pair.push_back(std::move(*chart));
    if (pair.size() == 1)
        blocks.push_back(std::move(pair.front()));
    else
        add_in_pairs(std::move(pair), blocks);
    const auto nodes = nodes_of(view, zone);
    const Message name = entered(name_of(view.job, view.job.all<Zone>()[zone].id));
    const auto drawings = line_picture::draw(source_of(view, zone), nodes, view.words, {.columns = 7, .rows = 8});
    for (std::size_t i = 0; i < drawings.size(); ++i) {
        const Message part = part_of(name, i + 1, drawings.size());
        blocks.push_back(Figure{
            drawings[i],
            Message("Line of {zone}, attenuators as left: thicker strokes carry more watts; readings as read/expected.",
                    {{"zone", part}}),
            plural(
                "Line drawing of {zone}: {count} point, fed by the amplifier on the left. The table of points says "
                "the same in words.",
                "Line drawing of {zone}: {count} points from the amplifier on the left to the last on the right. The "
                "table of points says the same in words.",
                static_cast<std::int64_t>(nodes.size()), {{"zone", part}})});
    }
}

}  // namespace tapwright::sheet
