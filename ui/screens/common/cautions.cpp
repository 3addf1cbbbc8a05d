#include "ui/screens/common/cautions.h"

#include "core/calc/emergency.h"
#include "core/job/field_text.h"
#include "ui/screens/common/list_fields.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

Shared::Cautioned cautioned_at(const Shared& shared, const Session& session, CautionMoment moment, const Id& at) {
    return {shared.author().visit, line_of(session, at).text(), moment};
}

Message position_as_left(const Job& job, const Point& attenuator) {
    const FieldInfo& field = *find_field(Kind::point, "knob_db");
    const Value left = job.get(Kind::point, attenuator.id, field);
    return left.is_null() ? Message("not recorded") : message_of(field, left, &job);
}

}  // namespace

Id line_of(const Session& session, const Id& at) {
    const auto place = session.job().place<Point>(at);
    const std::uint32_t zone = place ? session.derived().points[*place].zone : nowhere;
    return zone == nowhere ? at : session.job().all<Zone>()[zone].id;
}

std::vector<Id> zones_at(const Session& session, const Id& at) {
    std::vector<Id> zones;
    const Id line = line_of(session, at);
    for (const Zone& zone : session.job().all<Zone>())
        if (zone.id == line || (zone.channel && *zone.channel == at)) zones.push_back(zone.id);
    return zones;
}

bool is_cautioned(const Shared& shared, const Session& session, CautionMoment moment, const Id& at) {
    return shared.cautioned.contains(cautioned_at(shared, session, moment, at));
}

void note_cautioned(Shared& shared, const Session& session, CautionMoment moment, const Id& at) {
    shared.cautioned.insert(cautioned_at(shared, session, moment, at));
}

void caution_box(Context& context, Shared& shared, std::string_view name, CautionMoment moment,
                 std::span<const Id> places) {
    const Session& session = *context.session;
    const Id line = places.empty() ? Id() : places.front();
    if (is_cautioned(shared, session, moment, line)) return;
    statement_box(context, name, Tone::warning, in_one(cautions_for(moment, session.job(), session.derived(), places)));
    if (button(context, std::string(name) + ".done", Message("Understood"),
               {.kind = ButtonKind::quiet, .shape = Shape::check})) {
        note_cautioned(shared, session, moment, line);
        context.requests.another_frame();
    }
}

void caution_box(Context& context, Shared& shared, std::string_view name, CautionMoment moment, const Id& place) {
    caution_box(context, shared, name, moment, std::span(&place, place == Id() ? 0U : 1U));
}

std::optional<tapwright::Answer> emergency_keys(Context& context, std::string_view name) {
    const std::string prefix(name);
    std::optional<tapwright::Answer> answer;
    if (button(context, prefix + ".no", Message("No: an ordinary loudspeaker line"),
               {.kind = ButtonKind::primary, .shape = Shape::check}))
        answer = tapwright::Answer::no;
    if (button(context, prefix + ".yes", Message("Yes, or it could be: leave it alone"), {.shape = Shape::cross}))
        answer = tapwright::Answer::yes;
    return answer;
}

ChangeList emergency_answer(const Session& session, const Id& at, tapwright::Answer answer) {
    ChangeList changes;
    const Map said = {{"emergency", std::string(word(answer))}};
    for (const Id& zone : zones_at(session, at)) changes.push_back(setting(Kind::zone, zone, said));
    if (changes.empty() && session.job().has(Kind::point, at)) changes.push_back(setting(Kind::point, at, said));
    return changes;
}

bool settle_emergency(Context& context, Shared& shared, std::string_view name, const Id& at) {
    const Session& session = *context.session;
    const std::optional<tapwright::Answer> known = emergency_of(session.job(), session.derived(), at);
    if (known == tapwright::Answer::no) return true;
    const std::string prefix(name);
    if (known) {
        statement_box(context, prefix + ".stop", Tone::stop, leave_to_qualified(session.job(), at));
        return false;
    }
    statement_box(context, prefix + ".question", Tone::warning,
                  {emergency_question(),
                   in_one(cautions_for(CautionMoment::existing_system, session.job(), session.derived(), at)).why});
    const std::optional<tapwright::Answer> answer = emergency_keys(context, name);
    if (!answer) return false;
    const Argument place = entered(name_of(session.job(), line_of(session, at)));
    shared.ask(context, emergency_answer(session, at, *answer),
               *answer == tapwright::Answer::no ? Message("{place}: not a fire or emergency line", {{"place", place}})
                                                : Message("{place}: fire or emergency line", {{"place", place}}));
    return false;
}

void reconnect_box(Context& context, Shared& shared, std::string_view prefix, const Id& zone) {
    const Session& session = *context.session;
    const Job& job = session.job();
    const Zone* record = job.find<Zone>(zone);
    if (!record || !record->disconnected.value_or(false)) return;
    const std::string name = std::string(prefix) + "." + zone.text();
    const Message line = entered(name_of(job, zone));
    Card card(context, Tone::stop);
    section_title(context, Message("{zone} is disconnected", {{"zone", line}}));
    statement_box(context, name, Tone::stop,
                  in_one(cautions_for(CautionMoment::after_measuring, job, session.derived(), zone)));
    for (const std::uint32_t place : attenuators_at(session, zone)) {
        const Point& attenuator = job.all<Point>()[place];
        label_value(context, name + "." + attenuator.id.text(), entered(name_of(job, attenuator.id)),
                    position_as_left(job, attenuator));
    }
    if (button(context, name + ".done", Message("Reconnected, set back and playing"),
               {.kind = ButtonKind::primary, .shape = Shape::check}))
        shared.ask(context, {setting(Kind::zone, zone, {{"disconnected", Value()}})},
                   Message("{zone} connected again", {{"zone", line}}));
}

}  // namespace tapwright::ui
