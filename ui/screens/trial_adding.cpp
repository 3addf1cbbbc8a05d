// What is to be added to a zone, tried as it is or with the taps that make room for it; and any field, tried.
#include <algorithm>

#include "core/base/text.h"
#include "core/calc/fit.h"
#include "core/job/field_text.h"
#include "core/units/text.h"
#include "ui/screens/forms.h"
#include "ui/screens/parts.h"
#include "ui/screens/trials.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

constexpr int most_added = 60;
constexpr const char* aim_words[] = {"Fewest ladders", "Levels closest to today's", "Closest to the wanted levels"};

class TrialAdding : public Screen {
public:
    TrialAdding(Shared& shared, Id trial) : shared_(shared), trial_(std::move(trial)) {}
    std::string title(Context&) override { return "Add loudspeakers"; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const Zone* zone = shared_.zone_in_hand(job);
        if (!zone || job.all<SpeakerType>().empty())
            return empty_state(context, Shape::loudspeaker, "Nothing to add to yet",
                               "Record the zone and a loudspeaker type with its taps first.");
        zone_row(context, shared_, "adding.zone");
        draw_what(context, job);
        look(*context.session, zone->id);
        if (!problem_.empty()) return tone_box(context, "adding.problem", Tone::stop, problem_);
        draw_as_it_is(context, job);
        section_title(context, "With room made for them");
        if (fit_.options.empty()) tone_box(context, "adding.missing", Tone::stop, text_);
        for (std::size_t i = 0; i < fit_.options.size(); ++i) draw_option(context, job, i);
        for (const std::string& remark : fit_.remarks) quiet_paragraph(context, remark);
    }

private:
    void draw_what(Context& context, const Job& job) {
        const SpeakerType* type = job.find<SpeakerType>(type_);
        if (!type) {
            type = job.find<SpeakerType>(shared_.speaker_type);
            if (!type) type = &job.all<SpeakerType>().front();
            type_ = type->id;
        }
        std::vector<Choice> choices;
        int chosen = -1;
        for (const SpeakerType& each : job.all<SpeakerType>()) {
            if (each.id == type_) chosen = static_cast<int>(choices.size());
            choices.push_back({name_of(job, each.id)});
        }
        int tapped = choice_row(context, "adding.type", choices, chosen);
        if (tapped >= 0) {
            type_ = job.all<SpeakerType>()[static_cast<std::size_t>(tapped)].id;
            tap_.reset();
        }
        count_ += stepper(context, "adding.count", "How many", std::to_string(count_), count_ > 1, count_ < most_added);
        choices = {{"Any tap"}};
        chosen = tap_ ? -1 : 0;
        const std::vector<Watts> taps = type->taps_w.value_or(std::vector<Watts>());
        for (const Watts tap : taps) {
            if (tap_ == tap) chosen = static_cast<int>(choices.size());
            choices.push_back({show(tap)});
        }
        tapped = choice_row(context, "adding.tap", choices, chosen);
        if (tapped == 0) tap_.reset();
        if (tapped > 0) tap_ = taps[static_cast<std::size_t>(tapped - 1)];
    }

    void look(const Session& session, const Id& zone) {
        const std::string now = zone.text() + '|' + type_.text() + '|' + std::to_string(count_) + '|' +
                                (tap_ ? show(*tap_) : "") + '|' + std::to_string(session.batch_count());
        if (now == looked_at_) return;
        looked_at_ = now;
        problem_.clear();
        fit_ = {};
        request_ = {};
        request_.zone = zone;
        FitAddition addition;
        addition.type = type_;
        addition.count = static_cast<std::size_t>(count_);
        addition.tap = tap_;
        if (shared_.room != Id() && session.job().find<Room>(shared_.room)) addition.room = shared_.room;
        request_.add = {addition};
        Result<Fit> made = fit(session.job(), session.derived(), request_);
        if (!made) {
            problem_ = made.refusal().text;
            return;
        }
        fit_ = std::move(*made);
        text_ = fit_text(session.job(), request_, fit_);
    }

    // As asked for, whatever it does: what exists must be recordable, and what is wished must be seen.
    void draw_as_it_is(Context& context, const Job& job) {
        if (!tap_) return;
        const std::string what = counted(static_cast<std::size_t>(count_), "loudspeaker") + " on " + show(*tap_);
        if (!button(context, "adding.plain", "Try " + what + " as it is", {.shape = Shape::loudspeaker})) return;
        FitOption plain;
        for (int i = 0; i < count_; ++i) plain.added.push_back({0, *tap_});
        add_to_trial(context, shared_, trial_, changes_of(job, request_, plain), what + " tried");
        context.requests.back();
    }

