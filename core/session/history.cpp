// The history, part by part of each batch.
#include "core/job/json.h"
#include "core/session/session.h"
#include "core/session/told.h"

namespace tapwright {
namespace {

Message told(const Session& session, const Batch& batch, const Op& op) {
    const std::optional<Kind> kind = kind_from_singular(op.kind);
    if (!kind) return code(op.kind);
    if (op.is_existence()) {
        const Message record = told_with_kind(session, batch, *kind, op.id);
        return op.is_removal() ? Message("{record} removed", {{"record", record}})
                               : Message("{record} added", {{"record", record}});
    }
    const Message record = told_called(session, batch, *kind, op.id);
    const FieldInfo* field = find_field(*kind, op.field);
    const Message title = field ? title_of(*field) : Message(code(op.field));
    if (op.value == "null") return Message("{record}: {field} cleared", {{"record", record}, {"field", title}});
    const Result<Value> value = parse_json(op.value, "the value");
    const Message now = field && value ? told_value(*field, *value, session.job()) : Message(told_name(op.value));
    return Message("{record}: {field} {now}", {{"record", record}, {"field", title}, {"now", now}});
}

}  // namespace

Result<std::vector<HistoryLine>> Session::history(std::size_t most_batches, std::size_t most_facts) const {
    TAPWRIGHT_TAKE(entries, journal_.history(most_batches));
    const std::set<BatchAddress> undone = replica_.all_undone();
    std::vector<HistoryLine> lines;
    for (const HistoryEntry& entry : entries) {
        TAPWRIGHT_TAKE(batch, journal_.batch(entry.batch.address()));
        HistoryLine line;
        line.batch = batch.address();
        line.address = address_text(batch.address());
        line.time = batch.time;
        line.person = batch.person;
        line.visit = batch.visit;
        line.facts = batch.ops.size();
        line.is_undo = batch.undoes.has_value();
        line.is_undone = undone.contains(batch.address());
        for (const Op& op : batch.ops) {
            if (line.what.size() == most_facts) break;
            line.what.push_back(told(*this, batch, op));
        }
        lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace tapwright
