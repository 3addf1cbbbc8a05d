#include "core/session/told.h"

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

constexpr std::size_t longest_name = 60;
constexpr std::size_t longest_value = 80;

// What a record without a name is about.
std::string subject_of(const Job& job, Kind kind, const Id& id) {
    for (const std::string_view name : {"about", "at"}) {
        const FieldInfo* field = find_field(kind, name);
        if (!field) continue;
        const Value about = job.get(kind, id, *field);
        if (about.text() && Id::is_valid(*about.text())) return name_of(job, Id(*about.text()));
    }
    return {};
}

std::optional<std::string> text_in(const std::string& json) {
    const Result<Value> value = parse_json(json, "the value");
    return value && value->text() ? std::optional(*value->text()) : std::nullopt;
}

std::string name_in(const Session& session, const Batch& batch, Kind kind, const std::string& id) {
    for (const Op& op : batch.ops)
        if (op.id == id && (op.field == "label" || op.field == "name"))
            if (const auto given = text_in(op.value)) return *given;
    for (const std::string_view field : {"label", "name"})
        if (const auto held = text_in(session.last_value(kind, id, field))) return *held;
    return {};
}

std::string subject_in(const Session& session, Kind kind, const std::string& id) {
    for (const std::string_view field : {"about", "at"})
        if (const auto about = text_in(session.last_value(kind, id, field)); about && Id::is_valid(*about))
            return name_of(session.job(), Id(*about));
    return {};
}

Message kind_of_subject(Kind kind, const std::string& subject) {
    if (subject.empty()) return title_of(kind);
    return Message("{kind} of {subject}", {{"kind", title_of(kind)}, {"subject", told_name(subject)}});
}

}  // namespace

Entered told_name(const std::string& name) {
    return entered(cited(name, longest_name));
}

Message told_record(const Job& job, Kind kind, const Id& id) {
    if (kind == Kind::job) return title_of(kind);
    if (const std::string name = name_of(job, id); name != id.text()) return told_name(name);
    return kind_of_subject(kind, subject_of(job, kind, id));
}

Message told_called(const Session& session, const Batch& batch, Kind kind, const std::string& id) {
    if (kind == Kind::job) return title_of(kind);
    if (const std::string name = name_in(session, batch, kind, id); !name.empty()) return told_name(name);
    return kind_of_subject(kind, subject_in(session, kind, id));
}

Message told_with_kind(const Session& session, const Batch& batch, Kind kind, const std::string& id) {
    if (kind == Kind::job) return title_of(kind);
    if (const std::string name = name_in(session, batch, kind, id); !name.empty())
        return Message("{kind} {name}", {{"kind", title_of(kind)}, {"name", told_name(name)}});
    return kind_of_subject(kind, subject_in(session, kind, id));
}

Message told_field(const Job& job, Kind kind, const Id& id, const FieldInfo& field) {
    return Message("{field} of {record}", {{"field", title_of(field)}, {"record", told_record(job, kind, id)}});
}

Message told_value(const FieldInfo& field, const Value& value, const Job& job) {
    if (const std::string* text = value.text(); text && field.form == FieldForm::text)
        return entered(cited(*text, longest_value));
    return message_of(field, value, &job);
}

}  // namespace tapwright
