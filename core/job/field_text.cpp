#include "core/job/field_text.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "core/base/text.h"
#include "core/job/json.h"
#include "core/job/record_title.h"
#include "core/units/parse.h"
#include "core/units/show.h"

namespace tapwright {
namespace {

std::string lowered(std::string_view text) {
    std::string lower(text);
    for (char& c : lower)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return lower;
}

// "First fix", "first-fix" and "first_fix" are one word.
std::string choice_key(std::string_view text) {
    std::string key = lowered(text);
    std::replace_if(
        key.begin(), key.end(), [](char c) { return c == ' ' || c == '-'; }, '_');
    return key;
}

// ---- reading ----

Result<Value> number_from(const FieldInfo& field, std::string_view text, LengthUnits lengths) {
    TAPWRIGHT_TAKE(number, parse_number(text, unit_of_field(field), lengths));
    return Value(number);
}

Result<Value> knob_from(const FieldInfo& field, std::string_view text) {
    if (lowered(text) == "off") return Value("off");
    return number_from(field, text, LengthUnits::metric);
}

Value flag_from(std::string_view text) {
    const std::string word = lowered(text);
    for (const std::string_view yes : {"yes", "y", "true", "on", "1"})
        if (word == yes) return true;
    for (const std::string_view no : {"no", "n", "false", "off", "0"})
        if (word == no) return false;
    return std::string(text);
}

Value choice_from(const FieldInfo& field, std::string_view text) {
    for (const std::string_view word : field.choices)
        if (choice_key(text) == choice_key(word)) return std::string(word);
    return std::string(text);
}

// RFC 3339, section 5.6, lets t and z be small and a blank stand for T; files have the one form.
Value time_from(std::string_view text) {
    std::string time(text);
    if (time.size() > 10 && (time[10] == ' ' || time[10] == 't')) time[10] = 'T';
    if (time.ends_with('z')) time.back() = 'Z';
    return time;
}

// The parts of a list: between semicolons where there are any, else between commas.
Result<std::vector<std::string_view>> parts_of(std::string_view text) {
    const char separator = text.find(';') != std::string_view::npos ? ';' : ',';
    std::vector<std::string_view> parts;
    std::size_t at = 0;
    for (std::size_t i = 0; i <= text.size(); ++i) {
        if (i < text.size() && text[i] != separator) continue;
        parts.push_back(trimmed(text.substr(at, i - at)));
        if (parts.back().empty()) return Refusal{Message("Part of the list is empty. Leave out the extra separator.")};
        at = i + 1;
    }
    return parts;
}

// Where nothing above 0 may be, as with an attenuator's steps, figures are printed without their minus.
Result<Value> number_list_from(const FieldInfo& field, std::string_view text) {
    TAPWRIGHT_TAKE(numbers, parse_numbers(text, unit_of_field(field)));
    List list;
    for (const double number : numbers) list.emplace_back(field.rule.high == 0 && number > 0 ? -number : number);
    return Value(std::move(list));
}

Result<Value> list_from(std::string_view text) {
    TAPWRIGHT_TAKE(parts, parts_of(text));
    List list;
    for (const std::string_view part : parts) list.emplace_back(std::string(part));
    return Value(std::move(list));
}

Result<Value> pin_from(std::string_view text) {
    const auto parts = parts_of(text);
    if (!parts || parts->size() != 2)
        return Refusal{
            Message("Write two figures from 0 to 1, for example {example}.", {{"example", code("0.25, 0.5")}})};
    Map pin;
    for (std::size_t i = 0; i < 2; ++i) {
        TAPWRIGHT_TAKE(number, parse_number((*parts)[i], Unit::none));
        pin.emplace_back(i == 0 ? "x" : "y", number);
    }
    return Value(std::move(pin));
}

Result<Value> map_from(const FieldInfo& field, std::string_view text) {
    TAPWRIGHT_TAKE(parts, parts_of(text));
    Map map;
    for (const std::string_view part : parts) {
        const std::size_t equals = part.find('=');
        if (equals == std::string_view::npos)
            return Refusal{
                Message("“{part}” has no = between its name and its value.", {{"part", entered(cited(part, 40))}})};
        std::string key(trimmed(part.substr(0, equals)));
        const std::string_view held = trimmed(part.substr(equals + 1));
        if (std::any_of(map.begin(), map.end(), [&](const auto& member) { return member.first == key; }))
            return Refusal{Message("“{name}” is given twice. Keep one.", {{"name", entered(cited(key, 40))}})};
        Result<Value> value = field.form == FieldForm::knob_map ? knob_from(field, held) : Value(std::string(held));
        if (!value) return value.refusal();
        map.emplace_back(std::move(key), std::move(value).value());
    }
    return Value(std::move(map));
}

bool is_json(const FieldInfo& field, std::string_view text) {
    switch (field.form) {
        case FieldForm::pin:
        case FieldForm::number_list:
        case FieldForm::id_list:
        case FieldForm::text_map:
        case FieldForm::knob_map:
            return text.starts_with('[') || text.starts_with('{');
        case FieldForm::strokes:
        case FieldForm::changes:
            return true;
        default:
            return false;
    }
}

Result<Value> read_text(const FieldInfo& field, std::string_view text, LengthUnits lengths) {
    if (is_json(field, text)) return parse_json(text, "");
    switch (field.form) {
        case FieldForm::number:
        case FieldForm::whole:
            return number_from(field, text, lengths);
        case FieldForm::flag:
            return flag_from(text);
        case FieldForm::choice:
            return choice_from(field, text);
        case FieldForm::time:
            return time_from(text);
        case FieldForm::sha256:
            return Value(lowered(text));
        case FieldForm::knob:
            return knob_from(field, text);
        case FieldForm::pin:
            return pin_from(text);
        case FieldForm::number_list:
            return number_list_from(field, text);
        case FieldForm::id_list:
            return list_from(text);
        case FieldForm::text_map:
        case FieldForm::knob_map:
            return map_from(field, text);
        default:
            return Value(std::string(text));
    }
}

// ---- writing ----

std::string words_of_choice(const std::string& word) {
    std::string words = word;
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
}

// The name of what an id refers to where there is a job to look it up in.
std::string show_id(const std::string& id, const Job* job) {
    return job && Id::is_valid(id) ? name_of(*job, Id(id)) : id;
}

// ---- as messages ----

Message message_of_knob(const Value& value) {
    if (const double* step = value.number()) return Figure{*step, Unit::decibel};
    return in_context("attenuator position", "off");
}

// A record by what people call it.
Message message_of_id(const std::string& id, const Job* job) {
    return job && Id::is_valid(id) ? record_title(*job, Id(id)) : Message(entered(id));
}

Message message_of_items(const FieldInfo& field, const List& list, const Job* job) {
    if (field.form == FieldForm::strokes)
        return plural("{count} stroke", "{count} strokes", static_cast<int>(list.size()));
    if (field.form == FieldForm::changes)
        return plural("{count} change", "{count} changes", static_cast<int>(list.size()));
    if (list.empty()) return Message("none");
    Series items;
    for (const Value& item : list)
        if (item.number())
            items.items.push_back(Figure{*item.number(), unit_of_field(field)});
        else if (item.text())
            items.items.push_back(message_of_id(*item.text(), job));
    return items;
}

const double* value_number(const Map& map, std::string_view key) {
    for (const auto& [name, value] : map)
        if (name == key) return value.number();
    return nullptr;
}

Message message_of_map(const FieldInfo& field, const Map& map, const Job* job) {
    if (field.form == FieldForm::pin && value_number(map, "x") && value_number(map, "y"))
        return Message("{x} from the left, {y} from the top",
                       {{"x", Figure{*value_number(map, "x") * 100, Unit::percent}},
                        {"y", Figure{*value_number(map, "y") * 100, Unit::percent}}});
    if (map.empty()) return Message("none");
    Series items;
    for (const auto& [key, value] : map)
        if (field.form == FieldForm::knob_map)
            items.items.push_back(Message("{attenuator}: {position}", {{"attenuator", entered(show_id(key, job))},
                                                                       {"position", message_of_knob(value)}}));
        else
            items.items.push_back(
                Message("{tap}: {mark}", {{"tap", Figure{std::strtod(key.c_str(), nullptr), Unit::watt}},
                                          {"mark", entered(value.text() ? *value.text() : "")}}));
    return items;
}

Message message_of_text(const FieldInfo& field, const std::string& text, const Job* job) {
    switch (field.form) {
        case FieldForm::choice:
            for (const std::string_view key : field.choices)
                if (key == text) return Choice{field.choice_list, key};
            return entered(text);
        case FieldForm::id:
            return message_of_id(text, job);
        case FieldForm::date:
            return Day{text};
        case FieldForm::time:
            return Moment{text};
        case FieldForm::sha256:
            return code(text);
        case FieldForm::knob:
            return message_of_knob(text);
        default:
            return entered(text);
    }
}

// "5, 10, 20" and "a1=-6, a2=off".
std::string editable_parts(const Value& value) {
    const auto plain = [](const Value& held) {
        return held.number() ? editable_number(*held.number(), Unit::none) : *held.text();
    };
    std::string text;
    const auto add = [&](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
    if (const List* list = value.list())
        for (const Value& item : *list) add(plain(item));
    if (const Map* map = value.map())
        for (const auto& [key, held] : *map) add(key + "=" + plain(held));
    return text;
}

}  // namespace

Unit unit_of_field(const FieldInfo& field) {
    return unit_from_symbol(field.unit).value_or(Unit::none);
}

Unit unit_of_reading(Measured quantity) {
    switch (quantity) {
        case Measured::ohms:
        case Measured::dc_ohms:
        case Measured::earth_ohms:
        case Measured::cross_ohms:
            return Unit::ohm;
        case Measured::stray_v:
        case Measured::volts:
            return Unit::volt;
        case Measured::level_dba:
        case Measured::noise_dba:
            return Unit::sound_level;
        case Measured::tap_w:
            return Unit::watt;
    }
    TAPWRIGHT_ENSURE(!"a quantity that is not in the table");
}

LengthUnits length_units(const Job& job) {
    return job.info().units == UnitSystem::imperial ? LengthUnits::feet : LengthUnits::metric;
}

Result<Value> value_from_text(const FieldInfo& field, std::string_view text, LengthUnits lengths) {
    const std::string_view given = trimmed(text);
    if (given.empty()) return Value();
    Result<Value> value = read_text(field, given, lengths);
    if (!value) return value;
    TAPWRIGHT_PASS(check_form(field, *value));
    return value;
}

Message message_of(const FieldInfo& field, const Value& value, const Job* job) {
    if (const double* number = value.number())
        return field.form == FieldForm::whole && field.unit.empty() ? Message(Count{static_cast<std::int64_t>(*number)})
                                                                    : Message(Figure{*number, unit_of_field(field)});
    if (const bool* flag = value.flag()) return *flag ? Answer::yes : Answer::no;
    if (const List* list = value.list()) return message_of_items(field, *list, job);
    if (const Map* map = value.map()) return message_of_map(field, *map, job);
    if (const std::string* text = value.text()) return message_of_text(field, *text, job);
    return Message("unknown");
}

Message absent_means(const FieldInfo& field) {
    if (!field.rule.absent_words.empty()) return field.rule.absent_words;
    if (field.rule.absent_means.empty()) return Message("unknown");
    const Result<Value> value = value_from_text(field, field.rule.absent_means);
    TAPWRIGHT_ENSURE(value);  // the table's own
    return message_of(field, *value);
}

std::string editable_text(const FieldInfo& field, const Value& value, LengthUnits lengths) {
    if (value.is_null()) return "";
    if (const double* number = value.number()) return editable_number(*number, unit_of_field(field), lengths);
    if (const std::string* text = value.text()) return field.form == FieldForm::choice ? words_of_choice(*text) : *text;
    if (const bool* flag = value.flag()) return *flag ? "yes" : "no";
    if (field.form == FieldForm::pin)
        return editable_number(*value.find("x").number(), Unit::none) + ", " +
               editable_number(*value.find("y").number(), Unit::none);
    if (field.form != FieldForm::strokes && field.form != FieldForm::changes) {
        std::string text = editable_parts(value);
        if (const Result<Value> again = value_from_text(field, text, lengths); again && *again == value) return text;
    }
    return compact_json(value);
}

}  // namespace tapwright
