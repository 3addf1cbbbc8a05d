// Any record as a page of fields, and all records of a kind with a way to a new one.
#include "core/words/choices.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/library.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

// A link with the fire alarm is tested by arrangement, and touched by nobody else.
void fire_link_box(Context& context, const std::optional<Id>& only) {
    const Session& session = *context.session;
    for (const Interface& link : session.job().all<Interface>()) {
        if (link.kind != InterfaceKind::fire_mute || (only && link.id != *only)) continue;
        statement_box(context, "interface.caution", Tone::warning,
                      in_one(cautions_for(CautionMoment::fire_link, session.job(), session.derived(), Id())));
        return;
    }
}

class RecordScreen : public ScreenOfRecord {
public:
    RecordScreen(Shared& shared, Kind kind, Id id)
        : ScreenOfRecord(shared, std::move(id), title_of(kind)), kind_(kind) {}
    bool shows_load(Context&) override {
        return kind_ == Kind::zone || kind_ == Kind::point || kind_ == Kind::channel || kind_ == Kind::amplifier;
    }

private:
    bool is_there(const Job& job) const override { return kind_ == Kind::job || job.has(kind_, id_); }
    Message title_of_record(Context&, const Job& job) override {
        return kind_ == Kind::job ? title_of(kind_) : record_words(job, id_);
    }
    void draw_record(Context& context, const Job& job) override {
        quiet_paragraph(context, Message("{kind}: {help}", {{"kind", title_of(kind_)}, {"help", help_of(kind_)}}));
        const std::string prefix(singular(kind_));
        if (kind_ == Kind::interface) fire_link_box(context, id_);
        record_fields(context, shared_, form_, prefix, kind_, id_, fields_in_order(kind_, length_units(job)));
        if (kind_ == Kind::job) return;
        if (kind_ == Kind::room &&
            button(context, "room.survey", Message("Plan loudspeakers for this room"), {.shape = Shape::loudspeaker}))
            context.requests.open(room_survey_screen(shared_, id_));
        const bool shown = kind_ != Kind::photo && kind_ != Kind::signoff && kind_ != Kind::trial;
        if (shown) photos_button(context, shared_, prefix + ".photos", id_);
        space(context, 12);
        if (button(context, prefix + ".remove", Message("Remove"), {.kind = ButtonKind::danger, .shape = Shape::cross}))
            asked_ = true;
        if (ask(context, prefix + ".remove_ask", Message("Remove {record}?", {{"record", record_words(job, id_)}}),
                Message("Cannot be removed while other records use it. Undo restores it."), Message("Remove it"),
                Message("Cancel"), asked_) != Answer::yes)
            return;
        shared_.ask(context, removal(job, kind_, id_),
                    Message("{record} removed", {{"record", record_words(job, id_)}}));
        context.requests.back();
    }

private:
    Kind kind_;
    FormState form_;
    bool asked_ = false;
};

class RecordsScreen : public TitledScreen {
public:
    RecordsScreen(Shared& shared, Kind kind) : TitledScreen(shared, titles_of(kind)), kind_(kind) {}
    bool shows_load(Context&) override { return kind_ == Kind::zone; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (kind_ == Kind::interface) fire_link_box(context, std::nullopt);
        if (job.count(kind_) == 0) quiet_paragraph(context, Message("None yet: {help}.", {{"help", help_of(kind_)}}));
        with_record_type(kind_, [&]<class R>() {
            for (const R& record : job.all<R>()) {
                Row row;
                row.title = record_words(job, record.id);
                row.detail = some_facts(job, kind_, record.id);
                row.chevron = true;
                if (list_row(context, std::string(singular(kind_)) + "." + record.id.text(), row).tapped)
                    context.requests.open(record_screen(shared_, kind_, record.id));
            }
        });
        earlier_rows(context, shared_, std::string(plural(kind_)) + ".earlier", kind_, {},
                     [this](Context&, const Id& id) { use_next(id); });
        section_title(context, Message("Add one"));
        draw_new(context);
        draw_files(context);
    }
    Message on_the_way_out() override {
        const Draft* typed = shared_.typed_draft(draft_prefix());
        return typed ? draft_words(*typed) : Message();
    }

private:
    std::string draft_prefix() const { return std::string(plural(kind_)) + ".new."; }

    // The fields people need first; the rest is filled in on the record's own page. Only the key adds.
    void draw_new(Context& context) {
        const LengthUnits lengths = length_units(context.session->job());
        Map given;
        bool complete = true;
        for (const FieldInfo* field : first_fields(kind_, lengths)) {
            Draft& draft = shared_.drafts[draft_prefix() + std::string(field->name)];
            const bool number = field->form == FieldForm::number || field->form == FieldForm::whole;
            text_field(context, draft_prefix() + std::string(field->name), title_of(*field), "", draft,
                       {.hint = hint_of(*field, lengths), .help = field->help, .number = number, .is_new = true});
            const Result<Value> read = value_from_text(*field, draft.text, lengths);
            complete = complete && read.ok() && !(field->rule.is_required && read->is_null());
            if (!draft.editing && !draft.text.empty() && !read.ok())
                draft.problem = placed(title_of(*field), read.refusal().message);
            if (read.ok() && !read->is_null()) given.emplace_back(field->name, *read);
        }
        if (!button(context, std::string(plural(kind_)) + ".add", Message("Add"),
                    {.kind = ButtonKind::primary, .enabled = complete, .shape = Shape::plus}))
            return;
        const Message what = Message("{kind} added", {{"kind", title_of(kind_)}});
        link_alone(context, given);
        shared_.ask(context, {adding(kind_, given)}, what, [this](const std::vector<Id>& ids) {
            shared_.drop_drafts(draft_prefix());
            use_next(ids.front());
        });
    }
    // Types go from person to person as JSON.
    void draw_files(Context& context) const {
        const bool is_type = kind_ == Kind::speaker_type || kind_ == Kind::attenuator_type || kind_ == Kind::cable_type;
        if (!is_type || !shared_.ports.library()) return;
        section_title(context, Message("Types and cables of all jobs"));
        file_button(context, std::string(plural(kind_)) + ".import", Message("Import from JSON"),
                    FilePurpose::import_types);
        if (button(context, std::string(plural(kind_)) + ".export", Message("Export as JSON")))
            context.host.choose_file(FilePurpose::export_types, "types.json");
    }
    // What is made next takes it over.
    void use_next(const Id& id) {
        if (kind_ == Kind::speaker_type) shared_.speaker_type = id;
        if (kind_ == Kind::cable_type) shared_.cable = id;
        if (kind_ == Kind::attenuator_type) shared_.attenuator_type = id;
        if (kind_ == Kind::zone) shared_.last_zone = shared_.feed = id;
    }
    // Where there is only one amplifier or output it can only be that one.
    void link_alone(Context& context, Map& given) const {
        const Job& job = context.session->job();
        if (kind_ == Kind::channel && job.count(Kind::amplifier) == 1)
            given.emplace_back("amplifier", job.all<Amplifier>().front().id.text());
        if (kind_ == Kind::zone && job.count(Kind::channel) == 1)
            given.emplace_back("channel", job.all<Channel>().front().id.text());
    }

    Kind kind_;
};

}  // namespace

std::unique_ptr<Screen> record_screen(Shared& shared, Kind kind, const Id& id) {
    return std::make_unique<RecordScreen>(shared, kind, id);
}

std::unique_ptr<Screen> records_screen(Shared& shared, Kind kind) {
    return std::make_unique<RecordsScreen>(shared, kind);
}

}  // namespace tapwright::ui
