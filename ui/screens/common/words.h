// Words and small lists that several screens need. No figures are made here: they come from Derived.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/calc/loads.h"
#include "core/derive/derived.h"
#include "core/job/job.h"
#include "core/job/record_title.h"
#include "ui/frame/shapes.h"
#include "ui/frame/theme.h"

namespace tapwright::ui {

// A limit and what hangs on it, for people.
struct HeadroomWords {
    Message figure;  // "57.5 W"
    Message word;    // "headroom", "into the reserve", "over the limit", "limit not recorded"
    Tone tone = Tone::plain;
};
HeadroomWords headroom_words(const Margin& margin);
// Of what stands closest to its limit between a zone and its amplifier: "7.9 W", "into the reserve of output 2B".
// Requires: a place in derived.zones.
HeadroomWords headroom_words(const Job& job, const Derived& derived, std::uint32_t zone);
// "output 2B", "Amplifier 2", "Foyer".
Message source_name(const Job& job, const Tightest& at);
// "22.5 of 100 W", "at least 22.5 W".
Message load_words(const Margin& margin);
// "Output 2B: 22.5 of 100 W".
Message amplifier_words(const Job& job, const Tightest& source);

Tone tone_of(Severity severity);
Shape shape_of(PointKind kind);
// "Loudspeaker", "Attenuator", ...
Message kind_word(PointKind kind);
// What a record is called: its name, else what it is and what it is about: "Photo of C-104".
Message record_words(const Job& job, const Id& id);
// What was kept of a field, for the kept bar: "Length of Bar: 11 m"; of who may see something "Owner may see it".
Message kept_words(const Job& job, const Id& id, const FieldInfo& field, const Value& value);
// The same of a value that is no record of the job yet, by what it will be called.
Message chosen_words(const Job& job, const Id& id, const FieldInfo& field, const Message& shown);
// "Owner may see it", for what is recorded or holds while nothing is.
Message share_words(const std::optional<Share>& share);

// The rooms in walking order: by their order, those without one behind, else as they were made.
std::vector<const Room*> walking_order(const Job& job);
std::vector<const Point*> points_in(const Job& job, const Id& room);
bool is_speaker(const Point& point);

// The next label after the one made last: "C-105" after "C-104"; "L-1" where there is none. Never one that is in use.
std::string next_label(const Job& job, std::string_view prefix = "L-");
// The one after `label` that is not in use.
std::string label_after(const Job& job, const std::string& label);

// Whether `text` has `part` in it, whatever its case, accents, blanks and hyphens: "L8" is in "L-8".
bool holds(std::string_view text, std::string_view part);

}  // namespace tapwright::ui
