#include "core/plan/trial.h"

#include <algorithm>
#include <limits>
#include <unordered_map>
#include <unordered_set>

#include "core/job/field_codec.h"

namespace tapwright {
namespace {

// ---- changes ----

class Refeed {
public:
    Refeed(const Job& job, const ChangeList& wished) : job_(job) {
        for (const Change& change : wished) {
            if (change.kind != Kind::point) continue;
            if (change.op == ChangeOp::remove) gone_.insert(change.id.text());
            const bool feeds = std::any_of(change.fields.begin(), change.fields.end(),
                                           [](const auto& field) { return field.first == "fed_from"; });
            if (change.op == ChangeOp::set && feeds) set_.insert(change.id.text());
        }
    }

    // What hangs on a point that goes, fed from the first before it that stays.
    ChangeList changes() const {
        ChangeList made;
        if (gone_.empty()) return made;
        for (const Point& point : job_.all<Point>())
            if (point.fed_from && gone_.contains(point.fed_from->text()) && !gone_.contains(point.id.text()) &&
                !set_.contains(point.id.text()))
                made.push_back({ChangeOp::set, Kind::point, point.id, fields_for(point)});
        return made;
    }

private:
    Map fields_for(const Point& point) const {
        const Point* feed = job_.find<Point>(*point.fed_from);
        std::optional<Id> from;
        std::optional<FeedSide> side;
        std::optional<Metres> length = point.length_m;
        // A circle of feeds ends after as many steps as there are points that go.
        for (std::size_t steps = 0; feed && steps <= gone_.size(); ++steps) {
            from = feed->fed_from;
            side = feed->feed_side;
            length = length && feed->length_m && feed->cable == point.cable ? std::optional(*length + *feed->length_m)
                                                                            : std::nullopt;
            feed = from && gone_.contains(from->text()) ? job_.find<Point>(*from) : nullptr;
        }
        Map fields{{"fed_from", from ? Value(from->text()) : Value()},
                   {"feed_side", side ? Value(std::string(word(*side))) : Value()}};
        if (length) fields.emplace_back("length_m", length->value());
        return fields;
    }

