// The records of a job as plain values. The members come from fields.def; every one is optional, and absent means
// unknown, never 0. Also `required` members are optional here: a merge or an undo can leave a record without one, and
// every calculation has to survive that.
#pragma once

#include <array>
#include <compare>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/job/choices.h"
#include "core/job/id.h"
#include "core/job/kind.h"
#include "core/job/value.h"
#include "core/units/quantity.h"

namespace tapwright {

using Text = std::string;
using Flag = bool;
using Whole = int;
using Number = double;
using IdRef = Id;
using IdList = std::vector<Id>;
using WattsList = std::vector<Watts>;
using DecibelsList = std::vector<Decibels>;
using TextMap = std::vector<std::pair<std::string, std::string>>;
using Strokes = std::vector<std::vector<std::array<double, 2>>>;

// A calendar day, YYYY-MM-DD, and a moment, RFC 3339 with offset. Kept as the text they were given in.
struct Date {
    std::string text;
    friend bool operator==(const Date&, const Date&) = default;
    // Not defaulted: the library of emscripten 3.1.6 has no <=> for strings.
    friend std::strong_ordering operator<=>(const Date& a, const Date& b) { return a.text.compare(b.text) <=> 0; }
};
struct Time {
    std::string text;
    friend bool operator==(const Time&, const Time&) = default;
};
// Milliseconds since 1970-01-01T00:00:00Z. Requires: the text has been checked (is_time).
std::int64_t milliseconds(const Time& time);
bool is_date(std::string_view text);
bool is_time(std::string_view text);

struct Sha256Text {
    std::string hex;
    friend bool operator==(const Sha256Text&, const Sha256Text&) = default;
};

// How an attenuator stands: a step, or off (the circuit is open).
struct Knob {
    Decibels step{0};
    bool off = false;
    friend bool operator==(const Knob&, const Knob&) = default;
};
using KnobMap = std::vector<std::pair<Id, Knob>>;

struct Pin {
    double x = 0;
    double y = 0;
    friend bool operator==(const Pin&, const Pin&) = default;
};

// One wish: make a record with these fields, set these fields of a record (null clears one), or remove it. Commands,
// imports and trials all speak in Changes. `fields` are checked against the field table when they are used.
struct Change {
    ChangeOp op = ChangeOp::add;
    Kind kind = Kind::point;
    Id id;
    Map fields;
    friend bool operator==(const Change&, const Change&) = default;
};
using ChangeList = std::vector<Change>;

#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) \
    struct Type {                                                   \
        static constexpr Kind kind_of = Kind::singular;             \
        Id id;
#define TAPWRIGHT_FIELD(member, Type, rule, title, help) std::optional<Type> member{};
#define TAPWRIGHT_END \
    }                 \
    ;
#include "core/job/fields.def"

}  // namespace tapwright
