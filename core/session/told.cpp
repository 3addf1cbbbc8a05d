#include "core/session/told.h"

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/job/record_title.h"

namespace tapwright {
namespace {

constexpr std::size_t longest_name = 60;
constexpr std::size_t longest_value = 80;

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

// What a record is about that may be gone, by a name or by what it is: "Reading of C-101". Nothing for no subject.
Message by_subject(const Session& session, Kind kind, const std::string& id) {
    for (const std::string_view field : {"about", "at"}) {
        const auto about = text_in(session.last_value(kind, id, field));
        if (!about || !Id::is_valid(*about)) continue;
        const Id subject(*about);
        const std::optional<Kind> what = session.job().kind_of(subject);
        const std::string name = name_of(session.job(), subject);
        if (name == subject.text() && !what) continue;
        return Message("{kind} of {subject}",
                       {{"kind", title_of(kind)},
                        {"subject", name == subject.text() ? Argument(title_of(*what)) : Argument(told_name(name))}});
    }
    return title_of(kind);
}

}  // namespace

Entered told_name(const std::string& name) {
    return entered(cited(name, longest_name));
}

Message told_record(const Job& job, Kind kind, const Id& id) {
    if (kind == Kind::job) return title_of(kind);
    if (const std::string name = name_of(job, id); name != id.text()) return told_name(name);
    return record_title(job, id);
}

Message told_called(const Session& session, const Batch& batch, Kind kind, const std::string& id) {
    if (kind == Kind::job) return title_of(kind);
    if (const std::string name = name_in(session, batch, kind, id); !name.empty()) return told_name(name);
    return by_subject(session, kind, id);
}

Message told_with_kind(const Session& session, const Batch& batch, Kind kind, const std::string& id) {
    if (kind == Kind::job) return title_of(kind);
    if (const std::string name = name_in(session, batch, kind, id); !name.empty())
        return Message("{kind} {name}", {{"kind", title_of(kind)}, {"name", told_name(name)}});
    return by_subject(session, kind, id);
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
