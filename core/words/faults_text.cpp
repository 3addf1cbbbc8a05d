#include "core/words/faults_text.h"

#include <algorithm>
#include <cmath>

#include "core/units/unit.h"
#include "core/words/place_name.h"

namespace tapwright {
namespace {

class FaultWords {
public:
    FaultWords(const Job& job, const Diagnosis& diagnosis) : job_(job), line_(diagnosis.line()) {}

    Message say(const Fault& fault) const {
        const std::vector<Named> named = named_in(fault);
        switch (fault.kind) {
            case FaultKind::none:
                return Message();
            case FaultKind::dead:
                return Message(Pattern("{point} draws nothing: dead or disconnected."), named);
            case FaultKind::broken:
                return Message(Pattern("The run from {feed} to {point} is open: nothing behind it plays."), named);
            case FaultKind::shorted:
                return Message(Pattern("{point} or the run to it is shorted."), named);
            case FaultKind::tap:
                return recorded_tap(fault)
                           ? Message(Pattern("{point} is on its {value} tap, not on {recorded}. If so, correct the "
                                             "record or the tap."),
                                     named)
                           : Message(Pattern("{point} is on its {value} tap. Look, and record it."), named);
            case FaultKind::bypass:
                return Message(Pattern("{point} is on its {value} (bypass) setting."), named);
            case FaultKind::joint:
                return Message(Pattern("The run from {feed} to {point} has about {value} too much: a bad joint."),
                               named);
            case FaultKind::leak:
                return Message(Pattern("A leak of about {value} across the run to {point}."), named);
            case FaultKind::extra:
                return Message(Pattern("About {value} that nobody recorded, at {point} or behind it."), named);
            case FaultKind::position:
                return fault.is_off
                           ? Message(Pattern("{point} is off, not as noted. If so, correct the record."), named)
                           : Message(Pattern("{point} is at {value}, not as noted. If so, correct the record."), named);
            case FaultKind::missing:
                return Message(Pattern("{point} is connected, though recorded as planned. If so, correct the record."),
                               named);
            case FaultKind::wrong_feed:
                return feed(fault, named);
            case FaultKind::earth:
                return Message("A conductor of this line touches earth.");
            case FaultKind::crossed:
                return Message("This line touches another line.");
        }
        return Message();
    }

    Message say_shortly(const Fault& fault) const {
        const std::vector<Named> named = named_in(fault);
        switch (fault.kind) {
            case FaultKind::none:
                return Message();
            case FaultKind::dead:
                return Message(Pattern("{point} dead"), named);
            case FaultKind::broken:
                return Message(Pattern("run to {point} open"), named);
            case FaultKind::shorted:
                return Message(Pattern("{point} shorted"), named);
            case FaultKind::tap:
            case FaultKind::bypass:
                return Message(Pattern("{point} on {value}"), named);
            case FaultKind::joint:
                return Message(Pattern("bad joint before {point}"), named);
            case FaultKind::leak:
                return Message(Pattern("leak before {point}"), named);
            case FaultKind::extra:
                return Message(Pattern("{value} unrecorded from {point} on"), named);
            case FaultKind::position:
                return fault.is_off ? Message(Pattern("{point} off"), named)
                                    : Message(Pattern("{point} at {value}"), named);
            case FaultKind::missing:
                return Message(Pattern("{point} connected"), named);
            case FaultKind::wrong_feed:
                if (line_.wiring.points[fault.points.front()].zone != nowhere)
                    return Message(Pattern("{point} fed from {other}"), named);
                return Message("{points} on this line", {{"points", series(names_of(fault))}});
            case FaultKind::earth:
                return Message("earth fault");
            case FaultKind::crossed:
                return Message("touches another line");
        }
        return Message();
    }

private:
    std::optional<Watts> recorded_tap(const Fault& fault) const {
        return fault.kind == FaultKind::tap ? line_.recorded_tap(fault.points.front()) : std::nullopt;
    }

    Argument name_of_point(std::uint32_t point) const {
        return place_name(job_, point == nowhere ? line_.zone_id : job_.all<Point>()[point].id);
    }

    std::vector<Named> named_in(const Fault& fault) const {
        std::vector<Named> named;
        if (!fault.points.empty()) {
            named.push_back({"point", name_of_point(fault.points.front())});
            named.push_back({"feed", name_of_point(line_.wiring.points[fault.points.front()].feed)});
            named.push_back({"other", name_of_point(fault.feed)});
        }
        if (fault.value) named.push_back({"value", Figure{*fault.value, fault.unit}});
        if (const auto tap = recorded_tap(fault)) named.push_back({"recorded", *tap});
        return named;
    }

    Message feed(const Fault& fault, const std::vector<Named>& named) const {
        if (line_.wiring.points[fault.points.front()].zone != nowhere)
            return Message(Pattern("{point} is fed from {other}, not from {feed}. If so, correct the record."), named);
        const std::vector<Argument> points = names_of(fault);
        return plural("{points} is on this line, with about {value}. Trace its feed and record it.",
                      "{points} are on this line, with about {value} in all. Trace their feed and record it.",
                      static_cast<std::int64_t>(points.size()),
                      {{"points", series(points)}, {"value", Figure{*fault.value, fault.unit}}});
    }

