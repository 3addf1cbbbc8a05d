#include "core/findings/against_limit.h"

namespace tapwright {
namespace {

AgainstLimit held(const Margin& margin) {
    AgainstLimit against{.load = margin.load,
                         .basis = margin.basis,
                         .limit = margin.limit.value_or(Watts(0)),
                         .reserve = margin.reserve.value_or(Watts(0)),
                         .unrecorded = margin.unrecorded,
                         .over = margin.over(),
                         .into_reserve = {}};
    if (!against.over && margin.headroom && *margin.headroom < Watts(0)) against.into_reserve = -*margin.headroom;
    return against;
}

std::optional<AgainstLimit> held(const Judgement& judgement) {
    if (!judgement.measured || !judgement.against_limit.limit) return std::nullopt;
    return AgainstLimit{.load = *judgement.measured,
                        .basis = Basis::as_built,
                        .limit = *judgement.against_limit.limit,
                        .reserve = Watts(0),
                        .unrecorded = Watts(0),
                        .over = judgement.against_limit.over,
                        .into_reserve = {}};
}

}  // namespace

std::optional<AgainstLimit> against_limit(const Job& job, const Judged& judged, const Finding& finding) {
    using enum FindingCode;
    const auto zone = job.place<Zone>(finding.at);
    const auto output = job.place<Channel>(finding.at);
    const auto amplifier = job.place<Amplifier>(finding.at);
    switch (code_of(finding)) {
        case zone_over_limit:
        case zone_into_reserve:
            return held(judged.zones[*zone].margin);
        case channel_over_limit:
        case channel_into_reserve:
            return held(judged.channels[*output].margin);
        case amplifier_over_limit:
        case amplifier_into_reserve:
            return held(judged.amplifiers[*amplifier].margin);
        case measured_into_reserve:
            return held(zone     ? judged.zones[*zone].margin
                        : output ? judged.channels[*output].margin
                                 : judged.amplifiers[*amplifier].margin);
        case reading_over_limit:
        case reading_far_over_limit:
            return held(judged.readings[finding.detail]);
        default:
            return std::nullopt;
    }
}

std::vector<Unrecorded> unrecorded_for_headroom(const Judged& judged, std::uint32_t zone) {
    const ZoneState& state = judged.zones[zone];
    std::vector<Unrecorded> missing;
    if (!state.margin.limit) missing.push_back(Unrecorded::zone_limit);
    if (state.margin.is_open_ended) missing.push_back(Unrecorded::taps);
    if (!state.channel)
        missing.push_back(Unrecorded::output);
    else if (!judged.channels[*state.channel].margin.limit)
        missing.push_back(Unrecorded::output_rating);
    if (state.channel && !state.amplifier)
        missing.push_back(Unrecorded::amplifier);
    else if (state.amplifier && !judged.amplifiers[*state.amplifier].margin.limit)
        missing.push_back(Unrecorded::amplifier_rating);
    if (missing.empty()) missing.push_back(Unrecorded::taps_of_other_zones);
    return missing;
}

}  // namespace tapwright
