#include "core/session/account_facts.h"

#include <algorithm>
#include <unordered_set>

#include "core/calc/wiring.h"
#include "core/readings/assessment.h"

namespace tapwright {
namespace {

// Whether a change can move what a line draws or is expected to.
bool is_about_figures(const Change& change) {
    return change.kind == Kind::job || change.kind == Kind::channel || change.kind == Kind::zone ||
           change.kind == Kind::speaker_type || change.kind == Kind::attenuator_type ||
           change.kind == Kind::cable_type || change.kind == Kind::point;
}

class Accounts {
public:
    Accounts(const Job& before, const Judged& judged, const Job& after, const ChangeList& changes)
        : before_(before), judged_(judged), after_(after), then_(wire(before)), now_(wire(after)) {
        for (const Change& change : changes) touch(change);
    }

    std::vector<AccountFact> facts() {
        pin_expected();
        const auto points = after_.all<Point>();
        for (std::uint32_t place = 0; place < points.size(); ++place) {
            find(points[place], now_.points[place]);
            tell_apart(points[place], now_.points[place]);
        }
        return std::move(facts_);
    }

private:
    void touch(const Change& change) {
        if (change.kind == Kind::reading) named_.insert(change.id.text());
        if (change.kind != Kind::point) {
            all_ |= is_about_figures(change);
            return;
        }
        if (const auto place = before_.place<Point>(change.id)) touch_zone(before_, then_.points[*place].zone);
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
                              std::min(*judgement.expected_known, open_line_ohms).value()});
        }
    }

    void find(const Point& point, const WiredPoint& now) {
        if (!counts(now) || now.draw.watts <= 0) return;
        const Id& zone = after_.all<Zone>()[now.zone].id;
        const auto old_zone = before_.place<Zone>(zone);
        if (!old_zone || !judged_.zones[*old_zone].reading) return;
        const Reading& reading = before_.all<Reading>()[*judged_.zones[*old_zone].reading];
        if (!after_.has(Kind::reading, reading.id) || is_found_here(point, zone)) return;
        const auto old = before_.place<Point>(point.id);
        const WiredPoint* then = old && then_.points[*old].zone == *old_zone ? &then_.points[*old] : nullptr;
        if (then && counts(*then)) return;
        const bool came_after = point.found_by == reading.id;
        const bool was_seen = then && then->connected && !then->draw.known && !came_after &&
                              before_.rank<Point>(*old) < before_.rank<Reading>(*judged_.zones[*old_zone].reading);
        if (point.origin != Origin::existing && !was_seen) return;
        facts_.push_back({Kind::point, point.id, "found_w", now.draw.watts});
        facts_.push_back({Kind::point, point.id, "found_by", reading.id.text()});
    }

    // A loudspeaker that comes new and without a tap was no part of what the last valid reading showed: that stands in
    // the record as 0 W found by it, because a file does not say what was made after what.
    void tell_apart(const Point& point, const WiredPoint& now) {
        if (!now.connected || now.draw.known || point.origin == Origin::existing) return;
        const Id& zone = after_.all<Zone>()[now.zone].id;
        const auto old_zone = before_.place<Zone>(zone);
        if (!old_zone || !judged_.zones[*old_zone].valid_reading) return;
        const Reading& reading = before_.all<Reading>()[*judged_.zones[*old_zone].valid_reading];
        if (!after_.has(Kind::reading, reading.id) || point.found_by == reading.id) return;
        const auto old = before_.place<Point>(point.id);
        if (old && then_.points[*old].connected && then_.points[*old].zone == *old_zone) return;
        facts_.push_back({Kind::point, point.id, "found_w", 0.0});
        facts_.push_back({Kind::point, point.id, "found_by", reading.id.text()});
    }

    static bool counts(const WiredPoint& point) { return point.connected && point.draw.known; }

    // Written once; anew only where it was found by a reading of another zone.
    bool is_found_here(const Point& point, const Id& zone) const {
        if (!point.found_by || !(point.found_w.value_or(Watts(0)) > Watts(0))) return false;
        const Reading* by = after_.find<Reading>(*point.found_by);
        return by && by->at == zone;
    }

    const Job& before_;
    const Judged& judged_;
    const Job& after_;
    const Wiring then_;
    const Wiring now_;
    std::unordered_set<std::string> zones_;
    std::unordered_set<std::string> named_;
    bool all_ = false;
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