    const Job& job_;
    std::unordered_set<std::string> gone_;
    std::unordered_set<std::string> set_;
};

// ---- side by side ----

// Every record of a kind in `after`, with its place in `before`; then those that are only in `before`. Mostly the next
// one is the next one in both, whatever came in or went before it.
template <class R, class Visit>
void side_by_side(const Job& before, const Job& after, Visit&& visit) {
    const auto then = before.all<R>();
    const auto now = after.all<R>();
    std::vector<char> stays(then.size());
    std::uint32_t next = 0;
    for (std::uint32_t i = 0; i < now.size(); ++i) {
        std::optional<std::uint32_t> was = next;
        if (next >= then.size() || then[next].id != now[i].id) was = before.place<R>(now[i].id);
        if (was) {
            stays[*was] = 1;
            next = *was + 1;
        }
        visit(now[i].id, was, std::optional(i));
    }
    for (std::uint32_t i = 0; i < then.size(); ++i)
        if (!stays[i]) visit(then[i].id, std::optional(i), std::optional<std::uint32_t>());
}

using Place = std::optional<std::uint32_t>;

// `read_then` and `read_now`: what is to be read at a place.
template <class R, class State, class ReadThen, class ReadNow>
void compare_loads(const Job& before, const std::vector<State>& then, const Job& after, const std::vector<State>& now,
                   const ReadThen& read_then, const ReadNow& read_now, std::vector<LoadPair>& pairs) {
    side_by_side<R>(before, after, [&](const Id& id, Place a, Place b) {
        LoadPair pair;
        pair.kind = R::kind_of;
        pair.id = id;
        if (a) pair.before = then[*a].margin;
        if (b) pair.after = now[*b].margin;
        if constexpr (requires { then[0].can_add; }) {
            if (a) pair.can_add_before = then[*a].can_add;
            if (b) pair.can_add_after = now[*b].can_add;
        }
        if constexpr (requires { then[0].ohms; }) {
            if (a) pair.ohms_before = then[*a].ohms;
            if (b) pair.ohms_after = now[*b].ohms;
            if (a) pair.read_before = read_then(*a).connected;
            if (b) pair.read_after = read_now(*b).connected;
            if (b) pair.read_all_after = read_now(*b).all;
        }
        pairs.push_back(std::move(pair));
    });
}

void compare_points(const Job& before, const Derived& then, const Job& after, const Derived& now, Comparison& made) {
    side_by_side<Point>(before, after, [&](const Id& id, Place a, Place b) {
        const Point& point = b ? after.all<Point>()[*b] : before.all<Point>()[*a];
        const PointOnLine* was = a ? &then.points[*a] : nullptr;
        const PointOnLine* is = b ? &now.points[*b] : nullptr;
        if (point.kind == PointKind::attenuator) {
            AttenuatorPair pair{id, {}, {}, {}, {}};
            if (was) pair.behind_before = was->behind, pair.rating_before = was->rating;
            if (is) pair.behind_after = is->behind, pair.rating_after = is->rating;
            made.attenuators.push_back(std::move(pair));
        }
        if (point.kind != PointKind::speaker) return;
        SpeakerPair pair{id, {}, {}, {}, {}, {}};
        if (was) pair.drawn_before = was->drawn, pair.ohms_before = was->ohms;
        if (is) pair.drawn_after = is->drawn, pair.ohms_after = is->ohms;
        if (was && is && was->watts == is->watts)
            pair.change = Decibels(0);
        else if (was && is && was->watts > Watts(0) && is->watts > Watts(0))
            pair.change = decibels_of_power(is->watts / was->watts);
        made.speakers.push_back(std::move(pair));
    });
}

// Findings are the same when code and record are: their detail may be a place in a list, which moves.
struct SameFinding {
    bool operator()(const Finding* a, const Finding* b) const { return a->at == b->at && a->code == b->code; }
    std::size_t operator()(const Finding* finding) const {
        return static_cast<std::size_t>(finding->at.hash()) ^ (std::hash<std::string_view>()(finding->code) << 1);
    }
};

// Those of `these` that `others` have not, counted. Mostly nearly all of them are the same, in the same order.
void add_surplus(const std::vector<Finding>& these, const std::vector<Finding>& others, Fate fate,
                 std::vector<FindingPair>& pairs) {
    const SameFinding same;
    std::size_t first = 0;
    while (first < these.size() && first < others.size() && same(&these[first], &others[first])) ++first;
    std::unordered_map<const Finding*, int, SameFinding, SameFinding> known;
    known.reserve(others.size() - first);
    for (std::size_t i = first; i < others.size(); ++i) ++known[&others[i]];
    for (std::size_t i = first; i < these.size(); ++i) {
        const auto found = known.find(&these[i]);
        if (found == known.end() || --found->second < 0) pairs.push_back({fate, these[i]});
    }
}

}  // namespace

ChangeList trial_changes(const Job& job, const ChangeList& wished) {
    ChangeList changes = Refeed(job, wished).changes();
    changes.insert(changes.begin(), wished.begin(), wished.end());
    // What goes, goes last: by then nothing hangs on it.
    std::stable_partition(changes.begin(), changes.end(),
                          [](const Change& change) { return change.op != ChangeOp::remove; });
    return changes;
}

namespace {

using Field = std::pair<std::string, Value>;

// The tap that a change sets on a loudspeaker that hangs there; null: it sets none.
const Field* tap_set(const Job& job, const Change& change) {
    if (change.op != ChangeOp::set || change.kind != Kind::point) return nullptr;
    const Point* point = job.find<Point>(change.id);
    if (!point || point->kind != PointKind::speaker || !is_fitted(*point)) return nullptr;
    const auto at = std::find_if(change.fields.begin(), change.fields.end(),
                                 [](const auto& field) { return field.first == "tap_w"; });
    return at != change.fields.end() && !at->second.is_null() ? &*at : nullptr;
}

// So that tap and plan agree, or the plan says what is still to be set.
void settle_plan(const Job& job, Change& change, MadeReal how) {
    const Field* tap = tap_set(job, change);
    if (!tap) return;
    const Value watts = tap->second;
    const bool has_plan = job.find<Point>(change.id)->planned_tap_w.has_value();
    std::erase_if(change.fields, [&](const auto& field) {
        return (how == MadeReal::as_planned && field.first == "tap_w") || field.first == "planned_tap_w";
    });
    if (how == MadeReal::as_planned || has_plan) change.fields.emplace_back("planned_tap_w", watts);
}

}  // namespace

std::size_t taps_to_set(const Job& job, const ChangeList& changes) {
    std::unordered_set<std::string> points;
    for (const Change& change : changes)
        if (tap_set(job, change)) points.insert(change.id.text());
    return points.size();
}

ChangeList made_real(const Job& job, const ChangeList& wished, MadeReal how) {
    ChangeList changes = trial_changes(job, wished);
    for (Change& change : changes) settle_plan(job, change, how);
    return changes;
}

namespace {

Id next_free(const Id& id, const std::function<bool(const Id&)>& was_used) {
    constexpr std::size_t most_characters = 40;
    for (std::size_t number = 2;; ++number) {
        const std::string tail = "-" + std::to_string(number);
        Id next(id.text().substr(0, most_characters - tail.size()) + tail);
        if (!was_used(next)) return next;
    }
}

void rename(Value& value, const std::unordered_map<std::string, Id>& names) {
    if (!value.text()) return;
    if (const auto found = names.find(*value.text()); found != names.end()) value = Value(found->second.text());
}
void rename(Kind kind, Map& fields, const std::unordered_map<std::string, Id>& names) {
    for (auto& [key, value] : fields) {
        const FieldInfo* field = find_field(kind, key);
        if (!field || (field->form != FieldForm::id && field->form != FieldForm::id_list)) continue;
        rename(value, names);
        if (List* list = value.list())
            for (Value& each : *list) rename(each, names);
    }
}

}  // namespace

ChangeList with_free_ids(const Job& job, ChangeList changes, const std::function<bool(const Id&)>& was_used) {
    std::unordered_map<std::string, Id> names;
    for (const Change& change : changes)
        if (change.op == ChangeOp::add && change.id != Id() && !job.kind_of(change.id) && was_used(change.id))
            names.emplace(change.id.text(), next_free(change.id, was_used));
    if (names.empty()) return changes;
    for (Change& change : changes) {
        if (const auto found = names.find(change.id.text()); found != names.end()) change.id = found->second;
        rename(change.kind, change.fields, names);
    }
    return changes;
}

Change trial_record(const std::string& name, const ChangeList& changes) {
    return {ChangeOp::add, Kind::trial, {}, {{"name", name}, {"changes", codec::Codec<ChangeList>::write(changes)}}};
}

Result<ChangeList> make_real(const Job& job, const Id& id, MadeReal how) {
    const Trial* trial = job.find<Trial>(id);
    if (!trial) return Refusal{Message("There is no trial with the id {id} in this job.", {{"id", code(id.text())}})};
    ChangeList changes = made_real(job, trial->changes.value_or(ChangeList()), how);
    changes.push_back({ChangeOp::remove, Kind::trial, id, {}});
    return changes;
}

namespace {

double siemens_of(Ohms expected, const ZoneState& zone) {
    return 1 / expected.value() + zone.margin.unrecorded.value() / (zone.line_v.value() * zone.line_v.value());
}
Ohms ohms_of(double siemens) {
    return siemens > 0 ? Ohms(1 / siemens) : Ohms(std::numeric_limits<double>::infinity());
}

}  // namespace

ToBeRead to_be_read(const ZoneState& zone) {
    return {ohms_of(siemens_of(zone.ohms, zone)), ohms_of(siemens_of(zone.ohms_all, zone))};
}

std::vector<ToBeRead> to_be_read_at_channels(const Figures& figures) {
    std::vector<std::pair<double, double>> sums(figures.channels.size());
    for (const ZoneState& zone : figures.zones) {
        if (!zone.channel) continue;
        sums[*zone.channel].first += siemens_of(zone.ohms, zone);
        sums[*zone.channel].second += siemens_of(zone.ohms_all, zone);
    }
    std::vector<ToBeRead> channels;
    channels.reserve(sums.size());
    for (const auto& [connected, all] : sums) channels.push_back({ohms_of(connected), ohms_of(all)});
    return channels;
}

Comparison compare(const Job& before, const Derived& then, const Job& after, const Derived& now) {
    Comparison made;
    const auto at_zone = [](const Derived& derived) {
        return [&derived](std::uint32_t place) { return to_be_read(derived.zones[place]); };
    };
    const auto at_channel = [](const Derived& derived) {
        const std::vector<ToBeRead> all = to_be_read_at_channels(derived);
        return [all](std::uint32_t place) { return all[place]; };
    };
    const auto nowhere_read = [](std::uint32_t) { return ToBeRead(); };
    compare_loads<Zone>(before, then.zones, after, now.zones, at_zone(then), at_zone(now), made.loads);
    compare_loads<Channel>(before, then.channels, after, now.channels, at_channel(then), at_channel(now), made.loads);
    compare_loads<Amplifier>(before, then.amplifiers, after, now.amplifiers, nowhere_read, nowhere_read, made.loads);
    made.speakers.reserve(now.points.size());
    compare_points(before, then, after, now, made);
    add_surplus(now.findings, then.findings, Fate::appears, made.findings);
    add_surplus(then.findings, now.findings, Fate::vanishes, made.findings);
    return made;
}

}  // namespace tapwright
