#include "core/session/visit_changes.h"

#include <map>
#include <set>
#include <unordered_map>

#include "core/job/json.h"
#include "core/session/told.h"
#include "core/units/unit.h"

namespace tapwright {
namespace {

using Texts = std::map<std::string, std::string, std::less<>>;  // JSON text of each field that has a value

struct Standing {
    bool is_there = false;
    Texts fields;
};

struct Touched {
    Standing found;
    Standing left;
    std::size_t order = 0;
};

Value value_in(const Standing& standing, std::string_view field) {
    if (!standing.is_there) return {};
    const auto at = standing.fields.find(field);
    if (at == standing.fields.end()) return {};
    const Result<Value> value = parse_json(at->second, "the value");
    return value ? *value : Value();
}

std::optional<Watts> tap_in(const Standing& standing) {
    const Value value = value_in(standing, "tap_w");
    return value.number() ? std::optional(Watts(*value.number())) : std::nullopt;
}

// One visit, while the log goes by.
class VisitLook {
public:
    VisitLook(const Job& job, const Id& visit) : visit_(visit.text()) {
        for (const Reading& reading : job.all<Reading>())
            if (reading.visit == visit && reading.quantity == Measured::tap_w && reading.value && reading.at &&
                job.has(Kind::point, *reading.at))
                if (seen_.try_emplace(reading.at->text(), Watts(*reading.value)).second)
                    readings_.insert(reading.id.text());
    }

    // Whether the batch was made during the visit, or takes back one that was.
    bool owns(const Batch& batch) {
        const bool is_visits = batch.visit == visit_ || (batch.undoes && batches_.contains(*batch.undoes));
        if (is_visits) batches_.insert(batch.address());
        return is_visits;
    }
    bool awaits(const Op& op) const { return op.kind == "reading" && readings_.contains(op.id); }
    void note_found(const std::string& id, const Standing& standing) {
        touched_.try_emplace(id, Touched{standing, {}, touched_.size()});
    }
    void note_left(const std::string& id, const Standing& standing) { touched_.at(id).left = standing; }
    // A tap that was only looked at: the record as it stood then, unless the visit changes it later.
    void note_read_points(const std::unordered_map<std::string, Standing>& all) {
        for (const auto& [id, watts] : seen_)
            if (const auto standing = all.find(id); standing != all.end())
                touched_.try_emplace(id, Touched{standing->second, standing->second, touched_.size()});
    }

    std::vector<VisitPoint> points() const {
        std::vector<const std::pair<const std::string, Touched>*> ordered(touched_.size());
        for (const auto& entry : touched_) ordered[entry.second.order] = &entry;
        std::vector<VisitPoint> made;
        for (const auto* entry : ordered) {
            VisitPoint point = point_of(entry->first, entry->second);
            const bool differs =
                point.is_new != point.is_gone || point.tap_found != point.tap_left || !point.fields.empty();
            if (differs || point.tap_was_read) made.push_back(std::move(point));
        }
        return made;
    }

private:
    VisitPoint point_of(const std::string& id, const Touched& touched) const {
        VisitPoint point;
        point.point = Id(id);
        point.is_new = !touched.found.is_there && touched.left.is_there;
        point.is_gone = touched.found.is_there && !touched.left.is_there;
        const Standing& named = touched.left.is_there ? touched.left : touched.found;
        if (const Value label = value_in(named, "label"); label.text()) point.label = *label.text();
        if (const Value kind = value_in(named, "kind"); kind.text())
            for (const PointKind known :
                 {PointKind::speaker, PointKind::attenuator, PointKind::splice, PointKind::other})
                if (word(known) == *kind.text()) point.kind = known;
        point.tap_found = tap_in(touched.found);
        point.tap_left = tap_in(touched.left);
        if (const auto seen = seen_.find(id); seen != seen_.end()) {
            point.tap_found = seen->second;
            point.tap_was_read = true;
        }
        if (!touched.found.is_there || !touched.left.is_there) return point;
        for (const FieldInfo& field : fields(Kind::point)) {
            if (field.name == "tap_w") continue;
            VisitField changed{&field, value_in(touched.found, field.name), value_in(touched.left, field.name)};
            if (!(changed.found == changed.left)) point.fields.push_back(std::move(changed));
        }
        return point;
    }

