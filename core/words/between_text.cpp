#include "core/words/between_text.h"

#include <cmath>

#include "core/units/unit.h"

namespace tapwright {
namespace {

Argument read_of(Ohms ohms) {
    if (std::isfinite(ohms.value())) return ohms;
    return Message("over range");
}

// Which tap it is, or why that cannot be told.
Message verdict_of(const LoadBetween& between) {
    if (between.taps.empty()) return Message("Its type has no taps in the record, so none can be named.");
    if (between.proposed)
        return Message("Of its taps only {tap} fits: record it.", {{"tap", between.taps[*between.proposed].tap}});
    std::vector<Argument> fitting;
    for (const TapBetween& tap : between.taps)
        if (tap.within) fitting.emplace_back(tap.tap);
    if (fitting.empty())
        return Message("None of its taps fits; check that nothing else changed between the two readings.");
    return Message("{taps} fit; read closer to it or with a better meter.", {{"taps", series(fitting)}});
}

}  // namespace

Statement statement_of(const Job& job, const Id& speaker, const LoadBetween& between, Ohms with, Ohms without) {
    const std::vector<Named> named{{"speaker", entered(name_of(job, speaker))},
                                   {"watts", between.watts},
                                   {"error", between.error},
                                   {"with", read_of(with)},
                                   {"without", read_of(without)}};
    return {sentences({Message(Pattern("{speaker} draws {watts} ± {error}: {with} with it, {without} without."), named),
                       verdict_of(between)}),
            Message("Watts between two readings are V² (1/Z₁ − 1/Z₂). Taps within twice the meters' error are named.")};
}

}  // namespace tapwright
