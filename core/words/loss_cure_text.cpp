#include "core/words/loss_cure_text.h"

#include "core/words/cable_text.h"

namespace tapwright {
namespace {

Message everywhere_or_shorter(const Job& job, const LossCure& cure) {
    std::vector<Named> figures{{"point", entered(name_of(job, cure.shorter.to))}, {"length", cure.shorter.length}};
    if (cure.shorter.allowed) figures.push_back({"allowed", rounded_down(*cure.shorter.allowed)});
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

}  // namespace

Message message_of(const Job& job, const LossCure& cure) {
    return everywhere_or_shorter(job, cure);
}

Message home_run_of(const Job& job, const LossCure& cure) {
    if (!cure.home_run) return {};
    return Message("{to} for the run to {point} alone is enough too (loss then {loss}).",
                   {{"to", as_shown(cure.home_run->to)},
                    {"point", entered(name_of(job, cure.home_run_to))},
                    {"loss", cure.home_run->loss}});
}

}  // namespace tapwright
