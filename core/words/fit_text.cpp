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
    const std::vector<Named> figures{{"load", option.load},
                                     {"unrecorded", option.unrecorded},
                                     {"drawn", option.load + option.unrecorded},
                                     {"spare", may_add(option.can_add)}};
    if (option.unrecorded > Watts(0))
        return may_add(option.can_add) <= Watts(0)
                   ? Message(
                         Pattern("The zone then carries {drawn}: {load} recorded and {unrecorded} more as measured. "
                                 "Nothing spare."),
                         figures)
                   : Message(
                         Pattern("The zone then carries {drawn}: {load} recorded and {unrecorded} more as measured. "
                                 "{spare} spare."),
                         figures);
    if (may_add(option.can_add) <= Watts(0)) return Message(Pattern("Zone load {load}, nothing spare."), figures);
    return Message(Pattern("Zone load {load}, {spare} spare."), figures);
}

// What somebody wrote about a loudspeaker, or planned for it, before it is re-tapped.
Message known_of(const Job& job, const FitOption& option) {
    std::vector<Message> known;
    for (const FitChange& change : option.changes) {
        const Point& point = *job.find<Point>(change.point);
        if (auto about = about_re_tapped(point); !about.empty())
            known.push_back(
                Message("{point}: {known}.", {{"point", name(job, change.point)}, {"known", std::move(about)}}));
    }
    return sentences(std::move(known));
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

Message left(const FitRequest& request) {
    if (request.leave.empty()) return {};
    return plural("{count} loudspeaker is left as it is, as asked.",
                  "{count} loudspeakers are left as they are, as asked.",
                  static_cast<std::int64_t>(request.leave.size()));
}

Message told(const Job& job, const FitRequest& request, const FitOption& option) {
    return sentences({taps_to_change(job, option), known_of(job, option), left(request),
                      loudspeakers_to_add(job, request, option),
                      option.changes.empty() ? Message() : loudspeakers_to_re_tap(option), largest_change(option),
                      load_then(option), out_of_reach(job, option)});
}

// A tap that was asked for is a wish, not the lowest there is.
bool asks_for_a_tap(const FitRequest& request) {
    return std::any_of(request.add.begin(), request.add.end(),
                       [](const FitAddition& addition) { return addition.tap.has_value(); });
}

Message what_is_over(const Job& job, const FitRequest& request, const Fit& fit) {
    std::vector<Named> figures{{"missing", rounded_up(*fit.missing)}};
    if (fit.misfit == Misfit::attenuator_rating) {
        figures.push_back({"attenuator", name(job, *fit.missing_at)});
        return asks_for_a_tap(request)
                   ? Message(Pattern("Does not fit behind attenuator {attenuator}: on the taps asked for it is "
                                     "{missing} over its rating, even with the others on their lowest."),
                             figures)
                   : Message(Pattern("Does not fit behind attenuator {attenuator}: still {missing} over its rating on "
                                     "the lowest taps."),
                             figures);
    }
    return asks_for_a_tap(request)
               ? Message(Pattern("Does not fit: on the taps asked for it is {missing} over, even with the others on "
                                 "their lowest."),
                         figures)
               : Message(Pattern("Does not fit: still {missing} over on the lowest taps."), figures);
}

Message what_helps(const Job& job, const FitRequest& request, const Fit& fit) {
    if (fit.offer)
        return plural("{count} of {type} on {tap} would fit.", "{count} of {type} on {tap} would fit.",
                      static_cast<std::int64_t>(fit.offer->count),
                      {{"type", name(job, request.add[fit.offer->addition].type)}, {"tap", fit.offer->tap}});
    return fit.misfit == Misfit::attenuator_rating
               ? Message("Use a larger attenuator, or fewer loudspeakers behind it.")
               : Message("Use another zone, a larger amplifier or fewer loudspeakers.");
}

Message why_not(const Job& job, const FitRequest& request, const Fit& fit) {
    if (fit.misfit == Misfit::none) return {};
    return sentences({what_is_over(job, request, fit), left(request), what_helps(job, request, fit)});
}

}  // namespace

Message about_re_tapped(const Point& point) {
    std::vector<Message> known;
    if (point.tap_w && point.planned_tap_w)
        known.push_back(Message("planned on {tap}", {{"tap", *point.planned_tap_w}}));
    if (point.notes) known.push_back(Message("noted \"{notes}\"", {{"notes", entered(*point.notes)}}));
    if (known.empty()) return {};
    return series(known);
}

std::vector<Message> paragraphs_of(const Job& job, const FitRequest& request, const Fit& fit) {
    if (fit.options.empty()) return {why_not(job, request, fit)};
    std::vector<Message> paragraphs;
    for (const FitOption& option : fit.options) paragraphs.push_back(told(job, request, option));
    return paragraphs;
}

Statement statement_of(const Job& job, const FitRequest& request, const Fit& fit) {
    return {sentences(paragraphs_of(job, request, fit)), sentences(fit.remarks)};
}

std::string fit_text(const Job& job, const FitRequest& request, const Fit& fit) {
    const Statement statement = statement_of(job, request, fit);
    return in_english(sentences({statement.text, statement.why}));
}

}  // namespace tapwright
