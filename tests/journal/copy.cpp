#include "tests/journal/copy.h"

#include <algorithm>

#include "core/base/ensure.h"

namespace tapwright::test {

Op op(std::string kind, std::string id, std::string field, std::string value, std::vector<OpAddress> parents) {
    return {std::move(kind), std::move(id), std::move(field), std::move(value), std::move(parents)};
}

Batch draft(Writer writer, std::vector<Op> ops, std::string person, std::int64_t clock) {
    Batch batch;
    batch.writer = writer;
    batch.clock = clock;
    batch.person = std::move(person);
    batch.time = "2024-05-03T14:30:00+02:00";
    batch.ops = std::move(ops);
    return batch;
}

Copy Copy::copied(Writer writer) const {
    Copy copy = *this;
    copy.writer_ = writer;
    return copy;
}

OpLookup Copy::lookup() const {
    return [this](OpAddress address) -> Result<Op> { return log_[places_.at(address.batch())].ops[address.index]; };
}

BatchAddress Copy::commit(std::vector<Op> ops, std::string person, std::optional<BatchAddress> undoes) {
    Batch batch = draft(writer_, std::move(ops), std::move(person), clock_++);
    batch.n = chain_.index().last_n(writer_) + 1;
    batch.prev = chain_.tips();
    batch.undoes = undoes;
    batch.hash = hash_of(batch);
    take(batch);
    return batch.address();
}

BatchAddress Copy::make(std::string_view id, std::string_view field, std::string value, std::string person) {
    return commit({replica_.making("point", id), replica_.setting("point", id, field, std::move(value))},
                  std::move(person));
}

BatchAddress Copy::set(std::string_view id, std::string_view field, std::string value, std::string person) {
    return commit({replica_.setting("point", id, field, std::move(value))}, std::move(person));
}

BatchAddress Copy::remove(std::string_view id, std::string person) {
    return commit({replica_.removing("point", id)}, std::move(person));
}

Result<UndoPlan> Copy::plan(BatchAddress batch) const {
    return plan_undo(replica_, log_[places_.at(batch)], lookup());
}

BatchAddress Copy::undo(BatchAddress batch, std::string person) {
    auto planned = plan(batch);
    TAPWRIGHT_ENSURE(planned.ok() && !planned->ops.empty());
    return commit(std::move(planned->ops), std::move(person), batch);
}

void Copy::merge(const Copy& other) {
    for (const Batch& batch : other.log_) take(batch);
}

void Copy::take(const Batch& batch) {
    if (chain_.has(batch.hash)) return;
    TAPWRIGHT_ENSURE(chain_.check(batch).ok());
    TAPWRIGHT_ENSURE(replica_.absorb(batch).ok());
    chain_.add(batch);
    places_[batch.address()] = log_.size();
    log_.push_back(batch);
}

std::string Copy::content_of(const Replica& replica) {
    std::vector<std::string> lines;
    for (RecordNumber record = 0; record < replica.record_count(); ++record) {
        const Rank rank = replica.rank(record);
        const std::string name = std::string(replica.kind(record)) + " " + std::string(replica.id(record));
        lines.push_back(name + (replica.present(record) ? " present " : " absent ") + std::to_string(rank.clock) + " " +
                        address_text(OpAddress{rank.writer, rank.n, rank.index}));
        for (const FieldValue& field : replica.fields(record))
            lines.push_back(name + "." + std::string(field.field) + " = " + std::string(field.value) +
                            (field.contested ? " contested" : ""));
        for (const HeadView& head : replica.heads(record))
            lines.push_back(name + "." + std::string(head.field) + " head " + address_text(head.address) + " " +
                            std::string(head.value) + " by " + std::string(head.person));
    }
    for (const Conflict& conflict : replica.conflicts()) {
        std::string line = "conflict " + std::string(replica.id(conflict.record)) + "." + std::string(conflict.field);
        for (const HeadView& head : conflict.heads) line += " " + address_text(head.address);
        lines.push_back(line);
    }
    std::sort(lines.begin(), lines.end());
    std::string order = "order";
    for (const RecordNumber record : replica.records()) order += " " + std::string(replica.id(record));
    lines.push_back(order);
    std::string text;
    for (const std::string& line : lines) text += line + "\n";
    return text;
}

bool Copy::present(std::string_view id) const {
    const auto record = replica_.find("point", id);
    return record && replica_.present(*record);
}

std::string Copy::value(std::string_view id, std::string_view field) const {
    if (!present(id)) return "(absent)";
    return std::string(replica_.value(*replica_.find("point", id), field).value_or("(none)"));
}

}  // namespace tapwright::test
