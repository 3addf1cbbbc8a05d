// "Mine is still head" must see through undo itself. Ana sets a tap to 5, then to 7.5, takes 7.5 back, and takes 5
// back: at the last step the head is not her first op but the op of the undo, which put 5 there again. So each op of an
// undo is followed to the op whose value it restored (Trail); a head counts as mine when its trail passes through my
// batch.
#include "core/journal/undo.h"
#include "core/base/sort.h"

#include <algorithm>
#include <map>
#include <optional>

namespace tapwright {
namespace {

// Undo upon undo of one register; a person would have to press the two keys this often in turn.
constexpr int longest_trail = 1000;

// Looks ops up and remembers them. A lookup that fails ends the planning; see failure().
class Trail {
public:
    Trail(const Replica& replica, const Batch& mine, const OpLookup& lookup)
        : replica_(replica), mine_(mine), lookup_(lookup) {}

    const Op& op(OpAddress address) {
        if (address.batch() == mine_.address()) return mine_.ops[address.index];
        const auto found = ops_.find(address);
        if (found != ops_.end()) return found->second;
        Result<Op> op = lookup_(address);
        if (!op && !failure_) failure_ = op.refusal();
        return ops_.emplace(address, op ? std::move(*op) : Op{}).first->second;
    }

    // The parents of `address` in its own register, by rank.
    std::vector<OpAddress> replaced(OpAddress address) {
        const Op& child = op(address);
        std::vector<OpAddress> parents;
        for (const OpAddress parent : child.parents) {
            const Op& before = op(parent);
            if (before.kind == child.kind && before.id == child.id && before.field == child.field)
                parents.push_back(parent);
        }
        const auto ranks_below = [&](OpAddress a, OpAddress b) { return rank(a) < rank(b); };
        sort_by(parents, ranks_below);
        return parents;
    }

    // The op on the trail of `address`, itself included, that belongs to `batch`.
    std::optional<OpAddress> in_batch(OpAddress address, BatchAddress batch, int depth = 0) {
        std::optional<OpAddress> at = address;
        for (int step = 0; at && at->batch() != batch; ++step)
            at = step < longest_trail && depth < longest_trail ? restored(*at, depth) : std::nullopt;
        return at;
    }

    // What an op of an undo put back; nothing when it is no undo's or put back that there was no value.
    std::optional<OpAddress> restored(OpAddress address, int depth = 0) {
        const auto undone = replica_.undoes(address.batch());
        if (!undone) return std::nullopt;
        const auto found = restored_.find(address);
        if (found != restored_.end()) return found->second;
        std::optional<OpAddress> answer;
        for (const OpAddress parent : replaced(address))
            if (const auto undone_op = in_batch(parent, *undone, depth + 1))
                for (const OpAddress before : replaced(*undone_op))
                    if (op(before).value == op(address).value) answer = before;
        restored_.emplace(address, answer);
        return answer;
    }

    Rank rank(OpAddress address) const {
        return {replica_.clock_of(address.batch()), address.writer, address.n, address.index};
    }
    const std::optional<Refusal>& failure() const { return failure_; }

private:
    const Replica& replica_;
    const Batch& mine_;
    const OpLookup& lookup_;
    std::map<OpAddress, Op> ops_;
    std::map<OpAddress, std::optional<OpAddress>> restored_;
    std::optional<Refusal> failure_;
};

class Planner {
public:
    Planner(const Replica& replica, const Batch& mine, const OpLookup& lookup)
        : replica_(replica), mine_(mine), trail_(replica, mine, lookup) {}

