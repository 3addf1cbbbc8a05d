// The history in words. What a batch changed is said with what stood before, taken from the ops it replaced.
#include "core/base/text.h"
#include "core/job/json.h"
#include "core/session/session.h"

namespace tapwright {
namespace {

std::string plain(const std::string& json) {
    const Result<Value> value = parse_json(json, "the value");
    if (value && value->text()) return cited(*value->text(), 60);
    return cited(json, 60);
}

// The label or name a batch gives the record itself, else what it is called now, else its id.
std::string called(const Job& job, const Batch& batch, const Op& op) {
    for (const Op& other : batch.ops)
        if (other.id == op.id && (other.field == "label" || other.field == "name")) return plain(other.value);
    const std::optional<Kind> kind = kind_from_singular(op.kind);
    const bool known = kind && *kind != Kind::job && Id::is_valid(op.id) && job.has(*kind, Id(op.id));
    return known ? cited(name_of(job, Id(op.id)), 60) : op.id;
}

std::string in_words(const Job& job, const Batch& batch, const Op& op) {
    const std::string noun = op.kind + (op.kind == op.id ? "" : " " + called(job, batch, op));
    if (op.is_removal()) return "removed " + noun;
    if (op.is_existence()) return "added " + noun;
    if (op.value == "null") return noun + ": " + op.field + " cleared";
    return noun + ": " + op.field + " " + plain(op.value);
}

}  // namespace

Result<std::vector<HistoryLine>> Session::history(std::size_t most_batches, std::size_t most_facts) const {
    const Result<std::vector<HistoryEntry>> entries = journal_.history(most_batches);
    if (!entries) return entries.refusal();
    std::vector<HistoryLine> lines;
    for (const HistoryEntry& entry : *entries) {
        const Result<Batch> batch = journal_.batch(entry.batch.address());
        if (!batch) return batch.refusal();
        HistoryLine line;
        line.batch = batch->address();
        line.address = address_text(batch->address());
        line.time = batch->time;
        line.person = batch->person;
        line.visit = batch->visit;
        line.facts = batch->ops.size();
        line.is_undo = batch->undoes.has_value();
        line.is_undone = replica_.is_undone(batch->address());
        for (const Op& op : batch->ops) {
            if (line.what.size() == most_facts) break;
            line.what.push_back(in_words(job_, *batch, op));
        }
        lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace tapwright
