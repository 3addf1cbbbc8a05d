#include "core/calc/loads.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <unordered_map>
#include <unordered_set>

#include "core/calc/branches.h"

namespace tapwright {
namespace {

Watts reserve_of(const Job& job, Watts limit) {
    return limit * (job.info().reserve_pct.value_or(Defaults::reserve_pct).value() / 100);
}

// The one place where headroom is made.
Watts headroom_of(const Job& job, Watts limit, Watts drawn) {
    return without_rounding(limit - reserve_of(job, limit) - drawn, limit);
}

void judge_margin(const Job& job, Margin& margin) {
    if (!margin.limit) return;
    margin.reserve = reserve_of(job, *margin.limit);
    margin.headroom_recorded = headroom_of(job, *margin.limit, margin.load);
    margin.headroom = headroom_of(job, *margin.limit, margin.drawn());
    margin.used_pct = margin.load / *margin.limit * 100;
}

void add_to(Margin& sum, const Margin& part) {
    sum.load += part.load;
    sum.basis = weaker(sum.basis, part.basis);
    sum.unrecorded += part.unrecorded;
    sum.is_open_ended |= part.is_open_ended;
}

// ---- zones, channels, amplifiers ----
// What is not summed by taps: a low-impedance line, an emergency line, and a branch of it.
bool has_emergency(const Wiring& wiring, const WiredZone& zone) {
    if (zone.emergency) return true;
    return std::any_of(wiring.order.begin() + zone.first, wiring.order.begin() + zone.last,
                       [&](std::uint32_t at) { return wiring.points[at].emergency; });
}

void count_points(const Wiring& wiring, const WiredZone& wired, ZoneState& zone) {
    for (std::uint32_t at = wired.first; at < wired.last; ++at) {
        const WiredPoint& point = wiring.points[wiring.order[at]];
        zone.speakers += point.draw.counts;
        zone.connected += point.connected;
        zone.not_recorded.runs += !point.run_known;
        zone.not_recorded.positions += point.marks.without_position;
        zone.not_recorded.taps += point.connected && !point.draw.known;
    }
}

void load_zones(const Job& job, const Wiring& wiring, Figures& figures) {
    const auto zones = job.all<Zone>();
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const WiredZone& wired = wiring.zones[i];
        ZoneState& zone = figures.zones[i];
        zone.line_v = wired.line_v;
        zone.low_impedance = wired.low_impedance;
        zone.emergency = wired.emergency;
        if (wired.channel != nowhere) zone.channel = wired.channel;
        if (wired.amplifier != nowhere) zone.amplifier = wired.amplifier;
        count_points(wiring, wired, zone);
        if (has_emergency(wiring, wired) || (zone.low_impedance && zone.speakers > 0)) {
            zone.margin.basis = Basis::at_least;
            zone.margin.is_open_ended = true;
        }
        zone.margin.limit = zones[i].limit_w;
        if (zone.low_impedance || zone.emergency) continue;
        zone.margin.load = Watts(wiring.zone_load_w[i]);
        zone.margin.basis = weaker(zone.margin.basis, wiring.zone_basis[i]);
    }
}

void load_sources(const Job& job, Figures& figures) {
    for (const ZoneState& zone : figures.zones) {
        if (zone.channel) add_to(figures.channels[*zone.channel].margin, zone.margin);
        if (zone.amplifier) add_to(figures.amplifiers[*zone.amplifier].margin, zone.margin);
    }
    const auto channels = job.all<Channel>();
    std::vector<std::uint32_t> channels_of(figures.amplifiers.size(), 0);
    for (std::size_t i = 0; i < channels.size(); ++i) {
        figures.channels[i].margin.limit = channels[i].rated_w;
        if (channels[i].amplifier) figures.channels[i].amplifier = job.place<Amplifier>(*channels[i].amplifier);
        if (const auto amplifier = figures.channels[i].amplifier) {
            figures.amplifiers[*amplifier].only_channel = static_cast<std::uint32_t>(i);
            ++channels_of[*amplifier];
        }
    }
    const auto amplifiers = job.all<Amplifier>();
    for (std::size_t i = 0; i < amplifiers.size(); ++i) {
        figures.amplifiers[i].margin.limit = amplifiers[i].rated_w;
        if (channels_of[i] != 1) figures.amplifiers[i].only_channel.reset();
    }
}

// What is not recorded at each point and behind it: every point comes after its feed.
void count_behind(const Wiring& wiring, Figures& figures) {
    for (auto at = wiring.order.rbegin(); at != wiring.order.rend(); ++at) {
        const WiredPoint& wired = wiring.points[*at];
        PointOnLine& point = figures.points[*at];
        point.not_recorded.positions += wired.marks.without_position;
        point.not_recorded.taps += wired.connected && !wired.draw.known;
        point.planned_without_tap += wired.draw.counts && !wired.connected && !wired.draw.known;
        if (wired.feed == nowhere) continue;
        PointOnLine& feed = figures.points[wired.feed];
        feed.not_recorded.add(point.not_recorded);
        feed.not_recorded.runs += !wired.run_known;
        feed.planned_without_tap += point.planned_without_tap;
    }
}

// Loudspeakers of which nobody knows the feed, set beside the zones they may belong to: those with loudspeakers in the
// same room, else those where a reading shows more than is recorded, else all.
void count_untraced(const Job& job, const Wiring& wiring, Figures& figures) {
    const auto points = job.all<Point>();
    std::unordered_map<std::string, std::uint32_t> in_room;
    std::uint32_t anywhere = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const WiredPoint& point = wiring.points[i];
        if (point.kind != PointKind::speaker || point.zone != nowhere || !point.draw.counts) continue;
        if (points[i].room)
            ++in_room[points[i].room->text()];
        else
            ++anywhere;
    }
    if (anywhere == 0 && in_room.empty()) return;
    std::unordered_map<std::string, std::uint32_t> left = in_room;
    for (std::size_t i = 0; i < figures.zones.size(); ++i) {
        std::unordered_set<std::string> rooms;
        for (std::uint32_t at = wiring.zones[i].first; at < wiring.zones[i].last; ++at)
            if (const auto& room = points[wiring.order[at]].room; room && rooms.insert(room->text()).second)
                if (const auto found = in_room.find(room->text()); found != in_room.end()) {
                    figures.zones[i].not_recorded.untraced += found->second;
                    left.erase(room->text());
                }
    }
    for (const auto& [room, count] : left) anywhere += count;
    const auto shows_more = [](const ZoneState& zone) { return zone.margin.unrecorded > Watts(0); };
    const bool any_shows_more = std::any_of(figures.zones.begin(), figures.zones.end(), shows_more);
    for (ZoneState& zone : figures.zones)
        if (!any_shows_more || shows_more(zone)) zone.not_recorded.untraced += anywhere;
    for (PointOnLine& point : figures.points)
        if (point.traced) point.not_recorded.untraced = figures.zones[point.zone].not_recorded.untraced;
}

