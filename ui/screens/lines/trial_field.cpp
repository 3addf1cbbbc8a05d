// Any field of any record, tried.
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
    void draw_record(Context& context, const Job& job) override {
        const LengthUnits lengths = length_units(job);
        for (const FieldInfo& field : fields(kind_)) {
            const bool typed = field.form == FieldForm::number || field.form == FieldForm::whole ||
                               field.form == FieldForm::text || field.form == FieldForm::choice ||
                               field.form == FieldForm::number_list || field.form == FieldForm::knob;
            const Value value = job.get(kind_, id_, field);
            if (field.form == FieldForm::id) {
                draw_reference(context, job, field, value);
            } else if (typed) {
                Draft& draft = drafts_[std::string(field.name)];
                const std::string now = value.is_null() ? std::string() : editable_text(field, value, lengths);
                if (text_field(context, "try." + std::string(field.name), title_of(field), now, draft,
                               {.hint = field.help}) == FieldEvent::commit)
                    take(context, field, draft, lengths);
            }
        }
    }

    void take(Context& context, const FieldInfo& field, Draft& draft, LengthUnits lengths) {
        const Result<Value> read = value_from_text(field, draft.text, lengths);
        if (!read) {
            draft.problem = placed(title_of(field), read.refusal().message);
            return;
        }
        keep(context, field, *read);
    }

    void keep(Context& context, const FieldInfo& field, const Value& value) {
        add_to_trial(context, shared_, trial_, {setting(kind_, id_, {{std::string(field.name), value}})},
                     Message("{field} of {record} tried",
                             {{"field", title_of(field)}, {"record", entered(name_of(context.session->job(), id_))}}));
        context.requests.back();
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
        context.requests.open(pick_screen(shared_, options, [this, &field](Context& now, const Id& picked) {
            keep(now, field, picked == Id() ? Value() : Value(picked.text()));
        }));
    }

    Id trial_;
    Kind kind_;
    std::map<std::string, Draft> drafts_;
};

}  // namespace

std::unique_ptr<Screen> trial_field_screen(Shared& shared, const Id& trial, Kind kind, const Id& record) {
    return std::make_unique<TrialField>(shared, trial, kind, record);
}

}  // namespace tapwright::ui
