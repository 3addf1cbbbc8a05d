#include "core/job/relations.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"

namespace tapwright {
namespace {

std::string kinds_in_words(KindSet kinds) {
    std::string text;
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kinds.has(kind_at(i))) text += (text.empty() ? "" : " or ") + std::string(singular(kind_at(i)));
    return text;
}

template <class R>
void check_record(const Job& job, const R& record, std::vector<BrokenRelation>& found) {
    for (const FieldOf<R>& field : field_table<R>()) {
        if (field.info.rule.is_required && field.get(record).is_null())
            found.push_back({Breach::missing_field, R::kind_of, record.id, field.info.name, ""});
        if (field.info.rule.may_refer_to.empty()) continue;
        field.references(record, [&](const Id& id) {
            bool exists = false;
            for (std::size_t i = 0; i < kind_count; ++i) {
                if (!job.has(kind_at(i), id)) continue;
                if (field.info.rule.may_refer_to.has(kind_at(i))) return;
                exists = true;
            }
            found.push_back(
                {exists ? Breach::wrong_kind : Breach::dangling, R::kind_of, record.id, field.info.name, id.text()});
        });
    }
}

// A point's type must fit its kind, and its taps its type.
void check_taps(const Job& job, const Point& point, std::vector<BrokenRelation>& found) {
    if (!point.type) return;
    const SpeakerType* type = job.find<SpeakerType>(*point.type);
    if (point.kind == PointKind::attenuator
            ? type != nullptr
            : point.kind != PointKind::speaker || (job.find<AttenuatorType>(*point.type) && !type)) {
        found.push_back({Breach::wrong_kind, Kind::point, point.id, "type", point.type->text()});
        return;
    }
    if (!type || !type->taps_w) return;
    if (point.tap_w && !offers_tap(*type, *point.tap_w))
        found.push_back({Breach::tap_not_offered, Kind::point, point.id, "tap_w", rounded(point.tap_w->value(), 4)});
    if (point.planned_tap_w && !offers_tap(*type, *point.planned_tap_w))
        found.push_back({Breach::tap_not_offered, Kind::point, point.id, "planned_tap_w",
                         rounded(point.planned_tap_w->value(), 4)});
}

// Points that sit on a loop of fed_from. Each point is walked over at most twice.
void check_loops(const Job& job, std::vector<BrokenRelation>& found) {
    const auto points = job.all<Point>();
    std::vector<std::uint32_t> seen(points.size(), 0);  // 0 not yet, else the walk that came by
    std::uint32_t walk = 0;
    for (std::uint32_t start = 0; start < points.size(); ++start) {
        ++walk;
        std::optional<std::uint32_t> at = start;
        while (at && seen[*at] == 0) {
            seen[*at] = walk;
            const auto& feed = points[*at].fed_from;
            at = feed && !job.find<Zone>(*feed) ? job.place<Point>(*feed) : std::nullopt;
        }
        if (!at || seen[*at] != walk) continue;
        // The walk met itself: everything from here round is on the loop. One breach names it.
        found.push_back({Breach::feed_loop, Kind::point, points[*at].id, "fed_from", points[*at].fed_from->text()});
    }
}

void check_shared_ids(const Job& job, std::vector<BrokenRelation>& found) {
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            for (const R& record : job.all<R>())
                for (std::size_t other = 0; other < i; ++other)
                    if (job.has(kind_at(other), record.id))
                        found.push_back(
                            {Breach::shared_id, kind_at(i), record.id, "", std::string(singular(kind_at(other)))});
        });
}

}  // namespace

bool offers_tap(const SpeakerType& type, Watts tap) {
    constexpr double most = 0.01 + 1e-9;  // 1 % itself is within, though 5.05 / 5 - 1 comes out a little above it
    if (!type.taps_w) return true;
    return std::any_of(type.taps_w->begin(), type.taps_w->end(),
                       [&](Watts offered) { return std::abs(tap / offered - 1) <= most; });
}

std::vector<BrokenRelation> broken_relations(const Job& job) {
    std::vector<BrokenRelation> found;
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            for (const R& record : job.all<R>()) check_record(job, record, found);
        });
    for (const Point& point : job.all<Point>()) check_taps(job, point, found);
    check_loops(job, found);
    check_shared_ids(job, found);
    return found;
}

std::string sentence(const Job& job, const BrokenRelation& broken) {
    const FieldInfo* field = find_field(broken.kind, broken.field);
    switch (broken.breach) {
        case Breach::missing_field:
            return "is missing; it must be " + expected_form(*field);
        case Breach::dangling:
            return "refers to " + broken.detail + ", but there is no such record; name the id of a " +
                   (field->rule.may_refer_to.is_any() ? "record of this job"
                                                      : kinds_in_words(field->rule.may_refer_to));
        case Breach::wrong_kind: {
            const std::optional<Kind> kind = job.kind_of(Id(broken.detail));
            const Point* point = job.find<Point>(broken.id);
            const bool of_type = broken.kind == Kind::point && broken.field == "type" && point;
            const std::string wanted = !of_type                               ? kinds_in_words(field->rule.may_refer_to)
                                       : point->kind == PointKind::attenuator ? "attenuator_type"
                                       : point->kind == PointKind::speaker    ? "speaker_type"
                                                                              : "";
            if (wanted.empty()) return "names a type, but only a loudspeaker or an attenuator has one; leave it out";
            return "refers to " + broken.detail + ", which is a " + std::string(kind ? singular(*kind) : "record") +
                   "; it must name a " + wanted;
        }
        case Breach::feed_loop:
            return "makes the feed run in a circle through " + broken.detail +
                   "; a point is fed from its zone or from a point nearer to the amplifier, and a ring's second end "
                   "goes in ring_to";
        case Breach::tap_not_offered: {
            const Point* point = job.find<Point>(broken.id);
            const SpeakerType* type = point ? job.find<SpeakerType>(point->type) : nullptr;
            std::vector<std::string> taps;
            if (type && type->taps_w)
                for (const Watts tap : *type->taps_w) taps.push_back(rounded(tap.value(), 4));
            return "is " + broken.detail + " W, a tap that the type " + (type ? name_of(job, type->id) : "") +
                   " does not have; its taps are " + list_in_words(taps) + " W";
        }
        case Breach::shared_id:
            return "is the id of a " + broken.detail + " and of a " + std::string(singular(broken.kind)) +
                   "; ids are unique over all kinds, so give one another";
    }
    return "";
}

std::vector<Referrer> referrers(const Job& job, const Id& id) {
    std::vector<Referrer> found;
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            for (const R& record : job.all<R>())
                for (const FieldOf<R>& field : field_table<R>())
                    field.references(record, [&](const Id& named) {
                        if (named == id) found.push_back({kind_at(i), record.id, field.info.name});
                    });
        });
    return found;
}

}  // namespace tapwright
