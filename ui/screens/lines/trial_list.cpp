// The trials of a job, and what all of their screens need.
#include "core/base/text.h"
#include "core/job/field_codec.h"
#include "core/job/field_text.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/words.h"
#include "ui/screens/lines/trials.h"

namespace tapwright::ui {
namespace {

class TrialsScreen : public Screen {
public:
    explicit TrialsScreen(Shared& shared) : shared_(shared) {}
    Message title(Context&) override { return "Trials"; }
    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (!button(context, "trials.new", "New trial", {.kind = ButtonKind::primary, .shape = Shape::plus})) return;
        const std::string name = "Trial " + std::to_string(context.session->job().all<Trial>().size() + 1);
        shared_.ask(context, {adding(Kind::trial, {{"name", name}, {"changes", List{}}})}, name + " begun",
                    [this, &context](const std::vector<Id>& ids) {
                        context.requests.open(trial_screen(shared_, ids.front()));
                    });
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Trial>().empty())
            empty_state(context, Shape::lines, "No trials yet",
                        "Try what adding, moving or re-tapping would do, beside the real system. Nothing is changed "
                        "before you make it real.");
        for (const Trial& trial : job.all<Trial>()) {
            Row row;
            row.title = name_of(job, trial.id);
            row.detail = counted(trial.changes ? trial.changes->size() : 0, "change");
            row.chevron = true;
            if (list_row(context, "trials." + trial.id.text(), row).tapped)
                context.requests.open(trial_screen(shared_, trial.id));
        }
    }

private:
    Shared& shared_;
};

}  // namespace

Value value_of_changes(const ChangeList& changes) {
    return codec::Codec<ChangeList>::write(changes);
}

void add_to_trial(Context& context, Shared& shared, const Id& trial, const ChangeList& more, const std::string& what) {
    const Trial* record = context.session->job().find<Trial>(trial);
    if (!record) return;
    ChangeList all = record->changes.value_or(ChangeList());
    all.insert(all.end(), more.begin(), more.end());
    shared.ask(context, {setting(Kind::trial, trial, {{"changes", value_of_changes(all)}})}, what);
}

std::string change_words(const Job& job, const tapwright::Change& change, const Job* before) {
    const std::string name = job.kind_of(change.id) ? name_of(job, change.id) : std::string();
    if (change.op == ChangeOp::remove) return (name.empty() ? change.id.text() : name) + " goes";
    std::string words;
    for (const auto& [key, value] : change.fields) {
        const FieldInfo* field = find_field(change.kind, key);
        const bool told = key == "label" || key == "name" || key == "kind" || key == "room";
        if (!field || (told && change.op == ChangeOp::add)) continue;
        words +=
            (words.empty() ? "" : ", ") + field_title(*field) + " " + text_of(*field, value, length_units(job), &job);
        if (change.op == ChangeOp::set && before && before->has(change.kind, change.id))
            words += " (now " +
                     text_of(*field, before->get(change.kind, change.id, *field), length_units(job), before) + ")";
    }
    if (change.op == ChangeOp::set) return name + ": " + words;
    std::string label = name;
    for (const auto& [key, value] : change.fields)
        if ((key == "label" || key == "name") && value.text()) label = *value.text();
    return (label.starts_with("new ") ? "N" + label.substr(1) : "New " + label) + (words.empty() ? "" : ": " + words);
}

std::unique_ptr<Screen> trials_screen(Shared& shared) {
    return std::make_unique<TrialsScreen>(shared);
}

}  // namespace tapwright::ui
