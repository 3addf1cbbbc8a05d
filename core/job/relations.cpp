#include "core/job/relations.h"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <unordered_map>

#include "core/base/text.h"
#include "core/units/unit.h"

namespace tapwright {
namespace {

// "Zone or Point": the titles of the kinds a field may refer to.
Series titles_in_words(KindSet kinds) {
    Series titles{{}, Series::Last::with_or};
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kinds.has(kind_at(i))) titles.items.push_back(title_of(kind_at(i)));
    return titles;
}

// ---- one field at a time, a whole kind in one walk ----
// derive() asks after every change, so nothing here builds a Value or a text unless a relation is broken.

// Whether each field of a kind holds anything, in table order.
template <class R>
struct PresenceOf;
#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) \
    template <>                                                     \
    struct PresenceOf<Type> {                                       \
        using R = Type;                                             \
        static constexpr auto make() {                              \
            return std::array {
#define TAPWRIGHT_FIELD(member, T, rule, title, help) +[](const R& record) { return record.member.has_value(); },
#define TAPWRIGHT_END \
    }                 \
    ;                 \
    }                 \
    }                 \
    ;
#include "core/job/fields.def"

bool is_in_one_of(const Job& job, KindSet kinds, const Id& id) {
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kinds.has(kind_at(i)) && job.has(kind_at(i), id)) return true;
    return false;
}

// One field that can break a relation, while a kind is walked over.
template <class R>
struct Watched {
    const FieldOf<R>* field;
    bool (*is_there)(const R& record);
    const Id* last_sound = nullptr;  // neighbouring records mostly name the same one: the last answer is kept
};

// Walks over the records of one kind.
template <class R>
class KindCheck {
public:
    KindCheck(const Job& job, std::vector<BrokenRelation>& found) : job_(job), found_(found) {
        static constexpr auto presence = PresenceOf<R>::make();
        for (std::size_t i = 0; i < presence.size(); ++i) {
            const FieldOf<R>& field = field_table<R>()[i];
            if (field.info.rule.is_required || !field.info.rule.may_refer_to.empty())
                watched_.push_back({&field, presence[i]});
        }
    }

    void check_all() {
        for (const R& record : job_.all<R>()) {
            record_ = &record;
            for (Watched<R>& watched : watched_) check(watched);
            before_ = &record.id;
        }
    }

private:
    void check(Watched<R>& watched) {
        const Rule& rule = watched.field->info.rule;
        if (!watched.is_there(*record_)) {
            if (rule.is_required) add(Breach::missing_field, *watched.field, "");
            return;
        }
        if (rule.may_refer_to.empty()) return;
        current_ = &watched;
        watched.field->references(*record_, check_reference_);
    }

    void check_reference(const Id& id) {
        const KindSet kinds = current_->field->info.rule.may_refer_to;
        if (current_->last_sound && *current_->last_sound == id) return;
        // A daisy chain mostly names the record before.
        const bool is_before = before_ && kinds.has(R::kind_of) && *before_ == id;
        if (is_before || is_in_one_of(job_, kinds, id))
            current_->last_sound = &id;
        else
            add(job_.kind_of(id) ? Breach::wrong_kind : Breach::dangling, *current_->field, id.text());
    }

    void add(Breach breach, const FieldOf<R>& field, std::string detail) {
        found_.push_back({breach, R::kind_of, record_->id, field.info.name, std::move(detail)});
    }

    const Job& job_;
    std::vector<BrokenRelation>& found_;
    std::vector<Watched<R>> watched_;
    Watched<R>* current_ = nullptr;
    const R* record_ = nullptr;
    const Id* before_ = nullptr;
    const std::function<void(const Id&)> check_reference_ = [this](const Id& id) { check_reference(id); };
};

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

// A reading has a figure, or the meter was over range.
void check_figure(const Reading& reading, std::vector<BrokenRelation>& found) {
    if (reading.value || reading.over_range.value_or(false)) return;
    found.push_back({Breach::missing_field, Kind::reading, reading.id, "value", ""});
}

// The point each point is fed from; nothing where it is a zone, or dangles.
std::vector<std::optional<std::uint32_t>> feeding_points(const Job& job) {
    const auto points = job.all<Point>();
    std::vector<std::optional<std::uint32_t>> feeds(points.size());
    for (std::uint32_t place = 0; place < points.size(); ++place) {
        const auto& feed = points[place].fed_from;
        if (!feed || job.find<Zone>(*feed)) continue;
        const bool is_before = place > 0 && points[place - 1].id == *feed;
        feeds[place] = is_before ? std::optional(place - 1) : job.place<Point>(*feed);
    }
    return feeds;
}

