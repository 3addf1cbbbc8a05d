#include "core/job/job.h"
#include "core/base/blank.h"
#include "core/base/sort.h"

#include <algorithm>

namespace tapwright {

template <class R>
R& Records<R>::make(const Id& id, const MadeRank& rank) {
    TAPWRIGHT_ENSURE(!has(id));
    if (!ranks_.empty() && rank < ranks_.back()) settled_ = false;
    directory_.push_back(id);
    ranks_.push_back(rank);
    R record{};
    record.id = id;
    return items_.emplace_back(std::move(record));
}

template <class R>
void Records<R>::remove(const Id& id) {
    const std::optional<std::uint32_t> at = directory_.find(id);
    TAPWRIGHT_ENSURE(at.has_value());
    directory_.forget(id);
    gone_.push_back(*at);
    settled_ = false;
}

// Where they are in order but for those that are gone, what follows a gap moves up, and all before it stays untouched.
template <class R>
void Records<R>::close_gaps() const {
    std::sort(gone_.begin(), gone_.end());
    without(items_, gone_);
    without(ranks_, gone_);
    directory_.close_gaps(gone_);
    gone_.clear();
    settled_ = true;
}

template <class R>
void Records<R>::rearrange() const {
    if (std::is_sorted(ranks_.begin(), ranks_.end())) return close_gaps();
    std::vector<std::uint32_t> order;
    order.reserve(size());
    for (std::uint32_t place = 0; place < items_.size(); ++place)
        if (directory_.find(items_[place].id) == place) order.push_back(place);
    sort_by(order, [&](std::uint32_t a, std::uint32_t b) { return ranks_[a] < ranks_[b]; });
    std::vector<R> items;
    std::vector<MadeRank> ranks;
    std::vector<Id> ids;
    items.reserve(order.size());
    ranks.reserve(order.size());
    ids.reserve(order.size());
    for (const std::uint32_t place : order) {
        ids.push_back(items_[place].id);
        ranks.push_back(ranks_[place]);
        items.push_back(std::move(items_[place]));
    }
    items_ = std::move(items);
    ranks_ = std::move(ranks);
    directory_.assign(std::move(ids));
    gone_.clear();
    settled_ = true;
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
    return with_record_type(kind, [&]<class R>() { return records<R>().has(id); });
}

std::size_t Job::count(Kind kind) const {
    return with_record_type(kind, [&]<class R>() { return records<R>().size(); });
}

const MadeRank& Job::rank(Kind kind, const Id& id) const {
    return with_record_type(kind,
                            [&]<class R>() -> const MadeRank& { return std::get<Records<R>>(records_).rank(id); });
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

std::string what_it_does(InterfaceKind kind) {
    switch (kind) {
        case InterfaceKind::fire_mute:
            return "Music muted by the fire alarm";
        case InterfaceKind::paging:
            return "Paging";
        case InterfaceKind::bells:
            return "Bells";
        case InterfaceKind::override_24v:
            return "Wall controls overridden by announcements (24 V)";
        case InterfaceKind::background:
            return "Background music";
    }
    return "";
}

std::string name_of(const Job& job, const Id& id) {
    const std::optional<Kind> kind = job.kind_of(id);
    if (!kind) return id.text();
    if (const Interface* link = job.find<Interface>(id); link && link->kind) return what_it_does(*link->kind);
    for (const std::string_view key : {"name", "label"})
        if (const FieldInfo* field = find_field(*kind, key))
            if (const Value value = job.get(*kind, id, *field); value.text() && !is_blank(*value.text()))
                return *value.text();
    return id.text();
}

std::string name_of(const Job& job, const std::optional<Id>& id) {
    return id ? name_of(job, *id) : std::string("unknown");
}

bool is_fitted(const Point& point) {
    if (point.state) return *point.state == PointState::fitted || *point.state == PointState::tested;
    return point.tap_w || point.knob_db || point.override_tested || point.heard || point.origin == Origin::existing;
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
