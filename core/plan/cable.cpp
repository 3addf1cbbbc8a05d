#include "core/plan/cable.h"

#include <cmath>

#include "core/calc/wiring.h"
#include "core/line/conductor.h"
#include "core/units/limit.h"

namespace tapwright {
namespace {

constexpr int thinnest_trade_awg = 24;
constexpr SquareMm thinnest_trade_area{0.5};
constexpr int trade_class = 2;

Result<OhmsPerKm> conductor_of_size(const ConductorSize& size, Celsius celsius) {
    const auto* gauge = std::get_if<Gauge>(&size);
    const Result<OhmsPerKm> copper =
        gauge ? awg_resistance(gauge->awg, Strand::solid) : iec_resistance(std::get<SquareMm>(size), trade_class);
    if (!copper) return copper.refusal();
    return at_temperature(*copper, celsius);
}

std::vector<ConductorSize> sizes_to_show(const std::optional<ConductorSize>& asked) {
    std::vector<ConductorSize> sizes;
    const bool is_gauge = asked && std::holds_alternative<Gauge>(*asked);
    if (!asked || !is_gauge)
        for (std::optional<SquareMm> area = thinnest_trade_area; area; area = next_area_up(*area))
            sizes.emplace_back(*area);
    if (!asked || is_gauge)
        for (std::optional<int> awg = thinnest_trade_awg; awg; awg = next_awg_up(*awg)) sizes.emplace_back(Gauge{*awg});
    return sizes;
}

// As wide as the field table has them, and narrow enough that no figure overflows.
template <class Q>
Result<void> check(const Message& what, Q value, Q least, Q most) {
    if (value >= least && value <= most) return done();
    return Refusal{Message("{what} {value} is not usable. Give a figure from {least} to {most}.",
                           {{"what", what}, {"value", value}, {"least", least}, {"most", most}})};
}

Result<void> check_all(const CableQuestion& question) {
    for (const Result<void>& checked : {check(Message("Load"), question.load, Watts(0.001), Watts(100000)),
                                        check(Message("Length"), question.length, Metres(0.01), Metres(100000)),
                                        check(Message("Line voltage"), question.volts, Volts(1), Volts(1000)),
                                        check(Message("Loss limit"), question.limit, Decibels(0.01), Decibels(40))})
        if (!checked) return checked.refusal();
    return done();
}

// loss_of_wire_to_load with the pair of that conductor.
LineLoss loss_of(const CableQuestion& question, Ohms load, OhmsPerKm conductor) {
    return loss_of_wire_to_load(pair_resistance(conductor, question.length) / load);
}

bool keeps_limit(const LineLoss& loss, Decibels limit) {
    return keeps_most(-loss.level, limit);
}

CableOfSize answer_for(const CableQuestion& question, Ohms load, OhmsPerKm conductor) {
    const LineLoss loss = loss_of(question, load, conductor);
    CableOfSize made;
    made.pair = pair_resistance(conductor, question.length);
    made.loss = -loss.level;
    made.volts_end = question.volts * loss.volts_ratio;
    made.watts_end = question.load * loss.power_ratio;
    // I = V / (Z + R): what the source gives, V I, times the wire's share of it.
    made.watts_lost = question.load * loss.volts_ratio * loss.wire_share;
    made.longest = longest_run(load, conductor, question.limit);
    made.keeps = keeps_limit(loss, question.limit);
    return made;
}

}  // namespace

Result<RecordedCable> recorded_cable(const CableType& type, Celsius celsius) {
    const std::string name = type.name.value_or(type.id.text());
    const std::optional<OhmsPerKm> conductor = conductor_of(type, celsius);
    if (!conductor)
        return Refusal{Message("The resistance of {cable} is unknown. Record its gauge, cross-section or resistance.",
                               {{"cable", entered(name)}})};
    RecordedCable made{type.id, name, *conductor, std::nullopt};
    if (type.area_mm2)
        made.size = *type.area_mm2;
    else if (type.awg)
        made.size = Gauge{*type.awg};
    return made;
}

Result<CableAnswer> cable_answer(const CableQuestion& question) {
    if (const Result<void> checked = check_all(question); !checked) return checked.refusal();
    const Ohms load(question.volts.value() * question.volts.value() / question.load.value());
    CableAnswer answer;
    if (question.recorded) {
        answer.asked = answer_for(question, load, question.recorded->conductor);
    } else if (question.size) {
        const Result<OhmsPerKm> conductor = conductor_of_size(*question.size, question.celsius);
        if (!conductor) return conductor.refusal();
        answer.asked = answer_for(question, load, *conductor);
    }
    for (const ConductorSize& size : sizes_to_show(question.recorded ? question.recorded->size : question.size)) {
        const Result<OhmsPerKm> conductor = conductor_of_size(size, question.celsius);
        if (!conductor) return conductor.refusal();
        const LineLoss loss = loss_of(question, load, *conductor);
        answer.sizes.push_back({size, -loss.level, keeps_limit(loss, question.limit)});
        if (answer.sizes.back().keeps && !answer.smallest) answer.smallest = size;
    }
    return answer;
}

}  // namespace tapwright