    std::string visit_;
    std::map<std::string, Watts> seen_;  // taps read during the visit, by point; the first reading counts
    std::set<std::string> readings_;
    std::set<BatchAddress> batches_;
    std::unordered_map<std::string, Touched> touched_;
};

// Follows the log from its beginning, and tells the visits what stands.
class Follower {
public:
    void watch(const Job& job, const Id& visit) { looks_.emplace_back(job, visit); }

    void take(const Batch& batch) {
        std::vector<VisitLook*> owners;
        for (VisitLook& look : looks_)
            if (look.owns(batch)) owners.push_back(&look);
        std::set<std::string> ids;
        std::set<VisitLook*> readers;
        for (const Op& op : batch.ops) {
            if (op.kind == "reading")
                for (VisitLook& look : looks_)
                    if (look.awaits(op)) readers.insert(&look);
            if (op.kind != "point") continue;
            Standing& standing = standing_[op.id];
            for (VisitLook* owner : owners) owner->note_found(op.id, standing);
            if (op.is_existence())
                standing.is_there = !op.is_removal();
            else if (op.value == "null")
                standing.fields.erase(op.field);
            else
                standing.fields[op.field] = op.value;
            if (!owners.empty()) ids.insert(op.id);
        }
        for (VisitLook* owner : owners)
            for (const std::string& id : ids) owner->note_left(id, standing_.at(id));
        for (VisitLook* reader : readers) reader->note_read_points(standing_);
    }

    const std::vector<VisitLook>& looks() const { return looks_; }

private:
    std::vector<VisitLook> looks_;
    std::unordered_map<std::string, Standing> standing_;
};

Result<void> follow(const Session& session, Follower& follower) {
    return session.for_each_batch([&](const Batch& batch) -> Result<void> {
        follower.take(batch);
        return done();
    });
}

Message tap_message(const std::optional<Watts>& watts, bool was_read) {
    if (!watts) return Message("tap not recorded");
    return was_read ? Message("{tap}, as seen", {{"tap", as_argument(*watts)}}) : Message(as_argument(*watts));
}

Message field_message(const FieldInfo& field, const Value& value, const Job& job) {
    if (value.is_null()) return Message("{field}: not recorded", {{"field", title_of(field)}});
    return Message("{field}: {value}", {{"field", title_of(field)}, {"value", told_value(field, value, job)}});
}

Message together(const std::vector<Message>& parts) {
    Message all;
    for (const Message& part : parts)
        all = all.empty() ? part : Message("{before}; {next}", {{"before", all}, {"next", part}});
    return all;
}

}  // namespace

Result<std::vector<VisitPoint>> visit_changes(const Session& session, const Id& visit) {
    if (!session.job().has(Kind::visit, visit))
        return Refusal{Message("This job has no visit {id}.", {{"id", code(visit.text())}})};
    Follower follower;
    follower.watch(session.job(), visit);
    TAPWRIGHT_PASS(follow(session, follower));
    return follower.looks().front().points();
}

Result<std::vector<VisitChanges>> changes_of_visits(const Session& session) {
    const auto visits = session.job().all<Visit>();
    Follower follower;
    for (const Visit& visit : visits) follower.watch(session.job(), visit.id);
    std::vector<VisitChanges> changes;
    if (visits.empty()) return changes;
    TAPWRIGHT_PASS(follow(session, follower));
    for (std::size_t i = 0; i < visits.size(); ++i) changes.push_back({visits[i].id, follower.looks()[i].points()});
    return changes;
}

VisitWords words_of(const Job& job, const VisitPoint& point) {
    std::vector<Message> found;
    std::vector<Message> left;
    const bool tells_tap = point.kind == PointKind::speaker &&
                           (point.tap_found != point.tap_left || point.tap_was_read || point.is_new || point.is_gone);
    if (point.is_new)
        found.push_back(Message("not there"));
    else if (tells_tap)
        found.push_back(tap_message(point.tap_found, point.tap_was_read));
    const Point* now = point.is_new && !point.tap_left ? job.find<Point>(point.point) : nullptr;
    if (point.is_gone)
        left.push_back(Message("removed"));
    else if (tells_tap && now && now->planned_tap_w)
        left.push_back(Message("{tap} planned", {{"tap", *now->planned_tap_w}}));
    else if (tells_tap)
        left.push_back(tap_message(point.tap_left, false));
    else if (point.is_new)
        left.push_back(Message("new"));
    for (const VisitField& field : point.fields) {
        found.push_back(field_message(*field.field, field.found, job));
        left.push_back(field_message(*field.field, field.left, job));
    }
    return {together(found), together(left)};
}

}  // namespace tapwright
