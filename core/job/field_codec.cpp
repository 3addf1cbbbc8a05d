#include "core/job/field_codec.h"

#include <cmath>
#include <cstdlib>

namespace tapwright {
namespace {

std::string range_in_words(const Rule& rule) {
    const bool has_low = std::isfinite(rule.low);
    const bool has_high = std::isfinite(rule.high);
    std::string text;
    if (has_low) text += (rule.low_excluded ? " above " : " of at least ") + shortest(rule.low);
    if (has_low && has_high) text += " and";
    if (has_high) text += (rule.high_excluded ? " below " : " at most ") + shortest(rule.high);
    return text;
}

std::string words_in_words(std::span<const std::string_view> words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
        text += words[i];
    }
    return text;
}

std::string allowed_in_words(const Rule& rule) {
    std::string text;
    for (std::size_t i = 0; i < rule.allowed_count; ++i) {
        if (i > 0) text += i + 1 == rule.allowed_count ? " or " : ", ";
        text += std::to_string(rule.allowed[i]);
    }
    return text;
}

std::string number_in_words(const FieldInfo& field, std::string_view noun) {
    const std::string unit = field.unit.empty() ? "" : " of " + std::string(field.unit);
    return std::string(noun) + unit + range_in_words(field.rule);
}

}  // namespace

std::string_view name_of(FieldForm form) {
    static constexpr std::string_view names[] = {"text",          "number",        "whole number",
                                                 "true or false", "choice",        "id",
                                                 "date",          "time",          "SHA-256",
                                                 "step or off",   "place",         "list of numbers",
                                                 "list of ids",   "texts by name", "steps by attenuator",
                                                 "strokes",       "changes"};
    return names[static_cast<std::size_t>(form)];
}

std::string expected_form(const FieldInfo& field) {
    switch (field.form) {
        case FieldForm::text:
            return std::string(field.rule.is_required ? "a text of 1 to " : "a text of at most ") +
                   std::to_string(field.rule.most_chars) + " characters";
        case FieldForm::number:
            return number_in_words(field, "a number");
        case FieldForm::whole:
            return field.rule.allowed_count > 0 ? allowed_in_words(field.rule)
                                                : number_in_words(field, "a whole number");
        case FieldForm::flag:
            return "true or false";
        case FieldForm::choice:
            return "one of the words " + words_in_words(field.choices);
        case FieldForm::id:
            return "the id of a record (1 to 40 of the characters A-Z a-z 0-9 _ -)";
        case FieldForm::date:
            return "a day as YYYY-MM-DD";
        case FieldForm::time:
            return "a time as YYYY-MM-DDThh:mm:ss with Z or an offset such as +02:00";
        case FieldForm::sha256:
            return "64 hexadecimal digits in lower case";
        case FieldForm::knob:
            return number_in_words(field, "a number") + ", or \"off\"";
        case FieldForm::pin:
            return "{\"x\": ..., \"y\": ...} with both from 0 to 1";
        case FieldForm::number_list:
            return std::string(field.rule.is_required ? "a list of at least one, in which each is "
                                                      : "a list in which each is ") +
                   number_in_words(field, "a number");
        case FieldForm::id_list:
            return "a list of ids";
        case FieldForm::text_map:
            return "a map from tap watts, such as \"7.5\", to a text of at most 200 characters";
        case FieldForm::knob_map:
            return "a map from attenuator ids to a number of dB at most 0, or \"off\"";
        case FieldForm::strokes:
            return "a list of strokes, each a list of x, y, x, y ... from 0 to 1";
        case FieldForm::changes:
            return "a list of changes {\"op\": \"add\", \"set\" or \"remove\", \"kind\": ..., \"id\": ..., \"fields\": "
                   "{...}} "
                   "whose fields the field table knows";
    }
    return "";
}

}  // namespace tapwright

