// Three copies of one job live through a random history: they add, set, remove, choose, undo, redo and merge in any
// order, with clocks set back and forth by years. Whatever happened, the union must not depend on order.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <ostream>

#include "core/words/words.h"
#include "tests/journal/copy.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

const std::array<std::string, 4> ids{"s1", "s2", "s3", "s4"};
const std::array<std::string, 3> fields{"tap_w", "label", "room"};
const std::array<std::string, 4> values{"1", "2", "3", "null"};
const std::array<std::string, 3> people{"Ana", "Ben", "Cleo"};

struct Step {
    int who;
    int what;
    int id;
    int field;
    int value;
    int other;
    std::int64_t clock;
};

// How rapidcheck shows a history that breaks a property.
std::ostream& operator<<(std::ostream& out, const Step& step) {
    return out << "{" << step.who << "," << step.what << "," << step.id << "," << step.field << "," << step.value << ","
               << step.other << "," << step.clock << "}";
}

rc::Gen<Step> any_step() {
    const auto clock = rc::gen::oneOf(rc::gen::just(std::int64_t{-1}), rc::gen::inRange<std::int64_t>(0, 50),
                                      rc::gen::inRange<std::int64_t>(0, std::int64_t{1} << 60));
    return rc::gen::build<Step>(
        rc::gen::set(&Step::who, rc::gen::inRange(0, 3)), rc::gen::set(&Step::what, rc::gen::inRange(0, 12)),
        rc::gen::set(&Step::id, rc::gen::inRange(0, 4)), rc::gen::set(&Step::field, rc::gen::inRange(0, 3)),
        rc::gen::set(&Step::value, rc::gen::inRange(0, 4)), rc::gen::set(&Step::other, rc::gen::inRange(0, 3)),
        rc::gen::set(&Step::clock, clock));
}

bool can_undo(const Copy& copy, BatchAddress batch) {
    const auto plan = copy.plan(batch);
    RC_ASSERT(plan.ok());
    return !plan->ops.empty();
}

// An undo of any batch, one's own or not, if it can be undone at all.
void undo_any(Copy& copy, const Step& step, const std::string& person) {
    const auto& log = copy.log();
    const std::size_t back = static_cast<std::size_t>(step.id * 3 + step.field) % log.size();
    const Batch& batch = log[log.size() - 1 - back];
    auto plan = copy.plan(batch.address());
    RC_ASSERT(plan.ok());
    if (plan->ops.empty()) return RC_ASSERT(!plan->kept.empty());
    const BatchAddress mine = batch.address();
    const std::vector<Op> ops = plan->ops;
    copy.commit(ops, person, mine);
    // What was planned is what then counts.
    for (const Op& op : ops) {
        const auto heads = copy.replica().heads(*copy.replica().find(op.kind, op.id), op.field);
        RC_ASSERT(
            std::any_of(heads.begin(), heads.end(), [&](const HeadView& head) { return head.value == op.value; }));
    }
}

void live(std::vector<Copy>& copies, const Step& step) {
    const auto at = [](int i) { return static_cast<std::size_t>(i); };
    Copy& copy = copies[at(step.who)];
    const std::string& id = ids[at(step.id)];
    const std::string& person = people[at(step.who)];
    if (step.clock >= 0) copy.set_clock(step.clock);
    switch (step.what) {
        case 0:
        case 1:
            copy.make(id, fields[at(step.field)], values[at(step.value)], person);
            break;
        case 2:
        case 3:
        case 4:
            copy.set(id, fields[at(step.field)], values[at(step.value)], person);
            break;
        case 5:
            copy.remove(id, person);
            break;
        case 6:
            undo_any(copy, step, person);
            break;
        case 7:
            if (const auto latest = copy.replica().latest_undoable(person); latest && can_undo(copy, *latest))
                copy.undo(*latest, person);
            break;
        case 8:
            if (const auto latest = copy.replica().latest_redoable(person); latest && can_undo(copy, *latest))
                copy.undo(*latest, person);
            break;
        case 9:
            copy.commit({copy.replica().making("point", id)}, person);
            break;
        default:
            copy.merge(copies[at(step.other)]);
    }
}

std::vector<Copy> lived(const std::vector<Step>& steps) {
    Copy first(0x10);
    first.make("s1", "tap_w", "5");
    std::vector<Copy> copies{first, first.copied(0x30), first.copied(0x20)};
    for (const Step& step : steps) live(copies, step);
    return copies;
}