    void draw_option(Context& context, const Job& job, std::size_t index) {
        const FitOption& option = fit_.options[index];
        const std::string name = "adding.option." + std::string(word(option.aim));
        Card card(context);
        section_title(context, aim_words[static_cast<std::size_t>(option.aim)]);
        label_value(context, name + ".visits", "Ladders", std::to_string(option.visits));
        label_value(context, name + ".worst", "Farthest from it", show(option.worst));
        label_value(context, name + ".load", "The zone then",
                    show(option.load) + (option.headroom ? ", " + show(*option.headroom) + " left" : std::string()));
        std::vector<std::string> added;
        for (const FitAdded& each : option.added) added.push_back(show(each.tap));
        if (!added.empty()) {
            const bool alike =
                std::count(added.begin(), added.end(), added.front()) == static_cast<std::ptrdiff_t>(added.size());
            label_value(context, name + ".added", "The new ones on", alike ? added.front() : list_in_words(added));
        }
        for (const FitChange& change : option.changes)
            label_value(context, name + "." + change.point.text(), name_of(job, change.point),
                        show(change.from) + " to " + show(change.to) + ", " + show(change.change));
        if (!button(context, name, "Try this", {.kind = ButtonKind::primary, .shape = Shape::check})) return;
        add_to_trial(context, shared_, trial_, changes_of(job, request_, option),
                     std::string(aim_words[static_cast<std::size_t>(option.aim)]) + " tried");
        context.requests.back();
    }

    Shared& shared_;
    Id trial_, type_;
    int count_ = 1;
    std::optional<Watts> tap_;
    std::string looked_at_, problem_, text_;
    FitRequest request_;
    Fit fit_;
};

// One record's fields, each with a way to try another value.
class TrialField : public Screen {
public:
    TrialField(Shared& shared, Id trial, Kind kind, Id record)
        : shared_(shared), trial_(std::move(trial)), kind_(kind), record_(std::move(record)) {}
    std::string title(Context& context) override { return "Try on " + name_of(context.session->job(), record_); }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const LengthUnits lengths = length_units(job);
        for (const FieldInfo& field : fields(kind_)) {
            const bool typed = field.form == FieldForm::number || field.form == FieldForm::whole ||
                               field.form == FieldForm::text || field.form == FieldForm::choice ||
                               field.form == FieldForm::number_list || field.form == FieldForm::knob;
            const Value value = job.get(kind_, record_, field);
            if (field.form == FieldForm::id) {
                draw_reference(context, job, field, value);
            } else if (typed) {
                Draft& draft = drafts_[std::string(field.name)];
                const std::string now = value.is_null() ? std::string() : editable_text(field, value, lengths);
                if (text_field(context, "try." + std::string(field.name), field_title(field), now, draft,
                               {.hint = field.help}) == FieldEvent::commit)
                    take(context, field, draft, lengths);
            }
        }
    }

private:
    void take(Context& context, const FieldInfo& field, Draft& draft, LengthUnits lengths) {
        const Result<Value> read = value_from_text(field, draft.text, lengths);
        if (!read) {
            draft.problem = field_title(field) + " " + read.refusal().text + ".";
            return;
        }
        keep(context, field, *read);
    }

    void keep(Context& context, const FieldInfo& field, const Value& value) {
        add_to_trial(context, shared_, trial_, {setting(kind_, record_, {{std::string(field.name), value}})},
                     field_title(field) + " of " + name_of(context.session->job(), record_) + " tried");
        context.requests.back();
    }

    void draw_reference(Context& context, const Job& job, const FieldInfo& field, const Value& value) {
        Row row;
        row.title = field_title(field);
        row.value = value.text() ? name_of(job, Id(*value.text())) : "Not recorded";
        row.chevron = true;
        if (!list_row(context, "try." + std::string(field.name), row).tapped) return;
        PickOptions options;
        options.title = field_title(field);
        options.kinds = field.rule.may_refer_to;
        options.not_this = record_;
        options.may_be_none = !field.rule.is_required;
        context.requests.open(pick_screen(shared_, options, [this, &field](Context& now, const Id& picked) {
            keep(now, field, picked == Id() ? Value() : Value(picked.text()));
        }));
    }

    Shared& shared_;
    Id trial_;
    Kind kind_;
    Id record_;
    std::map<std::string, Draft> drafts_;
};

}  // namespace

std::unique_ptr<Screen> trial_adding_screen(Shared& shared, const Id& trial) {
    return std::make_unique<TrialAdding>(shared, trial);
}

std::unique_ptr<Screen> trial_field_screen(Shared& shared, const Id& trial, Kind kind, const Id& record) {
    return std::make_unique<TrialField>(shared, trial, kind, record);
}

}  // namespace tapwright::ui