    Result<UndoPlan> plan() {
        std::map<std::pair<std::string, std::string>, std::vector<std::uint32_t>> records;
        std::vector<std::pair<std::string, std::string>> order;
        for (std::uint32_t index = 0; index < mine_.ops.size(); ++index) {
            const auto [place, is_new] = records.try_emplace({mine_.ops[index].kind, mine_.ops[index].id});
            if (is_new) order.push_back(place->first);
            place->second.push_back(index);
        }
        for (const auto& record : order) undo_record(records[record]);
        if (trail_.failure()) return *trail_.failure();
        return std::move(plan_);
    }

private:
    void undo_record(const std::vector<std::uint32_t>& indices) {
        for (const std::uint32_t index : indices) {
            const Op& op = mine_.ops[index];
            const bool makes = op.is_existence() && op.value == "true";
            if (makes && trail_.replaced(mine_.op_address(index)).empty()) return undo_making(op);
        }
        std::vector<std::string> fields;
        for (const std::uint32_t index : indices)
            if (std::find(fields.begin(), fields.end(), mine_.ops[index].field) == fields.end())
                fields.push_back(mine_.ops[index].field);
        for (const std::string& field : fields) undo_register(mine_.ops[indices.front()], field);
    }

    void undo_making(const Op& making) {
        const RecordNumber record = *replica_.find(making.kind, making.id);
        for (const HeadView& head : replica_.heads(record)) {
            const bool is_left_empty = head.value == "null" && !head.field.empty() &&
                                       replica_.undoes(head.address.batch()) && !trail_.restored(head.address);
            if (is_left_empty || trail_.in_batch(head.address, mine_.address())) continue;
            plan_.kept.push_back({making.kind, making.id, "", std::string(head.person)});
            return;
        }
        plan_.ops.push_back(replica_.removing(making.kind, making.id));
    }

    void undo_register(const Op& op, const std::string& field) {
        const RecordNumber record = *replica_.find(op.kind, op.id);
        const std::vector<HeadView> heads = replica_.heads(record, field);
        std::vector<OpAddress> my_heads;
        std::vector<OpAddress> before;
        for (const HeadView& head : heads) {
            const auto my_op = trail_.in_batch(head.address, mine_.address());
            if (!my_op) continue;
            my_heads.push_back(head.address);
            for (const OpAddress replaced : trail_.replaced(*my_op)) before.push_back(replaced);
        }
        if (my_heads.empty()) {
            const std::string person = heads.empty() ? std::string() : std::string(heads.back().person);
            plan_.kept.push_back({op.kind, op.id, field, person});
            return;
        }
        restore(op, field, my_heads, before);
    }

    // One op for each value that was there, the one that stood in last; all name `my_heads` and none the other.
    void restore(const Op& op, const std::string& field, const std::vector<OpAddress>& my_heads,
                 std::vector<OpAddress> before) {
        const auto ranks_below = [&](OpAddress a, OpAddress b) { return trail_.rank(a) < trail_.rank(b); };
        sort_by(before, ranks_below);
        before.erase(std::unique(before.begin(), before.end()), before.end());
        if (before.empty()) add({op.kind, op.id, field, field.empty() ? "true" : "null", my_heads});
        for (std::size_t i = 0; i < before.size(); ++i) {
            const Op& old = trail_.op(before[i]);
            Op back{op.kind, op.id, field, old.value, my_heads};
            const auto says_the_same = [&](OpAddress later) { return trail_.op(later).value == old.value; };
            if (old.is_removal())
                cover_again(old, back);  // two removals cover different things, so two of them are two
            else if (std::any_of(before.begin() + static_cast<std::ptrdiff_t>(i) + 1, before.end(), says_the_same))
                continue;
            add(std::move(back));
        }
    }

    // Lets a removal that comes back cover the fields it covered before.
    void cover_again(const Op& old, Op& back) {
        for (const OpAddress parent : old.parents)
            if (!trail_.op(parent).is_existence()) back.parents.push_back(parent);
    }

    void add(Op op) {
        std::sort(op.parents.begin(), op.parents.end());
        op.parents.erase(std::unique(op.parents.begin(), op.parents.end()), op.parents.end());
        plan_.ops.push_back(std::move(op));
    }

    const Replica& replica_;
    const Batch& mine_;
    Trail trail_;
    UndoPlan plan_;
};

}  // namespace

Result<UndoPlan> plan_undo(const Replica& replica, const Batch& mine, const OpLookup& lookup) {
    TAPWRIGHT_ENSURE(replica.knows(mine.address()));
    return Planner(replica, mine, lookup).plan();
}

}  // namespace tapwright
