#include "ui/screens/common/next_reading.h"

#include "core/calc/wiring.h"
#include "core/readings/assessment.h"
#include "core/words/reading_parts.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {

std::optional<std::uint32_t> newest_ohms_at(const Session& session, const Id& at) {
    const auto readings = session.job().all<Reading>();
    std::optional<std::uint32_t> newest;
    for (std::uint32_t i = 0; i < readings.size(); ++i) {
        if (readings[i].at != at || session.derived().readings[i].verdict == Verdict::not_judged) continue;
        if (!newest || is_newer(readings[i], readings[*newest])) newest = i;
    }
    return newest;
}

// As its statement says it: a broken limit comes first, and a short keeps its next step.
std::optional<Id> NextReading::next_at(const Session& session, const Id& at) {
    if (!seen_.still(session)) known_.clear();
    const auto [known, is_new] = known_.try_emplace(at.text());
    if (!is_new) return known->second;
    const std::optional<std::uint32_t> newest = newest_ohms_at(session, at);
    if (!newest) return std::nullopt;
    const Judgement& judgement = session.derived().readings[*newest];
    const bool says_next = judgement.limit == LimitState::ok || judgement.verdict == Verdict::shorted;
    if (!says_next || judgement.verdict == Verdict::agrees || !asks_where_next(judgement)) return std::nullopt;
    if (const auto next = next_place(session.job(), wire(session.job()), *newest))
        known->second = session.job().all<Point>()[next->point].id;
    return known->second;
}

void NextReading::draw(Context& context, std::string_view name, const Id& at, ReadingEntry& entry) {
    const Session& session = *context.session;
    const std::optional<Id> next = next_at(session, at);
    if (!next) return;
    const Message label = Message("Measure at {point}", {{"point", entered(name_of(session.job(), *next))}});
    if (button(context, name, label, {.shape = Shape::readings, .changes = true})) entry.begin(context, *next);
}

}  // namespace tapwright::ui
