// Which findings a job has: limits, points, lines.
#include <algorithm>

#include "core/findings/finding_list.h"

namespace tapwright {
namespace {

using enum FindingCode;

// ---- limits ----
void hold_against_limit(const Margin& margin, FindingCode over, FindingCode reserve, Kind kind, std::size_t place,
                        FindingList& list) {
    if (!margin.limit || !margin.headroom) return;
    if (margin.over_recorded())
        list.add(over, kind, place);
    else if (*margin.headroom_recorded < Watts(0))
        list.add(reserve, kind, place);
    else if (*margin.headroom < Watts(0))
        list.add(measured_into_reserve, kind, place);
}

void find_in_zone(const ZoneState& zone, std::size_t place, FindingList& list) {
    hold_against_limit(zone.margin, zone_over_limit, zone_into_reserve, Kind::zone, place, list);
    if (zone.emergency) list.add(emergency_line, Kind::zone, place);
    if (zone.not_recorded.positions > 0)  // detail: how many
        list.add(position_unknown, Kind::zone, place, zone.not_recorded.positions);
    if (!zone.low_impedance && !zone.emergency && zone.speakers > 0 && !zone.can_add)
        list.add(can_add_unknown, Kind::zone, place);
}

// The relays an override supply feeds: those of its amplifier, or all where it names none.
void find_in_overrides(const Job& job, const Wiring& wiring, FindingList& list) {
    const auto interfaces = job.all<Interface>();
    const auto types = job.all<AttenuatorType>();
    std::vector<double> of_amplifier(job.all<Amplifier>().size(), 0);
    double of_all = 0;
    for (const WiredPoint& point : wiring.points) {
        if (point.attenuator_type == nowhere) continue;
        const AttenuatorType& type = types[point.attenuator_type];
        if (type.override.value_or(Override::none) == Override::none || !type.coil_ma) continue;
        of_all += type.coil_ma->value();
        if (point.zone == nowhere || wiring.zones[point.zone].amplifier == nowhere) continue;
        of_amplifier[wiring.zones[point.zone].amplifier] += type.coil_ma->value();
    }
    for (std::size_t i = 0; i < interfaces.size(); ++i) {
        const Interface& interface = interfaces[i];
        if (!interface.tested) list.add(interface_not_tested, Kind::interface, i);
        if (interface.kind != InterfaceKind::override_24v || !interface.supply_ma) continue;
        double needed = of_all;
        if (interface.amplifier) {
            const auto amplifier = job.place<Amplifier>(*interface.amplifier);
            needed = amplifier ? of_amplifier[*amplifier] : 0;
        }
        // detail: the current needed, in whole milliamperes, rounded up.
        if (!keeps_most(MilliAmps(needed), *interface.supply_ma))
            list.add(override_over_supply, Kind::interface, i, static_cast<std::size_t>(std::min(needed + 0.999, 4e9)));
    }
}

// ---- points ----
void find_on_speaker(const Job& job, const WiredPoint& point, std::size_t place, FindingList& list) {
    if (point.marks.polarity_reversed) list.add(polarity_reversed, Kind::point, place);
    if (point.marks.heard_badly) list.add(walk_test_fault, Kind::point, place);
    if (point.marks.off_plan) list.add(tap_off_plan, Kind::point, place);
    if (point.speaker_type == nowhere) list.add(type_unknown, Kind::point, place);
    if (point.marks.disconnected) list.add(speaker_disconnected, Kind::point, place);
    if (!point.draw.counts) return;
    if (!point.draw.known) list.add(speaker_without_tap, Kind::point, place);
    if (point.marks.fitted && point.draw.basis == Basis::planned) list.add(tap_not_confirmed, Kind::point, place);
    const bool on_line = point.zone != nowhere;
    if (point.draw.on_low_z) return;
    if (point.speaker_type == nowhere || !point.draw.known || !on_line) return;
    const SpeakerType& type = job.all<SpeakerType>()[point.speaker_type];
    if (type.max_w && !keeps_most(Watts(point.draw.watts), *type.max_w)) list.add(drawn_above_max, Kind::point, place);
    const double windings = type.primary_ohm.value_or(Ohms(0)).value() + type.secondary_ohm.value_or(Ohms(0)).value();
    if (windings > 0 && windings * point.draw.siemens >= 1) list.add(model_not_possible, Kind::point, place);
}

void find_on_attenuator(const Job& job, const WiredPoint& point, const PointOnLine& on_line, std::size_t place,
                        FindingList& list) {
    if (on_line.rating && !keeps_most(on_line.behind, *on_line.rating))
        list.add(attenuator_over_rating, Kind::point, place);
    if (point.attenuator_type == nowhere) {
        list.add(type_unknown, Kind::point, place);
        return;
    }
    const AttenuatorType& type = job.all<AttenuatorType>()[point.attenuator_type];
    if (type.override.value_or(Override::none) != Override::none && !point.marks.override_tested)
        list.add(override_not_tested, Kind::point, place);
    if (type.build == AttenuatorBuild::l_pad && !type.pad_ohm) list.add(pad_assumed, Kind::point, place);
}

// Every loudspeaker type once a zone, every zone's worst cable loss, every zone's unknown cables.
class LineFinder {
public:
    LineFinder(const Job& job, const Wiring& wiring, const Judged& judged, FindingList& list)
        : job_(job),
          wiring_(wiring),
          judged_(judged),
          list_(list),
          seen_in_(job.all<SpeakerType>().size(), nowhere),
          behind_(wiring.points.size(), false) {}

