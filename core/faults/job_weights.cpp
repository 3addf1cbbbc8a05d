// What a job says of its house: which kinds of faults are likelier there than usual.
#include <algorithm>
#include <array>
#include <cstdlib>
#include <string>

#include "core/faults/fault_line.h"

namespace tapwright {
namespace {

struct Weighed {
    FaultKind kind;
    double FaultWeights::*weight;
};

constexpr std::array<Weighed, 14> all_weights{{{FaultKind::none, &FaultWeights::none},
                                               {FaultKind::dead, &FaultWeights::dead},
                                               {FaultKind::broken, &FaultWeights::broken},
                                               {FaultKind::shorted, &FaultWeights::shorted},
                                               {FaultKind::tap, &FaultWeights::tap},
                                               {FaultKind::bypass, &FaultWeights::bypass},
                                               {FaultKind::joint, &FaultWeights::joint},
                                               {FaultKind::leak, &FaultWeights::leak},
                                               {FaultKind::extra, &FaultWeights::extra},
                                               {FaultKind::position, &FaultWeights::position},
                                               {FaultKind::missing, &FaultWeights::missing},
                                               {FaultKind::wrong_feed, &FaultWeights::wrong_feed},
                                               {FaultKind::earth, &FaultWeights::earth},
                                               {FaultKind::crossed, &FaultWeights::crossed}}};
constexpr double least_times = 0.01;
constexpr double most_times = 100;
constexpr const char* example = "joint=3, dead=0.5";

std::string without_blanks(std::string_view text) {
    std::string kept;
    for (const char sign : text)
        if (sign != ' ' && sign != '\t' && sign != '\n') kept += sign;
    return kept;
}

Refusal wrong_part(const std::string& part) {
    std::string kinds;
    for (const Weighed& weighed : all_weights) kinds += (kinds.empty() ? "" : ", ") + std::string(word(weighed.kind));
    return Refusal{
        Message("Job settings, fault weights: \"{part}\" is not KIND=NUMBER with a number from 0.01 to 100. "
                "Write for example {example}; kinds are {kinds}.",
                {{"part", entered(part)}, {"example", code(example)}, {"kinds", code(kinds)}})};
}

}  // namespace

Result<FaultWeights> weights_for(const Job& job, FaultWeights weights) {
    const std::string text = without_blanks(job.info().fault_weights.value_or(""));
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t to = std::min(text.find_first_of(",;", from), text.size());
        const std::string part = text.substr(from, to - from);
        from = to + 1;
        if (part.empty()) continue;
        const std::size_t equals = part.find('=');
        if (equals == std::string::npos || equals + 1 == part.size()) return wrong_part(part);
        const auto weighed = std::find_if(all_weights.begin(), all_weights.end(), [&](const Weighed& one) {
            return word(one.kind) == std::string_view(part).substr(0, equals);
        });
        char* end = nullptr;
        const std::string number = part.substr(equals + 1);
        const double times = std::strtod(number.c_str(), &end);
        const bool is_plain = number.find_first_not_of("0123456789.") == std::string::npos && *end == 0;
        if (weighed == all_weights.end() || !is_plain || !(times >= least_times && times <= most_times))
            return wrong_part(part);
        weights.*(weighed->weight) *= times;
    }
    return weights;
}

}  // namespace tapwright
