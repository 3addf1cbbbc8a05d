#include "core/job/job.h"

#include <algorithm>

namespace tapwright {

template <class R>
R& Records<R>::make(const Id& id, const MadeRank& rank) {
    TAPWRIGHT_ENSURE(!directory_.find(id));
    R record{};
    record.id = id;
    if (ranks_.empty() || ranks_.back() < rank) {
        directory_.push_back(id);
        ranks_.push_back(rank);
        return items_.emplace_back(std::move(record));
    }
    const auto at = std::upper_bound(ranks_.begin(), ranks_.end(), rank) - ranks_.begin();
    directory_.insert(static_cast<std::uint32_t>(at), id);
    ranks_.insert(ranks_.begin() + at, rank);
    return *items_.insert(items_.begin() + at, std::move(record));
}

template <class R>
void Records<R>::remove(const Id& id) {
    const auto at = directory_.find(id);
    TAPWRIGHT_ENSURE(at);
    items_.erase(items_.begin() + *at);
    ranks_.erase(ranks_.begin() + *at);
    directory_.erase(*at);
}

const Id& job_id() {
    static const Id id("job");
    return id;
}

Job::Job() {
    std::get<Records<JobInfo>>(records_).make(job_id(), {});
}

std::vector<Kind> Job::kinds_of(const Id& id) const {
    std::vector<Kind> kinds;
    for (std::size_t i = 0; i < kind_count; ++i)
        if (has(kind_at(i), id)) kinds.push_back(kind_at(i));
    return kinds;
}

std::optional<Kind> Job::kind_of(const Id& id) const {
    for (std::size_t i = 0; i < kind_count; ++i)
        if (has(kind_at(i), id)) return kind_at(i);
    return std::nullopt;
}

bool Job::has(Kind kind, const Id& id) const {
    return with_record_type(kind, [&]<class R>() { return records<R>().find(id) != nullptr; });
}

std::size_t Job::count(Kind kind) const {
    return with_record_type(kind, [&]<class R>() { return records<R>().size(); });
}

void Job::make(Kind kind, const Id& id, const MadeRank& rank) {
    with_record_type(kind, [&]<class R>() { std::get<Records<R>>(records_).make(id, rank); });
}

void Job::remove(Kind kind, const Id& id) {
    TAPWRIGHT_ENSURE(kind != Kind::job);
    with_record_type(kind, [&]<class R>() { std::get<Records<R>>(records_).remove(id); });
}

Result<void> Job::set(Kind kind, const Id& id, const FieldInfo& field, const Value& value) {
    return with_record_type(kind, [&]<class R>() -> Result<void> {
        R* record = std::get<Records<R>>(records_).find(id);
        const auto at = static_cast<std::size_t>(&field - fields(kind).data());
        TAPWRIGHT_ENSURE(record && at < field_table<R>().size());
        return field_table<R>()[at].set(*record, value, field);
    });
}

Value Job::get(Kind kind, const Id& id, const FieldInfo& field) const {
    return with_record_type(kind, [&]<class R>() -> Value {
        const R* record = records<R>().find(id);
        const auto at = static_cast<std::size_t>(&field - fields(kind).data());
        TAPWRIGHT_ENSURE(record && at < field_table<R>().size());
        return field_table<R>()[at].get(*record);
    });
}

Map Job::fields_of(Kind kind, const Id& id) const {
    return with_record_type(kind, [&]<class R>() -> Map {
        const R* record = records<R>().find(id);
        TAPWRIGHT_ENSURE(record);
        Map map;
        for (const FieldOf<R>& field : field_table<R>())
            if (Value value = field.get(*record); !value.is_null()) map.emplace_back(field.info.name, std::move(value));
        return map;
    });
}

std::string name_of(const Job& job, const Id& id) {
    const std::optional<Kind> kind = job.kind_of(id);
    if (!kind) return id.text();
    for (const std::string_view key : {"name", "label"})
        if (const FieldInfo* field = find_field(*kind, key))
            if (const Value value = job.get(*kind, id, *field); value.text()) return *value.text();
    return id.text();
}

std::string name_of(const Job& job, const std::optional<Id>& id) {
    return id ? name_of(job, *id) : std::string("unknown");
}

Volts line_voltage(const Job& job) {
    return job.info().line_v.value_or(Defaults::line_v);
}

Volts line_voltage(const Job& job, const Zone& zone) {
    if (zone.line_v) return *zone.line_v;
    if (const Channel* channel = job.find<Channel>(zone.channel); channel && channel->line_v) return *channel->line_v;
    return line_voltage(job);
}

}  // namespace tapwright
