#include "core/sheet/words.h"

#include <cmath>
#include <cstdlib>

#include "core/base/text.h"

namespace tapwright::sheet {
std::string knob_text(const Knob& knob) {
    if (knob.off) return "off";
    return knob.step.value() == 0 ? "full (0 dB)" : show(knob.step);
}

std::string text_or(const std::optional<std::string>& text, const char* otherwise) {
    return text && !text->empty() ? *text : otherwise;
}

std::string date_or(const std::optional<Date>& date, const char* otherwise) {
    return date ? date->text : otherwise;
}

std::string day_of(const std::string& time) {
    return time.substr(0, 10);
}

std::string count_is(std::size_t count, const char* noun) {
    return counted(count, noun) + (count == 1 ? " is" : " are");
}

std::string in_words(Verdict verdict) {
    switch (verdict) {
        case Verdict::not_judged:
            return "not judged";
        case Verdict::open:
            return "open line";
        case Verdict::shorted:
            return "short circuit";
        case Verdict::more_load:
            return "more load than recorded";
        case Verdict::less_load:
            return "less load than recorded";
        case Verdict::drifted:
            return "drifted from its baseline";
        case Verdict::agrees:
            return "consistent with the record";
    }
    return "";
}

document::Tone tone_of(Verdict verdict) {
    switch (verdict) {
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
            return document::Tone::good;
    }
    return document::Tone::plain;
}

document::Tone tone_of(Severity severity) {
    return severity == Severity::stop   ? document::Tone::stop
           : severity == Severity::warn ? document::Tone::warning
                                        : document::Tone::note;
}

std::string in_words(Basis basis) {
    return basis == Basis::as_built ? "as left" : basis == Basis::planned ? "partly planned" : "at least";
}

std::string in_words(Purpose purpose) {
    switch (purpose) {
        case Purpose::first_fix:
            return "first fix";
        case Purpose::second_fix:
            return "second fix";
        default:
            return std::string(word(purpose));
    }
}

std::string in_words(Measured quantity) {
    switch (quantity) {
        case Measured::ohms:
            return "Impedance";
        case Measured::dc_ohms:
            return "D.c. resistance";
        case Measured::earth_ohms:
            return "Insulation to earth";
        case Measured::cross_ohms:
            return "Insulation to other lines";
        case Measured::stray_v:
            return "Stray voltage";
        case Measured::volts:
            return "Voltage";
        case Measured::level_dba:
            return "Sound level";
        case Measured::noise_dba:
            return "Noise level";
        case Measured::tap_w:
            return "Tap as found";
    }
    return "";
}

std::string in_words(ZoneOutput output) {
    switch (output) {
        case ZoneOutput::switched:
            return "through a relay";
        case ZoneOutput::stepped:
            return "through a level control in steps";
        case ZoneOutput::direct:
            return "direct";
        case ZoneOutput::low_z:
            return "low impedance";
    }
    return "";
}

std::string in_words(AttenuatorBuild build) {
    return build == AttenuatorBuild::l_pad ? "resistive pad" : "autotransformer";
}

std::string in_words(Override override_kind) {
    switch (override_kind) {
        case Override::none:
            return "no override";
        case Override::energise:
            return "relay pulls in to override";
        case Override::release:
            return "relay drops out to override";
        case Override::third_wire:
            return "third wire overrides";
    }
    return "";
}

std::string in_words(PointState state) {
    switch (state) {
        case PointState::planned:
            return "planned, not fitted";
        case PointState::cabled:
            return "cabled, not fitted";
        default:
            return std::string(word(state));
    }
}

std::string reading_value(const Reading& reading) {
    if (!reading.value || !reading.quantity) return not_recorded;
    const double value = *reading.value;
    std::string text;
    switch (*reading.quantity) {
        case Measured::ohms:
        case Measured::dc_ohms:
        case Measured::earth_ohms:
        case Measured::cross_ohms:
            text = show(Ohms(value));
            break;
        case Measured::stray_v:
        case Measured::volts:
            text = show(Volts(value));
            break;
        case Measured::level_dba:
        case Measured::noise_dba:
            text = rounded(value, 1) + " dB(A)";
            break;
        case Measured::tap_w:
            text = show(Watts(value));
            break;
    }
    return reading.over_range.value_or(false) ? "over " + text + " (over range)" : text;
}

std::string tap_as_left(const Point& point) {
    if (point.wired == Wired::off) return "not connected";
    if (point.wired == Wired::low_z) return "low-impedance setting";
    return point.tap_w ? show(*point.tap_w) : "tap not recorded";
}

std::string tap_as_left(const Job& job, const Point& point) {
    const std::string text = tap_as_left(point);
    const SpeakerType* type = job.find<SpeakerType>(point.type);
    if (!point.tap_w || !type || !type->tap_marks || point.wired.value_or(Wired::line) != Wired::line) return text;
    for (const auto& [tap, mark] : *type->tap_marks)
        if (std::abs(std::strtod(tap.c_str(), nullptr) / point.tap_w->value() - 1) < 0.01 && mark != text)
            return text + " (" + mark + ")";
    return text;
}

std::string type_name(const Job& job, const Point& point) {
    return point.type && job.has(point.kind == PointKind::attenuator ? Kind::attenuator_type : Kind::speaker_type,
                                 *point.type)
               ? name_of(job, point.type)
               : "type not recorded";
}

std::string room_name(const Job& job, const std::optional<Id>& room) {
    return job.find<Room>(room) ? name_of(job, room) : "room not recorded";
}

std::string cable_text(const CableType& cable) {
    std::string text;
    if (cable.awg)
        text = std::to_string(*cable.awg) + " AWG " + std::string(word(cable.strand.value_or(CableStrand::solid)));
    else if (cable.area_mm2)
        text = show(*cable.area_mm2) + ", class " + std::to_string(cable.iec_class.value_or(2));
    else if (cable.ohm_per_km)
        text = show(*cable.ohm_per_km);
    else
        text = "size not recorded";
    return text + (cable.metal == CableMetal::cca ? ", copper-clad aluminium" : ", copper");
}

std::string can_add_text(const ZoneState& zone) {
    if (!zone.can_add) return "unknown";
    const Watts rounded_down = may_add(*zone.can_add);
    return rounded_down > Watts(0) ? "up to " + show(rounded_down) : "nothing";
}

std::string why_unknown(const ZoneState& zone) {
    if (zone.can_add) return "";
    if (zone.low_impedance) return "a low-impedance line is not counted in watts";
    if (!zone.margin.limit) return "its limit is not recorded";
    if (zone.margin.basis == Basis::at_least) return "a tap on it is not recorded";
    if (!zone.channel) return "what feeds it is not recorded";
    return "a limit or a tap on the same amplifier is not recorded";
}

}  // namespace tapwright::sheet
