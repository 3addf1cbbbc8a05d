#include "core/calc/line_tree.h"
#include "core/base/sort.h"

#include <cmath>

namespace tapwright {
namespace {

// Beyond this a resistance in ohms would not be finite; far above any loudspeaker.
constexpr double smallest_siemens = 1e-12;

std::complex<double> modelled(const SpeakerType& type, double siemens, Hertz hz) {
    const TransformerModel model{type.primary_ohm.value_or(Ohms(0)), type.secondary_ohm.value_or(Ohms(0)),
                                 type.leak_h.value_or(Henries(0)), type.mag_h};
    const Result<TransformerSeen> seen = transformer_at(model, Ohms(1 / siemens), hz);
    if (!seen) return siemens;
    const std::complex<double> load = seen->admittance;
    const bool in_range = load.real() >= 0 && load.real() <= largest_value && std::abs(load.imag()) <= largest_value;
    return in_range ? load : siemens;
}

Decibels not_above_zero(Decibels step) {
    return std::min(step, Decibels(0));
}

AttenuatorNetwork l_pad_network(const WiredPoint& point, Decibels step) {
    if (point.pad_ohm == 0) return straight_through();
    AttenuatorNetwork network = l_pad(step, Ohms(point.pad_ohm));
    network.series_ohm = std::min(network.series_ohm, largest_value);
    network.shunt_s = std::min(network.shunt_s, largest_value);
    return network;
}

Knob knob_at(const Job& job, std::uint32_t place, const SolveOptions& options, const Knob* given) {
    if (given) return *given;
    if (options.knobs != Knobs::as_left) return {};
    return job.all<Point>()[place].knob_db.value_or(Knob{});
}

}  // namespace

void SpeakerLoads::get(const WiredPoint& point, std::complex<double>& load) {
    load = point.draw.siemens;
    if (!hz_ || point.speaker_type == nowhere || point.draw.on_low_z || point.draw.siemens < smallest_siemens) return;
    if (point.speaker_type != last_type_ || point.draw.siemens != last_siemens_) {
        const SpeakerType& type = job_.all<SpeakerType>()[point.speaker_type];
        last_load_ = has_model(type) ? modelled(type, point.draw.siemens, *hz_) : point.draw.siemens;
        last_type_ = point.speaker_type;
        last_siemens_ = point.draw.siemens;
    }
    load = last_load_;
}

GivenKnobs::GivenKnobs(const Job& job, const KnobMap* given) {
    if (!given) return;
    for (const auto& [id, knob] : *given)
        if (const auto place = job.place<Point>(id)) by_point_.emplace_back(*place, knob);
    sort_by(by_point_, [](const auto& a, const auto& b) { return a.first < b.first; });
}

const Knob* GivenKnobs::find(std::uint32_t point) const {
    const auto found = std::lower_bound(by_point_.begin(), by_point_.end(), point,
                                        [](const auto& held, std::uint32_t wanted) { return held.first < wanted; });
    return found != by_point_.end() && found->first == point ? &found->second : nullptr;
}

AttenuatorNetwork network_of(const Job& job, const WiredPoint& point, std::uint32_t place, const SolveOptions& options,
                             const GivenKnobs& given) {
    if (options.knobs == Knobs::bypassed) return straight_through();
    const auto types = job.all<AttenuatorType>();
    const AttenuatorType* type = point.attenuator_type == nowhere ? nullptr : &types[point.attenuator_type];
    if (options.override_active && type && type->override.value_or(Override::none) != Override::none)
        return straight_through();
    const Knob knob = knob_at(job, place, options, given.find(place));
    if (knob.off) return switched_off();
    const Decibels step = not_above_zero(knob.step);
    if (type && type->build == AttenuatorBuild::l_pad) return l_pad_network(point, step);
    return autotransformer(step, type ? type->insertion_db.value_or(Decibels(0)) : Decibels(0));
}

std::vector<Knob> knobs_of(const Job& job, std::span<const std::uint32_t> attenuators, const SolveOptions& options) {
    const GivenKnobs given(job, options.given);
    std::vector<Knob> knobs;
    for (const std::uint32_t place : attenuators) knobs.push_back(knob_at(job, place, options, given.find(place)));
    return knobs;
}

}  // namespace tapwright