    void look_at(std::uint32_t zone) {
        std::size_t unknown_runs = 0;
        std::uint32_t worst = nowhere;
        const WiredZone& wired = wiring_.zones[zone];
        for (std::uint32_t i = wired.first; i < wired.last; ++i) {
            const std::uint32_t place = wiring_.order[i];
            const WiredPoint& point = wiring_.points[place];
            unknown_runs += !point.run_known;
            look_at_type(point, zone);
            look_behind(point, place);
            const auto cable = judged_.points[place].cable_all;
            if (cable && (worst == nowhere || *cable < *judged_.points[worst].cable_all)) worst = place;
        }
        // detail: how many runs.
        if (unknown_runs > 0) list_.add(cable_unknown, Kind::zone, zone, unknown_runs);
        if (worst != nowhere) look_at_loss(worst, zone);
    }

private:
    // detail: the type's place.
    void look_at_type(const WiredPoint& point, std::uint32_t zone) {
        if (point.speaker_type == nowhere || !point.draw.counts) return;
        if (point.draw.on_low_z || seen_in_[point.speaker_type] == zone) return;
        seen_in_[point.speaker_type] = zone;
        const SpeakerType& type = job_.all<SpeakerType>()[point.speaker_type];
        if (type.taps_v && !is_same_line(*type.taps_v, wiring_.zones[zone].line_v))
            list_.add(type_for_other_voltage, Kind::zone, zone, point.speaker_type);
    }

    void look_behind(const WiredPoint& point, std::uint32_t place) {
        if (point.draw.on_low_z && !wiring_.zones[point.zone].low_impedance)
            list_.add(low_z_on_line, Kind::point, place);
        if (point.feed == nowhere) return;
        const bool from_output = wiring_.points[point.feed].kind == PointKind::attenuator && !point.feed_in;
        behind_[place] = behind_[point.feed] || from_output;
        if (behind_[place] && point.kind == PointKind::attenuator)
            list_.add(attenuator_behind_attenuator, Kind::point, place);
    }

    // Over half of the limit a note, over it a warning. detail: the zone.
    void look_at_loss(std::uint32_t worst, std::uint32_t zone) {
        const Decibels limit = job_.info().loss_limit_db.value_or(Defaults::loss_limit_db);
        const Decibels loss = -*judged_.points[worst].cable_all;
        if (!keeps_most(loss, limit))
            list_.add(cable_loss_over_limit, Kind::point, worst, zone);
        else if (!keeps_most(loss, limit / 2))
            list_.add(cable_loss_over_half, Kind::point, worst, zone);
    }

    const Job& job_;
    const Wiring& wiring_;
    const Judged& judged_;
    FindingList& list_;
    std::vector<std::uint32_t> seen_in_;  // by loudspeaker type: the zone looked at last
    std::vector<bool> behind_;            // whether a point hangs behind some attenuator's output
};

}  // namespace

void find_in_loads(const Job& job, const Wiring& wiring, const Judged& judged, FindingList& list) {
    for (std::size_t i = 0; i < judged.zones.size(); ++i) {
        find_in_zone(judged.zones[i], i, list);
        if (job.all<Zone>()[i].disconnected.value_or(false)) list.add(line_disconnected, Kind::zone, i);
    }
    for (std::size_t i = 0; i < judged.channels.size(); ++i) {
        const ChannelState& channel = judged.channels[i];
        hold_against_limit(channel.margin, channel_over_limit, channel_into_reserve, Kind::channel, i, list);
        const auto min_ohm = job.all<Channel>()[i].min_ohm;
        if (min_ohm && !keeps_least(channel.ohms_all_full, *min_ohm)) list.add(below_min_ohm, Kind::channel, i);
    }
    for (std::size_t i = 0; i < judged.amplifiers.size(); ++i)
        hold_against_limit(judged.amplifiers[i].margin, amplifier_over_limit, amplifier_into_reserve, Kind::amplifier,
                           i, list);
    find_in_overrides(job, wiring, list);
}

void find_on_points(const Job& job, const Wiring& wiring, const Judged& judged, FindingList& list) {
    for (std::size_t i = 0; i < wiring.points.size(); ++i) {
        const WiredPoint& point = wiring.points[i];
        if (job.all<Point>()[i].emergency == Answer::yes) list.add(emergency_line, Kind::point, i);
        if (point.emergency) continue;
        if (point.zone == nowhere) list.add(point_not_traced, Kind::point, i);
        if (point.kind == PointKind::speaker) find_on_speaker(job, point, i, list);
        if (point.kind == PointKind::attenuator) find_on_attenuator(job, point, judged.points[i], i, list);
    }
}

void find_on_lines(const Job& job, const Wiring& wiring, const Judged& judged, FindingList& list) {
    LineFinder finder(job, wiring, judged, list);
    for (std::uint32_t zone = 0; zone < wiring.zones.size(); ++zone) finder.look_at(zone);
}

}  // namespace tapwright
