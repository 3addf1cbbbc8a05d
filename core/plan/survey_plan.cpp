// A survey's answer as records: planned loudspeakers at their places in the room's plan.
#include <charconv>

#include "core/job/relations.h"
#include "core/plan/survey.h"
#include "core/plan/survey_room.h"

namespace tapwright {

std::uint32_t highest_number(const Job& job, std::string_view prefix) {
    std::uint32_t highest = 0;
    for (const Point& point : job.all<Point>()) {
        if (!point.label || !point.label->starts_with(prefix)) continue;
        const std::string_view rest = std::string_view(*point.label).substr(prefix.size());
        std::uint32_t number = 0;
        const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), number);
        if (error == std::errc() && end == rest.data() + rest.size() && number < 1000000000)
            highest = std::max(highest, number);
    }
    return highest;
}

namespace {

// To the centimetre: nobody hangs a loudspeaker closer to plan than that.
double to_centimetre(Metres length) {
    return std::round(length.value() * 100) / 100;
}

}  // namespace

std::optional<Id> zone_for(const Survey& survey) {
    for (const SurveyZone& zone : survey.zones)
        if (zone.keeps >= Watts(0) && zone.zone == survey.request.zone.value_or(zone.zone)) return zone.zone;
    return std::nullopt;
}

Result<ChangeList> planned_points(const Job& job, const Survey& survey, const PlanRequest& request) {
    if (request.fed_from && !job.has(Kind::zone, *request.fed_from) && !job.has(Kind::point, *request.fed_from))
        return Refusal{
            Message("{feed} is no zone and no point of this job, so nothing can be fed from it. Name one of "
                    "them by its id.",
                    {{"feed", code(request.fed_from->text())}})};
    const SpeakerType* type = job.find<SpeakerType>(survey.type);
    if (!type) return no_type(survey.type);
    if (!offers_tap(*type, request.tap)) return no_such_tap(job, *type, request.tap);
    ChangeList changes;
    std::uint32_t number = highest_number(job, request.prefix);
    std::optional<Id> feed = request.fed_from;
    for (const Spot& spot : survey.spots) {
        Change change{ChangeOp::add, Kind::point, request.new_id ? request.new_id() : Id(), {}};
        change.fields = {{"kind", "speaker"},
                         {"label", request.prefix + std::to_string(++number)},
                         {"room", survey.room.text()},
                         {"x_m", to_centimetre(spot.x)},
                         {"y_m", to_centimetre(spot.y)},
                         {"fed_from", feed ? Value(feed->text()) : Value()},
                         {"type", survey.type.text()},
                         {"planned_tap_w", request.tap.value()},
                         {"state", "planned"},
                         {"origin", "new"}};
        if (!feed) std::erase_if(change.fields, [](const auto& field) { return field.first == "fed_from"; });
        if (feed && request.new_id) feed = change.id;
        changes.push_back(std::move(change));
    }
    return changes;
}

}  // namespace tapwright
