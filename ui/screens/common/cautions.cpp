#include "ui/screens/common/cautions.h"

#include <imgui.h>

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

bool Checklist::draw(Context& context, std::string_view name, const Id& line, std::span<const Caution> cautions,
                     const Look& look) {
    if (line != line_ || ImGui::GetFrameCount() > frame_ + 1) begin(line);
    frame_ = ImGui::GetFrameCount();
    for (std::size_t i = 0; i < cautions.size(); ++i) {
        const Caution& caution = cautions[i];
        const std::string row = std::string(name) + "." + std::to_string(i);
        const Message words = look.is_numbered
                                  ? Message("{number}. {caution}", {{"number", i + 1}, {"caution", caution.text}})
                                  : caution.text;
        if (caution.step == CautionStep::none) {
            tone_box(context, row, Tone::warning, words);
        } else if (caution.step == CautionStep::positions && look.asks_positions) {
            draw_positions(context, row, i + 1);
        } else if (tick_row(context, row, words, ticked_.contains(caution.code))) {
            if (!ticked_.insert(caution.code).second) ticked_.erase(caution.code);
            if (caution.step == CautionStep::disconnect) is_disconnected_ = ticked_.contains(caution.code);
        }
    }
    const std::size_t to_tick = missing(cautions, look);
    const bool is_confirmed = button(
        context, std::string(name) + ".done",
        to_tick == 0 ? look.confirm
                     : plural("{count} step to tick", "{count} steps to tick", static_cast<std::int64_t>(to_tick)),
        {.kind = ButtonKind::primary, .enabled = to_tick == 0, .shape = Shape::check});
    statement_box(context, std::string(name) + ".sources", Tone::plain,
                  {Message("These are prompts, not an approval."), in_one(cautions).why});
    return is_confirmed;
}

void Checklist::begin(const Id& line) {
    line_ = line;
    ticked_.clear();
    is_disconnected_ = false;
    positions_ = Positions::not_asked;
}

void Checklist::draw_positions(Context& context, const std::string& name, std::size_t number) {
    const auto row = [&](const char* which, const Pattern& words, Positions positions) {
        if (tick_row(context, name + which, Message(words, {{"number", number}}), positions_ == positions))
            positions_ = positions_ == positions ? Positions::not_asked : positions;
    };
    row(".full", Pattern("{number}. All attenuators full"), Positions::full);
    row(".noted", Pattern("{number}. Or: attenuators as left, each noted"), Positions::as_noted);
}

std::size_t Checklist::missing(std::span<const Caution> cautions, const Look& look) const {
    std::size_t count = 0;
    for (const Caution& caution : cautions) {
        if (caution.step == CautionStep::none) continue;
        const bool is_ticked = caution.step == CautionStep::positions && look.asks_positions
                                   ? positions_ != Positions::not_asked
                                   : ticked_.contains(caution.code);
        count += is_ticked ? 0 : 1;
    }
    return count;
}

void ReconnectBoxes::draw(Context& context, std::string_view prefix, const Id& zone) {
    const Session& session = *context.session;
    const Job& job = session.job();
    const Zone* record = job.find<Zone>(zone);
    if (!record || !record->disconnected.value_or(false)) return;
    const std::string name = std::string(prefix) + "." + zone.text();
    const Message line = entered(name_of(job, zone));
    Card card(context, Tone::stop);
    section_title(context, Message("{zone} is disconnected", {{"zone", line}}));
    for (const std::uint32_t place : attenuators_at(session, zone)) {
        const Point& attenuator = job.all<Point>()[place];
        label_value(context, name + "." + attenuator.id.text(), entered(name_of(job, attenuator.id)),
                    position_as_left(job, attenuator));
    }
    const std::vector<Caution> cautions = cautions_for(CautionMoment::after_measuring, job, session.derived(), zone);
    if (lists_[zone.text()].draw(context, name, zone, cautions,
                                 {.confirm = Message("Reconnected, set back and playing")}))
        shared_.ask(context, {setting(Kind::zone, zone, {{"disconnected", Value()}})},
                    Message("{zone} connected again", {{"zone", line}}));
}

}  // namespace tapwright::ui
