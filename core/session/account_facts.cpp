#include "core/session/account_facts.h"

#include <algorithm>
#include <unordered_set>

#include "core/calc/wiring.h"
#include "core/readings/assessment.h"
#include "core/readings/order.h"

namespace tapwright {
namespace {

// What found_w holds at most (core/job/fields.def).
constexpr double most_found_watts = 1e9;

// Whether a change can move what a line draws or is expected to.
bool is_about_figures(const Change& change) {
    return change.kind == Kind::job || change.kind == Kind::channel || change.kind == Kind::zone ||
           change.kind == Kind::speaker_type || change.kind == Kind::attenuator_type ||
           change.kind == Kind::cable_type || change.kind == Kind::point;
}

class Accounts {
public:
    Accounts(const Job& before, const Judged& judged, const Job& after, const ChangeList& changes)
        : before_(before), judged_(judged), after_(after), now_(wire(after)) {
        for (const Zone& zone : after.all<Zone>()) old_zones_.push_back(before.place<Zone>(zone.id));
        for (const Change& change : changes) touch(change);
    }

    std::vector<AccountFact> facts() {
        pin_expected();
        const auto count = static_cast<std::uint32_t>(now_.points.size());
        for (std::uint32_t place = 0; place < count; ++place) look_at(place);
        return std::move(facts_);
    }

private:
    void touch(const Change& change) {
        if (change.kind == Kind::reading) named_.insert(change.id.text());
        if (change.kind != Kind::point) {
            all_ |= is_about_figures(change);
            return;
        }
        if (const auto place = before_.place<Point>(change.id)) touch_zone(before_, judged_.points[*place].zone);
        if (const auto place = after_.place<Point>(change.id)) touch_zone(after_, now_.points[*place].zone);
        // Without an id of its own yet: some point that is only in `after`.
        if (change.id.text().empty()) all_ = true;
    }
    void touch_zone(const Job& job, std::uint32_t zone) {
        if (zone != nowhere) zones_.insert(job.all<Zone>()[zone].id.text());
    }
    bool is_touched(const Id& zone) const { return all_ || zones_.contains(zone.text()); }

    void pin_expected() {
        const auto readings = before_.all<Reading>();
        for (std::uint32_t place = 0; place < readings.size(); ++place) {
            const Reading& reading = readings[place];
            const Judgement& judgement = judged_.readings[place];
            if (reading.expected_ohm || !judgement.expected_known || !before_.has(Kind::zone, *reading.at)) continue;
            if (!is_touched(*reading.at) || named_.contains(reading.id.text()) ||
                !after_.has(Kind::reading, reading.id))
                continue;
            facts_.push_back({Kind::reading, reading.id, "expected_ohm",
                              std::clamp(*judgement.expected_known, least_expected_ohms, open_line_ohms).value()});
        }
    }

    // The reading a zone's account rests on, or its latest valid one, where the change leaves it there; null: none.
    const Reading* kept(std::optional<std::uint32_t> reading) const {
        if (!reading) return nullptr;
        const Reading& record = before_.all<Reading>()[*reading];
        return after_.has(Kind::reading, record.id) ? &record : nullptr;
    }

    // Whether the reading of that name was taken before the one at `other`; one that is gone was.
    bool is_taken_before(const Id& name, std::uint32_t other) {
        const auto place = before_.place<Reading>(name);
        if (!place) return true;
        if (turns_.empty()) {
            const std::vector<std::uint32_t> order = in_order_taken(before_);
            turns_.resize(order.size());
            for (std::uint32_t turn = 0; turn < order.size(); ++turn) turns_[order[turn]] = turn;
        }
        return turns_[*place] < turns_[other];
    }

    // Mostly a point is where it was in the list.
    std::optional<std::uint32_t> place_before(const Point& point, std::uint32_t place) const {
        const auto points = before_.all<Point>();
        if (place < points.size() && points[place].id == point.id) return place;
        return before_.place<Point>(point.id);
    }

    void look_at(std::uint32_t place) {
        const WiredPoint& now = now_.points[place];
        if (!now.connected || !old_zones_[now.zone]) return;
        const std::uint32_t zone = *old_zones_[now.zone];
        if (!judged_.zones[zone].latest_reading) return;
        const Point& point = after_.all<Point>()[place];
        const std::optional<std::uint32_t> old = place_before(point, place);
        const bool was_on = old && judged_.points[*old].connected && judged_.points[*old].zone == zone;
        const bool was_known = was_on && judged_.points[*old].drawn;
        if (now.draw.known && !was_known)
            find(point, now, judged_.zones[zone], was_on ? old : std::nullopt);
        else if (!now.draw.known && !was_on)
            tell_apart(point, judged_.zones[zone]);
    }

    // `unknown`: its place before, where it was on this line with a tap that nobody knew.
    void find(const Point& point, const WiredPoint& now, const ZoneState& zone, std::optional<std::uint32_t> unknown) {
        const Reading* reading = kept(zone.reading);
        if (!reading || now.draw.watts <= 0 || is_found_here(point, *reading->at)) return;
        const bool came_after = point.found_by && !is_taken_before(*point.found_by, *zone.reading);
        const bool was_seen =
            unknown && !came_after && before_.rank<Point>(*unknown) < before_.rank<Reading>(*zone.reading);
        if (point.origin != Origin::existing && !was_seen) return;
        facts_.push_back({Kind::point, point.id, "found_w", std::min(now.draw.watts, most_found_watts)});
        facts_.push_back({Kind::point, point.id, "found_by", reading->id.text()});
    }

    // A loudspeaker without a tap that comes on the line after readings stands in the record as found by the last of
    // them, because a file does not say what was made after what: none of them was held against a record that had it.
    // One that was there before is inside them, with watts still to be told; of one that is new they showed nothing.
    void tell_apart(const Point& point, const ZoneState& zone) {
        const bool was_there = point.origin == Origin::existing;
        const Reading* reading = kept(zone.latest_reading);
        if (!reading || point.found_by == reading->id) return;
        if (!was_there) facts_.push_back({Kind::point, point.id, "found_w", 0.0});
        facts_.push_back({Kind::point, point.id, "found_by", reading->id.text()});
    }

    // Written once; anew only where it was found by a reading of another zone.
    bool is_found_here(const Point& point, const Id& zone) const {
        if (!point.found_by || !(point.found_w.value_or(Watts(0)) > Watts(0))) return false;
        const Reading* by = after_.find<Reading>(*point.found_by);
        return by && by->at == zone;
    }

    const Job& before_;
    const Judged& judged_;
    const Job& after_;
    const Wiring now_;
    std::vector<std::optional<std::uint32_t>> old_zones_;  // of each zone of `after`: its place in `before`
    std::unordered_set<std::string> zones_;
    std::unordered_set<std::string> named_;
    bool all_ = false;
    std::vector<std::uint32_t> turns_;  // of the readings of `before`, once somebody asks
    std::vector<AccountFact> facts_;
};

}  // namespace

std::vector<AccountFact> account_facts(const Job& before, const Judged& judged, const Job& after,
                                       const ChangeList& changes) {
    const bool any_reading =
        std::any_of(judged.readings.begin(), judged.readings.end(),
                    [](const Judgement& judgement) { return judgement.expected_known.has_value(); });
    if (!any_reading || std::none_of(changes.begin(), changes.end(), is_about_figures)) return {};
    return Accounts(before, judged, after, changes).facts();
}

}  // namespace tapwright
