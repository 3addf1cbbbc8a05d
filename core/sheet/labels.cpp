#include "core/sheet/labels.h"

#include <cstdlib>
#include <map>

#include "core/base/text.h"
#include "core/sheet/phrases.h"
#include "core/sheet/view.h"

namespace tapwright {
namespace {

using outline::Labels;
using sheet::View;

constexpr double points_per_mm = 72 / 25.4;

class Maker {
public:
    Maker(const View& view, const LabelOptions& options, outline::Document& made)
        : view_(view), options_(options), made_(made) {}

    void zone(std::uint32_t at) {
        const Zone& zone = view_.job.all<Zone>()[at];
        if (!options_.zone.empty() && zone.id.text() != options_.zone) return;
        const Entered name = entered(name_of(view_.job, zone.id));
        made_.blocks.push_back(outline::Heading{2, Message("Zone: {zone}", {{"zone", name}})});
        Labels labels = empty();
        const auto output = view_.derived.zones[at].channel;
        const Message source =
            output ? Message("OUT of output {output}",
                             {{"output", entered(name_of(view_.job, view_.job.all<Channel>()[*output].id))}})
                   : Message("output not recorded");
        labels.labels.push_back({name, {source, sheet::typed(zone.terminal), view_.derived.zones[at].line_v}});
        for (const std::uint32_t point : view_.zone_points[at]) run(point, name, labels);
        made_.blocks.push_back(std::move(labels));
    }

    void not_traced() {
        if (!options_.zone.empty() || view_.not_traced.empty()) return;
        made_.blocks.push_back(outline::Heading{2, Message("Not traced to a zone")});
        Labels labels = empty();
        for (const std::uint32_t at : view_.not_traced) run(at, Message("zone not traced"), labels);
        made_.blocks.push_back(std::move(labels));
    }

private:
    Labels empty() const { return {options_.size.width * points_per_mm, options_.size.height * points_per_mm, {}}; }

    Message tap_of(const Point& point) const {
        if (point.kind != PointKind::speaker) return {};
        if (point.tap_w || point.wired) return sheet::tap_and_mark(view_.job, point);
        if (point.planned_tap_w) return Message("{tap} planned", {{"tap", *point.planned_tap_w}});
        return Message("tap ____");
    }

    // The two ends of the run that feeds a point.
    void run(std::uint32_t at, const Message& zone, Labels& labels) const {
        const Point& point = view_.point(at);
        const Entered name = entered(name_of(view_.job, point.id));
        const Message room = point.room ? sheet::room_name(view_.job, point.room) : Message();
        const Message feed =
            point.fed_from ? Message(entered(name_of(view_.job, point.fed_from))) : Message("not traced");
        const Message in = point.kind == PointKind::speaker
                               ? Message("IN from {feed}, loudspeaker end", {{"feed", feed}})
                               : Message("IN from {feed}, far end", {{"feed", feed}});
        labels.labels.push_back({name, {in, sheet::with_commas({zone, tap_of(point)}), room}});
        labels.labels.push_back({name, {Message("OUT at {feed}, amplifier end", {{"feed", feed}}), zone, room}});
    }

    const View& view_;
    const LabelOptions& options_;
    outline::Document& made_;
};

}  // namespace

Result<LabelSize> label_size_from(std::string_view text) {
    static const std::map<std::string_view, LabelSize> sizes = {
        {"small", {38, 13}}, {"medium", {50, 20}}, {"large", {70, 30}}};
    if (const auto known = sizes.find(text); known != sizes.end()) return known->second;
    const std::string copy(text);
    char* end = nullptr;
    LabelSize size;
    size.width = std::strtod(copy.c_str(), &end);
    if (*end == 'x') {
        size.height = std::strtod(end + 1, &end);
        const bool within = size.width >= 15 && size.width <= 190 && size.height >= 8 && size.height <= 100;
        if (*end == '\0' && within) return size;
    }
    return Refusal{
        Message("Label size {size}: give small, medium or large, or width x height in millimetres from 15x8 to "
                "190x100, as {example}.",
                {{"size", entered(cited(text))}, {"example", code("60x25")}})};
}

document::Document label_sheet(const Job& job, const Derived& derived, const LabelOptions& options,
                               const Words& words) {
    SheetOptions sheet_options;
    sheet_options.time = options.time;
    const View view(job, derived, sheet_options, words);
    const std::string name = name_of(job, job_id());
    outline::Document made;
    made.title = Message("{job}: labels", {{"job", entered(cited(name, 200))}});
    made.created = options.time;
    made.footer = view.day.empty()
                      ? Message("{job} · labels", {{"job", entered(cited(name, 40))}})
                      : Message("{job} · labels · {day}", {{"job", entered(cited(name, 40))}, {"day", Day{view.day}}});
    made.paper = options.paper;
    made.blocks.push_back(outline::Heading{1, entered(name)});
    made.blocks.push_back(outline::Paragraph{
        Message(
            "Labels to cut out. Every run has two of the same name: IN for its end at the point itself, OUT for its "
            "end towards the amplifier. Print at full size, without fitting to the page."),
        document::Tone::plain});
    Maker maker(view, options, made);
    for (std::uint32_t zone = 0; zone < view.zone_points.size(); ++zone) maker.zone(zone);
    maker.not_traced();
    return document::in_words(made, words);
}

}  // namespace tapwright
