#include "core/session/changes.h"

#include <algorithm>

#include "core/job/json.h"
#include "core/session/told.h"

namespace tapwright {
namespace {

constexpr std::size_t most_fields_of_new = 6;

// For whom changes are told: on a sheet, or to the one who made them.
enum class Telling : std::uint8_t { sheet, maker };

class Teller {
public:
    Teller(const Session& session, Telling telling) : session_(session), job_(session.job()), telling_(telling) {}

    // Refuses what the value before cannot be read for.
    Result<std::vector<Message>> tell(const Batch& batch) const {
        std::vector<Message> told;
        for (std::size_t first = 0; first < batch.ops.size();) {
            std::size_t last = first + 1;
            while (last < batch.ops.size() && batch.ops[last].kind == batch.ops[first].kind &&
                   batch.ops[last].id == batch.ops[first].id)
                ++last;
            TAPWRIGHT_TAKE(message, record(batch, first, last));
            if (!message.empty()) told.push_back(message);
            first = last;
        }
        return told;
    }

private:
    // Ops [first, last) are about one record.
    Result<Message> record(const Batch& batch, std::size_t first, std::size_t last) const {
        const Op& op = batch.ops[first];
        const std::optional<Kind> kind = kind_from_singular(op.kind);
        if (!kind) return Message();
        if (telling_ == Telling::sheet && (*kind == Kind::sheet || is_private(batch, *kind, op.id))) return Message();
        std::vector<Message> fields;
        bool is_new = false;
        for (std::size_t i = first; i < last; ++i) {
            if (batch.ops[i].is_removal())
                return Message("{record} removed", {{"record", told_with_kind(session_, batch, *kind, op.id)}});
            if (batch.ops[i].is_existence()) {
                is_new = true;
                continue;
            }
            if (is_new && (telling_ == Telling::maker || fields.size() == most_fields_of_new)) continue;
            TAPWRIGHT_TAKE(field, field_part(batch.ops[i], *kind, is_new));
            if (!field.empty()) fields.push_back(field);
        }
        if (is_new && fields.empty())
            return Message("{record} added", {{"record", told_with_kind(session_, batch, *kind, op.id)}});
        if (is_new)
            return Message("{record} added: {fields}",
                           {{"record", told_with_kind(session_, batch, *kind, op.id)}, {"fields", series(fields)}});
        if (!fields.empty())
            return Message("{record}: {fields}",
                           {{"record", told_called(session_, batch, *kind, op.id)}, {"fields", series(fields)}});
        if (telling_ == Telling::sheet) return Message();
        return Message("{record} changed", {{"record", told_with_kind(session_, batch, *kind, op.id)}});
    }

    Result<Message> field_part(const Op& op, Kind kind, bool is_new) const {
        const FieldInfo* field = find_field(kind, op.field);
        if (!field || field->form == FieldForm::strokes || field->form == FieldForm::changes ||
            field->form == FieldForm::sha256)
            return Message();
        if (is_new && (op.field == "name" || op.field == "label" || op.field == "about" || op.field == "at"))
            return Message();
        // Where it is kept, and who may see it, is no news.
        if (op.field == "file" || (op.field == "share" && telling_ == Telling::sheet)) return Message();
        if (op.value == "null") return Message("{field} cleared", {{"field", title_of(*field)}});
        Op before;
        // A file of another program may name an op of another field as what was replaced: that was not the value here.
        for (std::size_t i = 0; i < op.parents.size() && !is_new && before.value.empty(); ++i) {
            TAPWRIGHT_TAKE(read, session_.op(op.parents[i]));
            if (read.kind == op.kind && read.id == op.id && read.field == op.field) before = read;
        }
        const bool has_before = !before.value.empty() && before.value != "null" && !before.is_existence();
        if (!has_before || before.value == op.value)
            return Message("{field} {now}", {{"field", title_of(*field)}, {"now", shown(*field, op.value)}});
        return Message(
            "{field} {now} (was {before})",
            {{"field", title_of(*field)}, {"now", shown(*field, op.value)}, {"before", shown(*field, before.value)}});
    }

    Message shown(const FieldInfo& field, const std::string& json) const {
        const Result<Value> value = parse_json(json, "the value");
        return value ? told_value(field, *value, job_) : Message(told_name(json));
    }

    // Whether it is private now, was made so here, or is gone and was private last.
    bool is_private(const Batch& batch, Kind kind, const std::string& id) const {
        if (kind != Kind::photo && kind != Kind::snag) return false;
        constexpr std::string_view json = "\"private\"";
        if (session_.last_value(kind, id, "share") == json) return true;
        return std::any_of(batch.ops.begin(), batch.ops.end(),
                           [&](const Op& op) { return op.id == id && op.field == "share" && op.value == json; });
    }

    const Session& session_;
    const Job& job_;
    Telling telling_;
};

}  // namespace

Result<std::vector<ChangeLine>> changes_of(const Session& session, const WantsBatch& wants) {
    std::vector<ChangeLine> lines;
    const Teller teller(session, Telling::sheet);
    std::size_t number = 0;
    const auto visit = [&](const Batch& batch) -> Result<void> {
        if (!wants(batch, number++)) return done();
        TAPWRIGHT_TAKE(what, teller.tell(batch));
        if (!what.empty()) lines.push_back({batch.time, batch.person, what});
        return done();
    };
    TAPWRIGHT_PASS(session.for_each_batch(visit));
    return lines;
}

Result<Message> own_change(const Session& session, const Batch& batch) {
    TAPWRIGHT_TAKE(what, Teller(session, Telling::maker).tell(batch));
    if (what.empty()) return Message("your last change");
    if (what.size() == 1) return what.front();
    return plural("{count} change, the first: {first}", "{count} changes, the first: {first}",
                  static_cast<std::int64_t>(what.size()), {{"first", what.front()}});
}

Result<Message> undone(const Session& session, const Batch& batch, const Outcome& outcome) {
    if (!outcome.remarks.empty()) return Message("Undone, except {left}.", {{"left", series(outcome.remarks)}});
    const Result<Message> what = own_change(session, batch);
    if (what) return Message("Undone: {what}.", {{"what", *what}});
    return Refusal{Message("Your last change is undone, and that is saved. What it was cannot be told: {why}",
                           {{"why", what.refusal().message}})};
}

Result<Message> redone(const Session& session, const Batch& batch, const Outcome& outcome) {
    if (!outcome.remarks.empty()) return Message("Redone, except {left}.", {{"left", series(outcome.remarks)}});
    const Result<Message> what = own_change(session, batch);
    if (what) return Message("Redone: {what}.", {{"what", *what}});
    return Refusal{Message("What was undone is made again, and that is saved. What it was cannot be told: {why}",
                           {{"why", what.refusal().message}})};
}

}  // namespace tapwright