// ---- points ----
std::optional<Watts> rating_of(const AttenuatorType& type, Volts line) {
    if (!type.rated_w) return std::nullopt;
    if (!type.rated_v) return type.rated_w;
    return Watts(std::min(type.rated_w->value() * (line / *type.rated_v), largest_watts));
}

void load_points(const Job& job, const Wiring& wiring, Figures& figures) {
    const auto types = job.all<AttenuatorType>();
    for (std::size_t i = 0; i < wiring.points.size(); ++i) {
        const WiredPoint& wired = wiring.points[i];
        PointOnLine& point = figures.points[i];
        point.zone = wired.zone;
        point.feed = wired.feed;
        point.traced = wired.zone != nowhere;
        point.connected = wired.connected;
        point.emergency = wired.emergency;
        if (wired.kind == PointKind::speaker && wired.draw.known) point.drawn = Watts(wired.draw.watts);
        if (wired.kind != PointKind::attenuator || !point.traced) continue;
        point.behind = Watts(wired.behind_w);
        point.behind_basis = wired.behind_basis;
        if (wired.attenuator_type != nowhere)
            point.rating = rating_of(types[wired.attenuator_type], wiring.zones[wired.zone].line_v);
    }
}

// ---- what may be added ----

// The least headroom met so far on a way towards the amplifier, and whether some limit or load on it is not known.
struct Way {
    double least = std::numeric_limits<double>::infinity();
    bool unknown = false;

    void pass(std::optional<Watts> headroom, bool is_open_ended) {
        if (headroom) least = std::min(least, headroom->value());
        unknown |= !headroom || is_open_ended;
    }
    // A known limit that is used up answers, whatever else is not known.
    std::optional<Watts> can_add() const {
        if (least <= 0) return Watts(0);
        if (unknown) return std::nullopt;
        return Watts(least);
    }
};

std::optional<Watts> left_of(const Job& job, std::optional<Watts> limit, const Margin& margin) {
    if (!limit) return std::nullopt;
    return headroom_of(job, *limit, margin.drawn());
}

void pass_sources(const Job& job, const Figures& figures, const ZoneState& zone, Way& way) {
    if (zone.channel) {
        const Margin& margin = figures.channels[*zone.channel].margin;
        way.pass(left_of(job, channel_limit_on_the_way(job, figures, *zone.channel), margin), margin.is_open_ended);
    } else {
        way.unknown = true;
    }
    if (zone.amplifier) {
        const Margin& margin = figures.amplifiers[*zone.amplifier].margin;
        way.pass(left_of(job, amplifier_limit_on_the_way(job, figures, *zone.amplifier), margin), margin.is_open_ended);
    } else {
        way.unknown = true;
    }
}

void mark_unknown_runs(const Wiring& wiring, Figures& figures) {
    for (const std::uint32_t at : wiring.order) {
        const WiredPoint& point = wiring.points[at];
        const bool is_behind = point.feed != nowhere && figures.points[point.feed].is_past_unknown_run;
        figures.points[at].is_past_unknown_run = !point.run_known || is_behind;
    }
}

