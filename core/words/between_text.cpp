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

// Why a pair says nothing.
Message fault_in_words(const ReadingPair& pair, const std::vector<Named>& named, const Message& said) {
    switch (pair.fault) {
        case PairFault::none:
            break;
        case PairFault::without_unusable:
            return sentences({Message("Two readings are compared, and this one cannot be used."), said});
        case PairFault::without_unproven:
            return Message(
                "Not noted that both conductors were disconnected, so the two cannot be compared. "
                "Disconnect them and read again.");
        case PairFault::no_reading_with:
            return Message(Pattern("{place} has no valid reading with {speaker} connected. Take that one first, with "
                                   "both conductors disconnected."),
                           named);
        case PairFault::record_changed:
            return Message(Pattern("The record of {place} has changed since the reading with {speaker}. Take that "
                                   "one again."),
                           named);
        case PairFault::other_conditions:
            return Message(Pattern("The reading with {speaker} was taken at another frequency, override or attenuator "
                                   "position. Take both alike."),
                           named);
    }
    return {};
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

Statement statement_of(const Job& job, const Id& speaker, const ReadingPair& pair, const Reading& now,
                       const Message& said) {
    if (pair.fault == PairFault::none)
        return statement_of(job, speaker, pair.between, pair.with_ohms, pair.without_ohms);
    const std::vector<Named> named{{"place", entered(name_of(job, now.at))},
                                   {"speaker", entered(name_of(job, speaker))}};
    return {fault_in_words(pair, named, said), Message()};
}

}  // namespace tapwright
