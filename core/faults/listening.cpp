// Walks through a room, or past the loudspeakers most suspected, while something plays: one measurement, of which every
// loudspeaker heard is a part. And whether listening is worth its minutes at all.
#include <algorithm>
#include <limits>
#include <map>

#include "core/faults/next_measurement.h"

namespace tapwright {
namespace {

// More names no sentence can hold.
constexpr std::size_t most_suspects = 12;
// Those that hold so much of the chance that a loudspeaker is silent.
constexpr double share_of_suspects = 0.9;

}  // namespace

// The loudspeakers likeliest to be dead or cut off, not heard yet.
std::vector<std::uint32_t> NextMeasurement::suspects() const {
    const WiredZone& zone = line_.wiring.zones[line_.zone];
    std::map<std::uint32_t, double> chances;  // by position
    double all = 0;
    for (const Live& live : live_)
        for (const Fault& fault : diagnosis_.causes()[live.cause].faults) {
            if (fault.kind != FaultKind::dead && fault.kind != FaultKind::broken) continue;
            const std::uint32_t point = fault.points.front();
            const std::uint32_t at = line_.wiring.position[point] - zone.first;
            if (line_.heard[at] || !line_.wiring.points[point].connected || line_.wiring.points[point].emergency)
                continue;
            chances[at] += live.chance;
            all += live.chance;
        }
    std::vector<std::pair<double, std::uint32_t>> order;
    order.reserve(chances.size());
    for (const auto& [at, chance] : chances) order.emplace_back(-chance, at);
    std::sort(order.begin(), order.end());
    std::vector<std::uint32_t> suspects;
    double held = 0;
    for (const auto& [chance, at] : order) {
        if (held >= share_of_suspects * all || suspects.size() == most_suspects) break;
        held -= chance;
        suspects.push_back(at);
    }
    std::sort(suspects.begin(), suspects.end());
    for (std::uint32_t& one : suspects) one = line_.wiring.order[zone.first + one];
    return suspects;
}

void NextMeasurement::list_walks() {
    const WiredZone& zone = line_.wiring.zones[line_.zone];
    std::map<std::string, std::vector<std::uint32_t>> rooms;
    for (std::uint32_t i = zone.first; i < zone.last; ++i) {
        const std::uint32_t place = line_.wiring.order[i];
        const WiredPoint& point = line_.wiring.points[place];
        const auto& room = job_.all<Point>()[place].room;
        if (point.connected && !point.emergency && !line_.heard[i - zone.first] && room)
            rooms[room->text()].push_back(place);
    }
    const auto add = [&](const Id& at, std::vector<std::uint32_t> heard) {
        if (heard.size() < 2) return;
        Measurement walk{at, Asked::heard};
        walk.heard = std::move(heard);
        candidates_.push_back(std::move(walk));
    };
    for (auto& [room, heard] : rooms) add(Id(room), std::move(heard));
    std::vector<std::uint32_t> suspected = suspects();
    if (suspected.empty()) return;
    const Id& first = job_.all<Point>()[suspected.front()].id;
    add(first, std::move(suspected));
}

void NextMeasurement::Answered::add(double chance, std::uint32_t of) {
    if (of != place) close();
    place = of;
    mine += chance;
}

void NextMeasurement::Answered::close() {
    all += mine;
    most = std::max(most, mine);
    if (mine > 0) logs += mine * std::log2(mine);
    mine = 0;
}

// Causes that silence the same of them cannot be told apart by it. Of each answer so much is lost as is misheard.
NextMeasurement::Left NextMeasurement::left_after_walk(const Measurement& measurement) const {
    std::map<Stretches, std::size_t> known;
    std::vector<Answered> answered;
    for (const Live& live : live_) {
        const auto [answer, is_new] =
            known.try_emplace(silent_of(measurement, diagnosis_.causes()[live.cause]), answered.size());
        if (is_new) answered.emplace_back();
        answered[answer->second].add(live.chance, live.place);
    }
    Left left = left_of(answered);
    const double lost = line_.spreads.misheard_silent + line_.spreads.misheard_playing;
    left.bits += lost * (now_.bits - left.bits);
    left.minutes += lost * (now_.minutes - left.minutes);
    return left;
}

// Which of those on a walk a cause silences: stretches of their places in the list.
NextMeasurement::Stretches NextMeasurement::silent_of(const Measurement& walk, const Cause& cause) const {
    const WiredZone& zone = line_.wiring.zones[line_.zone];
    Stretches stretches;
    const auto place_of = [&](std::uint32_t position) {
        const auto found =
            std::lower_bound(walk.heard.begin(), walk.heard.end(), position + zone.first,
                             [&](std::uint32_t point, std::uint32_t at) { return line_.wiring.position[point] < at; });
        return static_cast<std::uint32_t>(found - walk.heard.begin());
    };
    for (const Fault& fault : cause.faults) {
        const Likelihood::Silenced silenced = likelihood_.silent_stretch(fault);
        const std::pair<std::uint32_t, std::uint32_t> stretch(place_of(silenced.first), place_of(silenced.last));
        if (silenced.first < silenced.last && stretch.first < stretch.second) stretches.push_back(stretch);
    }
    std::sort(stretches.begin(), stretches.end());
    if (stretches.size() == 2 && stretches[1].first <= stretches[0].second) {
        stretches[0].second = std::max(stretches[0].second, stretches[1].second);
        stretches.pop_back();
    }
    return stretches;
}

// Whether some of it leaves fewer minutes to be expected, its own included, than the best reading or look does.
bool NextMeasurement::listening_is_worth_it() const {
    double heard = std::numeric_limits<double>::infinity();
    double others = heard;
    for (const Measurement& measurement : candidates_) {
        double& least = measurement.asked == Asked::heard ? heard : others;
        least = std::min(least, measurement.minutes + measurement.minutes_left);
    }
    return heard <= others;
}

}  // namespace tapwright
