#include "ui/screens/survey/keep_survey.h"

#include <algorithm>

#include "ui/screens/common/words.h"

namespace tapwright::ui {

Id type_for_survey(const Shared& shared, const Job& job, const Id& room) {
    const auto chosen = shared.surveys.find(room);
    if (chosen != shared.surveys.end() && job.find<SpeakerType>(chosen->second.type)) return chosen->second.type;
    if (job.find<SpeakerType>(shared.speaker_type)) return shared.speaker_type;
    return job.all<SpeakerType>().empty() ? Id() : job.all<SpeakerType>().front().id;
}

Id zone_for_survey(const Survey& survey, const Id& chosen) {
    const auto is_chosen = [&](const SurveyZone& zone) { return zone.zone == chosen; };
    if (std::any_of(survey.zones.begin(), survey.zones.end(), is_chosen)) return chosen;
    return survey.zones.empty() ? Id() : survey.zones.front().zone;
}

bool may_be_kept(const Survey& survey, const Id& chosen_zone) {
    return survey.tap && zone_for_survey(survey, chosen_zone) != Id();
}

void keep_survey(Context& context, Shared& shared, const Survey& survey, const Id& chosen_zone,
                 std::function<void(const std::vector<Id>&)> then) {
    const Job& job = context.session->job();
    auto ids = std::make_shared<IdMaker>(shared.stamp().seed);
    PlanRequest plan;
    plan.tap = survey.taps[*survey.tap].tap;
    plan.fed_from = zone_for_survey(survey, chosen_zone);
    plan.new_id = [ids] { return ids->make(Kind::point); };
    const Result<ChangeList> points = planned_points(job, survey, plan);
    if (!points) return context.requests.say(Tone::stop, points.refusal().message);
    shared.last_zone = *plan.fed_from;
    shared.speaker_type = survey.type;
    shared.ask(context, *points,
               plural("{count} loudspeaker planned in {room}", "{count} loudspeakers planned in {room}",
                      static_cast<std::int64_t>(survey.spots.size()), {{"room", entered(name_of(job, survey.room))}}),
               std::move(then));
}

}  // namespace tapwright::ui
