#include "core/words/fit_text.h"

#include <algorithm>
#include <cmath>

#include "core/words/words.h"

namespace tapwright {
namespace {

Argument name(const Job& job, const Id& id) {
    return entered(name_of(job, id));
}

// "C-101 in Foyer".
Argument place_of(const Job& job, const Id& point) {
    const std::optional<Id>& room = job.find<Point>(point)->room;
    if (!room) return name(job, point);
    return Message("{point} in {room}", {{"point", name(job, point)}, {"room", name(job, *room)}});
}

Message no_tap_to_change(Aim aim) {
    switch (aim) {
        case Aim::fewest:
            return Message("Fewest loudspeakers to re-tap: no tap has to change.");
        case Aim::level:
            return Message("Levels closest to today's: no tap has to change.");
        case Aim::wanted:
            return Message("Levels closest to those wanted: no tap has to change.");
    }
    TAPWRIGHT_ENSURE(!"an aim that is not in the list");
}

Message taps_set(Aim aim, const Series& changes) {
    switch (aim) {
        case Aim::fewest:
            return Message("Fewest loudspeakers to re-tap: set {changes}.", {{"changes", changes}});
        case Aim::level:
            return Message("Levels closest to today's: set {changes}.", {{"changes", changes}});
        case Aim::wanted:
            return Message("Levels closest to those wanted: set {changes}.", {{"changes", changes}});
    }
    TAPWRIGHT_ENSURE(!"an aim that is not in the list");
}

Message taps_to_change(const Job& job, const FitOption& option) {
    if (option.changes.empty()) return no_tap_to_change(option.aim);
    constexpr std::size_t most_named = 12;
    std::vector<Message> changes;
    for (const FitChange& change : option.changes) {
        if (changes.size() == most_named) {
            const auto more = static_cast<std::int64_t>(option.changes.size() - most_named);
            changes.push_back(plural("{count} more", "{count} more", more));
            break;
        }
        changes.push_back(Message("{point} from {from} to {to}",
                                  {{"point", name(job, change.point)}, {"from", change.from}, {"to", change.to}}));
    }
    return taps_set(option.aim, series(changes));
}

// Those of one addition on the same tap together.
Message loudspeakers_to_add(const Job& job, const FitRequest& request, const FitOption& option) {
    std::vector<Message> added;
    for (std::size_t i = 0; i < request.add.size(); ++i) {
        std::vector<Watts> taps;
        for (const FitAdded& one : option.added)
            if (one.addition == i) taps.push_back(one.tap);
        std::sort(taps.begin(), taps.end());
        for (auto first = taps.begin(); first != taps.end();) {
            const auto last = std::upper_bound(first, taps.end(), *first);
            added.push_back(
                Message("{number} of {type} on {tap}",
                        {{"number", last - first}, {"type", name(job, request.add[i].type)}, {"tap", *first}}));
            first = last;
        }
    }
    if (added.empty()) return {};
    return Message("Add {loudspeakers}.", {{"loudspeakers", series(added)}});
}

Message loudspeakers_to_re_tap(const FitOption& option) {
    return plural("{count} loudspeaker to re-tap.", "{count} loudspeakers to re-tap.",
                  static_cast<std::int64_t>(option.visits));
}

Message largest_change(const FitOption& option) {
    if (option.worst == Decibels(0) || option.is_out_of_reach) return {};
    const std::vector<Named> change{{"change", Decibels(std::abs(option.worst.value()))}};
    const bool is_louder = option.worst > Decibels(0);
    if (option.aim == Aim::wanted)
        return is_louder ? Message(Pattern("At most {change} louder than wanted."), change)
                         : Message(Pattern("At most {change} quieter than wanted."), change);
    return is_louder ? Message(Pattern("At most {change} louder than today."), change)
                     : Message(Pattern("At most {change} quieter than today."), change);
}

Message load_then(const FitOption& option) {
    if (option.can_add <= Watts(0)) return Message("Zone load {load}, nothing spare.", {{"load", option.load}});
    return Message("Zone load {load}, {spare} spare.", {{"load", option.load}, {"spare", option.can_add}});
}

// What no choice of taps can mend.
Message out_of_reach(const Job& job, const FitOption& option) {
    if (!option.is_out_of_reach) return {};
    const std::vector<Named> named{{"loudspeaker", place_of(job, *option.worst_at)},
                                   {"change", Decibels(std::abs(option.worst.value()))}};
    return option.worst > Decibels(0)
               ? Message(
                     Pattern(
                         "{loudspeaker} is {change} too loud even on its lowest tap. Turn down its volume control or "
                         "the amplifier, or check the room's wanted level."),
                     named)
               : Message(Pattern("{loudspeaker} is {change} too quiet even on its highest tap. Use a larger or more "
                                 "sensitive type, or check the room's wanted level."),
                         named);
}

Message told(const Job& job, const FitRequest& request, const FitOption& option) {
    return sentences({taps_to_change(job, option), loudspeakers_to_add(job, request, option),
                      loudspeakers_to_re_tap(option), largest_change(option), load_then(option),
                      out_of_reach(job, option)});
}

Message why_not(const Job& job, const Fit& fit) {
    switch (fit.misfit) {
        case Misfit::none:
            return {};
        case Misfit::zone_limit:
            return Message(
                "Does not fit: still {missing} over on the lowest taps. Use another zone, a larger amplifier or "
                "fewer loudspeakers.",
                {{"missing", *fit.missing}});
        case Misfit::attenuator_rating:
            return Message(
                "Does not fit behind attenuator {attenuator}: still {missing} over its rating on the lowest taps. "
                "Use a larger attenuator, or fewer loudspeakers behind it.",
                {{"attenuator", name(job, *fit.missing_at)}, {"missing", *fit.missing}});
    }
    TAPWRIGHT_ENSURE(!"a misfit that is not in the list");
}

}  // namespace

Statement statement_of(const Job& job, const FitRequest& request, const Fit& fit) {
    std::vector<Message> text{why_not(job, fit)};
    for (const FitOption& option : fit.options) text.push_back(told(job, request, option));
    if (fit.is_unproven)
        text.push_back(
            Message("A limit or a tap on the way to the amplifier is unknown: this answer is not safe to use "
                    "until it is recorded."));
    return {sentences(std::move(text)), sentences(fit.remarks)};
}

std::string fit_text(const Job& job, const FitRequest& request, const Fit& fit) {
    const Statement statement = statement_of(job, request, fit);
    return in_english(sentences({statement.text, statement.why}));
}

}  // namespace tapwright