// A point's way: its zone's, and the rating of every attenuator whose output it hangs behind, its own included.
void add_along_branches(const Wiring& wiring, const std::vector<Way>& zone_ways, Figures& figures) {
    std::vector<Way> before(wiring.points.size());   // at a point's incoming terminals
    std::vector<Way> through(wiring.points.size());  // at its output; the same unless it is an attenuator
    for (const std::uint32_t at : wiring.order) {
        const WiredPoint& wired = wiring.points[at];
        const bool at_input = wired.feed_in || wired.feed == nowhere;
        before[at] = wired.feed == nowhere ? zone_ways[wired.zone] : (at_input ? before : through)[wired.feed];
        through[at] = before[at];
        PointOnLine& point = figures.points[at];
        if (wired.kind == PointKind::attenuator) {
            // A tap behind it that only a reading covers: all that is unrecorded may be there.
            const ZoneState& zone = figures.zones[wired.zone];
            const bool has_unknown = wired.behind_basis == Basis::at_least;
            std::optional<Watts> left;
            if (point.rating) {
                const Watts covered = has_unknown ? zone.margin.unrecorded : Watts(0);
                left = without_rounding(*point.rating - Watts(wired.behind_load_w) - covered, *point.rating);
            }
            through[at].pass(left, has_unknown && zone.margin.is_open_ended);
        }
        if (!wiring.zones[wired.zone].low_impedance && !wired.emergency) point.can_add = through[at].can_add();
    }
}

}  // namespace

std::optional<Watts> channel_limit_on_the_way(const Job& job, const Figures& figures, std::uint32_t channel) {
    const Channel& record = job.all<Channel>()[channel];
    const auto amplifier = figures.channels[channel].amplifier;
    if (record.rated_w || !amplifier || figures.amplifiers[*amplifier].only_channel != channel) return record.rated_w;
    return job.all<Amplifier>()[*amplifier].rated_w;
}

namespace {

bool is_tighter(const Tightest& a, const Tightest& b) {
    const auto& left = a.margin.headroom;
    const auto& other = b.margin.headroom;
    if (!left) return false;
    if (!other) return *left < Watts(0);
    const bool over = a.margin.over().has_value();
    const bool other_over = b.margin.over().has_value();
    return over != other_over ? over : *left < *other;
}

}  // namespace

Watts may_add(Watts can_add) {
    return Watts(std::floor(can_add.value() * 10 + 1e-9) / 10);
}

std::optional<Tightest> tightest_source(const Figures& figures, std::uint32_t zone) {
    const ZoneState& state = figures.zones[zone];
    std::optional<Tightest> found;
    if (state.channel) {
        const ChannelState& channel = figures.channels[*state.channel];
        found = {Kind::channel, *state.channel, channel.margin};
    }
    if (!state.amplifier) return found;
    const AmplifierState& amplifier = figures.amplifiers[*state.amplifier];
    const Tightest above{Kind::amplifier, *state.amplifier, amplifier.margin};
    if (!found || !found->margin.headroom || is_tighter(above, *found)) found = above;
    return found;
}

Tightest tightest_on_the_way(const Figures& figures, std::uint32_t zone) {
    const ZoneState& state = figures.zones[zone];
    const Tightest own{Kind::zone, zone, state.margin};
    const std::optional<Tightest> source = tightest_source(figures, zone);
    return source && is_tighter(*source, own) ? *source : own;
}

std::optional<Watts> amplifier_limit_on_the_way(const Job& job, const Figures& figures, std::uint32_t amplifier) {
    const Amplifier& record = job.all<Amplifier>()[amplifier];
    const auto only = figures.amplifiers[amplifier].only_channel;
    if (record.rated_w || !only) return record.rated_w;
    return job.all<Channel>()[*only].rated_w;
}

void add_loads(const Job& job, const Wiring& wiring, Figures& figures) {
    load_zones(job, wiring, figures);
    load_points(job, wiring, figures);
    mark_unknown_runs(wiring, figures);
    count_behind(wiring, figures);
}

void add_headroom(const Job& job, const Wiring& wiring, Figures& figures) {
    load_sources(job, figures);
    count_untraced(job, wiring, figures);
    for (ZoneState& zone : figures.zones)
        if (!zone.low_impedance && !zone.emergency) judge_margin(job, zone.margin);
    for (ChannelState& channel : figures.channels) judge_margin(job, channel.margin);
    for (AmplifierState& amplifier : figures.amplifiers) judge_margin(job, amplifier.margin);
    std::vector<Way> ways(figures.zones.size());
    for (std::size_t i = 0; i < figures.zones.size(); ++i) {
        ZoneState& zone = figures.zones[i];
        if (zone.low_impedance || zone.emergency) continue;
        ways[i].pass(zone.margin.headroom, zone.margin.is_open_ended);
        pass_sources(job, figures, zone, ways[i]);
        zone.can_add = ways[i].can_add();
    }
    add_along_branches(wiring, ways, figures);
}

}  // namespace tapwright
