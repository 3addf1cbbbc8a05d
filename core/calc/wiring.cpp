#include "core/calc/wiring.h"

#include <cmath>

#include "core/calc/branches.h"
#include "core/line/conductor.h"

namespace tapwright {
namespace {

// Neighbours in a list mostly name the same record: the last answer is kept.
template <class R>
class Lookup {
public:
    explicit Lookup(const Job& job) : job_(job) {}
    std::uint32_t operator()(const Id& id) {
        if (!last_ || !(*last_ == id)) {
            last_ = &id;
            place_ = job_.place<R>(id).value_or(nowhere);
        }
        return place_;
    }
    std::uint32_t operator()(const std::optional<Id>& id) { return id ? (*this)(*id) : nowhere; }

private:
    const Job& job_;
    const Id* last_ = nullptr;
    std::uint32_t place_ = nowhere;
};

std::vector<WiredZone> wire_zones(const Job& job) {
    std::vector<WiredZone> zones;
    zones.reserve(job.all<Zone>().size());
    Lookup<Channel> channel_at(job);
    Lookup<Amplifier> amplifier_at(job);
    for (const Zone& zone : job.all<Zone>()) {
        WiredZone wired;
        wired.line_v = line_voltage(job, zone);
        wired.low_impedance = zone.output == ZoneOutput::low_z;
        wired.emergency = zone.emergency == Answer::yes;
        wired.channel = channel_at(zone.channel);
        if (wired.channel != nowhere) {
            const Channel& channel = job.all<Channel>()[wired.channel];
            wired.low_impedance |= channel.mode == ChannelMode::low_z;
            wired.amplifier = amplifier_at(channel.amplifier);
        }
        zones.push_back(wired);
    }
    return zones;
}

// What a point is; where a merge took its kind, what its type says.
PointKind kind_of(const Point& point, std::uint32_t speaker_type, std::uint32_t attenuator_type) {
    if (point.kind) return *point.kind;
    if (speaker_type != nowhere) return PointKind::speaker;
    return attenuator_type != nowhere ? PointKind::attenuator : PointKind::other;
}

PointMarks marks_of(const Point& point) {
    PointMarks marks;
    marks.polarity_reversed = point.polarity == Polarity::reversed;
    marks.heard_badly = point.heard && *point.heard != Heard::ok;
    marks.fitted = point.state == PointState::fitted || point.state == PointState::tested;
    marks.off_plan = point.tap_w && point.planned_tap_w && !(std::abs(*point.tap_w / *point.planned_tap_w - 1) <= 0.01);
    marks.override_tested = point.override_tested.has_value();
    marks.disconnected = point.wired == Wired::off;
    marks.without_position = point.kind == PointKind::attenuator && !point.knob_db;
    return marks;
}

// ---- pass 1: every point by itself. `zone` and `feed` hold what fed_from names ----
void read_points(const Job& job, Wiring& wiring) {
    Lookup<Zone> zone_at(job);
    Lookup<SpeakerType> speaker_type_at(job);
    Lookup<AttenuatorType> attenuator_type_at(job);
    Lookup<CableType> cable_at(job);
    Lookup<Reading> reading_at(job);
    const auto points = job.all<Point>();
    for (std::uint32_t place = 0; place < points.size(); ++place) {
        const Point& point = points[place];
        WiredPoint& wired = wiring.points[place];
        if (point.fed_from) {
            // A daisy chain is mostly recorded from one loudspeaker to the next.
            if (place > 0 && *point.fed_from == points[place - 1].id && zone_at(point.fed_from) == nowhere) {
                wired.feed = place - 1;
            } else if (wired.zone = zone_at(point.fed_from); wired.zone == nowhere) {
                wired.feed = job.place<Point>(*point.fed_from).value_or(nowhere);
            }
        }
        const std::uint32_t speaker_type = speaker_type_at(point.type);
        const std::uint32_t attenuator_type = speaker_type == nowhere ? attenuator_type_at(point.type) : nowhere;
        wired.kind = kind_of(point, speaker_type, attenuator_type);
        if (wired.kind == PointKind::speaker) wired.speaker_type = speaker_type;
        if (wired.kind == PointKind::attenuator) wired.attenuator_type = attenuator_type;
        wired.marks = marks_of(point);
        wired.emergency = point.emergency == Answer::yes;
        wired.found_by = reading_at(point.found_by);
        if (point.found_w) wired.found_w = point.found_w->value();
        wired.feed_in = point.feed_side == FeedSide::in;
        const std::uint32_t cable = cable_at(point.cable);
        if (cable != nowhere) ++wiring.cable_runs[cable];
        if (cable != nowhere && wiring.cables[cable] && point.length_m) {
            wired.run_ohm = pair_resistance(*wiring.cables[cable], *point.length_m).value();
            wired.run_known = true;
        }
    }
}

// ---- pass 2: each point's zone. Each point is walked over once, remembering the way back ----
void trace_zones(Wiring& wiring) {
    enum : std::uint8_t { unseen, on_the_way, settled };
    std::vector<std::uint8_t> state(wiring.points.size(), unseen);
    std::vector<std::uint32_t> way;
    for (std::uint32_t start = 0; start < wiring.points.size(); ++start) {
        std::uint32_t at = start;
        while (at != nowhere && state[at] == unseen) {
            state[at] = on_the_way;
            way.push_back(at);
            at = wiring.points[at].feed;
        }
        // The way ended at a zone or nowhere (its last point says which), at a settled point, or in a circle.
        std::uint32_t zone = nowhere;
        if (at == nowhere && !way.empty()) zone = wiring.points[way.back()].zone;
        if (at != nowhere && state[at] == settled) zone = wiring.points[at].zone;
        for (const std::uint32_t passed : way) {
            wiring.points[passed].zone = zone;
            state[passed] = settled;
        }
        way.clear();
    }
    for (WiredPoint& point : wiring.points)
        if (point.zone == nowhere) point.feed = nowhere;
}

// ---- pass 3: the order. Children stand in record order; a branch stands together ----
struct Children {
    std::vector<std::uint32_t> first;  // of each point, then of each zone; nowhere: none
    std::vector<std::uint32_t> next;   // the next child of the same parent
};

Children children_of(const Wiring& wiring) {
    const auto count = static_cast<std::uint32_t>(wiring.points.size());
    Children children;
    children.first.assign(count + wiring.zones.size(), nowhere);
    children.next.assign(count, nowhere);
    for (std::uint32_t place = count; place-- > 0;) {
        const WiredPoint& point = wiring.points[place];
        if (point.zone == nowhere) continue;
        std::uint32_t& first = children.first[point.feed != nowhere ? point.feed : count + point.zone];
        children.next[place] = first;
        first = place;
    }
    return children;
}

void put_in_order(Wiring& wiring) {
    const Children children = children_of(wiring);
    const std::size_t count = wiring.points.size();
    wiring.order.reserve(count);
    wiring.position.assign(count, nowhere);
    std::vector<std::uint32_t> waiting;  // next siblings on the way down
    for (std::size_t zone = 0; zone < wiring.zones.size(); ++zone) {
        wiring.zones[zone].first = static_cast<std::uint32_t>(wiring.order.size());
        std::uint32_t at = children.first[count + zone];
        while (at != nowhere || !waiting.empty()) {
            if (at == nowhere) {
                at = waiting.back();
                waiting.pop_back();
            }
            wiring.position[at] = static_cast<std::uint32_t>(wiring.order.size());
            wiring.order.push_back(at);
            if (children.next[at] != nowhere) waiting.push_back(children.next[at]);
            at = children.first[at];
        }
        wiring.zones[zone].last = static_cast<std::uint32_t>(wiring.order.size());
    }
    wiring.branch_end.resize(wiring.order.size());
    for (std::uint32_t i = 0; i < wiring.order.size(); ++i) wiring.branch_end[i] = i + 1;
    for (auto i = static_cast<std::uint32_t>(wiring.order.size()); i-- > 0;) {
        const std::uint32_t feed = wiring.points[wiring.order[i]].feed;
        if (feed == nowhere) continue;
        std::uint32_t& end = wiring.branch_end[wiring.position[feed]];
        if (wiring.branch_end[i] > end) end = wiring.branch_end[i];
    }
}

// ---- pass 4: what hangs behind a part of an emergency system is one too ----
void pass_on_emergency(Wiring& wiring) {
    for (const std::uint32_t at : wiring.order) {
        WiredPoint& point = wiring.points[at];
        point.emergency |= wiring.zones[point.zone].emergency;
        if (point.feed != nowhere) point.emergency |= wiring.points[point.feed].emergency;
    }
}

// ---- pass 5: what each loudspeaker draws, now that its zone is known ----
void draw_all(const Job& job, Wiring& wiring) {
    const auto types = job.all<SpeakerType>();
    const auto points = job.all<Point>();
    std::vector<char> models(types.size());
    for (std::size_t i = 0; i < types.size(); ++i) models[i] = has_model(types[i]) ? 1 : 0;
    for (std::uint32_t place = 0; place < points.size(); ++place) {
        WiredPoint& wired = wiring.points[place];
        const bool traced = wired.zone != nowhere;
        if (wired.kind == PointKind::attenuator) wiring.has_attenuators |= traced;
        if (wired.kind != PointKind::speaker || wired.emergency) continue;
        const SpeakerType* type = wired.speaker_type == nowhere ? nullptr : &types[wired.speaker_type];
        const Volts line = traced ? wiring.zones[wired.zone].line_v : line_voltage(job);
        wired.draw = draw_of(points[place], type, line, traced && wiring.zones[wired.zone].low_impedance);
        wired.connected = traced && wired.draw.counts && is_fitted(points[place]);
        wiring.has_planned |= traced && wired.draw.counts && !wired.connected;
        if (traced && type && models[wired.speaker_type]) wiring.has_models = true;
    }
}

}  // namespace

bool has_model(const SpeakerType& type) {
    return type.mag_h || type.leak_h || type.primary_ohm || type.secondary_ohm;
}

std::optional<OhmsPerKm> conductor_of(const CableType& cable, Celsius celsius) {
    if (cable.ohm_per_km) return at_temperature(*cable.ohm_per_km, celsius);
    const bool stranded = cable.strand == CableStrand::stranded;
    const Metal metal = cable.metal == CableMetal::cca ? Metal::copper_clad_aluminium : Metal::copper;
    if (!cable.area_mm2 && !cable.awg) return std::nullopt;
    const Result<OhmsPerKm> copper = cable.area_mm2
                                         ? iec_resistance(*cable.area_mm2, cable.iec_class.value_or(2))
                                         : awg_resistance(*cable.awg, stranded ? Strand::stranded : Strand::solid);
    if (!copper) return std::nullopt;
    return at_temperature(in_metal(*copper, metal), celsius);
}

Wiring wire(const Job& job) {
    Wiring wiring;
    for (const CableType& cable : job.all<CableType>())
        wiring.cables.push_back(conductor_of(cable, job.info().cable_c.value_or(Defaults::cable_c)));
    wiring.cable_runs.resize(wiring.cables.size());
    wiring.zones = wire_zones(job);
    wiring.points.resize(job.all<Point>().size());
    read_points(job, wiring);
    trace_zones(wiring);
    // Beyond this point every point's zone and feed are final.
    put_in_order(wiring);
    pass_on_emergency(wiring);
    draw_all(job, wiring);
    sum_branches(job, wiring);
    return wiring;
}

}  // namespace tapwright
