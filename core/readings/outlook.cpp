#include "core/readings/outlook.h"

#include <algorithm>

namespace tapwright {
namespace {

void take_least(std::optional<Watts>& least, std::optional<Watts> other) {
    if (other && (!least || *other < *least)) least = other;
}

void add_channel(const Job& job, std::uint32_t channel, Outlook& outlook) {
    const Channel& record = job.all<Channel>()[channel];
    outlook.min_ohm = record.min_ohm;
    take_least(outlook.limit, record.rated_w);
    if (const Amplifier* amplifier = job.find<Amplifier>(record.amplifier))
        take_least(outlook.limit, amplifier->rated_w);
}

void add_zone(const Job& job, const Wiring& wiring, std::uint32_t zone, Outlook& outlook) {
    const WiredZone& wired = wiring.zones[zone];
    outlook.line_v = wired.line_v;
    outlook.low_impedance = wired.low_impedance;
    outlook.emergency = wired.emergency;
    take_least(outlook.limit, job.all<Zone>()[zone].limit_w);
    if (wired.channel != nowhere) add_channel(job, wired.channel, outlook);
}

// Where the place is, and what limits it. Returns false for a place that is no zone, channel or traced point.
bool locate(const Job& job, const Wiring& wiring, const Id& at, Outlook& outlook) {
    if (const auto zone = job.place<Zone>(at)) {
        outlook.kind = Kind::zone;
        outlook.place = *zone;
        outlook.stretches.push_back({*zone, wiring.zones[*zone].first, wiring.zones[*zone].last});
        add_zone(job, wiring, *zone, outlook);
        return true;
    }
    if (const auto channel = job.place<Channel>(at)) {
        outlook.kind = Kind::channel;
        outlook.place = *channel;
        outlook.line_v = job.all<Channel>()[*channel].line_v.value_or(line_voltage(job));
        for (std::uint32_t zone = 0; zone < wiring.zones.size(); ++zone) {
            const WiredZone& wired = wiring.zones[zone];
            if (wired.channel != *channel) continue;
            outlook.stretches.push_back({zone, wired.first, wired.last});
            outlook.low_impedance |= wired.low_impedance;
            outlook.emergency |= wired.emergency;
        }
        add_channel(job, *channel, outlook);
        return true;
    }
    const auto point = job.place<Point>(at);
    if (!point || wiring.points[*point].zone == nowhere) return false;
    outlook.kind = Kind::point;
    outlook.place = *point;
    const std::uint32_t position = wiring.position[*point];
    outlook.stretches.push_back({wiring.points[*point].zone, position, wiring.branch_end[position]});
    add_zone(job, wiring, wiring.points[*point].zone, outlook);
    outlook.emergency |= wiring.points[*point].emergency;
    return true;
}

// The smaller of two conductances; 0 says nothing.
double smaller(double a, double b) {
    if (!(a > 0)) return b;
    return b > 0 ? std::min(a, b) : a;
}

// Of a loudspeaker without a tap: the least it can draw; 0 where its type says nothing.
double smallest_tap_siemens(const Job& job, const WiredPoint& point, Volts line) {
    if (point.speaker_type == nowhere) return 0;
    const SpeakerType& type = job.all<SpeakerType>()[point.speaker_type];
    if (!type.taps_w || type.taps_w->empty()) return 0;
    const Watts least = *std::min_element(type.taps_w->begin(), type.taps_w->end());
    return drawn_by_tap(least, &type, line).value() / (line.value() * line.value());
}

void count_speaker(const Job& job, const WiredPoint& point, Outlook& outlook) {
    if (!point.draw.counts) return;
    if (!point.connected) {
        ++outlook.planned;
        return;
    }
    ++outlook.speakers;
    if (!point.draw.known) {
        ++outlook.without_tap;
        outlook.smallest_s = smaller(outlook.smallest_s, smallest_tap_siemens(job, point, outlook.line_v));
        return;
    }
    const double siemens = point.draw.siemens;
    outlook.total_s += siemens;
    outlook.largest_s = std::max(outlook.largest_s, siemens);
    outlook.smallest_s = smaller(outlook.smallest_s, siemens);
    if (point.speaker_type != nowhere && !point.draw.on_low_z)
        outlook.modelled += has_model(job.all<SpeakerType>()[point.speaker_type]);
}

void look_at_marks(const Job& job, const Wiring& wiring, const WiredPoint& point, Outlook& outlook) {
    if (outlook.other_marks != nowhere || point.speaker_type == nowhere) return;
    if (point.draw.on_low_z || !point.connected) return;
    const SpeakerType& type = job.all<SpeakerType>()[point.speaker_type];
    if (!type.taps_v || is_same_line(*type.taps_v, wiring.zones[point.zone].line_v)) return;
    outlook.other_marks = point.speaker_type;
    outlook.other_marks_v = wiring.zones[point.zone].line_v;
}

}  // namespace

std::optional<Outlook> outlook_from(const Job& job, const Wiring& wiring, const Id& at, std::uint32_t known,
                                    const std::vector<bool>* taken) {
    Outlook outlook;
    outlook.known = known;
    if (!locate(job, wiring, at, outlook)) return std::nullopt;
    if (outlook.low_impedance) outlook.limit.reset();
    for (const Stretch& stretch : outlook.stretches)
        for (std::uint32_t i = stretch.first; i < stretch.last; ++i) {
            const std::uint32_t place = wiring.order[i];
            outlook.newest = std::max(outlook.newest, place + 1);
            if (place >= known || is_found_later(wiring.points[place], taken)) continue;
            if (wiring.points[place].kind == PointKind::attenuator) outlook.attenuators.push_back(place);
            count_speaker(job, wiring.points[place], outlook);
            look_at_marks(job, wiring, wiring.points[place], outlook);
        }
    return outlook;
}

std::complex<double> expected_siemens(const Job& job, const Wiring& wiring, const Outlook& outlook,
                                      const SolveOptions& options) {
    std::complex<double> sum = 0;
    for (const Stretch& stretch : outlook.stretches)
        sum += siemens_of(job, wiring, stretch, outlook.kind != Kind::point, options, outlook.known);
    return sum;
}

}  // namespace tapwright
