#include "core/words/faults_text.h"

#include <algorithm>

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
        std::vector<Argument> points;
        for (const std::uint32_t point : fault.points) points.push_back(name_of_point(point));
        return plural("{points} is on this line, with about {value}. Trace its feed and record it.",
                      "{points} are on this line, with about {value} in all. Trace their feed and record it.",
                      static_cast<std::int64_t>(points.size()),
                      {{"points", series(points)}, {"value", Figure{*fault.value, fault.unit}}});
    }

    const Job& job_;
    const FaultLine& line_;
};

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

Message text_of(const Job& job, const Measurement& measurement) {
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

Message text_of(const Measurement& measurement, const ExpectedShown& shown) {
    switch (measurement.asked) {
        case Asked::heard:
            return shown.is_silent ? Message("silent") : Message("plays");
        case Asked::tap_w:
            if (shown.is_bypass) return Message("on its bypass setting");
            return shown.value > 0 ? Message(Watts(shown.value)) : Message("as recorded");
        default:
            return shown.is_open ? Message("over range") : Message(Ohms(shown.value));
    }
}

Statement statement_of(const Job& job, const Diagnosis& diagnosis, const std::vector<Measurement>& next) {
    const Message limits = Message(
        "Reversed polarity and taps marked for another line voltage do not show in impedance, so they are not among "
        "these.");
    if (diagnosis.unexplained() >= 0.5)
        return {sentences({Message("No cause known here explains all of it ({chance} that it is something else).",
                                   {{"chance", percent(diagnosis.unexplained())}}),
                           Message("Read again what fits least; look for a ring, another line, or more than two "
                                   "faults.")}),
                limits};
    const Cause& first = diagnosis.causes().front();
    double there = 0;
    for (const Cause& cause : diagnosis.causes())
        if (cause.place == first.place) there += cause.chance;
    if (diagnosis.is_sure())
        return {sentences({text_of(job, diagnosis, first),
                           Message("Chance that it is there: {chance}.", {{"chance", percent(there)}}),
                           what_is_left(job, diagnosis)}),
                limits};
    const Message likeliest =
        first.faults.empty()
            ? Message("Most likely nothing is wrong ({chance}).", {{"chance", percent(there)}})
            : Message("Not settled yet; the likeliest place has {chance}.", {{"chance", percent(there)}});
    return {sentences({likeliest, next.empty() ? Message("No other measurement tells more.")
                                               : Message("Next: {what}", {{"what", text_of(job, next.front())}})}),
            limits};
}

}  // namespace tapwright
