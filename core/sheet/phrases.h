// What several parts of the sheets say, and how strongly. What is absent is said in words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/derive/derived.h"
#include "core/sheet/document.h"

namespace tapwright::sheet {

Message not_recorded();
Message line_to_write_on();

// A quantity, a choice or a count; "not recorded" or nothing where it is absent.
template <class T>
Message shown(const std::optional<T>& value) {
    return value ? Message(*value) : not_recorded();
}
template <class T>
Message shown_or_nothing(const std::optional<T>& value) {
    return value ? Message(*value) : Message();
}

// What people typed; nothing where they did not.
Message typed(const std::optional<std::string>& text);
Message typed_or(const std::optional<std::string>& text, Message otherwise);
Message day_or(const std::optional<Date>& date, Message otherwise);
Day day_of(const std::string& time);  // of an RFC 3339 time; an empty one of an empty time

// What a record is called: its name or label, of a link to another system what it does; "not recorded" for none.
Message called(const Job& job, const std::optional<Id>& id);
Message type_name(const Job& job, const Point& point);  // or "type not recorded"
Message room_name(const Job& job, const std::optional<Id>& room);

// Phrases side by side, those that say nothing left out: "Planned, not fitted; serial number 12", "14 m × 9 m, 3.6 m
// high". Semicolons fill a cell, so that a choice in front is a title there.
Message with_semicolons(std::vector<Message> phrases);
Message with_commas(std::vector<Message> phrases);
// "A, B and C", repeats left out; `most` of them, then "12 more".
Message names_in_words(const std::vector<std::string>& names, std::size_t most = 12);

Message words_for(Verdict verdict);
Message words_for(LimitState state);
Message words_for(Basis basis);
Message words_for(Severity severity);
document::Tone tone_of(const Judgement& judgement);
document::Tone tone_of(Severity severity);

Message position_of(const Knob& knob);           // alone in a cell: "Full (0 dB)", "−3 dB", "Off"
Message position_in_sentence(const Knob& knob);  // "full (0 dB)", "−3 dB", "off"
Message value_of(const Reading& reading);        // the figure with its unit; "over 2 kΩ"
Message conductors_of(const CableType& cable);   // "16 AWG stranded, copper"
// "5 W", "not connected", "tap not recorded"; with the mark of its type: "5 W (blue)".
Message tap_as_left(const Job& job, const Point& point);
Message tap_and_mark(const Job& job, const Point& point);
Message with_mark(const SpeakerType& type, Watts tap);

// Of a fire or emergency line.
Message not_calculated();
// What may be added, never negative and rounded down: "up to 19.7 W", "nothing", "unknown"; or not_calculated().
Message room_for(const ZoneState& zone);
// Why it is unknown; says nothing when it is known.
Message why_unknown(const ZoneState& zone);

}  // namespace tapwright::sheet
