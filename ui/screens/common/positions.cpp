#include "ui/screens/common/positions.h"

#include <algorithm>
#include <optional>

#include "core/units/unit.h"
#include "ui/screens/common/list_fields.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr Decibels full{0}, lowest{-60}, one_step{1};

Message attenuator_words(const Message& name, const Value& picked) {
    if (picked.text()) return Message("{attenuator} left off", {{"attenuator", name}});
    if (!picked.number()) return Message("Position of {attenuator} not recorded", {{"attenuator", name}});
    const Decibels step(*picked.number());
    if (step == full) return Message("{attenuator} left at full", {{"attenuator", name}});
    return Message("{attenuator} left at {step}", {{"attenuator", name}, {"step", step}});
}

void keep_attenuator(Context& context, Shared& shared, const Id& id, const Value& picked) {
    const Message words = attenuator_words(entered(name_of(context.session->job(), id)), picked);
    shared.ask(context, {setting(Kind::point, id, {{"knob_db", picked}})}, words);
}

Message position_words(const std::optional<Decibels>& step, bool is_off) {
    if (is_off) return in_context("attenuator", "Off");
    if (!step) return Message("not noted");
    return *step == full ? in_context("attenuator", "Full") : Message(*step);
}

// Keys for a step down and a step up. Returns: the next position, where one was touched; from none noted a step down
// begins below full.
std::optional<Decibels> stepped(Context& context, const std::string& name, const std::optional<Decibels>& now,
                                bool is_off) {
    const bool can_more = is_off || !now || *now < full, can_less = !is_off && (!now || *now > lowest);
    const int touched = stepper(context, name, Message("Position"), position_words(now, is_off), can_less, can_more);
    if (touched == 0) return std::nullopt;
    if (touched > 0) return is_off ? lowest : now ? std::min(full, *now + one_step) : full;
    return std::max(lowest, now.value_or(full) - one_step);
}

}  // namespace

bool attenuator_steps(Context& context, Shared& shared, const std::string& name, const Point& attenuator) {
    const AttenuatorType* type = context.session->job().find<AttenuatorType>(attenuator.type);
    if (!type || !type->steps_db) return false;
    if (const auto picked = knob_row(context, name, attenuator, attenuator.knob_db))
        keep_attenuator(context, shared, attenuator.id, *picked);
    return true;
}

void attenuator_stepper(Context& context, Shared& shared, const std::string& name, const Point& attenuator) {
    const std::optional<Knob>& knob = attenuator.knob_db;
    const bool is_off = knob && knob->off;
    const std::optional<Decibels> now = knob && !knob->off ? std::optional(knob->step) : std::nullopt;
    if (const auto step = stepped(context, name, now, is_off))
        keep_attenuator(context, shared, attenuator.id, step->value());
    const Choice ends[] = {{.label = in_context("attenuator", "Full"), .mark = "full"},
                           {.label = in_context("attenuator", "Off"), .mark = "off"}};
    const int chosen = is_off ? 1 : now == full ? 0 : -1;
    const int touched = choice_row(context, name, ends, chosen);
    if (touched < 0) return;
    const Value wanted = touched == 0 ? Value(full.value()) : Value("off");
    keep_attenuator(context, shared, attenuator.id, touched == chosen ? Value() : wanted);
}

void zone_level_stepper(Context& context, Shared& shared, const std::string& name, const Zone& zone) {
    const std::optional<Decibels> step = stepped(context, name, zone.knob_db, false);
    if (!step) return;
    shared.ask(context, {setting(Kind::zone, zone.id, {{"knob_db", step->value()}})},
               Message("Level of {zone} left at {step}",
                       {{"zone", entered(name_of(context.session->job(), zone.id))}, {"step", *step}}));
}

}  // namespace tapwright::ui
