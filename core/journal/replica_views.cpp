// The questions a Replica answers.
#include <algorithm>

#include "core/base/sort.h"
#include "core/journal/replica.h"

namespace tapwright {

// ---- heads ------------------------------------------------------------------------------------------

std::span<const Replica::Head> Replica::register_of(const Record& record, Name field) const {
    const auto below = [](const Head& head, Name name) { return head.field < name; };
    const auto above = [](Name name, const Head& head) { return name < head.field; };
    const auto first = std::lower_bound(record.heads.begin(), record.heads.end(), field, below);
    const auto last = std::upper_bound(first, record.heads.end(), field, above);
    return std::span(record.heads)
        .subspan(static_cast<std::size_t>(first - record.heads.begin()), static_cast<std::size_t>(last - first));
}

OpAddress Replica::address_of(const Head& head) const {
    const Known& batch = batches_[head.batch];
    return {batch.writer, batch.n, head.index};
}

Rank Replica::rank_of(const Head& head) const {
    const Known& batch = batches_[head.batch];
    return {batch.clock, batch.writer, batch.n, head.index};
}

HeadView Replica::view(const Head& head) const {
    const Known& batch = batches_[head.batch];
    return {address_of(head), names_.text(head.field), head.value, batch.clock, people_.text(batch.person)};
}

// Requires: heads is not empty.
const Replica::Head& Replica::standing(std::span<const Head> heads) const {
    if (heads.size() == 1) return heads.front();
    return *std::max_element(heads.begin(), heads.end(),
                             [&](const Head& a, const Head& b) { return rank_of(a) < rank_of(b); });
}

std::vector<HeadView> Replica::ranked_views(std::vector<const Head*> heads) const {
    sort_by(heads, [&](const Head* a, const Head* b) { return rank_of(*a) < rank_of(*b); });
    std::vector<HeadView> views;
    views.reserve(heads.size());
    for (const Head* head : heads) views.push_back(view(*head));
    return views;
}

std::vector<HeadView> Replica::heads(RecordNumber record) const {
    std::vector<const Head*> all;
    for (const Head& head : records_[record].heads) all.push_back(&head);
    return ranked_views(std::move(all));
}

std::vector<HeadView> Replica::heads(RecordNumber record, std::string_view field) const {
    std::vector<const Head*> all;
    for (const Head& head : register_of(records_[record], names_.find(field))) all.push_back(&head);
    return ranked_views(std::move(all));
}

std::vector<OpAddress> Replica::parents_for(std::string_view kind, std::string_view id, std::string_view field) const {
    std::vector<OpAddress> parents;
    if (const auto record = find(kind, id))
        for (const Head& head : register_of(records_[*record], names_.find(field))) parents.push_back(address_of(head));
    std::sort(parents.begin(), parents.end());
    return parents;
}

std::vector<OpAddress> Replica::parents_for_removal(std::string_view kind, std::string_view id) const {
    std::vector<OpAddress> parents;
    if (const auto record = find(kind, id))
        for (const Head& head : records_[*record].heads) parents.push_back(address_of(head));
    std::sort(parents.begin(), parents.end());
    return parents;
}

Op Replica::making(std::string_view kind, std::string_view id) const {
    return setting(kind, id, "", "true");
}

Op Replica::setting(std::string_view kind, std::string_view id, std::string_view field, std::string value) const {
    return {std::string(kind), std::string(id), std::string(field), std::move(value), parents_for(kind, id, field)};
}

Op Replica::removing(std::string_view kind, std::string_view id) const {
    return {std::string(kind), std::string(id), "", "null", parents_for_removal(kind, id)};
}

// ---- records ----------------------------------------------------------------------------------------

std::optional<RecordNumber> Replica::find(std::string_view kind, std::string_view id) const {
    const Name name = names_.find(kind);
    if (name == NameTable::unknown) return std::nullopt;
    const auto found = numbers_.find(key_of(name, id));
    if (found == numbers_.end()) return std::nullopt;
    return found->second;
}

std::vector<RecordNumber> Replica::records() const {
    std::vector<RecordNumber> all;
    for (RecordNumber number = 0; number < records_.size(); ++number)
        if (records_[number].is_present) all.push_back(number);
    sort_by(all, [&](RecordNumber a, RecordNumber b) { return records_[a].rank < records_[b].rank; });
    return all;
}

std::vector<FieldValue> Replica::fields(RecordNumber record) const {
    std::vector<FieldValue> values;
    const std::span<const Head> heads = records_[record].heads;
    for (std::size_t first = 0; first < heads.size();) {
        std::size_t behind = first + 1;
        bool contested = false;
        for (; behind < heads.size() && heads[behind].field == heads[first].field; ++behind)
            contested = contested || heads[behind].value != heads[first].value;
        const Head& head = standing(heads.subspan(first, behind - first));
        if (head.field != existence && head.value != "null")
            values.push_back({names_.text(head.field), head.value, contested});
        first = behind;
    }
    return values;
}

std::optional<std::string_view> Replica::value(RecordNumber record, std::string_view field) const {
    const auto heads = register_of(records_[record], names_.find(field));
    if (heads.empty()) return std::nullopt;
    const Head& head = standing(heads);
    if (head.value == "null") return std::nullopt;
    return head.value;
}

std::vector<Conflict> Replica::conflicts() const {
    std::vector<Conflict> all;
    for (const RecordNumber number : contested_) {
        const Record& record = records_[number];
        std::vector<const Head*> removals;
        for (const Head& head : register_of(record, existence))
            if (head.value == "null") removals.push_back(&head);
        if (!removals.empty()) {
            const std::vector<const Head*> against = holding(record);
            removals.insert(removals.end(), against.begin(), against.end());
            all.push_back({Conflict::Form::removal, number, "", ranked_views(std::move(removals))});
        }
        for (std::size_t i = 0; i < record.heads.size(); ++i) {
            const Name field = record.heads[i].field;
            const auto same = register_of(record, field);
            i += same.size() - 1;
            const auto differs = [&](const Head& head) { return head.value != same.front().value; };
            if (field == existence || std::none_of(same.begin(), same.end(), differs)) continue;
            all.push_back({Conflict::Form::values, number, names_.text(field), heads(number, names_.text(field))});
        }
    }
    return all;
}

// ---- batches ----------------------------------------------------------------------------------------

std::string_view Replica::person_of(BatchAddress address) const {
    return people_.text(batches_[*index_.find(address)].person);
}

std::int64_t Replica::clock_of(BatchAddress address) const {
    return batches_[*index_.find(address)].clock;
}

std::optional<BatchAddress> Replica::undoes(BatchAddress address) const {
    const std::uint32_t undoes = batches_[*index_.find(address)].undoes;
    if (undoes == none) return std::nullopt;
    return BatchAddress{batches_[undoes].writer, batches_[undoes].n};
}

// A batch only ever undoes one that was there before it, so going backwards each is settled before it is asked about.
std::vector<bool> Replica::undone() const {
    std::vector<bool> is_undone(batches_.size(), false);
    for (std::size_t number = batches_.size(); number-- > 0;)
        if (batches_[number].undoes != none && !is_undone[number]) is_undone[batches_[number].undoes] = true;
    return is_undone;
}

bool Replica::is_undone(BatchAddress address) const {
    return undone()[*index_.find(address)];
}

std::set<BatchAddress> Replica::all_undone() const {
    std::set<BatchAddress> all;
    const std::vector<bool> is_undone = undone();
    for (std::uint32_t number = 0; number < batches_.size(); ++number)
        if (is_undone[number]) all.insert({batches_[number].writer, batches_[number].n});
    return all;
}

bool Replica::ranks_below(std::uint32_t batch, std::uint32_t other) const {
    const Known& a = batches_[batch];
    const Known& b = batches_[other];
    return Rank{a.clock, a.writer, a.n, 0} < Rank{b.clock, b.writer, b.n, 0};
}

std::optional<BatchAddress> Replica::latest(std::string_view person, Role role, bool may_be_undone) const {
    const Name name = people_.find(person);
    const std::vector<bool> is_undone = undone();
    std::uint32_t latest = none;
    for (std::uint32_t number = 0; number < batches_.size(); ++number) {
        const Known& batch = batches_[number];
        if (batch.person != name || batch.role != role || (is_undone[number] && !may_be_undone)) continue;
        if (latest == none || ranks_below(latest, number)) latest = number;
    }
    if (latest == none) return std::nullopt;
    return BatchAddress{batches_[latest].writer, batches_[latest].n};
}

std::optional<BatchAddress> Replica::latest_undoable(std::string_view person) const {
    return latest(person, Role::action, false);
}

std::optional<BatchAddress> Replica::latest_redoable(std::string_view person) const {
    const auto undo = latest(person, Role::undo, false);
    const auto action = latest(person, Role::action, true);
    if (undo && action && ranks_below(*index_.find(*undo), *index_.find(*action))) return std::nullopt;
    return undo;
}

}  // namespace tapwright
