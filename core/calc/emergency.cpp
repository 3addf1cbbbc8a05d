#include "core/calc/emergency.h"

#include <algorithm>

namespace tapwright {
namespace {

// Of a zone and all that is on it. `points`: by place, each with `zone` and `emergency`.
template <class Points>
bool has_part(const Points& points, std::uint32_t zone) {
    return std::any_of(points.begin(), points.end(),
                       [&](const auto& point) { return point.zone == zone && point.emergency; });
}

std::optional<Answer> of_zone(const Job& job, const Figures& figures, std::uint32_t zone) {
    if (has_part(figures.points, zone)) return Answer::yes;
    return job.all<Zone>()[zone].emergency;
}

// One that is yes makes it yes; one that nobody was asked about leaves it open.
std::optional<Answer> of_channel(const Job& job, const Figures& figures, const Id& channel) {
    std::optional<Answer> all;
    bool is_open = false;
    for (std::uint32_t zone = 0; zone < job.all<Zone>().size(); ++zone) {
        if (job.all<Zone>()[zone].channel != channel) continue;
        const std::optional<Answer> answer = of_zone(job, figures, zone);
        if (answer == Answer::yes) return answer;
        if (answer) all = answer;
        is_open |= !answer;
    }
    return is_open ? std::nullopt : all;
}

}  // namespace

std::optional<Answer> emergency_of(const Job& job, const Figures& figures, const Id& at) {
    if (const auto zone = job.place<Zone>(at)) return of_zone(job, figures, *zone);
    if (job.place<Channel>(at)) return of_channel(job, figures, at);
    const auto place = job.place<Point>(at);
    if (!place) return std::nullopt;
    const PointOnLine& point = figures.points[*place];
    if (point.emergency) return Answer::yes;
    if (job.all<Point>()[*place].emergency) return Answer::no;
    return point.zone == nowhere ? std::nullopt : job.all<Zone>()[point.zone].emergency;
}

bool is_emergency(const Job& job, const Wiring& wiring, const Id& at) {
    const auto is_zone = [&](std::uint32_t zone) {
        return wiring.zones[zone].emergency || has_part(wiring.points, zone);
    };
    if (const auto zone = job.place<Zone>(at)) return is_zone(*zone);
    if (const auto point = job.place<Point>(at)) return wiring.points[*point].emergency;
    for (std::uint32_t zone = 0; zone < job.all<Zone>().size(); ++zone)
        if (job.all<Zone>()[zone].channel == at && is_zone(zone)) return true;
    return false;
}

bool must_ask_before_adding(const Job& job, const Figures& figures, const Id& zone) {
    const auto place = job.place<Zone>(zone);
    if (!place || emergency_of(job, figures, zone)) return false;
    const auto points = job.all<Point>();
    for (std::size_t i = 0; i < points.size(); ++i)
        if (figures.points[i].zone == *place && points[i].origin == Origin::existing) return true;
    return false;
}

}  // namespace tapwright