// Points that sit on a loop of fed_from. Each point is walked over once.
void check_loops(const Job& job, std::vector<BrokenRelation>& found) {
    const auto points = job.all<Point>();
    const auto feeds = feeding_points(job);
    std::vector<std::uint32_t> seen(points.size(), 0);  // 0 not yet, else the walk that came by
    std::uint32_t walk = 0;
    for (std::uint32_t start = 0; start < points.size(); ++start) {
        ++walk;
        std::optional<std::uint32_t> at = start;
        while (at && seen[*at] == 0) {
            seen[*at] = walk;
            at = feeds[*at];
        }
        if (!at || seen[*at] != walk) continue;
        // The walk met itself: everything from here round is on the loop. One breach names it.
        found.push_back({Breach::feed_loop, Kind::point, points[*at].id, "fed_from", points[*at].fed_from->text()});
    }
}

std::optional<std::uint32_t> record_place(const Job& job, Kind kind, const Id& id) {
    std::optional<std::uint32_t> place;
    with_record_type(kind, [&]<class R>() {
        if (const auto found = job.place<R>(id)) place = *found;
    });
    return place;
}

// The ids of the smaller of two kinds are looked up in the larger. Returns (record of `kind`) places.
std::vector<std::uint32_t> shared_with(const Job& job, Kind kind, Kind other) {
    const bool walk_over_kind = job.count(kind) <= job.count(other);
    const Kind looked_up = walk_over_kind ? other : kind;
    std::vector<std::uint32_t> places;
    // One kind at a time: code for each pair of kinds would be as large as all of the rest here.
    with_record_type(walk_over_kind ? kind : other, [&]<class Walked>() {
        const auto records = job.all<Walked>();
        for (std::uint32_t place = 0; place < records.size(); ++place)
            if (const auto met = record_place(job, looked_up, records[place].id))
                places.push_back(walk_over_kind ? place : *met);
    });
    return places;
}

void check_shared_ids(const Job& job, std::vector<BrokenRelation>& found) {
    std::vector<std::pair<std::uint32_t, Kind>> shared;  // place, the other kind
    for (std::size_t i = 0; i < kind_count; ++i) {
        shared.clear();
        for (std::size_t other = 0; other < i; ++other)
            for (const std::uint32_t place : shared_with(job, kind_at(i), kind_at(other)))
                shared.emplace_back(place, kind_at(other));
        std::sort(shared.begin(), shared.end());
        with_record_type(kind_at(i), [&]<class R>() {
            for (const auto& [place, other] : shared)
                found.push_back(
                    {Breach::shared_id, kind_at(i), job.all<R>()[place].id, "", std::string(singular(other))});
        });
    }
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
        with_record_type(kind_at(i), [&]<class R>() { KindCheck<R>(job, found).check_all(); });
    for (const Point& point : job.all<Point>()) check_taps(job, point, found);
    for (const Reading& reading : job.all<Reading>()) check_figure(reading, found);
    check_loops(job, found);
    check_shared_ids(job, found);
    return found;
}

