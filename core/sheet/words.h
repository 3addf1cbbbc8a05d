// How the sheet says figures and choices. Units stand with the figure; what is absent is said in words.
#pragma once

#include <optional>
#include <string>

#include "core/derive/derived.h"
#include "core/sheet/document.h"
#include "core/units/show.h"

namespace tapwright::sheet {

inline constexpr const char* not_recorded = "not recorded";

// As show() of core/units/show.h, or "not recorded".
template <class Q>
std::string shown(const std::optional<Q>& quantity, LengthUnits lengths = LengthUnits::metric) {
    return quantity ? show(*quantity, lengths) : std::string(not_recorded);
}

std::string knob_text(const Knob& knob);  // "full (0 dB)", "−3 dB", "off"
std::string text_or(const std::optional<std::string>& text, const char* otherwise);
std::string date_or(const std::optional<Date>& date, const char* otherwise);
std::string day_of(const std::string& time);  // the YYYY-MM-DD of an RFC 3339 time; empty stays empty

// "1 loudspeaker is", "3 loudspeakers are".
std::string count_is(std::size_t count, const char* noun);

std::string in_words(Verdict verdict);  // "consistent with the record", "more load than recorded"
document::Tone tone_of(Verdict verdict);
document::Tone tone_of(Severity severity);
std::string in_words(Basis basis);             // "as left", "partly planned", "at least"
std::string in_words(Purpose purpose);         // "first fix"
std::string in_words(Measured quantity);       // "impedance", "insulation to earth"
std::string in_words(ZoneOutput output);       // "through a relay"
std::string in_words(AttenuatorBuild build);   // "autotransformer", "resistive pad"
std::string in_words(Override override_kind);  // "relay that pulls in", ...
std::string in_words(PointState state);
std::string reading_value(const Reading& reading);  // the figure with its unit; "over 2 kΩ (over range)"

// The tap as left in words, or what stands in its place: "5 W", "not connected", "tap not recorded".
std::string tap_as_left(const Point& point);
// With the mark of its type: "5 W (blue)".
std::string tap_as_left(const Job& job, const Point& point);
std::string type_name(const Job& job, const Point& point);  // or "type not recorded"
std::string room_name(const Job& job, const std::optional<Id>& room);
std::string cable_text(const CableType& cable);  // "16 AWG stranded, copper"

// What can be added, never negative and rounded down: "up to 19.7 W", "nothing", "unknown".
std::string can_add_text(const ZoneState& zone);
// Why it is unknown, as a sentence part; empty when it is known.
std::string why_unknown(const ZoneState& zone);

}  // namespace tapwright::sheet