// A random order of `log` in which predecessors still come first.
std::vector<Batch> shuffled(std::vector<Batch> log) {
    std::vector<Batch> order;
    Chain chain;
    while (!log.empty()) {
        std::vector<std::size_t> ready;
        for (std::size_t i = 0; i < log.size(); ++i)
            if (chain.check(log[i])) ready.push_back(i);
        const std::size_t chosen = ready.at(*rc::gen::inRange<std::size_t>(0, ready.size()));
        chain.add(log[chosen]);
        order.push_back(log[chosen]);
        log.erase(log.begin() + static_cast<std::ptrdiff_t>(chosen));
    }
    return order;
}

std::string content_after(const std::vector<Batch>& log, bool twice) {
    Replica replica;
    for (const Batch& batch : log) {
        RC_ASSERT(replica.absorb(batch).ok());
        if (twice) RC_ASSERT(!replica.absorb(batch)->is_new);
    }
    return Copy::content_of(replica);
}

// What the rules of docs/file-format.md say, worked out from the whole log at once and slowly.
void check_against_rules(const Copy& copy) {
    std::vector<std::pair<OpAddress, const Op*>> ops;
    for (const Batch& batch : copy.log())
        for (std::size_t i = 0; i < batch.ops.size(); ++i) ops.emplace_back(batch.op_address(i), &batch.ops[i]);
    const auto names = [](const Op& op, OpAddress parent) {
        return std::find(op.parents.begin(), op.parents.end(), parent) != op.parents.end();
    };
    std::vector<std::pair<OpAddress, const Op*>> heads;
    for (const auto& [address, op] : ops) {
        const bool is_replaced = std::any_of(ops.begin(), ops.end(), [&, a = address, o = op](const auto& other) {
            return other.second->id == o->id && other.second->field == o->field && names(*other.second, a);
        });
        if (!is_replaced) heads.emplace_back(address, op);
    }
    for (const std::string& id : ids) {
        bool present = false;
        for (const auto& [address, op] : heads) {
            if (op->id != id) continue;
            const bool is_covered = std::any_of(heads.begin(), heads.end(), [&, a = address](const auto& other) {
                return other.second->id == id && other.second->is_removal() && names(*other.second, a);
            });
            present = present || (op->is_existence() ? op->value == "true" : !is_covered);
        }
        RC_ASSERT(copy.present(id) == present);
    }
    std::size_t count = 0;
    for (RecordNumber record = 0; record < copy.replica().record_count(); ++record)
        count += copy.replica().heads(record).size();
    RC_ASSERT(count == heads.size());
}

}  // namespace

TEST_CASE("The union is the same in any order, once or twice, in parts or whole") {
    const bool holds = rc::check("three copies agree once they know the same", [] {
        const auto steps = *rc::gen::container<std::vector<Step>>(any_step());
        std::vector<Copy> copies = lived(steps);
        Copy ab = copies[0];
        ab.merge(copies[1]);
        Copy ab_c = ab;
        ab_c.merge(copies[2]);
        Copy bc = copies[1];
        bc.merge(copies[2]);
        Copy a_bc = copies[0];
        a_bc.merge(bc);
        Copy c_b_a = copies[2];
        c_b_a.merge(copies[1]);
        c_b_a.merge(copies[0]);
        c_b_a.merge(ab);
        RC_ASSERT(ab_c.content() == a_bc.content());
        RC_ASSERT(ab_c.content() == c_b_a.content());
        RC_ASSERT(content_after(shuffled(ab_c.log()), false) == ab_c.content());
        RC_ASSERT(content_after(shuffled(ab_c.log()), true) == ab_c.content());
        for (const std::string& person : people) {
            RC_ASSERT(ab_c.replica().latest_undoable(person) == c_b_a.replica().latest_undoable(person));
            RC_ASSERT(ab_c.replica().latest_redoable(person) == c_b_a.replica().latest_redoable(person));
        }
        check_against_rules(ab_c);
    });
    CHECK(holds);
}

TEST_CASE("Replay equals live, and a last undo then redo changes nothing that shows") {
    const bool holds = rc::check("replay and undo", [] {
        const auto steps = *rc::gen::container<std::vector<Step>>(any_step());
        for (Copy& copy : lived(steps)) {
            RC_ASSERT(content_after(copy.log(), false) == copy.content());
            const auto shown = [&] {
                std::string text;
                for (const std::string& id : ids) {
                    text += copy.present(id) ? " +" : " -";
                    for (const std::string& field : fields) text += copy.value(id, field) + ",";
                }
                return text + std::to_string(copy.replica().conflicts().size());
            };
            copy.set_clock(std::int64_t{1} << 61);
            copy.set("s1", "tap_w", "9");
            const std::string before_action = shown();
            const BatchAddress action = copy.remove("s1");
            const BatchAddress undo = copy.undo(action);
            RC_ASSERT(shown() == before_action);
            copy.undo(undo);
            RC_ASSERT(!copy.present("s1"));
        }
    });
    CHECK(holds);
}
