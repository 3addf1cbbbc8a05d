#include "core/words/cable_text.h"

namespace tapwright {
namespace {

Message of_the_size(const CableQuestion& question, const CableOfSize& asked) {
    const std::vector<Named> figures{
        {"size", question.recorded ? Argument(entered(question.recorded->name)) : as_shown(*question.size)},
        {"length", question.length},
        {"load", question.load},
        {"volts", question.volts},
        {"loss", asked.loss},
        {"end", asked.volts_end},
        {"watts", asked.watts_end},
        {"lost", asked.watts_lost},
        {"longest", rounded_down(asked.longest)},
        {"limit", question.limit}};
    return sentences(
        {asked.keeps ? Message(Pattern("{load} at {volts} over {length} of {size}: {loss} cable loss, within {limit}."),
                               figures)
                     : Message(Pattern("{load} at {volts} over {length} of {size}: {loss} cable loss, limit {limit}."),
                               figures),
         Message(Pattern("At the end: {end}, {watts}; {lost} lost in the cable."), figures),
         Message(Pattern("It may be {longest} long."), figures)});
}

Message smallest_size(const CableQuestion& question, const CableAnswer& answer) {
    if (!answer.smallest)
        return Message("No size up to {largest} keeps {limit}. Shorten the run, split the load or lower taps.",
                       {{"largest", as_shown(answer.sizes.back().size)}, {"limit", question.limit}});
    return Message("Smallest size that keeps {limit}: {size}.",
                   {{"limit", question.limit}, {"size", as_shown(*answer.smallest)}});
}

}  // namespace

Argument as_shown(const ConductorSize& size) {
    if (const auto* gauge = std::get_if<Gauge>(&size)) return Figure{static_cast<double>(gauge->awg), Unit::gauge};
    return std::get<SquareMm>(size);
}

Statement statement_of(const CableQuestion& question, const CableAnswer& answer) {
    const Message basis =
        question.recorded
            ? Message(
                  "All the load is taken at the far end, on {cable} as recorded and other sizes in copper, at "
                  "{celsius}; spread along the line the loss is less.",
                  {{"cable", entered(question.recorded->name)}, {"celsius", question.celsius}})
            : Message(
                  "All the load is taken at the far end, on copper at {celsius}; spread along the line the loss is "
                  "less.",
                  {{"celsius", question.celsius}});
    return {
        sentences({answer.asked ? of_the_size(question, *answer.asked) : Message(), smallest_size(question, answer)}),
        basis};
}

}  // namespace tapwright