namespace tapwright::codec {

std::string said(const Value& value) {
    if (const std::string* text = value.text()) return "the text \"" + cited(*text, 40) + "\"";
    if (const double* number = value.number())
        return std::isfinite(*number) ? shortest(*number) : "a number without end";
    if (const bool* flag = value.flag()) return *flag ? "true" : "false";
    return std::string(value.what());
}

Refusal wrong(const FieldInfo& info, const Value& value) {
    return {"must be " + expected_form(info) + ", not " + said(value)};
}

Result<void> check_number(const FieldInfo& info, double number) {
    const Rule& rule = info.rule;
    const bool low = rule.low_excluded ? number > rule.low : number >= rule.low;
    const bool high = rule.high_excluded ? number < rule.high : number <= rule.high;
    if (!std::isfinite(number) || !low || !high) return wrong(info, number);
    return done();
}

Result<double> read_number(const FieldInfo& info, const Value& value) {
    if (!value.number()) return wrong(info, value);
    const Result<void> checked = check_number(info, *value.number());
    if (!checked) return checked.refusal();
    return *value.number() == 0 ? 0.0 : *value.number();  // no -0
}

Result<void> check_text(const FieldInfo& info, const std::string& text) {
    if (!is_utf8(text)) return Refusal{"must be UTF-8 text"};
    if (info.rule.is_required && text.empty()) return wrong(info, text);
    if (text.size() > info.rule.most_chars && code_points(text) > info.rule.most_chars)
        return Refusal{"must be " + expected_form(info) + ", not one of " + std::to_string(code_points(text))};
    if (text.find('\0') != std::string::npos) return Refusal{"must not hold the character U+0000"};
    return done();
}

Result<std::string> read_text(const FieldInfo& info, const Value& value) {
    if (!value.text()) return wrong(info, value);
    const Result<void> checked = check_text(info, *value.text());
    if (!checked) return checked.refusal();
    return *value.text();
}

Result<int> Codec<Whole>::read(const FieldInfo& info, const Value& value) {
    const Result<double> number = read_number(info, value);
    if (!number) return number.refusal();
    if (*number != std::floor(*number)) return wrong(info, value);
    const int whole = static_cast<int>(*number);
    if (info.rule.allowed_count > 0) {
        bool found = false;
        for (std::size_t i = 0; i < info.rule.allowed_count; ++i) found = found || info.rule.allowed[i] == whole;
        if (!found) return wrong(info, value);
    }
    return whole;
}

bool is_sha256(std::string_view text) {
    if (text.size() != 64) return false;
    for (const char c : text)
        if (!((c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'))) return false;
    return true;
}

Result<Knob> Codec<Knob>::read(const FieldInfo& info, const Value& value) {
    if (value.text() && *value.text() == "off") return Knob{.step = Decibels(0), .off = true};
    if (!value.number()) return wrong(info, value);
    const Result<double> step = read_number(info, value);
    if (!step) return step.refusal();
    return Knob{.step = Decibels(*step), .off = false};
}

Value Codec<Knob>::write(const Knob& knob) {
    return knob.off ? Value("off") : Value(knob.step.value());
}

namespace {

// From 0 to 1, and a number.
bool is_share(double number) {
    return number >= 0 && number <= 1;
}

// "7.5", as JSON writes a number above 0.
bool is_tap_key(const std::string& key) {
    char* end = nullptr;
    const double watts = std::strtod(key.c_str(), &end);
    return key.find_first_not_of("0123456789.") == std::string::npos && *end == 0 && watts > 0 && watts <= 1e6 &&
           shortest(watts) == key;
}

}  // namespace

Result<Pin> Codec<Pin>::read(const FieldInfo& info, const Value& value) {
    const Map* map = value.map();
    const double* x = value.find("x").number();
    const double* y = value.find("y").number();
    if (!map || map->size() != 2 || !x || !y || !is_share(*x) || !is_share(*y)) return wrong(info, value);
    return Pin{*x, *y};
}

Value Codec<Pin>::write(const Pin& pin) {
    return Map{{"x", pin.x}, {"y", pin.y}};
}

Result<TextMap> Codec<TextMap>::read(const FieldInfo& info, const Value& value) {
    if (!value.map() || value.map()->size() > 100) return wrong(info, value);
    TextMap texts;
    for (const auto& [key, held] : *value.map()) {
        const std::string* text = held.text();
        if (!text || !is_tap_key(key) || text->size() > 800) return wrong(info, value);
        if (!is_utf8(*text) || text->find('\0') != std::string::npos || code_points(*text) > 200)
            return wrong(info, value);
        texts.emplace_back(key, *held.text());
    }
    return texts;
}

Value Codec<TextMap>::write(const TextMap& map) {
    Map written;
    for (const auto& [key, text] : map) written.emplace_back(key, text);
    return written;
}

Result<KnobMap> Codec<KnobMap>::read(const FieldInfo& info, const Value& value) {
    if (!value.map() || value.map()->size() > 10000) return wrong(info, value);
    KnobMap knobs;
    for (const auto& [key, held] : *value.map()) {
        if (!Id::is_valid(key)) return wrong(info, value);
        Result<Knob> knob = Codec<Knob>::read(info, held);
        if (!knob) return wrong(info, value);
        knobs.emplace_back(Id(key), *knob);
    }
    return knobs;
}

Value Codec<KnobMap>::write(const KnobMap& map) {
    Map written;
    for (const auto& [id, knob] : map) written.emplace_back(id.text(), Codec<Knob>::write(knob));
    return written;
}

Result<Strokes> Codec<Strokes>::read(const FieldInfo& info, const Value& value) {
    if (!value.list() || value.list()->size() > 1000) return wrong(info, value);
    Strokes strokes;
    for (const Value& entry : *value.list()) {
        if (!entry.list() || entry.list()->size() % 2 != 0 || entry.list()->size() > 20000) return wrong(info, value);
        auto& stroke = strokes.emplace_back();
        for (std::size_t i = 0; i < entry.list()->size(); i += 2) {
            const double* x = (*entry.list())[i].number();
            const double* y = (*entry.list())[i + 1].number();
            if (!x || !y || !is_share(*x) || !is_share(*y)) return wrong(info, value);
            stroke.push_back({*x, *y});
        }
    }
    return strokes;
}

Value Codec<Strokes>::write(const Strokes& strokes) {
    List written;
    for (const auto& stroke : strokes) {
        List numbers;
        for (const auto& [x, y] : stroke) {
            numbers.emplace_back(x);
            numbers.emplace_back(y);
        }
        written.emplace_back(std::move(numbers));
    }
    return written;
}

namespace {

std::string said_or_none(const Value& value) {
    return value.is_null() ? "none" : said(value);
}

// {"op": "set", "kind": "point", "id": "p1", "fields": {...}}; remove has no fields, add may leave out the id.
Result<Change> read_change(const Value& value) {
    const Map* map = value.map();
    if (!map)
        return Refusal{"must be {\"op\": ..., \"kind\": ..., \"id\": ..., \"fields\": {...}}, not " + said(value)};
    Change change;
    const std::string* op = value.find("op").text();
    const std::string* kind = value.find("kind").text();
    const std::string* id = value.find("id").text();
    for (const auto& [key, held] : *map)
        if (key != "op" && key != "kind" && key != "id" && key != "fields")
            return Refusal{"has the unknown key \"" + cited(key, 40) + "\"; a change has op, kind, id and fields"};
    const std::optional<Kind> known = kind ? kind_from_singular(*kind) : std::nullopt;
    const bool op_known = op && (*op == "add" || *op == "set" || *op == "remove");
    if (!op_known) return Refusal{"must have an \"op\" of add, set or remove, not " + said_or_none(value.find("op"))};
    if (!known)
        return Refusal{"must have a \"kind\" that is one of the kinds of records, such as point, not " +
                       said_or_none(value.find("kind"))};
    const bool has_id = !value.find("id").is_null();
    if (has_id && (!id || !Id::is_valid(*id)))
        return Refusal{"must have an \"id\" of 1 to 40 letters, digits, - or _, not " + said(value.find("id"))};
    if (!has_id && *op != "add") return Refusal{"must have the \"id\" of the record it is about"};
    change.op = *op == "add" ? ChangeOp::add : *op == "set" ? ChangeOp::set : ChangeOp::remove;
    change.kind = known.value_or(Kind::job);
    if (id) change.id = Id(*id);
    if (change.kind == Kind::trial) return Refusal{"is about a trial; a trial changes the system, not trials"};
    const Value& fields = value.find("fields");
    if (fields.is_null()) return change;
    if (change.op == ChangeOp::remove) return Refusal{"removes a record, so it has no \"fields\""};
    if (!fields.map()) return Refusal{"must have a map as its \"fields\", not " + said(fields)};
    for (const auto& [name, held] : *fields.map()) {
        const FieldInfo* field = find_field(change.kind, name);
        if (!field) return Refusal{"sets " + cited(name, 40) + ", which is no field of the kind " + *kind};
        if (held.is_null() && change.op == ChangeOp::set) continue;
        const Result<void> checked = check_form(*field, held);
        if (held.is_null() || !checked)
            return Refusal{"has a " + name + " that " + (held.is_null() ? "is null" : bare_text_of(checked.refusal().message))};
    }
    change.fields = *fields.map();
    return change;
}

}  // namespace

Result<ChangeList> Codec<ChangeList>::read(const FieldInfo& info, const Value& value) {
    if (!value.list() || value.list()->size() > 20000) return wrong(info, value);
    ChangeList changes;
    for (const Value& entry : *value.list()) {
        Result<Change> change = read_change(entry);
        if (!change)
            return Refusal{"has a wrong change, number " + std::to_string(changes.size() + 1) + ": it " +
                           bare_text_of(change.refusal().message)};
        changes.push_back(std::move(change).value());
    }
    return changes;
}

Value Codec<ChangeList>::write(const ChangeList& changes) {
    List written;
    for (const Change& change : changes) {
        Map map{{"op", std::string(word(change.op))}, {"kind", std::string(singular(change.kind))}};
        if (!change.id.text().empty()) map.emplace_back("id", change.id.text());
        if (!change.fields.empty()) map.emplace_back("fields", change.fields);
        written.emplace_back(std::move(map));
    }
    return written;
}

}  // namespace tapwright::codec
