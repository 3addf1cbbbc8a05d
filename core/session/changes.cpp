#include "core/session/changes.h"

#include <algorithm>
#include <array>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

constexpr std::size_t most_fields_of_new = 6;

}  // namespace

std::string field_in_words(const FieldInfo& field) {
    constexpr std::array<std::string_view, 11> units = {"_w",  "_v",   "_m",   "_db", "_hz", "_pct",
                                                        "_ma", "_dba", "_mm2", "_h",  "_ohm"};
    std::string name(field.name);
    if (unit_of_field(field) != Unit::none)
        for (const std::string_view unit : units)
            if (name.ends_with(unit)) {
                name.resize(name.size() - unit.size());
                break;
            }
    std::replace(name.begin(), name.end(), '_', ' ');
    return name;
}

namespace {

// For whom changes are told: on a sheet, or to the one who made them, who knows what is private and needs it shorter.
enum class Telling : std::uint8_t { sheet, maker };

class Teller {
public:
    Teller(const Session& session, Telling telling) : session_(session), job_(session.job()), telling_(telling) {}

    std::vector<std::string> tell(const Batch& batch) const {
        std::vector<std::string> parts;
        for (std::size_t first = 0; first < batch.ops.size();) {
            std::size_t last = first + 1;
            while (last < batch.ops.size() && batch.ops[last].kind == batch.ops[first].kind &&
                   batch.ops[last].id == batch.ops[first].id)
                ++last;
            std::string text = record(batch, first, last);
            if (!text.empty()) parts.push_back(std::move(text));
            first = last;
        }
        return parts;
    }

private:
    // Ops [first, last) are about one record.
    std::string record(const Batch& batch, std::size_t first, std::size_t last) const {
        const Op& op = batch.ops[first];
        const std::optional<Kind> kind = kind_from_singular(op.kind);
        if (!kind) return "";
        if (telling_ == Telling::sheet && (*kind == Kind::sheet || is_private(batch, *kind, op.id))) return "";
        std::string noun(singular(*kind));
        std::replace(noun.begin(), noun.end(), '_', ' ');
        const std::string name = called(batch, first, last, *kind);
        std::string details;
        std::size_t told = 0;
        bool is_new = false;
        for (std::size_t i = first; i < last; ++i) {
            if (batch.ops[i].is_removal()) return "removed " + noun + " " + name;
            if (batch.ops[i].is_existence()) {
                is_new = true;
                continue;
            }
            if (is_new && telling_ == Telling::maker) continue;
            const std::string detail = field_part(batch.ops[i], *kind, is_new);
            if (detail.empty() || (is_new && told >= most_fields_of_new)) continue;
            details += (told++ == 0 ? "" : ", ") + detail;
        }
        if (is_new) return "added " + noun + " " + name + (details.empty() ? "" : ": " + details);
        if (details.empty()) return telling_ == Telling::maker ? noun + " " + name + " changed" : "";
        return (*kind == Kind::job ? "job" : name.starts_with("of ") ? noun + " " + name : name) + ": " + details;
    }

    std::string field_part(const Op& op, Kind kind, bool is_new) const {
        const FieldInfo* field = find_field(kind, op.field);
        if (!field || field->form == FieldForm::strokes || field->form == FieldForm::changes ||
            field->form == FieldForm::sha256)
            return "";
        if (is_new && (op.field == "name" || op.field == "label" || op.field == "about" || op.field == "at")) return "";
        // Where it is kept, and who may see it, is no news.
        if (op.field == "file" || (op.field == "share" && telling_ == Telling::sheet)) return "";
        const std::string now = shown(*field, op.value);
        std::string text = field_in_words(*field) + (op.value == "null" ? " cleared" : " " + now);
        if (is_new || op.parents.empty()) return text;
        const Result<Op> before = session_.op(op.parents.front());
        if (before && before->value != "null" && before->value != op.value)
            text += " (was " + shown(*field, before->value) + ")";
        return text;
    }

    std::string shown(const FieldInfo& field, const std::string& json) const {
        const Result<Value> value = parse_json(json, "the value");
        return value ? cited(text_of(field, *value, length_units(job_), &job_), 80) : "";
    }

    // The name the batch gives it, else what it is called now, else its id.
    std::string called(const Batch& batch, std::size_t first, std::size_t last, Kind kind) const {
        for (std::size_t i = first; i < last; ++i)
            if (batch.ops[i].field == "label" || batch.ops[i].field == "name")
                if (const Result<Value> value = parse_json(batch.ops[i].value, "the value"); value && value->text())
                    return cited(*value->text(), 60);
        const std::string& id = batch.ops[first].id;
        // What has no name is called by what it is about: "of C-104".
        for (const std::string_view field : {"about", "at"}) {
            const Result<Value> about = parse_json(session_.last_value(kind, id, field), "the value");
            if (about && about->text() && Id::is_valid(*about->text()))
                return "of " + cited(name_of(job_, Id(*about->text())), 60);
        }
        if (kind == Kind::job || !Id::is_valid(id)) return id;
        if (!job_.has(kind, Id(id))) {  // what is gone, by its last name
            for (const std::string_view field : {"label", "name"}) {
                const Result<Value> held = parse_json(session_.last_value(kind, id, field), "the value");
                if (held && held->text()) return cited(*held->text(), 60);
            }
            return id;
        }
        std::string name = name_of(job_, Id(id));
        return cited(name, 60);
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

Result<std::vector<ChangeLine>> changes_in_words(const Session& session, const WantsBatch& wants) {
    std::vector<ChangeLine> lines;
    const Teller teller(session, Telling::sheet);
    std::size_t number = 0;
    const auto visit = [&](const Batch& batch) -> Result<void> {
        if (!wants(batch, number++)) return done();
        std::vector<std::string> what = teller.tell(batch);
        if (!what.empty()) lines.push_back({batch.time, batch.person, std::move(what)});
        return done();
    };
    const Result<void> read = session.for_each_batch(visit);
    if (!read) return read.refusal();
    return lines;
}

std::string own_change_in_words(const Session& session, const Batch& batch) {
    const std::vector<std::string> what = Teller(session, Telling::maker).tell(batch);
    if (what.empty()) return "your last change";
    return what.size() == 1 ? what.front() : counted(what.size(), "change") + ", the first " + what.front();
}

}  // namespace tapwright
