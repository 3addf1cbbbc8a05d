// Taking batches in. The order in which copies hear of batches must not show, so every step here is of a kind that
// commutes: a head leaves when an op that names it arrives (and none can arrive before what it names), a rank is a
// minimum, presence is worked out anew from the heads. replica_views.cpp holds the questions.
#include "core/journal/replica.h"

#include <algorithm>

namespace tapwright {

Replica::Replica() {
    names_.intern("");
}

Result<Absorbed> Replica::absorb(const Batch& batch) {
    if (const auto known = index_.find(batch.address())) {
        if (batches_[*known].hash == batch.hash) return Absorbed{};
        return Refusal{
            Message("Change {address} is here already with other content: one of the two files was altered "
                    "outside Tapwright. Keep the one you trust and seal a copy of it.",
                    {{"address", code(address_text(batch.address()))}})};
    }
    TAPWRIGHT_PASS(index_.check_follows(batch));

    const std::uint32_t number = index_.add(batch);
    const std::uint32_t undoes = batch.undoes ? *index_.find(*batch.undoes) : none;
    const bool undoes_undo = undoes != none && batches_[undoes].role == Role::undo;
    const Role role = undoes == none ? Role::action : undoes_undo ? Role::redo : Role::undo;
    batches_.push_back({batch.hash, batch.writer, batch.clock, batch.n, people_.intern(batch.person), undoes, role});
    last_clock_ = std::max(last_clock_, batch.clock);

    Absorbed absorbed;
    absorbed.is_new = true;
    for (std::uint32_t index = 0; index < batch.ops.size(); ++index) {
        const Op& op = batch.ops[index];
        const RecordNumber record_number = record_for(op, Rank{batch.clock, batch.writer, batch.n, index});
        Record& record = records_[record_number];
        if (record.touched_by != number) absorbed.touched.push_back(record_number);
        record.touched_by = number;
        take(op, number, index, record);
    }
    for (const RecordNumber touched : absorbed.touched) settle(touched);
    return absorbed;
}

std::string Replica::key_of(Name kind, std::string_view id) const {
    std::string key(id);
    key += ' ';
    key += static_cast<char>(kind & 0xff);
    for (Name rest = kind >> 8; rest != 0; rest >>= 8) key += static_cast<char>(rest & 0xff);
    return key;
}

RecordNumber Replica::record_for(const Op& op, Rank rank) {
    const Name kind = names_.intern(op.kind);
    const bool is_latest =
        latest_record_ != none && records_[latest_record_].kind == kind && records_[latest_record_].id == op.id;
    if (!is_latest) {
        const auto next = static_cast<RecordNumber>(records_.size());
        const auto [found, is_new] = numbers_.try_emplace(key_of(kind, op.id), next);
        if (is_new) {
            records_.emplace_back();
            records_.back().id = op.id;
            records_.back().kind = kind;
            records_.back().rank = rank;
        }
        latest_record_ = found->second;
    }
    // The rank is the earliest making; as long as nobody made the record, its earliest op.
    Record& record = records_[latest_record_];
    const bool makes = op.is_existence() && op.value == "true";
    if (makes && !record.is_made)
        record.rank = rank;
    else if (makes == record.is_made)
        record.rank = std::min(record.rank, rank);
    record.is_made = record.is_made || makes;
    return latest_record_;
}

Replica::OpNumber Replica::number_of(OpAddress address) const {
    return OpNumber{*index_.find(address.batch())} << 32 | address.index;
}

void Replica::take(const Op& op, std::uint32_t batch, std::uint32_t index, Record& record) {
    const Name field = names_.intern(op.field);
    std::vector<OpNumber> removed;
    for (const OpAddress parent : op.parents) {
        const OpNumber replaced = number_of(parent);
        if (op.is_removal()) removed.push_back(replaced);
        const auto is_replaced = [&](const Head& head) { return head.field == field && number_of(head) == replaced; };
        const auto head = std::find_if(record.heads.begin(), record.heads.end(), is_replaced);
        if (head == record.heads.end()) continue;
        if (field == existence) removal_parents_.erase(replaced);
        record.heads.erase(head);
    }
    const auto behind = std::upper_bound(record.heads.begin(), record.heads.end(), field,
                                         [](Name name, const Head& head) { return name < head.field; });
    record.heads.insert(behind, Head{batch, index, field, op.value});
    if (!op.is_removal()) return;
    std::sort(removed.begin(), removed.end());
    removal_parents_.emplace(OpNumber{batch} << 32 | index, std::move(removed));
}

std::vector<Replica::OpNumber> Replica::covered(const Record& record) const {
    std::vector<OpNumber> all;
    for (const Head& head : register_of(record, existence)) {
        const auto removal = removal_parents_.find(number_of(head));
        if (removal == removal_parents_.end()) continue;
        all.insert(all.end(), removal->second.begin(), removal->second.end());
    }
    std::sort(all.begin(), all.end());
    return all;
}

std::vector<const Replica::Head*> Replica::holding(const Record& record) const {
    std::vector<const Head*> heads;
    const std::vector<OpNumber> away = covered(record);
    for (const Head& head : record.heads) {
        const bool says_so = head.field == existence && head.value == "true";
        const bool is_uncovered =
            head.field != existence && !std::binary_search(away.begin(), away.end(), number_of(head));
        if (says_so || is_uncovered) heads.push_back(&head);
    }
    return heads;
}

bool Replica::is_contested(const Record& record) const {
    if (!record.is_present) return false;
    // Present and removed at once, or two heads of one field (neighbours, as heads are ordered by field) that differ.
    for (std::size_t i = 0; i < record.heads.size(); ++i) {
        const Head& head = record.heads[i];
        if (head.field == existence && head.value == "null") return true;
        if (i > 0 && record.heads[i - 1].field == head.field && record.heads[i - 1].value != head.value) return true;
    }
    return false;
}

void Replica::settle(RecordNumber number) {
    Record& record = records_[number];
    const auto existing = register_of(record, existence);
    const auto says_so = [](const Head& head) { return head.value == "true"; };
    record.is_present = std::any_of(existing.begin(), existing.end(), says_so) || !holding(record).empty();
    if (is_contested(record))
        contested_.insert(number);
    else
        contested_.erase(number);
}

}  // namespace tapwright
