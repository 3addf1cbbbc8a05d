// The field table as data: what fields.def says, for everything that handles fields without knowing them by name.
//
// The untyped half (FieldInfo, fields()) serves files, forms, help and docs. The typed half (field_table<R>()) also
// reads and writes the members of a record R. Form (type, range, size) is checked here and nowhere else.
#pragma once

#include <array>
#include <functional>
#include <limits>
#include <span>
#include <string_view>

#include "core/base/result.h"
#include "core/job/records.h"

namespace tapwright {

// The version of this table and of the JSON files that hold what it describes ("tapwright_job"): raised whenever a
// field or kind is added. The job file's own format, the database's, is numbered in core/journal/header.h.
inline constexpr int job_table_version = 5;

// What a field's value looks like.
enum class FieldForm : std::uint8_t {
    text,
    number,
    whole,
    flag,
    choice,
    id,
    date,
    time,
    sha256,
    knob,
    pin,
    number_list,
    id_list,
    text_map,
    knob_map,
    strokes,
    changes,
};
std::string_view name_of(FieldForm form);

// What a value must keep to besides its form.
struct Rule {
    bool is_required = false;
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool high_excluded = false;
    double grain = 0;  // nothing nearer to 0 than this, but 0 itself: what no instrument shows and no drawing says
    std::size_t most_chars = 200;
    KindSet may_refer_to;
    std::array<int, 4> allowed{};
    std::size_t allowed_count = 0;
    std::string_view unit;  // where the field's type does not say it
    // What holds while the field is absent: a value as files write it, or words that say where it comes from. Empty:
    // unknown.
    std::string_view absent_means;
    Pattern absent_words;  // the words, when it is words

    constexpr Rule from(double x) const {
        Rule r = *this;
        r.low = x;
        return r;
    }
    constexpr Rule to(double x) const {
        Rule r = *this;
        r.high = x;
        r.high_excluded = false;
        return r;
    }
    constexpr Rule below(double x) const {
        Rule r = *this;
        r.high = x;
        r.high_excluded = true;
        return r;
    }
    constexpr Rule or_zero(double x) const {
        Rule r = *this;
        r.grain = x;
        return r;
    }
    constexpr Rule chars(std::size_t n) const {
        Rule r = *this;
        r.most_chars = n;
        return r;
    }
    constexpr Rule refers(KindSet kinds) const {
        Rule r = *this;
        r.may_refer_to = kinds;
        return r;
    }
    constexpr Rule in(std::string_view symbol) const {
        Rule r = *this;
        r.unit = symbol;
        return r;
    }
    constexpr Rule otherwise(std::string_view value) const {
        Rule r = *this;
        r.absent_means = value;
        return r;
    }
    template <std::size_t size>
    constexpr Rule inherited(const char (&words)[size]) const {
        Rule r = *this;
        r.absent_means = words;
        r.absent_words = Pattern(words);
        return r;
    }
    constexpr Rule one_of(std::initializer_list<int> values) const {
        Rule r = *this;
        for (const int value : values) r.allowed[r.allowed_count++] = value;
        return r;
    }

    // Whether a finite figure keeps to the range.
    constexpr bool allows(double number) const {
        const bool is_high = high_excluded ? number < high : number <= high;
        return number >= low && is_high && (number == 0 || number >= grain || number <= -grain);
    }
};

struct FieldInfo {
    std::string_view name;
    FieldForm form = FieldForm::text;
    std::string_view unit;  // "W", "m", ...; empty: none
    Rule rule;
    std::span<const std::string_view> choices;
    std::string_view choice_list;  // the choices' list: {choice_list, key} is a Choice with words; empty: no choices
    Pattern title;                 // what people call it: "Cable length"
    Pattern help;                  // what it says, beside the title
};

inline Message title_of(const FieldInfo& field) {
    return field.title;
}
// "Loudspeaker type" and "Loudspeaker types": a kind of records for headings and buttons; and what one of them is.
Message title_of(Kind kind);
Message titles_of(Kind kind);
Message help_of(Kind kind);

// The fields of a kind, in file order.
std::span<const FieldInfo> fields(Kind kind);
const FieldInfo* find_field(Kind kind, std::string_view name);

// Whether `value` has the form the field wants. Null is no form; clearing is decided by the caller.
// Errors: a whole sentence without a place: "Write a figure from 0.001 W to 1000000 W, not “five”." Where it
// stands is the caller's to say: placed(title_of(field), refusal), or a JSON pointer instead.
Result<void> check_form(const FieldInfo& field, const Value& value);

// A record's field, typed. `set` refuses exactly what check_form refuses and then changes nothing; null clears.
template <class R>
struct FieldOf {
    FieldInfo info;
    Value (*get)(const R& record) = nullptr;
    Result<void> (*set)(R& record, const Value& value, const FieldInfo& info) = nullptr;
    // Calls back with each id the field holds.
    void (*references)(const R& record, const std::function<void(const Id&)>& with) = nullptr;
};

template <class R>
std::span<const FieldOf<R>> field_table();

// Calls f.template operator()<R>() for the record type R of `kind`.
template <class F>
decltype(auto) with_record_type(Kind kind, F&& f) {
    switch (kind) {
#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) \
    case Kind::singular:                                            \
        return f.template operator()<Type>();
#define TAPWRIGHT_FIELD(member, Type, rule, title, help)
#define TAPWRIGHT_END
#include "core/job/fields.def"
    }
    TAPWRIGHT_ENSURE(!"a kind of records that is not in the table");
}

}  // namespace tapwright
