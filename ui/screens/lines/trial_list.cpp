// The trials of a job, and what all of their screens need.
#include "core/job/field_codec.h"
#include "core/job/field_text.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/lines/trials.h"

namespace tapwright::ui {
namespace {

class TrialsScreen : public TitledScreen {
public:
    explicit TrialsScreen(Shared& shared) : TitledScreen(shared, Message("Trials")) {}
    bool shows_load(Context&) override { return true; }
    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (!button(context, "trials.new", Message("New trial"), {.kind = ButtonKind::primary, .shape = Shape::plus}))
            return;
        const std::size_t number = context.session->job().all<Trial>().size() + 1;
        const std::string name = context.words.text(Message("Trial {number}", {{"number", number}}));
        shared_.ask(context, {adding(Kind::trial, {{"name", name}, {"changes", List{}}})},
                    Message("{trial} started", {{"trial", entered(name)}}),
                    [this, &context](const std::vector<Id>& ids) {
                        context.requests.open(trial_screen(shared_, ids.front()));
                    });
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Trial>().empty())
            empty_state(
                context, Shape::lines, Message("No trials yet"),
                Message("See what adding, moving or re-tapping would do. Nothing changes until you make it real."));
        for (const Trial& trial : job.all<Trial>()) {
            Row row;
            row.title = entered(name_of(job, trial.id));
            row.detail = plural("{count} change", "{count} changes",
                                static_cast<std::int64_t>(trial.changes ? trial.changes->size() : 0));
            row.chevron = true;
            if (list_row(context, "trials." + trial.id.text(), row).tapped)
                context.requests.open(trial_screen(shared_, trial.id));
        }
    }
};

}  // namespace

Value value_of_changes(const ChangeList& changes) {
    return codec::Codec<ChangeList>::write(changes);
}

void add_to_trial(Context& context, Shared& shared, const Id& trial, const ChangeList& more, const Message& what,
                  ChangeList real) {
    const Trial* record = context.session->job().find<Trial>(trial);
    if (!record) return;
    ChangeList all = record->changes.value_or(ChangeList());
    all.insert(all.end(), more.begin(), more.end());
    real.push_back(setting(Kind::trial, trial, {{"changes", value_of_changes(all)}}));
    shared.ask(context, std::move(real), what);
}

namespace {

// "Tap 2.5 W", or "Tap 2.5 W (now 5 W)".
Message field_words(const Job& job, const tapwright::Change& change, const FieldInfo& field, const Value& value,
                    const Job* before) {
    const auto in_words = [&](const Value& shown, const Job& of) { return message_of(field, shown, &of); };
    const bool compares = change.op == ChangeOp::set && before && before->has(change.kind, change.id);
    if (!compares) return Message("{field} {value}", {{"field", title_of(field)}, {"value", in_words(value, job)}});
    return Message("{field} {value} (now {before})",
                   {{"field", title_of(field)},
                    {"value", in_words(value, job)},
                    {"before", in_words(before->get(change.kind, change.id, field), *before)}});
}

// What an added record is called by its own fields.
std::string label_in(const Map& fields) {
    std::string label;
    for (const auto& [key, value] : fields)
        if ((key == "label" || key == "name") && value.text()) label = *value.text();
    return label;
}

}  // namespace

Message change_words(const Job& job, const tapwright::Change& change, const Job* before) {
    std::string label = label_in(change.fields);
    if (label.empty() && job.kind_of(change.id)) label = name_of(job, change.id);
    const Message name = label.empty() ? title_of(change.kind) : Message(entered(label));
    if (change.op == ChangeOp::remove) return Message("Removed: {record}", {{"record", name}});
    std::vector<Message> parts;
    for (const auto& [key, value] : change.fields) {
        const FieldInfo* field = find_field(change.kind, key);
        const bool told = key == "label" || key == "name" || key == "kind" || key == "room";
        if (field && !(told && change.op == ChangeOp::add))
            parts.push_back(field_words(job, change, *field, value, before));
    }
    if (change.op == ChangeOp::set)
        return Message("{record}: {changes}", {{"record", name}, {"changes", read_out(std::move(parts))}});
    if (parts.empty()) return Message("Added: {record}", {{"record", name}});
    return Message("Added: {record}, {facts}", {{"record", name}, {"facts", read_out(std::move(parts))}});
}

std::unique_ptr<Screen> trials_screen(Shared& shared) {
    return std::make_unique<TrialsScreen>(shared);
}

}  // namespace tapwright::ui