namespace {

// What a point's type may be, by the point's kind; nothing where it has none.
std::optional<Kind> type_wanted(const Point& point) {
    if (point.kind == PointKind::attenuator) return Kind::attenuator_type;
    if (point.kind == PointKind::speaker) return Kind::speaker_type;
    return std::nullopt;
}

Message missing(const FieldInfo& field) {
    if (field.form == FieldForm::text)
        return Message("missing. Write 1 to {most} characters.", {{"most", field.rule.most_chars}});
    if (field.form != FieldForm::choice) return Message("missing. Fill it in.");
    Series choices{{}, Series::Last::with_or};
    for (const std::string_view key : field.choices) choices.items.push_back(code(key));
    return Message("missing. Write {choices}.", {{"choices", choices}});
}

Message dangling(const BrokenRelation& broken) {
    const KindSet kinds = find_field(broken.kind, broken.field)->rule.may_refer_to;
    if (kinds.is_any())
        return Message("There is no record with the id {id}. Name a record of this job.",
                       {{"id", code(broken.detail)}});
    return Message("There is no record with the id {id}. Name a record of the kind {kinds}.",
                   {{"id", code(broken.detail)}, {"kinds", titles_in_words(kinds)}});
}

Message wrong_kind(const Job& job, const BrokenRelation& broken) {
    const std::optional<Kind> found = job.kind_of(Id(broken.detail));
    const Point* point = broken.field == "type" ? job.find<Point>(broken.id) : nullptr;
    KindSet wanted = find_field(broken.kind, broken.field)->rule.may_refer_to;
    if (point) {
        const std::optional<Kind> type = type_wanted(*point);
        if (!type) return Message("Only a loudspeaker or an attenuator has a type. Leave it out.");
        wanted = KindSet{*type};
    }
    return Message("{name} is of the kind {kind}. Name a record of the kind {wanted}.",
                   {{"name", entered(name_of(job, Id(broken.detail)))},
                    {"kind", found ? title_of(*found) : Message("unknown")},
                    {"wanted", titles_in_words(wanted)}});
}

Message tap_not_offered(const Job& job, const BrokenRelation& broken) {
    const Point* point = job.find<Point>(broken.id);
    const SpeakerType* type = point ? job.find<SpeakerType>(point->type) : nullptr;
    const std::optional<Watts> tap =
        point ? (broken.field == "tap_w" ? point->tap_w : point->planned_tap_w) : std::nullopt;
    if (!type || !type->taps_w || !tap) return Message("This tap is not one of its type's taps.");
    return Message("{type} has no tap of {tap}. Its taps are {taps}.",
                   {{"type", entered(name_of(job, type->id))}, {"tap", *tap}, {"taps", series(*type->taps_w)}});
}

}  // namespace

Message message_of(const Job& job, const BrokenRelation& broken) {
    switch (broken.breach) {
        case Breach::missing_field:
            return missing(*find_field(broken.kind, broken.field));
        case Breach::dangling:
            return dangling(broken);
        case Breach::wrong_kind:
            return wrong_kind(job, broken);
        case Breach::feed_loop:
            return Message(
                "The feed runs in a circle through {name}. "
                "Feed each point from its zone or from a point nearer to the amplifier.",
                {{"name", entered(name_of(job, Id(broken.detail)))}});
        case Breach::tap_not_offered:
            return tap_not_offered(job, broken);
        case Breach::shared_id:
            return Message("Two records have the id {id}. Every id must be unique; change one.",
                           {{"id", code(broken.id.text())}});
    }
    TAPWRIGHT_ENSURE(!"a breach that is not in the list");
}

Message place_of(const Job& job, const BrokenRelation& broken) {
    const Entered name = entered(name_of(job, broken.id));
    const FieldInfo* field = find_field(broken.kind, broken.field);
    if (!field) return name;
    return Message("{field} of {name}", {{"field", title_of(*field)}, {"name", name}});
}

std::vector<Referrer> referrers(const Job& job, const Id& id) {
    return std::move(referrers(job, std::span(&id, 1)).front());
}

std::vector<std::vector<Referrer>> referrers(const Job& job, std::span<const Id> ids) {
    std::vector<std::vector<Referrer>> found(ids.size());
    std::unordered_multimap<std::string_view, std::size_t> asked;
    for (std::size_t i = 0; i < ids.size(); ++i) asked.emplace(ids[i].text(), i);
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            std::vector<const FieldOf<R>*> referring;
            for (const FieldOf<R>& field : field_table<R>())
                if (!field.info.rule.may_refer_to.empty()) referring.push_back(&field);
            // Every field of every record is asked, so what it calls back with is made once.
            const R* holder = nullptr;
            std::string_view name;
            const std::function<void(const Id&)> meet = [&](const Id& named) {
                if (ids.size() == 1) {  // the usual case, without a hash of each id
                    if (named == ids[0]) found[0].push_back({kind_at(i), holder->id, name});
                    return;
                }
                const auto [first, last] = asked.equal_range(named.text());
                for (auto at = first; at != last; ++at) found[at->second].push_back({kind_at(i), holder->id, name});
            };
            for (const R& record : job.all<R>()) {
                holder = &record;
                for (const FieldOf<R>* field : referring) {
                    name = field->info.name;
                    field->references(record, meet);
                }
            }
        });
    return found;
}

}  // namespace tapwright
