#include "core/sheet/labels.h"

#include <cstdlib>
#include <map>

#include "core/base/text.h"
#include "core/words/isolate.h"
#include "core/sheet/view.h"
#include "core/sheet/words.h"

namespace tapwright {
namespace {

using document::Labels;
using sheet::View;

constexpr double points_per_mm = 72 / 25.4;

class Maker {
public:
    Maker(const View& view, const LabelOptions& options, document::Document& made)
        : view_(view), options_(options), made_(made) {}

    void zone(std::uint32_t at) {
        const Zone& zone = view_.job.all<Zone>()[at];
        if (!options_.zone.empty() && zone.id.text() != options_.zone) return;
        const std::string name = name_of(view_.job, zone.id);
        made_.blocks.push_back(document::Heading{2, "Zone: " + name});
        Labels labels = empty();
        const auto channel = view_.derived.zones[at].channel;
        const std::string source =
            channel ? "channel " + name_of(view_.job, view_.job.all<Channel>()[*channel].id) : "source not recorded";
        labels.labels.push_back(
            {name, {"line of " + source, sheet::text_or(zone.terminal, ""), show(view_.derived.zones[at].line_v)}});
        for (const std::uint32_t point : view_.zone_points[at]) run(point, name, labels);
        made_.blocks.push_back(std::move(labels));
    }

    void not_traced() {
        if (!options_.zone.empty() || view_.not_traced.empty()) return;
        made_.blocks.push_back(document::Heading{2, "Not traced to a zone"});
        Labels labels = empty();
        for (const std::uint32_t at : view_.not_traced) run(at, "zone not traced", labels);
        made_.blocks.push_back(std::move(labels));
    }

private:
    Labels empty() const { return {options_.size.width * points_per_mm, options_.size.height * points_per_mm, {}}; }

    // The two ends of the run that feeds a point.
    void run(std::uint32_t at, const std::string& zone, Labels& labels) const {
        const Point& point = view_.point(at);
        const std::string name = name_of(view_.job, point.id);
        const std::string room = point.room ? sheet::room_name(view_.job, point.room) : "";
        const std::string feed = point.fed_from ? name_of(view_.job, point.fed_from) : "not traced";
        std::string what;
        if (point.kind == PointKind::speaker)
            what = point.tap_w || point.wired ? sheet::tap_as_left(view_.job, point)
                   : point.planned_tap_w      ? show(*point.planned_tap_w) + " planned"
                                              : "tap ____";
        labels.labels.push_back({name, {what.empty() ? zone : zone + ", " + what, "from " + feed, room}});
        labels.labels.push_back({name, {zone, "at " + feed + ", to " + name, room}});
    }

    const View& view_;
    const LabelOptions& options_;
    document::Document& made_;
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
    return Refusal{"The label size " + cited(text) +
                   " must be small, medium, large, or width x height in millimetres from 15x8 to 190x100, as 60x25."};
}

document::Document label_sheet(const Job& job, const Derived& derived, const LabelOptions& options) {
    SheetOptions sheet_options;
    sheet_options.time = options.time;
    const std::optional<Job> isolated = with_isolated_texts(job);
    const View view(isolated ? *isolated : job, derived, sheet_options);
    document::Document made;
    made.title = cited(name_of(view.job, job_id()), 200) + ": labels";
    made.created = options.time;
    made.footer = cited(name_of(view.job, job_id()), 40) + " · labels" + (view.day.empty() ? "" : " · " + view.day);
    made.paper = options.paper;
    made.blocks.push_back(document::Heading{1, name_of(view.job, job_id())});
    made.blocks.push_back(
        document::Paragraph{"Labels to cut out. Every run has two of the same name: the first for the end at the point "
                            "itself, the second for "
                            "the end where it is fed. Print at full size, without fitting to the page.",
                            document::Tone::plain});
    Maker maker(view, options, made);
    for (std::uint32_t zone = 0; zone < view.zone_points.size(); ++zone) maker.zone(zone);
    maker.not_traced();
    return made;
}

}  // namespace tapwright
