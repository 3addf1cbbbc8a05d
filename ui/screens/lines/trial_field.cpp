// Any field of any record, tried.
#include <algorithm>
#include <iterator>

#include "core/job/field_text.h"
#include "core/units/unit.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/lines/trials.h"

namespace tapwright::ui {
namespace {

// One record's fields, each with a way to try another value.
class TrialField : public ScreenOfRecord {
public:
    TrialField(Shared& shared, Id trial, Kind kind, Id record)
        : ScreenOfRecord(shared, std::move(record), Message("Try a change")), trial_(std::move(trial)), kind_(kind) {}

private:
    Message title_of_record(Context&, const Job& job) override {
        return Message("Try a change: {record}", {{"record", entered(name_of(job, id_))}});
    }
    bool has_record_foot(Context&, const Job&) override { return true; }
    void draw_foot(Context& context) override {
        const std::size_t count = typed_fields(context.session->job()).size();
        const Message words =
            count == 0 ? Message("Type what to try")
                       : plural("Try {count} change", "Try {count} changes", static_cast<std::int64_t>(count));
        if (button(context, "try.add", words,
                   {.kind = ButtonKind::primary, .enabled = count > 0, .shape = Shape::check}))
            take(context);
    }
    Message on_the_way_out() override { return typed_.text.empty() ? Message() : draft_words(typed_); }
    // Only the key in the foot tries what was typed; until then it waits in its field.
    void draw_record(Context& context, const Job& job) override {
        for (const FieldInfo& field : fields(kind_)) {
            if (field.form == FieldForm::id) draw_reference(context, job, field, job.get(kind_, id_, field));
            if (!is_typed(field)) continue;
            Draft& draft = draft_of(field);
            const std::string now = text_now(job, field);
            if (!draft.unkept && !draft.editing) draft.text = now;
            text_field(context, "try." + std::string(field.name), title_of(field), now, draft,
                       {.hint = field.help, .is_new = true});
        }
        const std::vector<const FieldInfo*> typed = typed_fields(job);
        typed_ = typed.empty() ? Draft() : draft_of(*typed.front());
    }

    static bool is_typed(const FieldInfo& field) {
        constexpr FieldForm forms[] = {FieldForm::number, FieldForm::whole,       FieldForm::text,
                                       FieldForm::choice, FieldForm::number_list, FieldForm::knob};
        return std::find(std::begin(forms), std::end(forms), field.form) != std::end(forms);
    }
    std::string prefix() const { return "try." + trial_.text() + "." + id_.text() + "."; }
    Draft& draft_of(const FieldInfo& field) { return shared_.drafts[prefix() + std::string(field.name)]; }
    std::string text_now(const Job& job, const FieldInfo& field) const {
        const Value value = job.get(kind_, id_, field);
        return value.is_null() ? std::string() : editable_text(field, value, length_units(job));
    }
    std::vector<const FieldInfo*> typed_fields(const Job& job) {
        std::vector<const FieldInfo*> typed;
        for (const FieldInfo& field : fields(kind_))
            if (is_typed(field) && draft_of(field).unkept && draft_of(field).text != text_now(job, field))
                typed.push_back(&field);
        return typed;
    }

    // All of them, or none while one cannot be read.
    void take(Context& context) {
        const Job& job = context.session->job();
        Map values;
        bool can_be_read = true;
        for (const FieldInfo* field : typed_fields(job)) {
            Draft& draft = draft_of(*field);
            const Result<Value> read = value_from_text(*field, draft.text, length_units(job));
            draft.problem = read.ok() ? Message() : placed(title_of(*field), read.refusal().message);
            can_be_read = can_be_read && read.ok();
            if (read.ok()) values.emplace_back(field->name, *read);
        }
        if (!can_be_read) return context.requests.another_frame();
        const Message record = entered(name_of(job, id_));
        const auto count = static_cast<std::int64_t>(values.size());
        const Message what =
            count == 1 ? Message("{field} of {record} tried",
                                 {{"field", title_of(*find_field(kind_, values.front().first))}, {"record", record}})
                       : plural("{count} change of {record} tried", "{count} changes of {record} tried", count,
                                {{"record", record}});
        shared_.drop_drafts(prefix());
        typed_ = {};
        keep(context, std::move(values), what);
    }

    void keep(Context& context, Map values, const Message& what, ChangeList real = {}) {
        add_to_trial(context, shared_, trial_, {setting(kind_, id_, std::move(values))}, what, std::move(real));
        context.requests.back();
    }

    void keep_reference(Context& context, const FieldInfo& field, Value value, ChangeList real = {}) {
        keep(context, {{std::string(field.name), std::move(value)}},
             Message("{field} of {record} tried",
                     {{"field", title_of(field)}, {"record", entered(name_of(context.session->job(), id_))}}),
             std::move(real));
    }

    void draw_reference(Context& context, const Job& job, const FieldInfo& field, const Value& value) {
        Row row;
        row.title = title_of(field);
        row.value = value.text() ? entered(name_of(job, Id(*value.text()))) : Message("Not recorded");
        row.chevron = true;
        if (!list_row(context, "try." + std::string(field.name), row).tapped) return;
        PickOptions options;
        options.title = title_of(field);
        options.kinds = field.rule.may_refer_to;
        options.not_this = id_;
        options.may_be_none = !field.rule.is_required;
        options.bring = [this, &field](Context& now, const EarlierType& earlier) {
            keep_reference(now, field, earlier.adding.id.text(), {earlier.adding});
        };
        context.requests.open(pick_screen(shared_, options, [this, &field](Context& now, const Id& picked) {
            keep_reference(now, field, picked == Id() ? Value() : Value(picked.text()));
        }));
    }

    Id trial_;
    Kind kind_;
    Draft typed_;  // the first that waits, for the way out
};

}  // namespace

std::unique_ptr<Screen> trial_field_screen(Shared& shared, const Id& trial, Kind kind, const Id& record) {
    return std::make_unique<TrialField>(shared, trial, kind, record);
}

}  // namespace tapwright::ui
