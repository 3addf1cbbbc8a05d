// How each type of field is read from a Value and written to one. Used by field_table.cpp alone.
#pragma once

#include "core/base/text.h"
#include "core/job/field_table.h"

namespace tapwright::codec {

// What the field takes, and that `value` is not: a whole sentence without a place.
Refusal wrong(const FieldInfo& info, const Value& value);
// The same of one item of a list, by its number from 0.
Refusal wrong_item(const FieldInfo& info, std::size_t item, const Value& value);
// No list, an empty one where one item is needed, or more than `most` items.
Refusal not_a_list(const FieldInfo& info, const Value& value, std::size_t most);
Result<void> check_number(const FieldInfo& info, double number);
Result<void> check_text(const FieldInfo& info, const std::string& text);
Result<std::string> read_text(const FieldInfo& info, const Value& value);
Result<double> read_number(const FieldInfo& info, const Value& value);

// Codec<T>: form, unit, default range, read (Value to T), write (T to Value).
template <class T>
struct Codec;

struct NoUnit {
    static constexpr std::string_view unit{};
    static constexpr Rule range(Rule rule) { return rule; }
};

// Narrows a rule that says nothing itself to what the quantity can sensibly be.
constexpr Rule within(Rule rule, double low, double high) {
    if (rule.low == -std::numeric_limits<double>::infinity()) rule.low = low;
    if (rule.high == std::numeric_limits<double>::infinity()) rule.high = high;
    return rule;
}

// ---- what a quantity may be, where its field says nothing narrower ----
// Wide enough for anything built or measured, narrow enough that no figure made of two of them overflows or vanishes.
//   Volts       a line is 25 to 200 V; 1 V lies below any amplifier's output
//   Watts       from 1 mW: the lowest taps made are tens of milliwatts
//   Ohms/km     of one conductor: 0.017 for 1000 mm2 of copper, 3430 for AWG 40
//   mm2         0.005 is AWG 40
//   Hz          1 Hz lies below any impedance meter and any high-pass filter
//   dB SPL      1 W at 1 m: loudspeakers give 70 to 115
//   degrees     of a cone: 5 is narrower than any horn, 175 is everything below
constexpr double least_watts = 0.001;
template <class Q>
struct QuantityTraits;
#define TAPWRIGHT_QUANTITY(Q, symbol, low_bound, high_bound)                                   \
    template <>                                                                                \
    struct QuantityTraits<Q> {                                                                 \
        static constexpr std::string_view unit = symbol;                                       \
        static constexpr Rule range(Rule rule) { return within(rule, low_bound, high_bound); } \
    };
TAPWRIGHT_QUANTITY(Volts, "V", 1, 1000)
TAPWRIGHT_QUANTITY(Watts, "W", least_watts, 1e6)
TAPWRIGHT_QUANTITY(Ohms, "ohm", 0, 1e9)
TAPWRIGHT_QUANTITY(OhmsPerKm, "ohm/km", 0.001, 1e5)
TAPWRIGHT_QUANTITY(Henries, "H", 0, 1e6)
TAPWRIGHT_QUANTITY(Hertz, "Hz", 1, 200000)
TAPWRIGHT_QUANTITY(Metres, "m", 0, 100000)
TAPWRIGHT_QUANTITY(SquareMm, "mm2", 0.001, 1000)
TAPWRIGHT_QUANTITY(Celsius, "C", -60, 150)
TAPWRIGHT_QUANTITY(Decibels, "dB", -200, 200)
TAPWRIGHT_QUANTITY(SoundLevel, "dB(A)", 0, 200)
TAPWRIGHT_QUANTITY(Sensitivity, "dB SPL", 30, 150)
TAPWRIGHT_QUANTITY(Percent, "%", 0, 100)
TAPWRIGHT_QUANTITY(Degrees, "deg", 5, 175)
TAPWRIGHT_QUANTITY(MilliAmps, "mA", 0, 1e6)
#undef TAPWRIGHT_QUANTITY

template <class Q>
concept IsQuantity = requires {
    QuantityTraits<Q>::unit;
};
template <class C>
concept IsChoice = requires {
    ChoiceWords<C>::words;
};

template <IsQuantity Q>
struct Codec<Q> : QuantityTraits<Q> {
    static constexpr FieldForm form = FieldForm::number;
    static Result<Q> read(const FieldInfo& info, const Value& value) {
        const Result<double> number = read_number(info, value);
        if (!number) return number.refusal();
        return Q(*number);
    }
    static Value write(const Q& quantity) { return quantity.value(); }
};

template <>
struct Codec<Number> : NoUnit {
    static constexpr FieldForm form = FieldForm::number;
    static constexpr Rule range(Rule rule) { return within(rule, -1e9, 1e9); }
    static Result<double> read(const FieldInfo& info, const Value& value) { return read_number(info, value); }
    static Value write(double number) { return number; }
};

template <>
struct Codec<Whole> : NoUnit {
    static constexpr FieldForm form = FieldForm::whole;
    static constexpr Rule range(Rule rule) { return within(rule, -1e9, 1e9); }
    static Result<int> read(const FieldInfo& info, const Value& value);
    static Value write(int number) { return static_cast<double>(number); }
};

template <>
struct Codec<Text> : NoUnit {
    static constexpr FieldForm form = FieldForm::text;
    static Result<Text> read(const FieldInfo& info, const Value& value) { return read_text(info, value); }
    static Value write(const Text& text) { return text; }
};

template <>
struct Codec<Flag> : NoUnit {
    static constexpr FieldForm form = FieldForm::flag;
    static Result<bool> read(const FieldInfo& info, const Value& value) {
        if (!value.flag()) return wrong(info, value);
        return *value.flag();
    }
    static Value write(bool flag) { return flag; }
};

template <IsChoice C>
struct Codec<C> : NoUnit {
    static constexpr FieldForm form = FieldForm::choice;
    static Result<C> read(const FieldInfo& info, const Value& value) {
        if (const std::string* text = value.text())
            for (std::size_t i = 0; i < ChoiceWords<C>::words.size(); ++i)
                if (ChoiceWords<C>::words[i] == *text) return static_cast<C>(i);
        return wrong(info, value);
    }
    static Value write(C choice) { return std::string(word(choice)); }
};

template <>
struct Codec<Id> : NoUnit {
    static constexpr FieldForm form = FieldForm::id;
    static Result<Id> read(const FieldInfo& info, const Value& value) {
        if (!value.text() || !Id::is_valid(*value.text())) return wrong(info, value);
        return Id(*value.text());
    }
    static Value write(const Id& id) { return id.text(); }
};

// A text that must match a pattern.
template <class T, FieldForm shape, bool (*matches)(std::string_view), std::string T::*member>
struct PatternCodec : NoUnit {
    static constexpr FieldForm form = shape;
    static Result<T> read(const FieldInfo& info, const Value& value) {
        if (!value.text() || !matches(*value.text())) return wrong(info, value);
        T made;
        made.*member = *value.text();
        return made;
    }
    static Value write(const T& made) { return made.*member; }
};
bool is_sha256(std::string_view text);
template <>
struct Codec<Date> : PatternCodec<Date, FieldForm::date, is_date, &Date::text> {};
template <>
struct Codec<Time> : PatternCodec<Time, FieldForm::time, is_time, &Time::text> {};
template <>
struct Codec<Sha256Text> : PatternCodec<Sha256Text, FieldForm::sha256, is_sha256, &Sha256Text::hex> {};

template <>
struct Codec<Knob> : NoUnit {
    static constexpr FieldForm form = FieldForm::knob;
    static constexpr std::string_view unit = "dB";
    static constexpr Rule range(Rule rule) { return within(rule, -200, 200); }
    static Result<Knob> read(const FieldInfo& info, const Value& value);
    static Value write(const Knob& knob);
};

template <>
struct Codec<Pin> : NoUnit {
    static constexpr FieldForm form = FieldForm::pin;
    static Result<Pin> read(const FieldInfo& info, const Value& value);
    static Value write(const Pin& pin);
};

template <class T>
struct ListCodec : Codec<T> {
    static constexpr std::size_t most = 10000;
    static Result<std::vector<T>> read(const FieldInfo& info, const Value& value) {
        if (!value.list() || value.list()->size() > most) return not_a_list(info, value, most);
        if (info.rule.is_required && value.list()->empty()) return not_a_list(info, value, most);
        std::vector<T> items;
        for (const Value& element : *value.list()) {
            Result<T> item = Codec<T>::read(info, element);
            if (!item) return wrong_item(info, items.size(), element);
            items.push_back(std::move(item).value());
        }
        return items;
    }
    static Value write(const std::vector<T>& items) {
        List list;
        for (const T& item : items) list.push_back(Codec<T>::write(item));
        return list;
    }
};
template <IsQuantity Q>
struct Codec<std::vector<Q>> : ListCodec<Q> {
    static constexpr FieldForm form = FieldForm::number_list;
};
template <>
struct Codec<IdList> : ListCodec<Id> {
    static constexpr FieldForm form = FieldForm::id_list;
};

template <>
struct Codec<TextMap> : NoUnit {
    static constexpr FieldForm form = FieldForm::text_map;
    static Result<TextMap> read(const FieldInfo& info, const Value& value);
    static Value write(const TextMap& map);
};

template <>
struct Codec<KnobMap> : Codec<Knob> {
    static constexpr FieldForm form = FieldForm::knob_map;
    static Result<KnobMap> read(const FieldInfo& info, const Value& value);
    static Value write(const KnobMap& map);
};

template <>
struct Codec<Strokes> : NoUnit {
    static constexpr FieldForm form = FieldForm::strokes;
    static Result<Strokes> read(const FieldInfo& info, const Value& value);
    static Value write(const Strokes& strokes);
};

template <>
struct Codec<ChangeList> : NoUnit {
    static constexpr FieldForm form = FieldForm::changes;
    static Result<ChangeList> read(const FieldInfo& info, const Value& value);
    static Value write(const ChangeList& changes);
};

template <class C>
constexpr std::span<const std::string_view> words_of() {
    if constexpr (IsChoice<C>)
        return ChoiceWords<C>::words;
    else
        return {};
}
template <class C>
constexpr std::string_view list_of() {
    if constexpr (IsChoice<C>)
        return ChoiceWords<C>::list;
    else
        return {};
}

// The ids inside a field.
template <class T>
void each_reference(const T& held, const std::function<void(const Id&)>& with) {
    if constexpr (std::is_same_v<T, Id>) {
        with(held);
    } else if constexpr (std::is_same_v<T, IdList>) {
        for (const Id& id : held) with(id);
    } else if constexpr (std::is_same_v<T, KnobMap>) {
        for (const auto& [id, knob] : held) with(id);
    } else {
        static_cast<void>(held);
        static_cast<void>(with);
    }
}

}  // namespace tapwright::codec
