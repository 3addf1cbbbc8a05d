#include "ui/screens/handover/may_be_kept.h"

#include <algorithm>

#include "ui/screens/common/parts.h"
#include "ui/screens/common/words.h"
#include "ui/screens/lines/trials.h"
#include "ui/screens/survey/keep_survey.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

bool has_changes(const Trial& trial) {
    return trial.changes && !trial.changes->empty();
}

bool has_speaker(const Job& job, const Id& room) {
    const std::vector<const Point*> points = points_in(job, room);
    return std::any_of(points.begin(), points.end(), [](const Point* point) { return is_speaker(*point); });
}

}  // namespace

void MayBeKept::draw(Context& context) {
    look(context);
    const auto trials = context.session->job().all<Trial>();
    if (surveys_.empty() && std::none_of(trials.begin(), trials.end(), has_changes)) return;
    section_title(context, Message("Worked out, not in the record"));
    for (const Trial& trial : trials)
        if (has_changes(trial)) draw_trial(context, trial);
    for (const Survey& survey : surveys_) draw_survey(context, survey);
    real_.draw(context);
}

// One room a frame: each is a map of the level over its floor.
void MayBeKept::look(Context& context) {
    const Session& session = *context.session;
    const Job& job = session.job();
    if (!seen_.still(session, shared_.surveys_chosen, shared_.speaker_type)) {
        surveys_.clear();
        rooms_.clear();
        for (const Room* room : walking_order(job))
            if (type_for_survey(shared_, job, room->id) != Id() && !has_speaker(job, room->id))
                rooms_.push_back(room->id);
        std::reverse(rooms_.begin(), rooms_.end());
    }
    if (rooms_.empty()) return;
    const Id room = rooms_.back();
    rooms_.pop_back();
    const auto chosen = shared_.surveys.find(room);
    const SurveyRequest request = chosen == shared_.surveys.end() ? SurveyRequest() : chosen->second.request;
    Result<Survey> made = survey(job, session.derived(), room, type_for_survey(shared_, job, room), request);
    if (made.ok() && may_be_kept(*made, zone_chosen(room))) surveys_.push_back(std::move(*made));
    context.requests.another_frame();
}

Id MayBeKept::zone_chosen(const Id& room) const {
    const auto chosen = shared_.surveys.find(room);
    return chosen == shared_.surveys.end() ? Id() : chosen->second.zone;
}

void MayBeKept::draw_trial(Context& context, const Trial& trial) {
    const Message name = entered(name_of(context.session->job(), trial.id));
    const std::string mark = "handover.trial." + trial.id.text();
    Row row;
    row.title = name;
    row.detail = plural("{count} change", "{count} changes", static_cast<std::int64_t>(trial.changes->size()));
    row.shape = Shape::lines;
    row.chevron = true;
    if (list_row(context, mark, row).tapped) context.requests.open(trial_screen(shared_, trial.id));
    if (button(context, mark + ".keep", Message("Make {trial} real", {{"trial", name}}),
               {.shape = Shape::check, .changes = true}))
        real_.begin(trial.id);
}

void MayBeKept::draw_survey(Context& context, const Survey& survey) {
    const Job& job = context.session->job();
    const Message room = entered(name_of(job, survey.room));
    const auto count = static_cast<std::int64_t>(survey.spots.size());
    const std::string mark = "handover.survey." + survey.room.text();
    Row row;
    row.title = Message("Survey of {room}", {{"room", room}});
    row.detail = plural("{count} loudspeaker {type} on {tap}, fed from {zone}",
                        "{count} loudspeakers {type} on {tap}, fed from {zone}", count,
                        {{"type", entered(name_of(job, survey.type))},
                         {"tap", survey.taps[*survey.tap].tap},
                         {"zone", entered(name_of(job, zone_for_survey(survey, zone_chosen(survey.room))))}});
    row.shape = Shape::survey;
    row.chevron = true;
    if (list_row(context, mark, row).tapped) context.requests.open(room_survey_screen(shared_, survey.room));
    if (button(context, mark + ".keep",
               plural("Plan {count} loudspeaker in {room}", "Plan {count} loudspeakers in {room}", count,
                      {{"room", room}}),
               {.shape = Shape::check, .changes = true}))
        keep_survey(context, shared_, survey, zone_chosen(survey.room));
}

}  // namespace tapwright::ui
