#include "core/session/apply.h"

#include <algorithm>

#include "core/job/json.h"
#include "core/session/opening.h"

namespace tapwright {
namespace {

MadeRank made_rank(const Rank& rank) {
    return {rank.clock, rank.writer, rank.n, rank.index};
}

Result<void> apply_record(Job& job, const Replica& replica, RecordNumber number) {
    TAPWRIGHT_TAKE(kind, check_record(replica.kind(number), replica.id(number)));
    const Id id(replica.id(number));
    const MadeRank rank = made_rank(replica.rank(number));
    const bool present = replica.present(number);
    bool was_there = job.has(kind, id);
    // One that was changed before anybody made it is listed elsewhere once somebody does, or did in another copy. The
    // job itself is always there, and says nothing where it is not in the log.
    const bool stays = kind == Kind::job || (present && was_there && job.rank(kind, id) == rank);
    if (was_there && !stays) {
        job.remove(kind, id);
        was_there = false;
    }
    if (!present && kind != Kind::job) return done();
    if (!was_there) job.make(kind, id, rank);
    const std::vector<FieldValue> values = present ? replica.fields(number) : std::vector<FieldValue>();
    if (was_there)
        for (const FieldInfo& field : fields(kind)) {
            const bool stands =
                std::any_of(values.begin(), values.end(), [&](const FieldValue& v) { return v.field == field.name; });
            if (!stands && !job.set(kind, id, field, Value())) TAPWRIGHT_ENSURE(!"clearing a field is always possible");
        }
    for (const FieldValue& standing : values) {
        const auto refuse = [&](const Message& why) {
            return foreign(replica.kind(number), replica.id(number), standing.field, why);
        };
        const FieldInfo* field = find_field(kind, standing.field);
        if (!field) return refuse(Message("Such records have no such field."));
        const Result<Value> value = parse_json(standing.value, "the value");
        if (!value) return refuse(Message("It is no JSON value."));
        const Result<void> set = job.set(kind, id, *field, *value);
        if (!set) return refuse(set.refusal().message);
    }
    return done();
}

}  // namespace

Result<void> apply(Job& job, const Replica& replica, const std::vector<RecordNumber>& touched) {
    for (const RecordNumber number : touched) {
        TAPWRIGHT_PASS(apply_record(job, replica, number));
    }
    return done();
}

Result<Job> job_of(const Replica& replica) {
    Job job;
    TAPWRIGHT_PASS(apply(job, replica, replica.records()));
    return job;
}

std::vector<Op> ops_of(const Replica& replica, const std::vector<Fact>& facts) {
    std::vector<Op> ops;
    ops.reserve(facts.size());
    for (const Fact& fact : facts) {
        const std::string_view kind = singular(fact.kind);
        if (fact.field)
            ops.push_back(replica.setting(kind, fact.id.text(), fact.field->name, compact_json(fact.value)));
        else if (fact.value.is_null())
            ops.push_back(replica.removing(kind, fact.id.text()));
        else
            ops.push_back(replica.making(kind, fact.id.text()));
    }
    return ops;
}

}  // namespace tapwright
