#include "core/session/visit_changes.h"

#include <map>
#include <set>
#include <unordered_map>

#include "core/base/text.h"
#include "core/job/json.h"

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

// Follows the log from its beginning and keeps what stood before and after the visit.
class Follower {
public:
    Follower(const Job& job, const Id& visit) : visit_(visit.text()) {
        for (const Reading& reading : job.all<Reading>())
            if (reading.visit == visit && reading.quantity == Measured::tap_w && reading.value && reading.at &&
                job.has(Kind::point, *reading.at))
                if (seen_.try_emplace(reading.at->text(), Watts(*reading.value)).second)
                    readings_.insert(reading.id.text());
    }

    void take(const Batch& batch) {
        const bool is_visits = batch.visit == visit_ || (batch.undoes && batches_.contains(*batch.undoes));
        if (is_visits) batches_.insert(batch.address());
        std::set<std::string> ids;
        for (const Op& op : batch.ops) {
            if (op.kind == "reading" && readings_.contains(op.id)) note_readings_ = true;
            if (op.kind != "point") continue;
            Standing& standing = standing_[op.id];
            if (is_visits) touched_.try_emplace(op.id, Touched{standing, {}, touched_.size()});
            if (op.is_existence())
                standing.is_there = !op.is_removal();
            else if (op.value == "null")
                standing.fields.erase(op.field);
            else
                standing.fields[op.field] = op.value;
            if (is_visits) ids.insert(op.id);
        }
        for (const std::string& id : ids) touched_.at(id).left = standing_.at(id);
        if (std::exchange(note_readings_, false)) note_read_points();
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
    // A tap that was only looked at: the record as it stood then, unless the visit changes it later.
    void note_read_points() {
        for (const auto& [id, watts] : seen_)
            if (const auto standing = standing_.find(id); standing != standing_.end())
                touched_.try_emplace(id, Touched{standing->second, standing->second, touched_.size()});
    }

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
    std::unordered_map<std::string, Standing> standing_;
    std::unordered_map<std::string, Touched> touched_;
    bool note_readings_ = false;
};

}  // namespace

Result<std::vector<VisitPoint>> visit_changes(const Session& session, const Id& visit) {
    if (!session.job().has(Kind::visit, visit))
        return Refusal{"There is no visit with the id " + visit.text() + " in this job."};
    Follower follower(session.job(), visit);
    const Result<void> read = session.for_each_batch([&](const Batch& batch) -> Result<void> {
        follower.take(batch);
        return done();
    });
    if (!read) return read.refusal();
    return follower.points();
}

}  // namespace tapwright
