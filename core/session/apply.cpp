#include "core/session/apply.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

MadeRank made_rank(const Rank& rank) {
    return {rank.clock, rank.writer, rank.n, rank.index};
}

// A record or a field of it that no program of ours can have written.
Refusal foreign(const Replica& replica, RecordNumber number, const std::string& field, const Message& why) {
    const std::string record = std::string(replica.kind(number)) + "/" + std::string(replica.id(number));
    const std::string place = field.empty() ? record : record + "/" + field;
    return {sentences({Message("This job file cannot be read at {place}.", {{"place", code(cited(place, 130))}}), why,
                       Message("Another program wrote it; nothing was changed.")})};
}

Result<void> apply_record(Job& job, const Replica& replica, RecordNumber number) {
    const std::optional<Kind> kind = kind_from_singular(replica.kind(number));
    if (!kind || !Id::is_valid(replica.id(number)))
        return foreign(replica, number, "", Message("Jobs have no such record."));
    const Id id(replica.id(number));
    const bool was_there = job.has(*kind, id);
    if (!replica.present(number)) {
        if (was_there && *kind != Kind::job) job.remove(*kind, id);
        return done();
    }
    if (!was_there) job.make(*kind, id, made_rank(replica.rank(number)));
    const std::vector<FieldValue> values = replica.fields(number);
    if (was_there)
        for (const FieldInfo& field : fields(*kind)) {
            const bool stands =
                std::any_of(values.begin(), values.end(), [&](const FieldValue& v) { return v.field == field.name; });
            if (!stands && !job.set(*kind, id, field, Value()))
                TAPWRIGHT_ENSURE(!"clearing a field is always possible");
        }
    for (const FieldValue& standing : values) {
        const FieldInfo* field = find_field(*kind, standing.field);
        if (!field)
            return foreign(replica, number, std::string(standing.field), Message("Such records have no such field."));
        const Result<Value> value = parse_json(standing.value, "the value");
        if (!value) return foreign(replica, number, std::string(standing.field), Message("It is no JSON value."));
        const Result<void> set = job.set(*kind, id, *field, *value);
        if (!set) return foreign(replica, number, std::string(standing.field), set.refusal().message);
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
