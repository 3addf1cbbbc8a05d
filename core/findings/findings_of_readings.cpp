// Which findings the readings of a job lead to. Only the newest of a quantity at a place speaks.
#include <cmath>
#include <map>
#include <tuple>

#include "core/findings/finding_list.h"
#include "core/readings/assessment.h"
#include "core/readings/order.h"

namespace tapwright {
namespace {

using enum FindingCode;

// The place a reading speaks of, as kind and place.
std::optional<std::pair<Kind, std::uint32_t>> place_of(const Job& job, const Id& at) {
    if (const auto zone = job.place<Zone>(at)) return std::pair(Kind::zone, *zone);
    if (const auto channel = job.place<Channel>(at)) return std::pair(Kind::channel, *channel);
    if (const auto point = job.place<Point>(at)) return std::pair(Kind::point, *point);
    if (const auto room = job.place<Room>(at)) return std::pair(Kind::room, *room);
    return std::nullopt;
}

// Whether a reading of ohms is set aside for how it was taken, and not for what is recorded.
bool is_refused(Unjudged why) {
    return why == Unjudged::amplifier_connected || why == Unjudged::signal_present || why == Unjudged::stray_voltage ||
           why == Unjudged::range_too_small;
}

void find_in_newest(const Judged& judged, Kind kind, std::uint32_t place, std::uint32_t reading, FindingList& list) {
    const Judgement& judgement = judged.readings[reading];
    const auto add = [&](FindingCode code) { list.add(code, kind, place, reading); };
    switch (judgement.verdict) {
        case Verdict::open:
            add(reading_open);
            break;
        case Verdict::shorted:
            add(reading_short);
            break;
        case Verdict::more_load:
            // What was found since accounts for it: nothing is left to look for.
            if (kind != Kind::zone || judged.zones[place].low_impedance ||
                judged.zones[place].margin.unrecorded > Watts(0))
                add(reading_more_load);
            break;
        case Verdict::less_load:
            add(reading_less_load);
            break;
        case Verdict::drifted:
            add(reading_drifted);
            break;
        case Verdict::not_judged:
        case Verdict::agrees:
            break;
    }
    const bool is_judged = judgement.verdict != Verdict::not_judged;
    if (is_judged && judgement.isolation == Isolation::not_stated) add(reading_unproven);
    if (judgement.expected_now) add(changed_since_reading);
    if (judgement.limit == LimitState::warn) add(reading_over_limit);
    if (judgement.limit != LimitState::stop) return;
    add(judgement.against_limit.is_below_min_ohm ? reading_below_min_ohm : reading_far_over_limit);
}

bool is_low_insulation(const Reading& reading) {
    const bool insulation = reading.quantity == Measured::earth_ohms || reading.quantity == Measured::cross_ohms;
    return insulation && !is_over_range(reading) && *reading.value < least_insulation_ohms;
}

void find_in_other(const Job& job, const Reading& reading, Kind kind, std::uint32_t place, std::uint32_t number,
                   FindingList& list) {
    if (reading.quantity == Measured::stray_v && reading.value && Volts(*reading.value) >= least_stray_volts)
        list.add(stray_voltage, kind, place, number);
    if (is_low_insulation(reading)) list.add(insulation_low, kind, place, number);
    if (reading.quantity != Measured::tap_w || kind != Kind::point || !reading.value) return;
    const auto tap = job.all<Point>()[place].tap_w;
    if (!tap || !(std::abs(*reading.value / tap->value() - 1) <= 0.01))
        list.add(tap_found_differs, kind, place, number);
}

}  // namespace

// Only the newest reading of a quantity at a place speaks. detail: the reading.
void find_in_readings(const Job& job, const Judged& judged, FindingList& list) {
    using Key = std::tuple<Kind, std::uint32_t, Measured>;
    std::map<Key, std::uint32_t> newest;
    std::map<Key, std::uint32_t> refused;  // newer than these
    std::vector<bool> read(judged.zones.size(), false);
    const auto readings = job.all<Reading>();
    for (const std::uint32_t i : in_order_taken(job)) {
        const Reading& reading = readings[i];
        if (!reading.at || !reading.quantity || !(reading.value || is_over_range(reading))) continue;
        const auto place = place_of(job, *reading.at);
        if (!place) continue;
        const bool is_ohms = *reading.quantity == Measured::ohms;
        if (is_ohms && place->first == Kind::zone) read[place->second] = true;
        const Key key{place->first, place->second, *reading.quantity};
        const Judgement& judgement = judged.readings[i];
        const bool is_silent = is_ohms && judgement.verdict == Verdict::not_judged;
        // One that must not be believed does not take the word from one that may, but is said beside it.
        if (is_silent && is_refused(judgement.unjudged)) refused[key] = i;
        if (is_silent && judgement.limit == LimitState::ok) continue;
        refused.erase(key);
        newest[key] = i;
    }
    for (const auto& [key, reading] : refused) list.add(reading_not_valid, std::get<0>(key), std::get<1>(key), reading);
    for (const auto& [key, reading] : newest) {
        const auto& [kind, place, quantity] = key;
        if (quantity == Measured::ohms)
            find_in_newest(judged, kind, place, reading, list);
        else
            find_in_other(job, readings[reading], kind, place, reading, list);
    }
    for (std::size_t i = 0; i < read.size(); ++i)
        if (!read[i] && judged.zones[i].connected > 0 && !judged.zones[i].emergency)
            list.add(zone_without_reading, Kind::zone, i);
}

}  // namespace tapwright
