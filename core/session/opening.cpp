#include "core/session/opening.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/job/field_table.h"
#include "core/job/job.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

Result<void> check_value(std::string_view kind_name, std::string_view id, std::string_view name,
                         std::string_view value) {
    TAPWRIGHT_TAKE(kind, check_record(kind_name, id));
    if (name.empty()) return done();  // existence: true or null, by its form
    const FieldInfo* field = find_field(kind, name);
    if (!field) return foreign(kind_name, id, name, Message("Such records have no such field."));
    if (value == "null") return done();
    const Result<Value> parsed = parse_json(value, "the value");
    if (!parsed) return foreign(kind_name, id, name, Message("It is no JSON value."));
    if (const Result<void> fits = check_form(*field, *parsed); !fits)
        return foreign(kind_name, id, name, fits.refusal().message);
    return done();
}

}  // namespace

Refusal foreign(std::string_view kind, std::string_view id, std::string_view field, const Message& why) {
    std::string place = std::string(kind) + "/" + std::string(id);
    if (!field.empty()) place += "/" + std::string(field);
    return {sentences({Message("This job file cannot be read at {place}.", {{"place", code(cited(place, 130))}}), why,
                       Message("Another program wrote it; nothing was changed.")})};
}

Result<Kind> check_record(std::string_view kind_name, std::string_view id) {
    const std::optional<Kind> kind = kind_from_singular(kind_name);
    const bool is_known = kind && Id::is_valid(id) && (*kind != Kind::job || id == job_id().text());
    if (!is_known) return foreign(kind_name, id, "", Message("Jobs have no such record."));
    return *kind;
}

Result<void> check_op(const Op& op) {
    return check_value(op.kind, op.id, op.field, op.value);
}

Result<void> OpeningCheck::before(const Batch& batch) const {
    for (const Op& op : batch.ops) {
        if (op.is_existence()) continue;
        // A value that clears is passed over where values are read, so its field is looked at here.
        if (op.value == "null") TAPWRIGHT_PASS(check_op(op));
        if (!op.parents.empty()) TAPWRIGHT_PASS(check_replaced(batch, op));
    }
    return done();
}

// Whatever is replaced was a head until then.
Result<void> OpeningCheck::check_replaced(const Batch& batch, const Op& op) const {
    for (const OpAddress parent : op.parents)
        if (parent.batch() == batch.address()) TAPWRIGHT_PASS(check_op(batch.ops[parent.index]));
    const std::optional<RecordNumber> record = replica_.find(op.kind, op.id);
    if (!record) return done();
    for (const HeadView& head : replica_.heads(*record, op.field))
        if (std::binary_search(op.parents.begin(), op.parents.end(), head.address))
            TAPWRIGHT_PASS(check_value(op.kind, op.id, head.field, head.value));
    return done();
}

Result<void> OpeningCheck::check_heads(RecordNumber record) const {
    const std::string_view kind = replica_.kind(record);
    const std::string_view id = replica_.id(record);
    TAPWRIGHT_PASS(check_record(kind, id));
    for (const HeadView& head : replica_.heads(record)) TAPWRIGHT_PASS(check_value(kind, id, head.field, head.value));
    return done();
}

Result<void> OpeningCheck::at_end() const {
    for (RecordNumber record = 0; record < replica_.record_count(); ++record)
        if (!replica_.present(record)) TAPWRIGHT_PASS(check_heads(record));
    // Where several heads of a field differ, one stands in; the others may yet.
    for (const Conflict& conflict : replica_.conflicts())
        for (const HeadView& head : conflict.heads)
            TAPWRIGHT_PASS(
                check_value(replica_.kind(conflict.record), replica_.id(conflict.record), head.field, head.value));
    return done();
}

}  // namespace tapwright
