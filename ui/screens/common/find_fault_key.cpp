#include "ui/screens/common/find_fault_key.h"

#include "core/calc/emergency.h"
#include "core/readings/newest.h"
#include "core/words/readings_text.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {

std::optional<std::uint32_t> newest_ohms_at(const Session& session, const Id& at) {
    return newest_reading(session.job(), at, [&session](std::uint32_t reading) {
        return session.derived().readings[reading].verdict != Verdict::not_judged;
    });
}

Id line_to_search(const Session& session, const Id& at) {
    const Id line = line_of(session, at);
    const bool is_line = session.job().has(Kind::zone, line) &&
                         emergency_of(session.job(), session.derived(), at) != tapwright::Answer::yes;
    return is_line ? line : Id();
}

bool FindFaultKey::fits(const Session& session, const Id& at) {
    if (!seen_.still(session)) fits_.clear();
    const auto [known, is_new] = fits_.try_emplace(at.text(), true);
    if (!is_new) return known->second;
    if (const std::optional<std::uint32_t> newest = newest_ohms_at(session, at))
        known->second = !can_be_sought(session.job(), session.derived(), *newest);
    return known->second;
}

bool FindFaultKey::draw_at_reading(Context& context, std::string_view name, const Id& at) {
    return !fits(*context.session, at) && draw(context, name, line_to_search(*context.session, at));
}

void FindFaultKey::draw_at_silent(Context& context, std::string_view name, const Id& point) {
    const Point* speaker = context.session->job().find<Point>(point);
    if (speaker && is_speaker(*speaker) && speaker->heard == Heard::silent)
        draw(context, name, line_to_search(*context.session, point));
}

void FindFaultKey::draw_at_unrecorded(Context& context, std::string_view name, const Id& zone) {
    const auto place = context.session->job().place<Zone>(zone);
    if (place && context.session->derived().zones[*place].margin.unrecorded > Watts(0))
        draw(context, name, line_to_search(*context.session, zone));
}

bool FindFaultKey::draw(Context& context, std::string_view name, const Id& line) {
    if (line == Id()) return false;
    const OnlyLooks looks(context);
    const Message words = Message("Find the fault: {zone}", {{"zone", entered(name_of(context.session->job(), line))}});
    if (button(context, name, words, {.shape = Shape::search})) context.requests.open(find_fault_screen(shared_, line));
    return true;
}

}  // namespace tapwright::ui
