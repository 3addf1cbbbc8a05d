#include "core/sheet/phrases.h"

#include <cmath>
#include <cstdlib>
#include <unordered_set>
#include <utility>

#include "core/base/blank.h"
#include "core/units/show.h"
#include "core/words/choices.h"
#include "core/words/place_name.h"

namespace tapwright::sheet {

Message not_recorded() {
    return Message("not recorded");
}

Message line_to_write_on() {
    return code("____________________");
}

Message typed(const std::optional<std::string>& text) {
    return text && !is_blank(*text) ? Message(entered(*text)) : Message();
}

Message typed_or(const std::optional<std::string>& text, Message otherwise) {
    return text && !is_blank(*text) ? Message(entered(*text)) : std::move(otherwise);
}

Message day_or(const std::optional<Date>& date, Message otherwise) {
    return date ? Message(Day{date->text}) : std::move(otherwise);
}

Day day_of(const std::string& time) {
    return {time.substr(0, 10)};
}

Message called(const Job& job, const std::optional<Id>& id) {
    if (!id) return not_recorded();
    return place_name(job, *id);
}

Message type_name(const Job& job, const Point& point) {
    const Kind kind = point.kind == PointKind::attenuator ? Kind::attenuator_type : Kind::speaker_type;
    return point.type && job.has(kind, *point.type) ? Message(entered(name_of(job, point.type)))
                                                    : Message("type not recorded");
}

Message room_name(const Job& job, const std::optional<Id>& room) {
    return job.find<Room>(room) ? Message(entered(name_of(job, room))) : Message("room not recorded");
}

Message with_semicolons(std::vector<Message> phrases) {
    Message all;
    for (Message& next : phrases) {
        if (next.empty()) continue;
        all = all.empty()
                  ? as_title(std::move(next))
                  : in_context("phrases", "{these}; {next}", {{"these", std::move(all)}, {"next", std::move(next)}});
    }
    return all;
}

Message with_commas(std::vector<Message> phrases) {
    Message all;
    for (Message& next : phrases) {
        if (next.empty()) continue;
        all = all.empty()
                  ? std::move(next)
                  : in_context("phrases", "{these}, {next}", {{"these", std::move(all)}, {"next", std::move(next)}});
    }
    return all;
}

Message names_in_words(const std::vector<std::string>& names, std::size_t most) {
    Series shown;
    std::unordered_set<std::string> seen;
    for (const std::string& name : names)
        if (seen.insert(name).second && seen.size() <= most) shown.items.emplace_back(entered(name));
    if (seen.size() > most) shown.items.emplace_back(Message("{count} more", {{"count", seen.size() - most}}));
    return shown;
}

Message words_for(Verdict verdict) {
    return Choice{"Verdict", word(verdict)};
}

Message words_for(LimitState state) {
    return Choice{"LimitState", word(state)};
}

Message words_for(Basis basis) {
    return Choice{"Basis", word(basis)};
}

Message words_for(Severity severity) {
    return Choice{"Severity", word(severity)};
}

// Good is only what a valid reading shows of the record as it is now.
document::Tone tone_of(const Judgement& judgement) {
    switch (judgement.verdict) {
        case Verdict::not_judged:
            return document::Tone::plain;
        case Verdict::open:
        case Verdict::shorted:
            return document::Tone::stop;
        case Verdict::more_load:
        case Verdict::less_load:
        case Verdict::drifted:
            return document::Tone::warning;
        case Verdict::agrees:
            return judgement.is_valid && !judgement.expected_now ? document::Tone::good : document::Tone::plain;
    }
    return document::Tone::plain;
}

document::Tone tone_of(Severity severity) {
    return severity == Severity::stop   ? document::Tone::stop
           : severity == Severity::warn ? document::Tone::warning
                                        : document::Tone::note;
}

Message position_of(const Knob& knob) {
    if (knob.off) return in_context("position", "Off");
    return knob.step.value() == 0 ? in_context("position", "Full (0 dB)") : Message(knob.step);
}

Message position_in_sentence(const Knob& knob) {
    if (knob.off) return in_context("position", "off");
    return knob.step.value() == 0 ? in_context("position", "full (0 dB)") : Message(knob.step);
}

namespace {

Message figure_of(Measured quantity, double value) {
    switch (quantity) {
        case Measured::ohms:
        case Measured::dc_ohms:
        case Measured::earth_ohms:
        case Measured::cross_ohms:
            return Ohms(value);
        case Measured::stray_v:
        case Measured::volts:
            return Volts(value);
        case Measured::level_dba:
        case Measured::noise_dba:
            return SoundLevel(value);
        case Measured::tap_w:
            return Watts(value);
    }
    return not_recorded();
}

// The type's mark for a tap: "blue".
const std::string* mark_for(const SpeakerType& type, Watts tap) {
    if (!type.tap_marks) return nullptr;
    for (const auto& [watts, mark] : *type.tap_marks)
        if (std::abs(std::strtod(watts.c_str(), nullptr) / tap.value() - 1) < 0.01) return &mark;
    return nullptr;
}

const std::string* mark_of(const Job& job, const Point& point) {
    const SpeakerType* type = job.find<SpeakerType>(point.type);
    if (!point.tap_w || !type || point.wired.value_or(Wired::line) != Wired::line) return nullptr;
    return mark_for(*type, *point.tap_w);
}

}  // namespace

Message value_of(const Reading& reading) {
    const bool is_over = reading.over_range.value_or(false);
    if (!reading.value && is_over)
        return reading.range_ohm ? Message("over {figure} (over range)", {{"figure", *reading.range_ohm}})
                                 : Message("over range");
    if (!reading.value || !reading.quantity) return not_recorded();
    Message figure = figure_of(*reading.quantity, *reading.value);
    return is_over ? Message("over {figure} (over range)", {{"figure", figure}}) : figure;
}

Message tap_as_left(const Job& job, const Point& point) {
    if (point.wired == Wired::off) return Message("not connected");
    if (point.wired == Wired::low_z) {
        const SpeakerType* type = job.find<SpeakerType>(point.type);
        return type && type->low_z_ohm ? Message("{ohms} (bypass) setting", {{"ohms", *type->low_z_ohm}})
                                       : Message("bypass setting");
    }
    return point.tap_w ? Message(*point.tap_w) : Message("tap not recorded");
}

Message tap_and_mark(const Job& job, const Point& point) {
    Message tap = tap_as_left(job, point);
    const std::string* mark = mark_of(job, point);
    if (!mark || *mark == show(*point.tap_w)) return tap;  // it says no more
    return in_context("a tap and its mark", "{tap} ({mark})", {{"tap", std::move(tap)}, {"mark", entered(*mark)}});
}

Message with_mark(const SpeakerType& type, Watts tap) {
    const std::string* mark = mark_for(type, tap);
    if (!mark || *mark == show(tap)) return tap;
    return in_context("a tap and its mark", "{tap} ({mark})", {{"tap", tap}, {"mark", entered(*mark)}});
}

Message conductors_of(const CableType& cable) {
    const CableMetal metal = cable.metal.value_or(CableMetal::copper);
    if (cable.awg)
        return Message(
            "{gauge} AWG {strand}, {metal}",
            {{"gauge", *cable.awg}, {"strand", cable.strand.value_or(CableStrand::solid)}, {"metal", metal}});
    if (cable.area_mm2)
        return Message("{area}, class {class}, {metal}",
                       {{"area", *cable.area_mm2}, {"class", cable.iec_class.value_or(2)}, {"metal", metal}});
    if (cable.ohm_per_km)
        return Message("{resistance}, {metal}", {{"resistance", *cable.ohm_per_km}, {"metal", metal}});
    return Message("size not recorded, {metal}", {{"metal", metal}});
}

Message not_calculated() {
    return Message("not calculated");
}

Message room_for(const ZoneState& zone) {
    if (zone.emergency) return not_calculated();
    if (!zone.can_add) return Message("unknown");
    const Watts rounded_down = may_add(*zone.can_add);
    return rounded_down > Watts(0) ? Message("up to {watts}", {{"watts", rounded_down}}) : Message("nothing");
}

Message why_unknown(const ZoneState& zone) {
    if (zone.emergency) return Message("part of a fire or emergency system: leave it to qualified people");
    if (zone.can_add) return {};
    if (zone.low_impedance) return Message("a low-impedance line is not counted in watts");
    if (!zone.margin.limit) return Message("its limit is not recorded");
    // Taps that a valid reading has seen are no reason: they are in what it shows.
    if (zone.margin.basis == Basis::at_least && zone.margin.is_open_ended)
        return Message("a tap on it is not recorded");
    if (!zone.channel) return Message("what feeds it is not recorded");
    return Message("a limit or a tap on the same amplifier is not recorded");
}

}  // namespace tapwright::sheet