    std::vector<Argument> names_of(const Fault& fault) const {
        std::vector<Argument> points;
        for (const std::uint32_t point : fault.points) points.push_back(name_of_point(point));
        return points;
    }

    const Job& job_;
    const FaultLine& line_;
};

// The baseline of a place, where there is one.
const Look* look_before(const FaultLine& line, const Look& now) {
    for (const Look& look : line.looks)
        if (look.is_before && look.at == now.at && look.quantity == now.quantity) return &look;
    return nullptr;
}

Message read_there(const Job& job, const FaultLine& line, const Look& look) {
    const Argument place = place_name(job, look.at);
    if (look.is_over_range) return Message("{place} over range", {{"place", place}});
    const Look* before = look_before(line, look);
    if (!before) return Message("{place} {read}", {{"place", place}, {"read", Ohms(look.ohms)}});
    return Message("{place} {read} (baseline {before})",
                   {{"place", place}, {"read", Ohms(look.ohms)}, {"before", Ohms(before->ohms)}});
}

Figure percent(double chance) {
    return {chance * 100, Unit::percent, 0, Rounding::down};  // never quite certain
}

// What to do about the likeliest once it is sure.
Message what_is_left(const Job& job, const Diagnosis& diagnosis) {
    const Cause& first = diagnosis.causes().front();
    if (first.faults.empty()) return Message();
    std::size_t alike = 0;
    for (const Cause& cause : diagnosis.causes())
        alike += cause.place == first.place && cause.chance >= least_chance_shown;
    if (alike < 2 || first.faults.front().points.empty()) return Message("Look there, then record what was found.");
    return Message("Look at {point} and the run to it: more readings tell no more.",
                   {{"point", place_name(job, job.all<Point>()[first.faults.front().points.front()].id)}});
}

}  // namespace

Message text_of(const Job& job, const Diagnosis& diagnosis, const Cause& cause) {
    const FaultWords words(job, diagnosis);
    if (cause.faults.empty()) return Message("The record is right: nothing is wrong here.");
    if (cause.faults.size() == 1) return words.say(cause.faults.front());
    return sentences({Message("Two things at once."), words.say(cause.faults[0]), words.say(cause.faults[1])});
}

Message short_text_of(const Job& job, const Diagnosis& diagnosis, const Cause& cause) {
    const FaultWords words(job, diagnosis);
    if (cause.faults.empty()) return Message("the record is right");
    if (cause.faults.size() == 1) return words.say_shortly(cause.faults.front());
    return Message("{one} and {other}",
                   {{"one", words.say_shortly(cause.faults[0])}, {"other", words.say_shortly(cause.faults[1])}});
}

Message chance_in_words(double chance) {
    return percent(chance);
}

Message what_was_read(const Job& job, const Diagnosis& diagnosis) {
    std::vector<Argument> readings;
    for (const Look& look : diagnosis.line().looks)
        if (!look.is_before) readings.emplace_back(read_there(job, diagnosis.line(), look));
    for (const VoltsLook& look : diagnosis.line().volts)
        readings.emplace_back(
            Message("{place} {read}", {{"place", place_name(job, look.at)}, {"read", Volts(look.volts)}}));
    if (readings.empty()) return Message();
    return Message("Read: {readings}.", {{"readings", series(readings)}});
}

Message what_was_heard(const Job& job, const Diagnosis& diagnosis) {
    const FaultLine& line = diagnosis.line();
    std::vector<Argument> silent;
    std::int64_t playing = 0;
    for (std::uint32_t i = 0; i < line.heard.size(); ++i) {
        if (!line.heard[i]) continue;
        if (*line.heard[i] != Heard::silent) {
            ++playing;
            continue;
        }
        const std::uint32_t point = line.wiring.order[line.wiring.zones[line.zone].first + i];
        silent.emplace_back(place_name(job, job.all<Point>()[point].id));
    }
    return sentences({silent.empty() ? Message() : Message("Silent: {points}.", {{"points", series(silent)}}),
                      playing == 0 ? Message() : Message("Heard playing: {count}.", {{"count", playing}})});
}

namespace {

Message walk_text(const Job& job, const Measurement& walk) {
    if (job.has(Kind::room, walk.at))
        return Message("Walk through {room} while something plays quietly, and note which loudspeakers are silent.",
                       {{"room", place_name(job, walk.at)}});
    std::vector<Argument> names;
    for (const std::uint32_t point : walk.heard) names.emplace_back(place_name(job, job.all<Point>()[point].id));
    return Message("Listen at {points} while something plays quietly.", {{"points", series(names)}});
}

// Which of those on a walk are silent.
Message walk_answer(const Job& job, const Measurement& walk, const ExpectedShown& shown) {
    constexpr std::size_t most_named = 3;
    if (shown.silent.empty()) return in_context("answer", "All play");
    if (shown.silent.size() == walk.heard.size()) return in_context("answer", "All are silent");
    std::vector<Argument> names;
    for (const std::uint32_t point : shown.silent)
        if (names.size() < most_named) names.emplace_back(place_name(job, job.all<Point>()[point].id));
    const auto more = static_cast<std::int64_t>(shown.silent.size() - names.size());
    if (more > 0) names.emplace_back(plural("{count} more", "{count} more", more));
    return Message("Silent: {points}", {{"points", series(names)}});
}

}  // namespace

Message text_of(const Job& job, const Measurement& measurement) {
    if (!measurement.heard.empty()) return walk_text(job, measurement);
    const std::vector<Named> named{{"place", place_name(job, measurement.at)}};
    switch (measurement.asked) {
        case Asked::heard:
            return Message(Pattern("Listen at {place} while something plays quietly."), named);
        case Asked::tap_w:
            return Message(Pattern("Amplifier off, then look at the tap of {place}."), named);
        case Asked::dc_ohms:
            return Message(
                Pattern("Amplifier off, both conductors of {place} disconnected: measure with a DC ohmmeter."), named);
        case Asked::ohms:
            break;
    }
    if (measurement.turned) {
        const std::vector<Named> turned{{"place", place_name(job, measurement.at)},
                                        {"attenuator", place_name(job, job.all<Point>()[*measurement.turned].id)}};
        return measurement.turned_off
                   ? Message(Pattern("Switch {attenuator} off. Amplifier off, both conductors of {place} "
                                     "disconnected: measure."),
                             turned)
                   : Message(Pattern("Turn {attenuator} down as far as it goes. Amplifier off, both conductors of "
                                     "{place} disconnected: measure."),
                             turned);
    }
    if (measurement.at_zone)
        return Message(Pattern("Amplifier off, both conductors of {place} disconnected: measure."), named);
    return Message(Pattern("Amplifier still off, disconnect the cable into {place} and measure the far side."), named);
}

Message text_of(const Job& job, const Measurement& measurement, const ExpectedShown& shown) {
    if (!measurement.heard.empty()) return walk_answer(job, measurement, shown);
    switch (measurement.asked) {
        case Asked::heard:
            return shown.is_silent ? in_context("answer", "Silent") : in_context("answer", "Plays");
        case Asked::tap_w:
            if (shown.is_bypass) return in_context("answer", "On its bypass setting");
            return shown.value > 0 ? Message(Watts(shown.value)) : in_context("answer", "As recorded");
        default:
            return shown.is_open ? in_context("answer", "Over range") : Message(Ohms(shown.value));
    }
}

Message band_of(const Job& job, const Measurement& measurement, const ExpectedShown& shown) {
    const bool is_by_meter = measurement.asked == Asked::ohms || measurement.asked == Asked::dc_ohms;
    if (!is_by_meter || shown.is_open) return text_of(job, measurement, shown);
    return Message("{low} to {high}", {{"low", Ohms(shown.low)}, {"high", Ohms(shown.high)}});
}

Statement statement_of(const Job& job, const Measurement& measurement) {
    return {text_of(job, measurement),
            Message("About {minutes}. No other measurement tells more about the place for its minutes.",
                    {{"minutes", plural("{count} minute", "{count} minutes",
                                        static_cast<std::int64_t>(std::ceil(measurement.minutes)))}})};
}

Message limits_of_faults() {
    return Message(
        "Reversed polarity and taps marked for another line voltage do not show in impedance, so they are not among "
        "these.");
}

Message verdict_of(const Job& job, const Diagnosis& diagnosis, Verbosity verbosity) {
    if (diagnosis.unexplained() >= 0.5)
        return sentences({Message("No cause known here explains all of it ({chance} that it is something else).",
                                  {{"chance", percent(diagnosis.unexplained())}}),
                          Message("Read again what fits least; look for a ring, another line, or more than two "
                                  "faults.")});
    const Cause& first = diagnosis.causes().front();
    double there = 0;
    for (const Cause& cause : diagnosis.causes())
        if (cause.place == first.place) there += cause.chance;
    if (diagnosis.is_sure())
        return sentences({text_of(job, diagnosis, first),
                          verbosity == Verbosity::in_short
                              ? Message()
                              : Message("Chance that it is there: {chance}.", {{"chance", percent(there)}}),
                          what_is_left(job, diagnosis)});
    return first.faults.empty()
               ? Message("Most likely nothing is wrong ({chance}).", {{"chance", percent(there)}})
               : Message("Not settled yet; the likeliest place has {chance}.", {{"chance", percent(there)}});
}

Statement statement_of(const Job& job, const Diagnosis& diagnosis, const std::vector<Measurement>& next) {
    const Message verdict = verdict_of(job, diagnosis);
    if (diagnosis.unexplained() >= 0.5 || diagnosis.is_sure()) return {verdict, limits_of_faults()};
    return {sentences({verdict, next.empty() ? Message("No other measurement tells more.")
                                             : Message("Next: {what}", {{"what", text_of(job, next.front())}})}),
            limits_of_faults()};
}

}  // namespace tapwright
