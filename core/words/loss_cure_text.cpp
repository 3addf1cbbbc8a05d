#include "core/words/loss_cure_text.h"

namespace tapwright {
namespace {

Argument as_shown(const ConductorSize& size) {
    if (const auto* gauge = std::get_if<Gauge>(&size)) return Figure{static_cast<double>(gauge->awg), Unit::gauge};
    return std::get<SquareMm>(size);
}

}  // namespace

Message message_of(const Job& job, const LossCure& cure) {
    std::vector<Named> figures{{"point", entered(name_of(job, cure.shorter.to))}, {"length", cure.shorter.length}};
    if (cure.shorter.allowed) figures.push_back({"allowed", *cure.shorter.allowed});
    if (cure.thicker) {
        figures.push_back({"from", as_shown(cure.thicker->from)});
        figures.push_back({"to", as_shown(cure.thicker->to)});
        figures.push_back({"loss", cure.thicker->loss});
    }
    if (cure.thicker && cure.shorter.allowed)
        return Message(
            Pattern("Use {to} instead of {from} (loss then {loss}), shorten the run to {point} from {length} "
                    "to {allowed}, or lower taps."),
            std::move(figures));
    if (cure.thicker)
        return Message(Pattern("Use {to} instead of {from} (loss then {loss}), or lower taps; shortening the run to "
                               "{point} is not enough."),
                       std::move(figures));
    if (cure.shorter.allowed)
        return Message(Pattern("Shorten the run to {point} from {length} to {allowed}, or lower taps."),
                       std::move(figures));
    return Message(Pattern("Use lower taps; shortening the run to {point} is not enough."), std::move(figures));
}

}  // namespace tapwright
