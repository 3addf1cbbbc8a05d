#include "ui/screens/common/list_fields.h"

#include <algorithm>

#include "core/units/show.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {

void id_list_field(Context& context, Shared& shared, const std::string& name, Kind kind, const Id& id,
                   const FieldInfo& field) {
    const Job& job = context.session->job();
    const Value value = job.get(kind, id, field);
    const List chosen = value.list() ? *value.list() : List();
    const auto keep = [&shared, kind, id, &field](Context& now, List list) {
        const Value kept = list.empty() ? Value() : Value(std::move(list));
        shared.ask(now, {setting(kind, id, {{std::string(field.name), kept}})},
                   kept_words(now.session->job(), id, field, kept));
    };
    quiet_paragraph(context, title_of(field));
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        Row row;
        row.title = record_words(job, Id(*chosen[i].text()));
        row.value = Message("Take out");
        if (!list_row(context, name + "." + *chosen[i].text(), row).tapped) continue;
        List rest = chosen;
        rest.erase(rest.begin() + static_cast<long>(i));
        keep(context, std::move(rest));
    }
    Row add;
    add.title = chosen.empty() ? Message("Not recorded: add one") : Message("Add one");
    add.chevron = true;
    if (!list_row(context, name + ".add", add).tapped) return;
    PickOptions options;
    options.title = title_of(field);
    options.kinds = field.rule.may_refer_to;
    options.not_this = id;
    options.may_be_none = false;
    context.requests.open(pick_screen(shared, options, [chosen = chosen, keep = keep](Context& now, const Id& picked) {
        List list = chosen;
        const Value added(picked.text());
        if (std::find(list.begin(), list.end(), added) == list.end()) list.push_back(added);
        keep(now, std::move(list));
    }));
}

std::optional<Value> knob_row(Context& context, const std::string& name, const Point& attenuator,
                              const std::optional<Knob>& now) {
    const AttenuatorType* type = context.session->job().find<AttenuatorType>(attenuator.type);
    if (!type || !type->steps_db) return std::nullopt;
    std::vector<Choice> choices;
    std::vector<Value> values;
    int chosen = -1;
    const auto offer = [&](const Message& label, Value value, bool is_chosen) {
        if (is_chosen) chosen = static_cast<int>(choices.size());
        choices.push_back({label});
        values.push_back(std::move(value));
    };
    for (const Decibels step : *type->steps_db) offer(step, step.value(), now && !now->off && now->step == step);
    if (type->has_off.value_or(false)) offer(in_context("attenuator", "Off"), "off", now && now->off);
    const int tapped = choice_row(context, name, choices, chosen);
    if (tapped < 0) return std::nullopt;
    return tapped == chosen ? Value() : values[static_cast<std::size_t>(tapped)];
}

std::vector<std::uint32_t> attenuators_at(const Session& session, const Id& at) {
    const Job& job = session.job();
    const Derived& derived = session.derived();
    std::optional<std::uint32_t> zone = job.place<Zone>(at);
    if (const auto point = job.place<Point>(at)) zone = derived.points[*point].zone;
    std::vector<std::uint32_t> found;
    for (std::uint32_t i = 0; zone && i < job.all<Point>().size(); ++i)
        if (job.all<Point>()[i].kind == PointKind::attenuator && derived.points[i].zone == *zone) found.push_back(i);
    return found;
}

void knob_map_field(Context& context, Shared& shared, const std::string& name, const Id& reading,
                    const FieldInfo& field) {
    const Job& job = context.session->job();
    const Reading& record = *job.find<Reading>(reading);
    quiet_paragraph(context, Message("Attenuators during the reading"));
    const std::vector<std::uint32_t> places = attenuators_at(*context.session, record.at.value_or(Id()));
    if (places.empty()) return paragraph(context, Message("No attenuator is recorded on that line."));
    const KnobMap known = record.knobs.value_or(KnobMap());
    for (const std::uint32_t place : places) {
        const Point& attenuator = job.all<Point>()[place];
        std::optional<Knob> now;
        for (const auto& [id, knob] : known)
            if (id == attenuator.id) now = knob;
        paragraph(context, entered(name_of(job, attenuator.id)), TextSize::strong);
        const std::optional<Value> picked = knob_row(context, name + "." + attenuator.id.text(), attenuator, now);
        if (!picked) continue;
        Map map;
        for (const auto& [id, knob] : known)
            if (id != attenuator.id) map.emplace_back(id.text(), knob.off ? Value("off") : Value(knob.step.value()));
        if (!picked->is_null()) map.emplace_back(attenuator.id.text(), *picked);
        const Value kept = map.empty() ? Value() : Value(std::move(map));
        shared.ask(context, {setting(Kind::reading, reading, {{std::string(field.name), kept}})},
                   Message("Position of {attenuator} during the reading",
                           {{"attenuator", entered(name_of(job, attenuator.id))}}));
    }
}

}  // namespace tapwright::ui
